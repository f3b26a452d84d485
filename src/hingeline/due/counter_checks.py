"""What aircraft and parts must fulfil: counters that never run backwards, parts in one place at a time."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from datetime import date as Date
from decimal import Decimal

from hingeline.due.counters import Counted, count_aircraft, count_part, landings_known, total_of_meter
from hingeline.due.model import Aircraft, Fitting, Part
from hingeline.due.refusing import MOST_LANDINGS, count_fault, day_fault, fault, hours_fault, near
from hingeline.errors import Refusal

Owner = tuple[str, str]
CHANGE, READING, NOW = 0, 1, 2


def pasts_of(aircraft: Sequence[Aircraft], parts: Sequence[Part], on: Date) -> dict[Owner, Counted]:
    """Count everything once, by the aircraft's name and the part's, of which one is empty."""
    flown = {each.name: count_aircraft(each, on) for each in aircraft}
    known: dict[Owner, Counted] = {(name, ""): counted for name, counted in flown.items()}
    return known | {("", each.name): count_part(each, flown, on) for each in parts}


def aircraft_faults(aircraft: Sequence[Aircraft], on: Date) -> Iterator[Refusal]:
    """Find what is wrong with the counters of aircraft."""
    for index, each in enumerate(aircraft):
        place = f"aircraft[{index}]"
        plain = [*_numbers_of(place, each), *_days_of(place, each, on)]
        yield from plain or _backwards(place, each, on)


def _numbers_of(place: str, aircraft: Aircraft) -> Iterator[Refusal]:
    yield from hours_fault(f"{place}.hours", aircraft.hours)
    yield from hours_fault(f"{place}.hours_before_meter", aircraft.hours_before_meter)
    yield from count_fault(f"{place}.landings", aircraft.landings, "landings", MOST_LANDINGS)
    for index, change in enumerate(aircraft.meter_changes):
        yield from hours_fault(f"{place}.meter_changes[{index}].old", change.old)
        yield from hours_fault(f"{place}.meter_changes[{index}].new", change.new)
    for index, reading in enumerate(aircraft.readings):
        field = f"{place}.readings[{index}]"
        yield from hours_fault(f"{field}.hours", reading.hours)
        yield from count_fault(f"{field}.landings", reading.landings, "landings", MOST_LANDINGS)
        if reading.hours is None and reading.landings is None:
            yield fault(field, reading.date, "hours, landings or both", "Give what was read, or leave it out.")


def _days_of(place: str, aircraft: Aircraft, on: Date) -> Iterator[Refusal]:
    yield from day_fault(f"{place}.counted_on", aircraft.counted_on, on)
    last = aircraft.counted_on or on
    for index, change in enumerate(aircraft.meter_changes):
        yield from day_fault(f"{place}.meter_changes[{index}].date", change.date, last)
    for index, reading in enumerate(aircraft.readings):
        yield from day_fault(f"{place}.readings[{index}].date", reading.date, last)


def _backwards(place: str, aircraft: Aircraft, on: Date) -> Iterator[Refusal]:
    """Find the first total that is lower than an earlier one."""
    last = aircraft.counted_on or on
    steps = sorted(_hours_in_order(place, aircraft, last), key=_place_in_order)
    for (_, before, _), (key, total, field) in itertools.pairwise(steps):
        if total < before:
            remedy = (
                "Was the meter changed? Then write meter_changes, and on the day of a change the new meter's reading. "
                "Otherwise check the digits."
            )
            yield fault(field, f"{total} h in all on {key[0]}", f"at least the {before} h before it", remedy)
            return
    landings = landings_known(aircraft, last)
    for day, before, total in zip(landings.days[1:], landings.totals, landings.totals[1:], strict=False):
        if total < before:
            remedy = "Landings do not run backwards: check the digits."
            yield fault(f"{place}.landings", f"{total} on {day}", f"at least the {before} before it", remedy)
            return


def _place_in_order(step: tuple[tuple[Date, int], Decimal, str]) -> tuple[tuple[Date, int], Decimal]:
    """Sort by day and kind; of two readings of one day nobody wrote which came first, so the smaller one did."""
    (day, kind), total, _ = step
    return (day, kind), total if kind == READING else Decimal(0)


def _hours_in_order(place: str, aircraft: Aircraft, last: Date) -> Iterator[tuple[tuple[Date, int], Decimal, str]]:
    """Give each known total with its day; on a day the change of a meter comes first, and now comes last."""
    before = aircraft.hours_before_meter
    changes = sorted(aircraft.meter_changes, key=lambda change: (change.date, change.old))
    for index, change in enumerate(changes):
        yield (change.date, CHANGE), total_of_meter(change.old, before, changes[:index]), f"{place}.meter_changes"
    for index, reading in enumerate(aircraft.readings):
        if reading.hours is not None:
            done = [change for change in changes if change.date <= reading.date]
            yield (
                (reading.date, READING),
                total_of_meter(reading.hours, before, done),
                f"{place}.readings[{index}].hours",
            )
    if aircraft.hours is not None:
        yield (last, NOW), total_of_meter(aircraft.hours, before, changes), f"{place}.hours"


# -------------------------------------------------------------------- parts


def part_faults(parts: Sequence[Part], aircraft: Sequence[Aircraft]) -> Iterator[Refusal]:
    """Find what is wrong with parts and their fittings."""
    totals = {each.name: _total_now(each) for each in aircraft}
    for index, part in enumerate(parts):
        place = f"part[{index}]"
        yield from hours_fault(f"{place}.hours_when_new_fitted", part.hours_when_new_fitted)
        field = f"{place}.landings_when_new_fitted"
        yield from count_fault(field, part.landings_when_new_fitted, "landings", MOST_LANDINGS)
        for number, fitting in enumerate(part.fitted):
            yield from _fitting_faults(f"{place}.fitted[{number}]", fitting, totals)
        yield from _in_one_place(place, part)


def _total_now(aircraft: Aircraft) -> Decimal | None:
    """Give it where every number of it is one: each fault is told at its own place."""
    shown = [each for change in aircraft.meter_changes for each in (change.old, change.new)]
    if aircraft.hours is None or not all(
        each.is_finite() for each in (aircraft.hours, aircraft.hours_before_meter, *shown)
    ):
        return None
    return total_of_meter(aircraft.hours, aircraft.hours_before_meter, aircraft.meter_changes)


def _fitting_faults(place: str, fitting: Fitting, totals: Mapping[str, Decimal | None]) -> Iterator[Refusal]:
    # An aircraft that a part has left may have left the workshop too.
    if fitting.aircraft not in totals and fitting.to is None:
        remedy = f"There is no [[aircraft]] of this name.{near(fitting.aircraft, totals)}"
        yield fault(f"{place}.aircraft", fitting.aircraft, "the name of an aircraft", remedy)
        return
    numbers = [*hours_fault(f"{place}.from", fitting.from_), *hours_fault(f"{place}.to", fitting.to)]
    yield from numbers
    if numbers:
        return
    if fitting.to is not None and fitting.to < fitting.from_:
        yield fault(f"{place}.to", fitting.to, f"at least {fitting.from_}", "It was removed after it was fitted.")
    now, last = totals.get(fitting.aircraft), fitting.from_ if fitting.to is None else fitting.to
    if now is not None and last > now:
        name = "from" if fitting.to is None else "to"
        remedy = "These are totals of the aircraft, not of its meter: check both."
        yield fault(f"{place}.{name}", last, f"at most the {now} h that {fitting.aircraft} has", remedy)
    yield from count_fault(f"{place}.from_landings", fitting.from_landings, "landings", MOST_LANDINGS)
    yield from count_fault(f"{place}.to_landings", fitting.to_landings, "landings", MOST_LANDINGS)
    landings = fitting.from_landings, fitting.to_landings
    if landings[0] is not None and landings[1] is not None and landings[1] < landings[0]:
        expected = f"at least {landings[0]}"
        yield fault(f"{place}.to_landings", landings[1], expected, "It was removed after it was fitted.")


def _in_one_place(place: str, part: Part) -> Iterator[Refusal]:
    still = [index for index, fitting in enumerate(part.fitted) if fitting.to is None]
    if len(still) > 1:
        names = " and ".join(part.fitted[index].aircraft for index in still)
        remedy = "A part is in one place: write where it was removed, to."
        yield fault(f"{place}.fitted[{still[1]}].to", f"open on {names}", "one fitting without an end", remedy)
    known = [each for each in part.fitted if each.from_.is_finite() and (each.to is None or each.to.is_finite())]
    for name in dict.fromkeys(fitting.aircraft for fitting in known):
        yield from _overlapping(place, [fitting for fitting in known if fitting.aircraft == name])


def _overlapping(place: str, fittings: list[Fitting]) -> Iterator[Refusal]:
    in_order = sorted(fittings, key=lambda fitting: fitting.from_)
    for one, other in itertools.pairwise(in_order):
        if one.to is not None and other.from_ < one.to:
            expected = f"at least {one.to}, where it was removed from {one.aircraft}"
            yield fault(f"{place}.fitted", other.from_, expected, "It was on this aircraft twice at a time: check.")
        elif one.to is None:
            remedy = "Write where it was removed before, to."
            yield fault(f"{place}.fitted", other.from_, f"one end for {one.aircraft} at {one.from_}", remedy)
