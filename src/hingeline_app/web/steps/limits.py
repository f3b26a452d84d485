"""What the step Limits shows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _

from hingeline_app.bench.arriving.as_fitted import compared
from hingeline_app.bench.bar_of import bar_of_row
from hingeline_app.bench.limits.which_row import APPLIES, ASK, REJECTED, Judged, Piece, Reason, judged
from hingeline_app.bench.weighing.window_of import window_of
from hingeline_app.figures import draw_limit_bar
from hingeline_app.figures.wording import format_moment_range
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.limits import READ_TWICE, SUPERSEDED, RowRecord, rows_of_limits
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.steps.arrive import item_words, may_enter, state_words

WIDE, NARROW = 650.0, 348.0


def shown(request: HttpRequest, job: JobRecord) -> Mapping[str, Any]:
    """Gather what the sheet needs beside the job itself."""
    viewer: Any = viewer_of(request)
    piece = Piece(job.surface_name, job.aircraft_serial, _typed(job, "version"), _typed(job, "option"))
    found = judged(rows_of_limits(viewer, job.type_name), piece)
    return {
        "row": _chosen(job) if job.limit_row else None,
        "doubts": _doubts(job, found),
        "candidates": [_said(each, job) for each in found if each.finding != REJECTED],
        "rejected": [_said(each, job) for each in found if each.finding == REJECTED],
        "fitted": _fitted(job),
        "window": window_of(job),
        "about": [{"place": f"limits.{name}", "words": words, "typed": _typed(job, name)} for name, words in _about()],
        "is_open": may_enter(viewer, job),
    }


def _chosen(job: JobRecord) -> dict[str, Any]:
    """Give the row that was chosen: as printed, and as limits tail-heavy positive."""
    row = job.limit_row
    assert row is not None, "one was chosen"
    bar, printed = bar_of_row(row, job.local_gravity), row.printed or {}
    return {
        "record": row,
        "heading": _heading(row),
        "wide": mark_safe(draw_limit_bar(bar, WIDE)) if bar else "",
        "narrow": mark_safe(draw_limit_bar(bar, NARROW)) if bar else "",
        "in_newton_metres": format_moment_range(bar.lower, bar.upper) if bar else "",
        "as_printed": limits_as_printed(row),
        "sense": printed.get("positive") or "",
        "rule": "" if row.printed is None else str(printed.get("rule") or "simple"),
        "rule_is_printed": bool(printed.get("rule")),
        "assumes": printed.get("fitted") or "",
        "bands": len(printed.get("bands") or ()),
        "is_hidden": row.printed is None,
    }


def _doubts(job: JobRecord, found: list[Judged]) -> list[str]:
    """Say what speaks against the row that was chosen, or is still to be asked of it."""
    chosen = next((each for each in found if job.limit_row and each.row.identifier == job.limit_row.identifier), None)
    said_above = ("superseded", "hidden")
    return [reason_words(each) for each in chosen.reasons if each.about not in said_above] if chosen else []


def limits_as_printed(row: RowRecord | None) -> str:
    """Give the limits of the moment digit for digit as the document prints them; empty where it states none."""
    printed = (row.printed or {}) if row else {}
    return " … ".join(_("open") if each in (None, "", "none") else str(each) for each in printed.get("moment") or ())


def _heading(row: RowRecord) -> str:
    if row.state == SUPERSEDED:
        return _("The limits are superseded: choose the row of the newer issue")
    return "" if row.state == READ_TWICE else _("Limits read by one person")


def _fitted(job: JobRecord) -> list[dict[str, Any]]:
    assumes = str(((job.limit_row.printed or {}) if job.limit_row else {}).get("fitted") or "")
    found = value_at(job.details, "arrive.fitted") or {}
    words, states = item_words(), {"": _("not said"), **state_words()}
    return [
        {"words": words[each.item], "assumed": states[each.assumed], "found": states[each.found], "row": each}
        for each in compared(assumes, found if isinstance(found, Mapping) else {})
    ]


def _said(one: Judged, job: JobRecord) -> dict[str, Any]:
    bar = bar_of_row(one.row, job.local_gravity)
    limits = format_moment_range(bar.lower, bar.upper) if bar else ""
    return {"row": one.row, "finding": one.finding, "reasons": [reason_words(each) for each in one.reasons],
            "limits": limits, "applies": one.finding == APPLIES, "asks": one.finding == ASK}  # fmt: skip


def reason_words(reason: Reason) -> str:
    """Say why a row does not apply, or what is to be asked."""
    said = {"row": reason.row_says, "here": reason.here}
    plain = {
        "superseded": _("of an issue that is superseded"),
        "draft": _("a draft: not read yet"),
        "hidden": _("read by one person, hidden until another has read it too"),
        "surface": _("for another surface: %(row)s") % said,
        "turned": _("entered before words for the sense beside a number were refused: compare it with its document"),
        "sense": _("which way its plus points is not understood: “%(row)s”. Enter the row anew") % said,
    }
    if reason.about in plain:
        return plain[reason.about]
    if not reason.here:
        words = {
            "version": _("only for version %(row)s: is this one?"),
            "option": _("only with %(row)s: is it fitted?"),
        }
        return words[reason.about] % said
    words = {
        "version": _("for version %(row)s; this is %(here)s"),
        "option": _("with %(row)s; here: %(here)s"),
        "serial number": _("for serial numbers %(row)s; this is %(here)s"),
    }
    return words[reason.about] % said


def _typed(job: JobRecord, name: str) -> str:
    return str(value_at(job.details, f"limits.{name}") or "")


def _about() -> tuple[tuple[str, str], tuple[str, str]]:
    return ("version", _("Version of this aircraft")), ("option", _("Option fitted"))
