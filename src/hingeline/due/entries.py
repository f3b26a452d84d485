"""Whether an entry of hours is plausible: one line beside it, before anyone relies on it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date as Date
from decimal import Decimal

from hingeline.due import words
from hingeline.due.checks import refuse_unusable
from hingeline.due.counters import Past, count_aircraft, hours_known, total_of_meter
from hingeline.due.forecast import NoRate, Rate
from hingeline.due.model import Aircraft, Reading
from hingeline.due.refusing import LATEST, day_fault, hours_fault
from hingeline.errors import InputRefused
from hingeline.uncertainty.student import student_quantile

MOST_A_DAY = Decimal(24)
PLAUSIBLE = 0.99


@dataclass(frozen=True, slots=True)
class EntryJudged:
    """What an entry would mean.

    Parameters
    ----------
    total : Decimal
        Total hours that it stands for [h].
    flown : Decimal or None
        Since the last total that is known before it [h].
    days : int or None
        Since then.
    asks : bool
        It needs a second look.
    line : str
        What it would mean, or what to look at.
    """

    total: Decimal
    flown: Decimal | None
    days: int | None
    asks: bool
    line: str


def judge_entry(aircraft: Aircraft, entry: Reading) -> EntryJudged:
    """Say what an entry of hours would mean beside what is known.

    Parameters
    ----------
    aircraft : Aircraft
        As it stands before the entry; its ``hours`` may be None.
    entry : Reading
        What the meter shows, with the day.

    Returns
    -------
    EntryJudged
        A question is no refusal: the one who read the meter decides.

    Raises
    ------
    InputRefused
        The entry has no hours, or the aircraft's own counters contradict themselves.

    Notes
    -----
    Asked about: less than before; more than 24 h a day; and beyond what 99 of 100 periods of use like the past
    would give, by Student's t (:mod:`hingeline.due.forecast`). Ours, no source.

    Examples
    --------
    >>> from datetime import date as Date
    >>> from decimal import Decimal
    >>> from hingeline.due import Aircraft, Reading, judge_entry
    >>> plane = Aircraft("T2-03", Decimal("613.0"), counted_on=Date(2027, 3, 3))
    >>> judge_entry(plane, Reading(Date(2027, 3, 12), Decimal("615.4"))).line
    '2.4 h in 9 days, since 613.0 h on 3 Mar 2027. There are too few readings to say what is usual.'
    """
    if entry.hours is None:
        raise InputRefused.of("hours", "missing", "what the meter shows", "Read it off.")
    faults = [*hours_fault("hours", entry.hours), *day_fault("date", entry.date, LATEST)]
    if faults:
        raise InputRefused(faults)
    last = max([entry.date, *([aircraft.counted_on] if aircraft.counted_on else [])])
    refuse_unusable([aircraft], [], [], last)
    changes = [change for change in aircraft.meter_changes if change.date <= entry.date]
    total = total_of_meter(entry.hours, aircraft.hours_before_meter, changes)
    return _judged(aircraft, hours_known(aircraft, aircraft.counted_on or last), total, entry.date)


def _judged(aircraft: Aircraft, past: Past, total: Decimal, day: Date) -> EntryJudged:
    before, after = past.up_to(day), past.after(day)
    if after is not None and total > after:
        line = f"A later reading shows less: {words.hours(after)} in all. Check the date and the digits."
        return EntryJudged(total, None, None, True, line)
    if before is None:
        return EntryJudged(total, None, None, False, f"The first entry: {words.hours(total)} in all.")
    since = max(known for known in past.days if known <= day)
    flown, days = total - before, (day - since).days
    asks, line = _question(flown, days, count_aircraft(aircraft, day).hours_rate, before, since)
    return EntryJudged(total, flown, days, asks, line)


def _question(flown: Decimal, days: int, rate: Rate | NoRate, before: Decimal, since: Date) -> tuple[bool, str]:
    told = f"{words.amount(flown)} h in {words.days(days)}, since {words.hours(before)} on {words.day(since)}."
    if flown < 0:
        less = f"{words.amount(-flown)} h less than the {words.hours(before)} in all on {words.day(since)}"
        return True, f"{less}. Was the meter changed? Otherwise check the digits."
    if flown > MOST_A_DAY * (days + 1):
        return True, f"{told} That is more than 24 h a day: check the digits and the date."
    if not isinstance(rate, Rate) or days == 0:
        return False, f"{told} There are too few readings to say what is usual." if days else told
    low, high = _usual(rate, days)
    if low <= float(flown) <= high:
        return False, f"{told} Usual would be {low:.1f} to {high:.1f} h."
    return True, f"{told} Usual would be {low:.1f} to {high:.1f} h: check the digits and the date."


def _usual(rate: Rate, days: int) -> tuple[float, float]:
    """Give what 99 of 100 periods of this length give: r t ± q s √(t + t²/T), and not below 0."""
    factor = student_quantile((1.0 + PLAUSIBLE) / 2.0, float(rate.intervals - 1))
    middle = rate.per_day * days
    band = factor * rate.spread * (days + days * days / rate.observed) ** 0.5
    return max(0.0, middle - band), middle + band
