"""Aircraft and their surfaces are entered and corrected."""

from __future__ import annotations

from datetime import date
from uuid import UUID

from django.db.models import QuerySet

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.records.actions.entrance import acting, signed_in
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible, mark, remark
from hingeline_app.records.models import Aircraft, Job, Person, Signature, Surface, Workshop
from hingeline_app.records.queries.matter import OPEN, VOIDED
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command

#: in which an owner's sheet can be printed
OWNER_LANGUAGES = ("en", "de", "fr")
DEPTH = "hinge to trailing edge"


def add_aircraft(
    actor: Actor,
    type_name: str,
    registration: str,
    serial_number: str,
    *,
    built_on: date | None = None,
    owner: UUID | None = None,
    owner_language: str = "",
    command: Command | None = None,
) -> Aircraft:
    """Enter an aircraft.

    Raises
    ------
    InputRefused
        A mark mixes two scripts or has unseen characters; the serial or the registration is another's here; no sheet
        is printed in the owner's language.
    """
    with acting(actor, Act.KEEP_AIRCRAFT, "aircraft added", command=command) as entry:
        aircraft = described_aircraft(actor.workshop, type_name, registration, serial_number, built_on)
        refuse_second_aircraft(aircraft)
        aircraft.owner = found(signed_in(actor), Person, owner) if owner else None
        aircraft.owner_language = _language(owner_language)
        entry.keep(aircraft)
    return aircraft


def correct_aircraft(
    actor: Actor,
    aircraft: UUID,
    reason: str,
    *,
    registration: str,
    type_name: str | None = None,
    serial_number: str | None = None,
    built_on: date | None = None,
    owner: UUID | None = None,
    owner_language: str = "",
) -> Aircraft:
    """Enter a new registration or owner; a type or a serial number typed wrong, until something rests on it.

    Raises
    ------
    InputRefused
        As for :func:`add_aircraft`; the type or the serial number changes and a job is signed, or the type changes
        and a job has limits of the type.
    """
    says = {"reason": remark("reason", reason, needed=True)}
    with acting(actor, Act.KEEP_AIRCRAFT, "aircraft corrected", says) as entry:
        kept = found(signed_in(actor), Aircraft, aircraft)
        _enter_anew(kept, type_name, serial_number)
        kept.registration = mark("registration", registration)
        kept.built_on = _not_ahead(actor.workshop, "built on", built_on)
        kept.owner = found(signed_in(actor), Person, owner) if owner else None
        kept.owner_language = _language(owner_language)
        refuse_second_aircraft(kept)
        entry.keep(kept)
    return kept


def add_surface(
    actor: Actor,
    aircraft: UUID,
    name: str,
    *,
    serial_number: str = "",
    hinge_to_trailing_edge: str = "",
    command: Command | None = None,
) -> Surface:
    """Enter a movable surface of an aircraft.

    Raises
    ------
    InputRefused
        The aircraft has one of that name, or the depth is no length above zero.
    """
    with acting(actor, Act.KEEP_AIRCRAFT, "surface added", command=command) as entry:
        kept = found(signed_in(actor), Aircraft, aircraft)
        surface = described_surface(kept, name, serial_number, hinge_to_trailing_edge)
        entry.keep(surface)
    return surface


def correct_surface(
    actor: Actor, surface: UUID, reason: str, *, name: str, serial_number: str = "", hinge_to_trailing_edge: str = ""
) -> Surface:
    """Enter anew what was typed wrong of a surface. Another piece in its place is told on its job instead.

    Raises
    ------
    InputRefused
        As for :func:`add_surface`; the name or the serial number changes and a job is signed, or the depth changes
        under the signature of an open job.
    """
    says = {"reason": remark("reason", reason, needed=True)}
    with acting(actor, Act.KEEP_AIRCRAFT, "surface corrected", says) as entry:
        kept, jobs = found(signed_in(actor), Surface, surface), Job.objects.filter(surface=surface)
        now = described_surface(kept.aircraft, name, serial_number, hinge_to_trailing_edge, instead_of=kept)
        if _is_as_deep(now, kept):
            # A page gives back "270 mm" where a table has "270mm": nothing was changed.
            now.hinge_to_trailing_edge = kept.hinge_to_trailing_edge
        for field, rest_on in (("name", jobs), ("serial_number", jobs), ("hinge_to_trailing_edge", _open(jobs))):
            was, becomes = getattr(kept, field), getattr(now, field)
            if was != becomes:
                refuse_signed(field, becomes, was, rest_on)
                setattr(kept, field, becomes)
        entry.keep(kept)
    return kept


