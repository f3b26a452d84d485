"""Totals of aircraft and parts: meters that were changed, parts that moved with their hours.

total of an aircraft = meter + before the meter + sum over changes of (old - new)
total of a part      = when first fitted + sum over fittings of (removed, or now, - fitted)
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date as Date
from decimal import Decimal

from hingeline.due.forecast import NO_RATE, NoRate, Rate, rate_of
from hingeline.due.model import Aircraft, MeterChange, Part


@dataclass(frozen=True, slots=True)
class Past:
    """Totals that are known on days, in their order."""

    days: tuple[Date, ...] = ()
    totals: tuple[Decimal, ...] = ()

    def up_to(self, day: Date) -> Decimal | None:
        """Give the last total known up to the end of a day, or None."""
        place = bisect_right(self.days, day)
        return self.totals[place - 1] if place else None

    def beside(self, day: Date) -> tuple[Decimal | None, Decimal | None]:
        """Give the last total known before a day, and the first one after it; None where there is none."""
        days, totals = self.days, self.totals
        first = bisect_left(days, day)
        end = first + 1 if first < len(days) and days[first] == day else first
        return totals[first - 1] if first else None, totals[end] if end < len(days) else None

    def after(self, day: Date) -> Decimal | None:
        """Give the first total known after a day, or None."""
        place = bisect_right(self.days, day)
        return self.totals[place] if place < len(self.days) else None


@dataclass(frozen=True, slots=True)
class Counted:
    """What the counters of an aircraft or a part show, and how the one translates into the other.

    ``ahead_hours`` is the aircraft's total less the basis' own, 0 for the aircraft itself, None for a part on
    no aircraft; ``ahead_meter`` is the aircraft's total less what its meter shows.
    """

    whose: str
    is_part: bool
    aircraft: str
    counted_on: Date
    hours: Decimal | None
    landings: Decimal | None
    ahead_hours: Decimal | None = Decimal(0)
    ahead_landings: Decimal | None = Decimal(0)
    ahead_meter: Decimal = Decimal(0)
    past_hours: Past = Past()
    past_landings: Past = Past()
    hours_rate: Rate | NoRate = NO_RATE
    landings_rate: Rate | NoRate = NO_RATE


def total_of_meter(meter: Decimal, before: Decimal, changes: Sequence[MeterChange]) -> Decimal:
    """Give the total that a reading of the meter stands for [h].

    Parameters
    ----------
    meter : Decimal
        What it shows, after all these changes [h].
    before : Decimal
        Flown before the first meter that is known [h].
    changes : sequence of MeterChange
        Up to that reading.

    Returns
    -------
    Decimal
        meter + before + sum of (old - new).

    Examples
    --------
    >>> total_of_meter(Decimal("613.0"), Decimal(0), [MeterChange(Date(2026, 6, 1), Decimal("801.5"))])
    Decimal('1414.5')
    """
    return meter + before + sum((change.old - change.new for change in changes), Decimal(0))


def count_aircraft(aircraft: Aircraft, on: Date) -> Counted:
    """Give the totals of an aircraft, what is known of earlier days, and its rates of use."""
    counted_on = aircraft.counted_on or on
    now = None if aircraft.hours is None else _total(aircraft, aircraft.hours, None)
    hours = hours_known(aircraft, counted_on)
    landings = landings_known(aircraft, counted_on)
    return Counted(
        whose=aircraft.name,
        is_part=False,
        aircraft=aircraft.name,
        counted_on=counted_on,
        hours=now,
        landings=None if aircraft.landings is None else Decimal(aircraft.landings),
        ahead_meter=_total(aircraft, Decimal(0), None),
        past_hours=hours,
        past_landings=landings,
        hours_rate=rate_of(hours.days, hours.totals, counted_on),
        landings_rate=rate_of(landings.days, landings.totals, counted_on),
    )


def _total(aircraft: Aircraft, meter: Decimal, day: Date | None) -> Decimal:
    changes = [change for change in aircraft.meter_changes if day is None or change.date <= day]
    return total_of_meter(meter, aircraft.hours_before_meter, changes)


def hours_known(aircraft: Aircraft, counted_on: Date) -> Past:
    """Gather the total hours of every day that one is known of: readings, changes of the meter, and now."""
    known = [
        (reading.date, _total(aircraft, reading.hours, reading.date))
        for reading in aircraft.readings
        if reading.hours is not None
    ]
    changes = sorted(aircraft.meter_changes, key=lambda change: (change.date, change.old))
    for place, change in enumerate(changes):
        known.append((change.date, total_of_meter(change.old, aircraft.hours_before_meter, changes[:place])))
    if aircraft.hours is not None:
        known.append((counted_on, _total(aircraft, aircraft.hours, None)))
    return _past(known)


def landings_known(aircraft: Aircraft, counted_on: Date) -> Past:
    """Gather the landings of every day that they are known of."""
    known = [(each.date, Decimal(each.landings)) for each in aircraft.readings if each.landings is not None]
    if aircraft.landings is not None:
        known.append((counted_on, Decimal(aircraft.landings)))
    return _past(known)


def _past(known: list[tuple[Date, Decimal]]) -> Past:
    """Put totals in their order; of several on one day the last counts."""
    last = dict(sorted(known))
    return Past(tuple(last), tuple(last.values()))


def count_part(part: Part, aircraft: Mapping[str, Counted], on: Date) -> Counted:
    """Give the totals of a part, and where it is now.

    Parameters
    ----------
    part : Part
        With its fittings.
    aircraft : mapping
        The counted aircraft by name.
    on : date
        The day that is asked about.
    """
    now = next((fitting for fitting in part.fitted if fitting.to is None), None)
    host = None if now is None else aircraft[now.aircraft]
    hours, landings = part_hours(part, host), part_landings(part, host)
    if host is None:
        return Counted(part.name, True, "", on, hours, landings, None, None)
    return Counted(
        whose=part.name,
        is_part=True,
        aircraft=host.whose,
        counted_on=host.counted_on,
        hours=hours,
        landings=landings,
        ahead_hours=_less(host.hours, hours),
        ahead_landings=_less(host.landings, landings),
        ahead_meter=host.ahead_meter,
        hours_rate=host.hours_rate,
        landings_rate=host.landings_rate,
    )


def part_hours(part: Part, host: Counted | None) -> Decimal | None:
    """Give the hours of a part since it was new, or None where one of its numbers is missing [h].

    Source: sum of (removed - fitted), each on the meter-free total of its aircraft; common practice, no source.
    """
    total, now = part.hours_when_new_fitted, None if host is None else host.hours
    for fitting in part.fitted:
        end = now if fitting.to is None else fitting.to
        total = None if total is None or end is None else total + end - fitting.from_
    return total


def part_landings(part: Part, host: Counted | None) -> Decimal | None:
    """Give the landings of a part since it was new, or None where one of its numbers is missing."""
    total, now = part.landings_when_new_fitted, None if host is None else host.landings
    for fitting in part.fitted:
        end = fitting.to_landings if fitting.to is not None or now is None else int(now)
        known = total is not None and end is not None and fitting.from_landings is not None
        total = total + end - fitting.from_landings if known else None  # type: ignore[operator]
    return None if total is None else Decimal(total)


def _less(one: Decimal | None, other: Decimal | None) -> Decimal | None:
    return None if one is None or other is None else one - other
