"""Counters: what a meter showed, when it was changed. Exact decimals; a step back is asked about."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from uuid import UUID

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import NotAllowed, acting, signed_in
from hingeline_app.records.dates import today
from hingeline_app.records.legible import remark
from hingeline_app.records.models import Aircraft, CounterReading, MeterChange, Person
from hingeline_app.records.queries.counters import COUNTERS, HOURS, meters_before, neighbours
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command

MOST = Decimal("9999999.99")


def read_counter(
    actor: Actor, aircraft: UUID, counter: str, shown: Decimal, on: date, command: Command | None = None
) -> CounterReading:
    """Enter what a meter showed on a day.

    Raises
    ------
    InputRefused
        The day is ahead; the number is below an earlier or above a later reading of the same meter.
    """
    with acting(actor, Act.KEEP_AIRCRAFT, "counter read", command=command) as entry:
        person = signed_in(actor)
        reading = described_count(found(person, Aircraft, aircraft), counter, shown, on, person)
        entry.keep(reading)
    return reading


def read_counters(
    actor: Actor, aircraft: UUID, shown: Mapping[str, Decimal | int | None], on: date, command: Command | None = None
) -> list[CounterReading]:
    """Enter what several meters of an aircraft showed on one day: all of them or none.

    Raises
    ------
    InputRefused
        As for :func:`read_counter`.
    """
    with acting(actor, Act.KEEP_AIRCRAFT, "counters read", command=command) as entry:
        person = signed_in(actor)
        kept = found(person, Aircraft, aircraft)
        given = {counter: Decimal(value) for counter, value in shown.items() if value is not None}
        readings = [described_count(kept, counter, value, on, person) for counter, value in given.items()]
        for reading in readings:
            entry.keep(reading)
    return readings


def withdraw_counter_reading(actor: Actor, reading: UUID, reason: str) -> CounterReading:
    """Withdraw a reading that was wrong, with the reason; it stays."""
    says = {"reason": remark("reason", reason, needed=True)}
    with acting(actor, Act.KEEP_AIRCRAFT, "counter reading withdrawn", says) as entry:
        kept = found(signed_in(actor), CounterReading, reading)
        if kept.withdrawn_because:
            raise NotAllowed("This reading was withdrawn before.")
        kept.withdrawn_because = says["reason"]
        entry.keep(kept)
    return kept


def change_meter(
    actor: Actor,
    aircraft: UUID,
    counter: str,
    *,
    old_shown: Decimal,
    new_shown: Decimal,
    on: date,
    command: Command | None = None,
) -> MeterChange:
    """Enter the change of a meter: the total goes on.

    Raises
    ------
    InputRefused
        The day is ahead, or not after the last change and the last reading; the old meter showed more before.
    """
    with acting(actor, Act.KEEP_AIRCRAFT, "meter changed", command=command) as entry:
        kept = found(signed_in(actor), Aircraft, aircraft)
        old, new = _counted(counter, "old meter", old_shown), _counted(counter, "new meter", new_shown)
        day = _not_ahead(kept, "changed on", on)
        _refuse_step_back(kept, counter, old, on)
        _refuse_change_between(kept, counter, on)
        change = MeterChange(
            aircraft=kept,
            counter=counter,
            changed_on=day,
            old_shown=old,
            new_shown=new,
        )
        entry.keep(change)
    return change


def described_count(aircraft: Aircraft, counter: str, shown: Decimal, on: date, by: Person) -> CounterReading:
    """Make a reading of what was typed; not kept yet."""
    value = _counted(counter, counter, shown)
    _refuse_step_back(aircraft, counter, value, _not_ahead(aircraft, "read on", on))
    meter = meters_before(aircraft, counter, on)
    return CounterReading(aircraft=aircraft, counter=counter, read_on=on, meter=meter, shown=value, read_by=by)


def _counted(counter: str, field: str, shown: Decimal) -> Decimal:
    """Give what a meter of this counter can show: a part of a landing is none."""
    checked_counter(counter)
    value = checked_count(field, shown)
    if counter != HOURS and value != value.to_integral_value():
        raise InputRefused.of(field, value, "a whole number", "Landings are whole.")
    return value


def checked_counter(counter: str) -> str:
    """Give a counter that is known."""
    if counter not in COUNTERS:
        raise InputRefused.of("counter", counter, " or ".join(COUNTERS), "Choose one of them.")
    return counter


def checked_count(field: str, value: Decimal) -> Decimal:
    """Give a count that a meter can show: not negative, two decimals at most."""
    if not value.is_finite() or not 0 <= value <= MOST or value != round(value, 2):
        raise InputRefused.of(field, value, "a number from 0, with two decimals at most", "Type what the meter shows.")
    return value


def _refuse_step_back(aircraft: Aircraft, counter: str, shown: Decimal, on: date) -> None:
    earlier, later = neighbours(aircraft, counter, on)
    if earlier is not None and shown < earlier.shown:
        remedy = f"It showed {earlier.shown} on {earlier.read_on}: withdraw that, or enter a change of the meter."
        raise InputRefused.of(counter, shown, f"at least {earlier.shown}", remedy)
    if later is not None and shown > later.shown:
        remedy = f"It showed {later.shown} on {later.read_on}: check the date."
        raise InputRefused.of(counter, shown, f"at most {later.shown}", remedy)


def _refuse_change_between(aircraft: Aircraft, counter: str, on: date) -> None:
    """Refuse one before another, which cannot be withdrawn, or before readings, which would be another meter's."""
    last = aircraft.meter_changes.filter(counter=counter, changed_on__gte=on).last()
    if last is not None:
        remedy = f"Its meter was changed on {last.changed_on}: check the date."
        raise InputRefused.of("changed on", on, f"a day after {last.changed_on}", remedy)
    if aircraft.counter_readings.filter(counter=counter, read_on__gt=on, withdrawn_because="").exists():
        remedy = "There are later readings of this counter: withdraw them, and enter them again after this."
        raise InputRefused.of("changed on", on, "a day after what was entered last", remedy)


def _not_ahead(aircraft: Aircraft, field: str, on: date) -> date:
    if on > today(aircraft.workshop) or (aircraft.built_on is not None and on < aircraft.built_on):
        raise InputRefused.of(field, on, "a day between its building and today", "Check the date.")
    return on