def _is_as_deep(one: Surface, other: Surface) -> bool:
    depths = (one.hinge_to_trailing_edge, other.hinge_to_trailing_edge)
    try:
        first, second = (read(each, "length", page=True) for each in depths)
    except InputRefused:
        return False
    return float(first) == float(second)


def _open(jobs: QuerySet[Job]) -> QuerySet[Job]:
    return jobs.filter(state=OPEN)


def described_aircraft(
    workshop: Workshop, type_name: str, registration: str, serial_number: str, built_on: date | None
) -> Aircraft:
    """Make an aircraft of what was typed; not kept yet."""
    return Aircraft(
        workshop=workshop,
        type_name=legible("type", type_name, longest=60),
        registration=mark("registration", registration),
        serial_number=mark("serial number", serial_number),
        built_on=_not_ahead(workshop, "built on", built_on),
    )


def described_surface(
    aircraft: Aircraft, name: str, serial_number: str, depth: str, instead_of: Surface | None = None
) -> Surface:
    """Make a surface of what was typed; not kept yet."""
    surface = Surface(
        aircraft=aircraft,
        name=legible("surface", name),
        serial_number=mark("serial number", serial_number, needed=False),
        hinge_to_trailing_edge=legible(DEPTH, depth, longest=40, needed=False),
    )
    typed = surface.hinge_to_trailing_edge
    if typed and not 0 < read(typed, "length", field=DEPTH, page=True) < 10:
        remedy = "Measure from the hinge line to the trailing edge."
        raise InputRefused.of(DEPTH, depth, "a length above 0, below 10 m", remedy)
    others = aircraft.surfaces.exclude(pk=instead_of.pk) if instead_of else aircraft.surfaces.all()
    if others.filter(name=surface.name).exists():
        raise InputRefused.of("surface", surface.name, "a new surface", "This aircraft has it: choose it.")
    return surface


def refuse_second_aircraft(aircraft: Aircraft) -> None:
    """Refuse one aircraft entered twice, by serial number or registration."""
    others = Aircraft.objects.filter(workshop=aircraft.workshop).exclude(pk=aircraft.pk)
    if others.filter(registration=aircraft.registration).exists():
        raise InputRefused.of("registration", aircraft.registration, "a new aircraft", "It is here: choose it.")
    if others.filter(type_name=aircraft.type_name, serial_number=aircraft.serial_number).exists():
        raise InputRefused.of("serial number", aircraft.serial_number, "a new aircraft", "It is here: choose it.")


def _enter_anew(aircraft: Aircraft, type_name: str | None, serial_number: str | None) -> None:
    """Correct the type and the serial number where they are told; no signature and no limits may rest on the old."""
    new_type = aircraft.type_name if type_name is None else legible("type", type_name, longest=60)
    new_serial = aircraft.serial_number if serial_number is None else mark("serial number", serial_number)
    jobs = Job.objects.filter(surface__aircraft=aircraft)
    if new_type != aircraft.type_name:
        refuse_signed("type name", new_type, aircraft.type_name, jobs)
        if jobs.filter(limit_row__isnull=False).exclude(state=VOIDED).exists():
            expected = f"{aircraft.type_name}, whose limits a job has"
            raise InputRefused.of("type name", new_type, expected, "Void that job first: its limits are of this type.")
    if new_serial != aircraft.serial_number:
        refuse_signed("serial number", new_serial, aircraft.serial_number, jobs)
    aircraft.type_name, aircraft.serial_number = new_type, new_serial


def refuse_signed(field: str, typed: str, kept: str, jobs: QuerySet[Job]) -> None:
    """Refuse to change what a signature rests on; what was left out may be filled in."""
    if kept and Signature.objects.filter(job__in=jobs).exists():
        remedy = "A signed job rests on it: leave it, and tell the next job what is wrong."
        raise InputRefused.of(field, typed, f"{kept}, as it was signed", remedy)


def _language(language: str) -> str:
    if language and language not in OWNER_LANGUAGES:
        expected = f"one of {', '.join(OWNER_LANGUAGES)}"
        raise InputRefused.of("owner's language", language, expected, "Choose one, or leave it out.")
    return language


def _not_ahead(workshop: Workshop, field: str, day: date | None) -> date | None:
    if day is not None and day > today(workshop):
        raise InputRefused.of(field, day, "a day that has been", "Check the date, and this machine's clock.")
    return day
