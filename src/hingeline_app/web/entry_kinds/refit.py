"""Entries of the step Refit: a value against its limit, and what was looked at."""

from __future__ import annotations

from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.bench.compared import compared, limit_words
from hingeline_app.bench.refit_checks import NOT_NEEDED, NOT_RIGHT, RIGHT, Check, Seen, asked_of
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.web.entry_kinds.rows import set_row, short
from hingeline_app.web.entry_kinds.told import Told

TYPED = ("value", "uncertainty", "lower", "upper", "source", "instrument")


def value(told: Told) -> Any:
    """Set one measured value with its limits, their source and the instrument."""
    check = _check(told, Check)
    typed = {name: short(told, name) for name in TYPED}
    found = compared(typed["value"], typed["uncertainty"], typed["lower"], typed["upper"], check.dimension)
    if (typed["lower"] or typed["upper"]) and not typed["source"]:
        raise InputRefused.of(
            "source", "", "document, issue and page of the limit", "Copy them from the approved data."
        )
    row = {
        **typed,
        "what": check.words,
        "measured": f"{typed['value']} ± {typed['uncertainty']}",
        "limit": limit_words(typed["lower"], typed["upper"]),
        "finding": found.finding,
    }
    return set_row(told, f"refit.values.{check.name}", row)


def seen(told: Told) -> Any:
    """Say what was seen: right, not right, or that this surface has none."""
    check, finding = _check(told, Seen), told.text("finding")
    if finding not in (RIGHT, NOT_RIGHT, NOT_NEEDED):
        raise InputRefused.of("finding", finding, f"{RIGHT}, {NOT_RIGHT} or {NOT_NEEDED}", "Choose one of them.")
    row = {"what": check.words, "measured": finding, "limit": "", "finding": finding, "instrument": "by hand"}
    return set_row(told, f"refit.values.{check.name}", row)


def not_needed(told: Told) -> Any:
    """Say that a value is not asked for here, and why."""
    check, reason = _check(told, Check), short(told, "reason")
    if not reason:
        raise InputRefused.of("reason", "", "why it is not needed", "Say it in a few words.")
    row = {"what": check.words, "measured": "", "limit": "", "finding": NOT_NEEDED, "instrument": "", "reason": reason}
    return set_row(told, f"refit.values.{check.name}", row)


def _check(told: Told, kind: type[Check] | type[Seen]) -> Any:
    viewer: Any = told.actor.person
    asked = asked_of(job_of(viewer, told.number).surface_name)
    found = next((each for each in asked if each.name == told.text("check")), None)
    if not isinstance(found, kind):
        raise InputRefused.of("check", told.text("check"), "one of the page's checks", "Load the page again.")
    return found


KINDS = {"refit-value": value, "refit-seen": seen, "refit-not-needed": not_needed}
