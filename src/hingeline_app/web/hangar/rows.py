"""A check as a row of the list: its state, its ruler, what is left, and which limit binds."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any
from uuid import UUID

from django.utils.functional import Promise
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from hingeline.due import words
from hingeline_app.figures.hangar.due_signs import draw_due_glyph, draw_ruler
from hingeline_app.records.queries.checks_ahead import STATES, CheckAhead, ChecksAhead
from hingeline_app.web.saying import day_in_words

STATE_WORDS: dict[str, str | Promise] = {
    "overdue": gettext_lazy("overdue"),
    "due": gettext_lazy("due"),
    "coming": gettext_lazy("coming"),
    "unknown": gettext_lazy("unknown"),
    "not applicable": gettext_lazy("not applicable"),
    "closed": gettext_lazy("closed"),
}
NO_RULER = ("not applicable", "closed")


@dataclass(frozen=True)
class Row:
    """A check as its row tells it."""

    identifier: UUID
    state: str
    state_word: Any
    aircraft: str
    part: str
    name: str
    glyph: SafeString
    ruler: SafeString
    left: str
    binds: str


def rows_of(checks: Iterable[CheckAhead], whole: ChecksAhead) -> list[Row]:
    """Give the rows of some checks."""
    totals = {each.name: each for each in whole.result.aircraft}
    return [row_of(each, totals.get(each.state.aircraft)) for each in checks]


def row_of(check: CheckAhead, totals: Any) -> Row:
    """Give the row of one check."""
    state = check.state
    left, binds = left_and_binds(check, totals)
    ruler = "" if state.state in NO_RULER else draw_ruler(state.state, check.used, _used_words(check))
    return Row(
        check.identifier,
        state.state,
        STATE_WORDS[state.state],
        state.aircraft,
        state.part,
        state.name,
        mark_safe(draw_due_glyph(state.state)),
        mark_safe(ruler),
        left,
        binds,
    )


def left_and_binds(check: CheckAhead, totals: Any) -> tuple[str, str]:
    """Say what is left, and which limit binds."""
    tellers = {"unknown": _unknown, "not applicable": _not_applicable, "closed": _closed}
    teller = tellers.get(check.state.state)
    if teller is not None:
        return teller(check, totals)
    if check.state.binding == "event":
        happened = check.task.event
        return _("before flight"), happened.what if happened else ""
    return _left(check), _binds(check)


def _left(check: CheckAhead) -> str:
    state, remaining = check.state, check.state.remaining
    number = {"hours": remaining.hours, "landings": remaining.landings, "date": remaining.days}[state.binding or "date"]
    if number is None:
        return ""
    if state.state == "overdue":
        return _("%(amount)s over") % {"amount": amount(-number, state.binding)}
    if state.state == "coming":
        return amount(number, state.binding)
    if number < 0:
        return _("in tolerance")
    return _("last day") if state.binding == "date" else _("nothing left")


def amount(number: Decimal | int, counter: str | None) -> str:
    """Write an amount of a counter with its unit."""
    if counter == "hours":
        return words.hours(Decimal(number)).replace(" h", "\u00a0h")
    if counter == "landings":
        return ngettext("%(number)s landing", "%(number)s landings", int(number)) % {"number": int(number)}
    return ngettext("%(number)s day", "%(number)s days", int(number)) % {"number": int(number)}


def _binds(check: CheckAhead) -> str:
    state = check.state
    if state.binding == "date":
        return _("by date, %(day)s") % {"day": day_in_words(state.due_date)}
    counter = _("by hours") if state.binding == "hours" else _("by landings")
    if state.state == "coming" and state.forecast is not None:
        return _("%(counter)s, estimate %(day)s") % {"counter": counter, "day": day_in_words(state.forecast.mid)}
    every = getattr(check.task.every, state.binding or "", None) if state.last_done else None
    if every is None:
        return counter
    return _("%(counter)s, each %(amount)s") % {"counter": counter, "amount": _each(every, state.binding)}


def _each(every: Any, counter: str | None) -> str:
    return f"{words.amount(Decimal(every))}\u00a0h" if counter == "hours" else str(every)


def _unknown(check: CheckAhead, totals: Any) -> tuple[str, str]:
    every = check.task.every
    if not check.task.done and check.task.start is None:
        return _("no record"), _("counts as never done")
    if totals is not None and totals.hours is None:
        return _("no hours"), _("nobody read them")
    if every is not None and every.landings is not None and (totals is None or totals.landings is None):
        return _("no landings"), _("not read with the hours")
    return _("not known"), _("a number is missing")


def _not_applicable(check: CheckAhead, _totals: Any) -> tuple[str, str]:
    return "", check.task.applies_to


def _closed(check: CheckAhead, _totals: Any) -> tuple[str, str]:
    ending = check.task.ends_with
    if ending is not None:
        return day_in_words(ending.date), ending.by
    return day_in_words(check.state.last_done), _("done once")


def _used_words(check: CheckAhead) -> str:
    if check.used is None:
        return _("Used part of the interval: not known")
    return _("Used part of the interval: %(percent)s %%") % {"percent": round(100 * check.used)}


def used_of_span(check: CheckAhead) -> str:
    """Write how much of the interval is used, as "103.2 of 100 h"; nothing where nothing is counted."""
    state, span = check.state, check.span
    left = {"hours": state.remaining.hours, "landings": state.remaining.landings, "date": state.remaining.days}
    remains = left.get(state.binding or "")
    if span is None or remains is None:
        return ""
    unit = {"hours": "\u00a0h", "landings": " " + _("landings"), "date": " " + _("days")}[state.binding or "date"]
    used = words.amount(span - Decimal(remains))
    return _("%(used)s of %(span)s") % {"used": used, "span": words.amount(span) + unit}


def counted_by_state(checks: Iterable[CheckAhead]) -> list[tuple[str, Any, int]]:
    """Count the checks in each state."""
    states = [each.state.state for each in checks]
    return [(state, STATE_WORDS[state], states.count(state)) for state in STATES]


def found_by_words(checks: tuple[CheckAhead, ...], asked: str) -> tuple[CheckAhead, ...]:
    """Give the checks that hold every word that was asked for."""
    wanted = asked.casefold().split()
    return tuple(each for each in checks if all(word in each.words for word in wanted)) if wanted else checks
