"""Parts with a number of their own: fitted, removed, moved; their history goes with them."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from uuid import UUID

from hingeline.errors import InputRefused
from hingeline_app.records.actions.counters import checked_count
from hingeline_app.records.actions.entrance import acting, signed_in
from hingeline_app.records.actions.hands import hand_on
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible, mark, remark
from hingeline_app.records.models import Aircraft, CounterReading, Fitting, Job, Part, Person, Surface, Workshop
from hingeline_app.records.queries.counters import HOURS, LANDINGS, total_on
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command, OpenEntry


def add_part(
    actor: Actor,
    name: str,
    serial_number: str,
    *,
    part_number: str = "",
    hours_when_new_fitted: Decimal | None = None,
    landings_when_new_fitted: int | None = None,
    command: Command | None = None,
) -> Part:
    """Enter a part.

    Raises
    ------
    InputRefused
        The same part and serial number is here already.
    """
    with acting(actor, Act.KEEP_AIRCRAFT, "part added", command=command) as entry:
        part = described_part(actor.workshop, name, serial_number, part_number, hours_when_new_fitted)
        part.landings_when_new_fitted = landings_of("landings", landings_when_new_fitted)
        entry.keep(part)
    return part


def fit_part(
    actor: Actor,
    part: UUID,
    aircraft: UUID,
    on: date,
    *,
    surface: UUID | None = None,
    at_hours: Decimal | None = None,
    at_landings: int | None = None,
    command: Command | None = None,
) -> Fitting:
    """Fit a part to an aircraft, and to one of its surfaces where it belongs to one.

    Raises
    ------
    InputRefused
        It is still fitted elsewhere, was removed later than this day, the day is ahead, or the surface is another
        aircraft's.
    """
    with acting(actor, Act.KEEP_AIRCRAFT, "part fitted", command=command) as entry:
        person = signed_in(actor)
        kept, place = found(person, Part, part), found(person, Aircraft, aircraft)
        refuse_ahead("fitted on", actor.workshop, on)
        _refuse_two_places(kept, on)
        fitting = Fitting(
            part=kept,
            aircraft=place,
            surface=_surface_of(place, found(person, Surface, surface)) if surface else None,
            fitted_on=on,
            fitted_at_hours=checked_count("hours", at_hours) if at_hours is not None else total_on(place, HOURS, on),
            fitted_at_landings=landings_then(place, on, at_landings),
        )
        entry.keep(fitting)
        _hand_on_surface(entry, person, fitting)
    return fitting


def remove_part(
    actor: Actor,
    part: UUID,
    on: date,
    reason: str,
    *,
    at_hours: Decimal | None = None,
    at_landings: int | None = None,
    command: Command | None = None,
) -> Fitting:
    """Remove a part from where it is fitted.

    Raises
    ------
    InputRefused
        It is not fitted, was fitted after this day, or the day is ahead.
    """
    says = {"reason": remark("reason", reason, needed=True)}
    with acting(actor, Act.KEEP_AIRCRAFT, "part removed", says, command=command) as entry:
        person = signed_in(actor)
        kept = found(person, Part, part)
        refuse_ahead("removed on", actor.workshop, on)
        fitting = kept.fittings.filter(removed_on__isnull=True).first()
        if fitting is None or on < fitting.fitted_on:
            raise InputRefused.of(
                "part", str(kept), "a part that is fitted on that day", "Check the part and the date."
            )
        fitting.removed_on, fitting.removed_because = on, says["reason"]
        hours = checked_count("hours", at_hours) if at_hours is not None else total_on(fitting.aircraft, HOURS, on)
        fitting.removed_at_hours = hours
        fitting.removed_at_landings = landings_then(fitting.aircraft, on, at_landings)
        entry.keep(fitting)
        _hand_on_surface(entry, person, fitting)
    return fitting


def _hand_on_surface(entry: OpenEntry, person: Person, fitting: Fitting) -> None:
    """Count it on the job of the surface that the part is of; a part of the aircraft alone belongs to none."""
    if fitting.surface_id is not None:
        hand_on(entry, person, Job.objects.filter(surface=fitting.surface_id))


def landings_then(aircraft: Aircraft, on: date, typed: int | None) -> int | None:
    """Give the landings of an aircraft in all: as typed, or else as read on that very day.

    An older reading is not taken: nobody knows how often it landed since, and a part would get landings it never made.
    """
    if typed is not None:
        return landings_of("landings", typed)
    read = CounterReading.objects.filter(aircraft=aircraft, counter=LANDINGS, read_on=on, withdrawn_because="")
    total = total_on(aircraft, LANDINGS, on) if read.exists() else None
    return None if total is None else int(total)


def landings_of(field: str, value: int | None) -> int | None:
    """Give landings that can be."""
    return None if value is None else int(checked_count(field, Decimal(value)))


def described_part(workshop: Workshop, name: str, serial_number: str, part_number: str, hours: Decimal | None) -> Part:
    """Make a part of what was typed; not kept yet."""
    part = Part(
        workshop=workshop,
        name=legible("part", name),
        part_number=mark("part number", part_number, needed=False),
        serial_number=mark("serial number", serial_number),
        hours_when_new_fitted=None if hours is None else checked_count("hours", hours),
    )
    same = Part.objects.filter(workshop=workshop, part_number=part.part_number, serial_number=part.serial_number)
    if same.exists():
        raise InputRefused.of("serial number", part.serial_number, "a new part", "It is here: choose it.")
    return part


def refuse_ahead(field: str, workshop: Workshop, on: date) -> None:
    """Refuse a day that has not come: hours and landings of that day are not known yet."""
    if on > today(workshop):
        raise InputRefused.of(field, on, "a day that has come", "Check the date.")


def _refuse_two_places(part: Part, on: date) -> None:
    for fitting in part.fittings.select_related("aircraft"):
        if fitting.removed_on is None:
            remedy = f"It is fitted to {fitting.aircraft}: remove it there first."
            raise InputRefused.of("part", str(part), "a part that is not fitted", remedy)
        if fitting.removed_on > on:
            remedy = f"It was on {fitting.aircraft} until {fitting.removed_on}: check the date."
            raise InputRefused.of("fitted on", on, "a day after it was removed", remedy)


def _surface_of(aircraft: Aircraft, surface: Surface) -> Surface:
    if surface.aircraft_id != aircraft.pk:
        raise InputRefused.of("surface", surface.name, f"a surface of {aircraft}", "Choose one of this aircraft's.")
    return surface
