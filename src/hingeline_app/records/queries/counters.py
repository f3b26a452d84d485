"""Counters of an aircraft: the last readings, and totals over changes of the meter."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import NamedTuple

from hingeline_app.records.models import Aircraft, CounterReading, MeterChange, Person
from hingeline_app.records.queries.visible import visible_to

HOURS, LANDINGS = "hours", "landings"
COUNTERS = (HOURS, LANDINGS)


class Neighbours(NamedTuple):
    """The readings of one meter just before and just after a day."""

    earlier: CounterReading | None
    later: CounterReading | None


class CountRecord(NamedTuple):
    """What a counter showed last, and what that is in all."""

    counter: str
    read_on: date
    shown: Decimal
    total: Decimal


def counts(viewer: Person, aircraft: Aircraft) -> list[CountRecord]:
    """Give the last reading of each counter of an aircraft."""
    readings = visible_to(viewer, CounterReading).filter(aircraft=aircraft, withdrawn_because="")
    last = {reading.counter: reading for reading in readings.order_by("read_on", "meter", "shown")}
    return [_record(each) for each in sorted(last.values(), key=lambda one: one.counter)]


def total_on(aircraft: Aircraft, counter: str, on: date) -> Decimal | None:
    """Give the total that was read last by a day: what the meter showed + sum of (old - new); none if never read."""
    read = CounterReading.objects.filter(aircraft=aircraft, counter=counter, read_on__lte=on, withdrawn_because="")
    last = read.order_by("read_on", "meter", "shown").last()
    return None if last is None else _record(last).total


def total_of(reading: CounterReading) -> Decimal:
    """Give the total that a reading stands for: what the meter showed + sum of (old - new) of the meters before."""
    return _record(reading).total


def neighbours(aircraft: Aircraft, counter: str, on: date) -> Neighbours:
    """Give the readings next to a day that were taken on the same meter."""
    same = CounterReading.objects.filter(aircraft=aircraft, counter=counter, withdrawn_because="")
    same = same.filter(meter=meters_before(aircraft, counter, on)).order_by("read_on", "shown")
    return Neighbours(same.filter(read_on__lte=on).last(), same.filter(read_on__gt=on).first())


def meters_before(aircraft: Aircraft, counter: str, on: date) -> int:
    """Count the meters that were taken out by a day; on the day of a change the new one counts."""
    return MeterChange.objects.filter(aircraft=aircraft, counter=counter, changed_on__lte=on).count()


def _record(reading: CounterReading) -> CountRecord:
    changes = MeterChange.objects.filter(aircraft=reading.aircraft_id, counter=reading.counter)
    # Added up here: the database would add decimals as binary numbers.
    gone = sum((each.old_shown - each.new_shown for each in changes[: reading.meter]), Decimal(0))
    return CountRecord(reading.counter, reading.read_on, reading.shown, reading.shown + gone)
