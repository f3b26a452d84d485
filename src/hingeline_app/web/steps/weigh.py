"""What the step Weigh shows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest
from django.utils.translation import gettext as _

from hingeline_app.bench.in_their_units import moment_as_printed
from hingeline_app.bench.limits.limits_said import limits_named, limits_said
from hingeline_app.bench.on_paper.balance_line_of import HINGE_FROM_DATUM
from hingeline_app.bench.weighing.after_correction import fitted_since, is_known, with_fitted
from hingeline_app.bench.weighing.beginning import WAYS, set_up_by, way_of
from hingeline_app.bench.weighing.own_uncertainty import EXPANDED, LIMIT, RESOLUTION, STANDARD, own_uncertainties
from hingeline_app.bench.weighing.readings_shown import last_unit, places_shown
from hingeline_app.bench.weighing.scale_against import is_not_used, why_not_used
from hingeline_app.bench.weighing.scale_said import scale_said
from hingeline_app.bench.weighing.weighing_shown import weighing_shown
from hingeline_app.bench.weighing.weighings_before import earlier_weighings, weighings_drawn
from hingeline_app.figures import draw_glyph
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.equipment import ScaleRecord, scales, stand_choices
from hingeline_app.records.queries.jobs import JobRecord, MeasurementRecord
from hingeline_app.records.queries.last_weighing import last_weighing
from hingeline_app.records.queries.limits import RowRecord
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.report.pictures import mean_net
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.steps.arrive import may_enter
from hingeline_app.web.steps.limits import limits_as_printed

UNITS = ("kg", "g", "N", "lb", "oz", "kp")
INSIDE = "inside"


@dataclass(frozen=True)
class SetUpField:
    """One value of the set-up: its place, its words, what stands there, what may."""

    place: str
    words: str
    value: str
    choices: tuple[tuple[str, str], ...] = ()


def shown(request: HttpRequest, job: JobRecord) -> Mapping[str, Any]:
    """Gather what the sheet needs beside the job itself."""
    viewer: Any = viewer_of(request)
    listed = scales(viewer)
    weighing = _asked_for(request, job)
    if weighing is None or (job.state == OPEN and request.GET.get("new")):
        return _beginning(request, job, listed)
    if job.weigh_again and job.state == OPEN and not request.GET.get("weighing"):
        return {**_beginning(request, job, listed), "again": True}
    return _weighing(request, job, weighing, listed)


def _asked_for(request: HttpRequest, job: JobRecord) -> MeasurementRecord | None:
    """Find the weighing that the address names, else the last."""
    wanted = request.GET.get("weighing", "")
    named = [each for each in job.of_kind("weighing") if str(each.number) == wanted]
    return named[0] if named else job.weighing


def _beginning(request: HttpRequest, job: JobRecord, listed: Sequence[ScaleRecord]) -> dict[str, Any]:
    """Gather what a weighing begins with: what was typed and refused, else what the last one says."""
    viewer: Any = viewer_of(request)
    typed, last = request.GET, last_weighing(viewer, job)
    way = typed.get("way") or (way_of(last.set_up) if last else "push")
    before, fitted = (last.set_up if last else {}), fitted_since(job)
    set_up = set_up_by(way if way in WAYS else "push", with_fitted(before, fitted))
    support = (set_up["support"] or [{}])[0]
    stands = stand_choices(viewer)
    return {
        "begins": True,
        "may_begin": may_enter(viewer, job),
        "next_number": len(job.of_kind("weighing")) + 1,
        "last": last,
        "last_here": bool(last and last.job == job.number),
        "ways": _ways(way),
        "scales": sorted((each for each in listed if each.withdrawn_on is None), key=lambda each: each.is_expired),
        "stands": stands,
        "with_level": ", ".join(each.words for each in stands if each.has_level),
        # None: the first of the list stands there; empty: none of the list was used.
        "scale": typed.get("scale", str(last.scale or "") if last else None),
        "stand": typed.get("stand", str(last.stand or "") if last else None),
        "arm": typed.get("support.0.arm", support.get("arm") or ""),
        "side": typed.get("support.0.side", support.get("side") or "aft"),
        "tare": typed.get("support.0.tare", support.get("tare") or ""),
        "mass": typed.get("surface.mass", value_at(set_up, "surface.mass") or ""),
        "mass_before": value_at(before, "surface.mass") or "",
        "fitted_since": fitted is not None,
        "is_sum": is_known(fitted),
        "offset": typed.get("surface.vertical_offset", value_at(set_up, "surface.vertical_offset") or ""),
        "earlier": [_line(each) for each in reversed(job.of_kind("weighing"))],
        "limits_named": limits_named(job.limit_row),
    }


def _line(weighing: MeasurementRecord) -> dict[str, Any]:
    from hingeline_app.bench.weighing.statement_shown import statement_shown

    said = statement_shown(weighing.result.document) if weighing.result else None
    return {"number": weighing.number, "statement": said, "not_used": is_not_used(weighing)}


def _ways(chosen: str) -> list[tuple[str, str, str, bool]]:
    words = {
        "push": (_("Push"), _("the surface rests on the scale")),
        "pull": (_("Pull"), _("the scale holds it by a hook")),
        "hung mass": (_("Hung mass"), _("a known mass levels it")),
        "several supports": (_("Several supports"), _("more than one scale or place")),
    }
    return [(way, *words[way], way == chosen) for way in WAYS]


def _weighing(
    request: HttpRequest, job: JobRecord, weighing: MeasurementRecord, listed: Sequence[ScaleRecord]
) -> dict[str, Any]:
    found = weighing_shown(job, weighing)
    record = next((each for each in listed if weighing.scale and each.identifier == weighing.scale["identifier"]), None)
    places = places_shown(weighing, job.local_gravity)
    asked_about = next(
        (each for place in places for each in place.readings if str(each.identifier) == request.GET.get("reading")),
        None,
    )
    document = found.document or {}
    inside = document.get("statement") == INSIDE
    is_last = job.weighing is not None and weighing.identifier == job.weighing.identifier
    return {
        "weighing": weighing,
        "found": found,
        "places": places,
        "asked_about": asked_about,
        "odd": [each for place in places for each in place.readings if each.is_odd],
        "next_reading": places[0].next_number if places else 1,
        "unit": last_unit(weighing),
        "units": list(dict.fromkeys([last_unit(weighing), *UNITS])),
        "where": _where(weighing),
        "mean": " · ".join(mean_net(each) for each in document.get("supports") or []) or "—",
        "arms": _arms(weighing),
        "no_tare": any(not each.get("tare") for each in weighing.set_up.get("support") or []),
        "ticks": _ticks(weighing),
        "pulls": value_at(weighing.set_up, "support.0.pushes") == "down",
        "not_used": why_not_used(weighing),
        # A statement that cannot be used stands without its sign and colour, as on paper.
        "unused_glyph": draw_glyph(None) if document and is_not_used(weighing) else "",
        "as_printed": moment_as_printed(job, document),
        "limits_printed": limits_as_printed(job.limit_row),
        "printed_sense": str((job.limit_row.printed or {}).get("positive") or "") if job.limit_row else "",
        "rule_by": _rule_by(job.limit_row),
        "weigh_elsewhere": is_not_used(weighing),
        "scale_said": scale_said(weighing.scale, record, weighing.begun_on),
        "limits_said": limits_said(job.limit_row),
        "limits_named": limits_named(job.limit_row),
        "earlier": earlier_weighings(job, weighing),
        "beside": weighings_drawn(job, weighing, found.document),
        "parts": weighing.set_up.get("part") or [],
        "fields": (fields := _fields(weighing)),
        "set_up_places": {each.place for each in fields},
        "adds": own_uncertainties(weighing),
        "meant": _meant(),
        "datum": value_at(job.details, HINGE_FROM_DATUM) or "",
        "way": way_of(weighing.set_up),
        "may_enter": may_enter(viewer_of(request), job) and is_last,
        "is_last": is_last,
        "goes_to": "arm" if inside else "correct",
        "seen": repr(document["static_moment"]["value"]) if document else "",
    }


def _rule_by(row: RowRecord | None) -> str:
    """Say whether the row of limits names its rule; empty where none is compared with: what it names is not known."""
    if row is None or row.printed is None or row.is_unsettled:
        return ""
    return "row" if row.printed.get("rule") else "nobody"


def _where(weighing: MeasurementRecord) -> list[tuple[str, str]]:
    """Give the places that a reading may be of."""
    count = len(weighing.set_up.get("support") or []) or 1
    listed = []
    for number in range(1, count + 1):
        name = _("Support %(number)s") % {"number": number} if count > 1 else ""
        listed.append((f"support {number}", name or _("each lift")))
        listed.append((f"support {number} rising", f"{name} {_('rising')}".strip()))
        listed.append((f"support {number} falling", f"{name} {_('falling')}".strip()))
    return listed


def _arms(weighing: MeasurementRecord) -> str:
    supports = weighing.set_up.get("support") or []
    return " · ".join(f"{each.get('arm') or '—'} {each.get('side', '')}".strip() for each in supports) or "—"


def _ticks(weighing: MeasurementRecord) -> list[tuple[str, str, bool]]:
    words = {"level": _("Level"), "tare": _("Tare taken"), "tab_neutral": _("Tab neutral")}
    return [(name, word, bool(value_at(weighing.set_up, f"ticks.{name}"))) for name, word in words.items()]


def _meant() -> list[tuple[str, str]]:
    """Say how a ± may be meant."""
    return [
        (LIMIT, _("± at most")),
        (STANDARD, _("standard uncertainty")),
        (EXPANDED, _("expanded, k = 2")),
        (RESOLUTION, _("steps of")),
    ]


def _fields(weighing: MeasurementRecord) -> list[SetUpField]:
    """List what may be set: of the surface, of each support, of what is hung."""
    sides = (("aft", _("aft")), ("forward", _("forward")))
    pushes = (("up", _("pushes up")), ("down", _("pulls down")))
    set_up = weighing.set_up
    rows: list[tuple[str, str, tuple[tuple[str, str], ...]]] = [("surface.mass", _("Mass of the surface"), ())]
    rows.append(
        ("surface.vertical_offset", _("Height of the centre of gravity over the hinge line; below is minus"), ())
    )
    supports = set_up.get("support") or []
    for index in range(max(1, len(supports))):
        name = _("Support %(number)s: ") % {"number": index + 1} if len(supports) > 1 else ""
        rows += [
            (f"support.{index}.arm", _label(name, _("arm from the hinge line")), ()),
            (f"support.{index}.side", _label(name, _("side")), sides),
            (f"support.{index}.pushes", _label(name, _("the scale")), pushes),
            (f"support.{index}.tare", _label(name, _("tare")), ()),
        ]
    for index in range(len(set_up.get("hung") or [])):
        name = _("Hung mass %(number)s: ") % {"number": index + 1}
        rows += [(f"hung.{index}.mass", name + _("mass"), ()), (f"hung.{index}.arm", name + _("arm"), ()),
                 (f"hung.{index}.side", name + _("side"), sides)]  # fmt: skip
    return [SetUpField(place, words, str(value_at(set_up, place) or ""), choices) for place, words, choices in rows]


def _label(name: str, words: str) -> str:
    """Name a field of one of several supports; alone it begins as every label does."""
    return name + words if name else words[:1].upper() + words[1:]
