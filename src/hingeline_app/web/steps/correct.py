"""What the step Correct shows."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest
from django.utils.translation import gettext as _

from hingeline.errors import InputRefused
from hingeline_app.bench.correcting.correction_of import (
    NONE_OF_IT,
    chosen_amounts,
    clear_target,
    correction_text,
    worked_out,
)
from hingeline_app.bench.correcting.correction_shown import amounts_of, correction_shown
from hingeline_app.bench.correcting.handed_over import COATING, SWING, paint_of, swung_of
from hingeline_app.bench.correcting.mass_after import NOT_LOOKED_AT, mass_after
from hingeline_app.bench.in_their_units import mass_as_typed
from hingeline_app.bench.limits.limits_of import limits_table
from hingeline_app.bench.weighing.statement_shown import statement_shown
from hingeline_app.bench.weighing.weighing_of import weighed, weighing_text
from hingeline_app.figures.wording import format_measured, format_number, limit_places
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.equipment import material_choices
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.last_weighing import last_weighing
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.report.quantities import value_of
from hingeline_app.web.for_a_job import coating_address, swing_address
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.steps.arrive import may_enter

INSIDE = "inside"
MASSES = ("smallest_step", "largest_mass", "present_mass")


def shown(request: HttpRequest, job: JobRecord) -> Mapping[str, Any]:
    """Gather what the sheet needs beside the job itself."""
    told = job.details.get("correct") or {}
    context = {
        "told": told,
        "fitted_words": _fitted(job),
        "may_enter": may_enter(viewer_of(request), job),
        "plan_was": json.dumps(told.get("plan"), sort_keys=True),
        "place_rows": _rows(told),
        "next_place": len(told.get("place") or []),
        "nothing": {},
        "paint": paint_of(job),
        "paint_was": json.dumps(value_at(job.details, COATING), sort_keys=True),
        "swung": swung_of(job),
        "swung_was": json.dumps(value_at(job.details, SWING), sort_keys=True),
        "coating_address": coating_address(job),
        "swing_address": swing_address(job),
        "surface_fields": [
            ("inertia", _("Inertia about the hinge line, from a swing"), told.get("inertia") or "", "0.0420 kg m²"),
            ("product", _("Product of inertia K"), told.get("product") or "", "0.128 kg m²"),
        ],
    }
    if job.weighing is None or (job.weigh_again and job.state == OPEN):
        return {**context, "weigh_first": True}
    try:
        found = weighed(weighing_text(job, job.weighing))
    except InputRefused:
        return {**context, "weigh_first": True}
    if not context["place_rows"]:
        return {**context, "no_places": True, "weighed_as": statement_shown(found), "before": _before(request, job)}
    return {**context, **_correction(request, job, found)}


def _correction(request: HttpRequest, job: JobRecord, found: Mapping[str, Any]) -> dict[str, Any]:
    viewer: Any = viewer_of(request)
    assert job.weighing is not None, "it was weighed"
    text = correction_text(job, job.weighing, found)
    amounts = chosen_amounts(job.details)
    plan = (job.details.get("correct") or {}).get("plan") or {}
    more = {"weighed_as": statement_shown(found), "aims": _aims(found, plan, amounts is not None)}
    try:
        library = worked_out(text)
        document = worked_out(text, amounts) if amounts is not None else library
    except InputRefused as refused:
        return {**more, "faults": [str(each) for each in refused.refusals]}
    shown_now = correction_shown(document, library)
    mass = mass_after(found, document, has_bands=bool(limits_table(job.limit_row).get("band")))
    return {
        **more,
        "correction": shown_now,
        "mass_after": mass,
        "plan_notes": [each for each in shown_now.notes if mass is None or not each.startswith(NOT_LOOKED_AT)],
        "is_own": amounts is not None,
        "missed": _missed(document) if amounts is None else "",
        "is_inside": found.get("statement") == INSIDE,
        "seen": repr(document["moment_after"]["value"]),
        "steps_at": [
            {"place": each, "less": _listed(each.less), "more": _listed(each.more), "as_typed": as_typed}
            for each, as_typed in zip(shown_now.places, _as_typed(job, document), strict=True)
        ],
        "plans": [(row, json.dumps(list(amounts_of))) for row, amounts_of in
                  zip(shown_now.plans, shown_now.plan_amounts, strict=True)],
        "materials": material_choices(viewer),
        "file_text": text,
    }  # fmt: skip


def _as_typed(job: JobRecord, document: Mapping[str, Any]) -> list[str]:
    """Say each change in the unit in which the masses of its place were typed; empty for grams and for no change."""
    tables = {str(each["table"]["name"]): each["table"] for each in _rows(job.details.get("correct") or {})}
    said = []
    for place, mass in zip(document["places"], amounts_of(document, document["changes"]), strict=True):
        table = tables.get(place["name"], {})
        said.append(mass_as_typed(mass, *(table.get(name) for name in MASSES)) if abs(mass) > NONE_OF_IT else "")
    return said


def _missed(document: Mapping[str, Any]) -> str:
    """Say what was aimed for where the plan stays farther from it than U: the places do not reach it. Else empty."""
    expanded = document["moment_after"].get("expanded_uncertainty") or 0.0
    if document["from_target"]["value"] <= max(expanded, 1e-6) or document["reason"]:
        return ""
    return format_measured(document["target_moment"]["value"], None, "N m", sense=True)


def _listed(amounts: tuple[str, ...] | None) -> str:
    return "" if amounts is None else json.dumps(list(amounts))


def _aims(found: Mapping[str, Any], plan: Mapping[str, Any], is_own: bool) -> list[tuple[str, str, bool]]:
    """Give the buttons of what is aimed for: value, words, whether it is the one."""
    clear = clear_target(found)
    limits, target = found.get("limits") or {}, None if is_own else plan.get("target") or clear or "nearest"
    lower, upper = value_of(limits.get("lower")), value_of(limits.get("upper"))
    aims = [(clear, f"{_('Clear by U')} {clear.replace(' N m', '')}", target == clear)] if clear else []
    aims.append(("nearest", _("Nearest inside"), target == "nearest"))
    if lower is not None and upper is not None:
        middle = (lower + upper) / 2.0
        number = format_number(middle, limit_places([lower, upper, middle]))
        aims.append(("middle", f"{_('Middle')} {number}", target == "middle"))
    if target not in (None, "nearest", "middle", clear):
        aims.append((str(target), f"{_('Own')} {str(target).replace(' N m', '')}", True))
    return aims


def _rows(told: Mapping[str, Any]) -> list[dict[str, Any]]:
    return [
        {"index": index, "table": table, "was": json.dumps(table, sort_keys=True)}
        for index, table in enumerate(told.get("place") or [])
        if table and table.get("name")
    ]


def _before(request: HttpRequest, job: JobRecord) -> list[dict[str, Any]]:
    """Give the places of the surface's last job, to be taken over by a tap each."""
    viewer: Any = viewer_of(request)
    last = last_weighing(viewer, job)
    return [dict(each) for each in last.places] if last and last.job != job.number else []


def _fitted(job: JobRecord) -> list[str]:
    """Say what was fitted so far on this job."""
    from hingeline_app.figures.correction.words import mass_of, signed_words

    said = []
    notes = (job.details.get("correct") or {}).get("fitted") or {}
    for number, proposal in enumerate(job.proposals, 1):
        if proposal.fitted_at_change is None:
            continue
        changes = "; ".join(f"{each['place']} {signed_words(mass_of(each))}" for each in proposal.document["changes"])
        note = notes.get(f"p{number}") or {}
        said.append(", ".join([changes, *(str(each) for each in note.values())]))
    return said
