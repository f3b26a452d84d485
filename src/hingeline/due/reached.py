"""How far each limit is reached, and what they say together."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Literal, NamedTuple

from hingeline.due.counters import Counted
from hingeline.due.forecast import NoRate, Span, days_until
from hingeline.due.limits import Limit, Limits

Reach = Literal["coming", "due", "unknown", "overdue"]
# A counter that is missing may hide that something is overdue: it weighs more than what is merely due.
ORDER: tuple[Reach, ...] = ("coming", "due", "unknown", "overdue")
_RANK = {reach: rank for rank, reach in enumerate(ORDER)}


class Reached(NamedTuple):
    """A limit, what its counter shows now, what is left, and how far it is reached."""

    limit: Limit
    now: Decimal | None
    left: Decimal | None
    reach: Reach


def reached(limit: Limit, counted: Counted, on: Decimal) -> Reached:
    """Hold a limit against its counter.

    Parameters
    ----------
    limit : Limit
        One of a task.
    counted : Counted
        The totals.
    on : Decimal
        The day that is asked about, as an ordinal.

    Notes
    -----
    Equal is reached: nothing is left, and a date is usable to the end of its day. Beyond it and up to the late
    end of the window it is due; further on overdue.
    """
    now = on if limit.counter == "date" else counted.hours if limit.counter == "hours" else counted.landings
    if limit.at is None or now is None:
        return Reached(limit, now, None, "unknown")
    assert limit.late is not None
    reach: Reach = "coming" if now < limit.at else "due" if now <= limit.late else "overdue"
    return Reached(limit, now, limit.at - now, reach)


def joined(reaches: Iterable[Reach], join: str) -> Reach:
    """Say what limits say together: of "first" the worst counts, of "later" all must be reached.

    Examples
    --------
    >>> joined(["coming", "overdue"], "first"), joined(["coming", "overdue"], "later")
    ('overdue', 'coming')
    """
    pick = max if join == "first" else min
    return pick(reaches, key=_RANK.__getitem__)


def together(found: Sequence[Reached], limits: Limits) -> Reach:
    """Join the group, then set what holds in any case beside it."""
    if len(found) == 1:
        return found[0].reach
    group = joined((each.reach for each in found[: len(limits.group)]), limits.join)
    return joined((group, *(each.reach for each in found[len(limits.group) :])), "first")


def binding(found: Sequence[Reached], limits: Limits, state: Reach, counted: Counted) -> Reached:
    """Find the limit that decides: the first one to come, or the last where the later counts.

    Of the group one is found first; then it stands beside those that hold in any case, and the first one counts.
    Limits of different counters are compared by the days to go at the past rate of use, where there is one for
    all of them, or else by the part of their interval that is left.
    """
    if len(found) == 1:
        return found[0]
    group, in_any_case = found[: len(limits.group)], found[len(limits.group) :]
    deciding = [each for each in in_any_case if each.reach == state]
    if joined((each.reach for each in group), limits.join) == state:
        deciding.insert(0, _decides([each for each in group if each.reach == state], limits.join, counted))
    return _decides(deciding, "first", counted)


def _decides(deciding: Sequence[Reached], join: str, counted: Counted) -> Reached:
    if len(deciding) == 1 or deciding[0].reach == "unknown":
        return deciding[0]
    urgency = _urgency(deciding, counted)
    return deciding[(min if join == "first" else max)(range(len(deciding)), key=urgency.__getitem__)]


def _urgency(deciding: Sequence[Reached], counted: Counted) -> list[float]:
    days = [days_left(each, counted) for each in deciding]
    if all(each is not None for each in days):
        return [each for each in days if each is not None]
    return [float(each.left or 0) / (each.limit.span or 1.0) for each in deciding]


def days_left(each: Reached, counted: Counted) -> float | None:
    """Give the days to go at the past rate of use, or None without one."""
    assert each.left is not None
    if each.limit.counter == "date":
        return float(each.left)
    rate = counted.hours_rate if each.limit.counter == "hours" else counted.landings_rate
    return None if isinstance(rate, NoRate) else float(each.left) / rate.per_day


def expected(found: Sequence[Reached], limits: Limits, counted: Counted) -> Span | NoRate | None:
    """Say when the task will come due, in days from the last count; None where dates alone decide.

    The ends of the interval are joined like the limits themselves. That is exact beside a date, and where hours
    and landings go together; where they do not, the early end of "first" is missed a little more often.
    """
    if all(each.limit.counter == "date" for each in found):
        return None
    spans: list[Span] = []
    for each in found:
        span = _span(each, counted)
        if isinstance(span, NoRate):
            return span
        spans.append(span)
    group = _joined_spans(spans[: len(limits.group)], limits.join)
    return _joined_spans([group, *spans[len(limits.group) :]], "first")


def _span(each: Reached, counted: Counted) -> Span | NoRate:
    if each.left is None or each.limit.at is None:
        return NoRate("a counter is missing")
    if each.limit.counter == "date":
        days = max(0.0, float(each.limit.at) - counted.counted_on.toordinal())
        return Span(days, days, days)
    rate = counted.hours_rate if each.limit.counter == "hours" else counted.landings_rate
    return rate if isinstance(rate, NoRate) else days_until(float(each.left), rate)


def _joined_spans(spans: Sequence[Span], join: str) -> Span:
    if len(spans) == 1:
        return spans[0]
    pick = min if join == "first" else max
    low, mid = pick(each.low for each in spans), pick(each.mid for each in spans)
    high = pick(each.high for each in spans)
    return Span(low, mid, high if math.isfinite(high) else math.inf)
