"""A worksheet to be filled in by hand, for a bench without a tablet: limits and reading window stand in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from hingeline.balance import Weighing, plan_weighing
from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline_app.figures.wording import shorten, unit_text
from hingeline_app.report.job_record import JobRecord
from hingeline_app.report.job_view import job_view
from hingeline_app.report.job_worksheet import set_sides
from hingeline_app.report.quantities import arm_text
from hingeline_app.report.readings import gravity_words
from hingeline_app.report.record import INPUT_NAME
from hingeline_app.report.sheet import SheetDetails, made_words
from hingeline_app.report.worksheet import Paper

TITLE = "Blank worksheet"
WORD, STATE = "To be weighed", "Not weighed"
MOST_SUPPORTS = 4
NOT_WEIGHED = "Nothing on this sheet was weighed when it was printed. Enter what is written here into the records."
NO_WINDOW = "No reading window stands here: it holds for one support and a moment limit. Work the moment out."
HAND_LINES = (
    ("Scale, calibrated on", True),
    ("Tare", True),
    ("Mean less tare", True),
    ("Static moment, N·m", True),
    ("tail-heavy or nose-heavy, in words", True),
    ("Level, tab neutral, drains open, checked by", True),
)
BY_HAND_BOXES = (
    "Weighed by · name, number, date, time, signature",
    "Second inspection · a different person · name, number, date, time, signature",
    "Release · name, number, date, time, signature",
)


def plan_or_none(weighing: Weighing) -> dict[str, Any] | None:
    """Plan a weighing; nothing for several supports or without a moment limit, where no window holds."""
    try:
        return to_document(plan_weighing(weighing))
    except InputRefused as refused:
        if {each.field for each in refused.refusals} <= {"support", "limits"}:
            return None
        raise


def make_blank_worksheet(
    plan: Mapping[str, Any] | None,
    weighing: Mapping[str, Any],
    weighing_text: str,
    sheet: SheetDetails,
    made_at: datetime,
    version: str,
    paper: Paper = "a4",
) -> bytes:
    """Make a worksheet of two sides with the reading window filled and room for the readings by hand.

    Parameters
    ----------
    plan : mapping or None
        A document ``hingeline/weighing-plan/1``; None where no reading window holds (several supports, no limits).
    weighing : mapping
        The weighing's own document: its supports, without readings.
    weighing_text : str
        The weighing as it was typed; attached.
    sheet : SheetDetails
        What of the title block is known.
    made_at, version, paper
        As of a worksheet.

    Returns
    -------
    bytes
        A tagged PDF/A-3a.
    """
    view = blank_view(plan, weighing, weighing_text, sheet, made_at, version)
    return set_sides([view], made_at, paper)


def blank_view(
    plan: Mapping[str, Any] | None,
    weighing: Mapping[str, Any],
    weighing_text: str,
    sheet: SheetDetails,
    made_at: datetime,
    version: str,
) -> dict[str, Any]:
    """Return what a blank worksheet says."""
    record = JobRecord(sheet, weighing_text, not_weighed(plan, weighing))
    view = job_view(record, made_at, version)
    boxes = [{"title": title, "lines": [], "across": ""} for title in BY_HAND_BOXES]
    emptied = {
        "is_blank": True,
        "boxes": boxes,
        "notes": [*view["back"]["notes"], NOT_WEIGHED],
        "cautions": view["back"]["cautions"],
    }
    return {
        **view,
        "title": f"{TITLE}: {view['title'].partition(': ')[2]}",
        "title_words": TITLE,
        "state": STATE,
        "statement": {"word": WORD, "colour": "none", "lines": _limits_lines(view)},
        "window": "",
        "window_first": "",
        "sum": "scale × local gravity × arm = static moment",
        "scale": gravity_words(record.result),
        "uncertainty": _expected_words(weighing),
        "readings": {**view["readings"], "heading": _heading(plan), "boxes": _rows(weighing), "table": [], "hand": []},
        "withdrawn_words": "",
        "by_hand_lines": [list(line) for line in _hand_lines(weighing)],
        "foot": f"Blank · Hingeline {version} · made {made_words(made_at)}",
        "back": {**view["back"], **emptied},
        "attached": {INPUT_NAME: weighing_text},
    }  # fmt: skip


def _expected_words(weighing: Mapping[str, Any]) -> str:
    """Say what the ± before the work holds: of the scatter only what was stated."""
    stated = (weighing.get("uncertainty") or {}).get("repeatability")
    return "± expected, scatter as stated" if stated else "± expected, without the scatter of the readings"


def not_weighed(plan: Mapping[str, Any] | None, weighing: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a result would hold, with nothing weighed in it."""
    if plan is None:
        limits = weighing.get("limits") or {}
        plan = {"surface": weighing.get("surface"), "limits": limits, "rule": limits.get("rule") or "simple",
                "limits_source": limits.get("source"), "notes": [NO_WINDOW]}  # fmt: skip
    bare: dict[str, Any] = {"readings": [], "rising": [], "falling": [], "net": None, "force": None}
    kept = ("surface", "limits", "limits_source", "rule", "reading_window", "budget", "notes", "cautions")
    return {
        **{name: plan.get(name) for name in kept},
        "supports": [{**support, **bare} for support in weighing.get("supports") or []],
        "hung": weighing.get("hung") or [],
        "parts": weighing.get("parts") or [],
        "terms": [],
        "local_gravity": weighing.get("local_gravity"),
        "static_moment": {"value": None, "unit": "N m"},
        "statement": None,
        "statements": [],
    }


def _limits_lines(view: Mapping[str, Any]) -> list[str]:
    limits = dict(view["block"]).get("Limits", "")
    rule = dict(view["block"]).get("Rule", "")
    words = f"Approved limits: {limits}, {rule} rule."
    if rule == "none in force":
        words = f"Approved limits: {limits}, no rule in force."
    return [words, view["window"]] if view["window"] else [words]


def _hand_lines(weighing: Mapping[str, Any]) -> Sequence[tuple[str, bool]]:
    """Ask for the arm too where no set-up says it."""
    has_arms = weighing.get("supports") or weighing.get("hung")
    return HAND_LINES if has_arms else (("Arm from the hinge line, mm, aft or forward", True), *HAND_LINES)


def _heading(plan: Mapping[str, Any] | None) -> str:
    window = (plan or {}).get("reading_window") or {}
    unit = next((end["unit"] for end in window.values() if isinstance(end, Mapping)), None)
    return f"Readings by hand, {unit_text(unit)}" if unit else "Readings by hand"


def _rows(weighing: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Return the rows of boxes: two weighings of one support, or one row a support."""
    supports: Sequence[Mapping[str, Any]] = weighing.get("supports") or []
    names = ["first", "again"]
    if len(supports) > 1:
        names = [f"{number}: {shorten(arm_text(each), 12)}" for number, each in enumerate(supports[:MOST_SUPPORTS], 1)]
    return [{"name": name, "first": 1, "cells": [""] * 5} for name in names]
