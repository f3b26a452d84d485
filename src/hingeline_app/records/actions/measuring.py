"""Measurements: opened, read, worked out. Readings are added by as many tablets as there are, and never erased."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from typing import Any, TypeVar
from uuid import UUID

from django.utils.translation import gettext_lazy as _

import hingeline
from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.working import Work, from_to, refuse_another_s, working
from hingeline_app.records.canonical import canonical, digest_of
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible, remark
from hingeline_app.records.models import Measurement, Reading, Result, Scale, Stand
from hingeline_app.records.numbering import next_number
from hingeline_app.records.plain_data import plain_data
from hingeline_app.records.plain_places import value_at, with_value
from hingeline_app.records.queries.visible import Nowhere, found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command

Equipment = TypeVar("Equipment", bound=Scale | Stand)
KINDS = ("weighing", "swing", "refit", "arm")
# What a reading of each kind may be.
DIMENSIONS = {
    "weighing": ("mass", "force"),
    "swing": ("time",),
    "refit": ("angle", "length", "force"),
    "arm": ("length",),
}
SI_UNITS = {"mass": "kg", "force": "N", "time": "s", "angle": "rad", "length": "m"}
LARGEST_DOCUMENT = 2_000_000


def open_measurement(
    actor: Actor,
    job: UUID,
    kind: str,
    *,
    scale: UUID | None = None,
    stand: UUID | None = None,
    set_up: Mapping[str, Any] | None = None,
    command: Command | None = None,
) -> Measurement:
    """Open a weighing or another measurement: "Weighing 2" is a new one, the first stays readable.

    Raises
    ------
    InputRefused
        There is no such kind; the scale or the stand was withdrawn.
    """
    if kind not in KINDS:
        raise InputRefused.of("measurement", kind, " or ".join(KINDS), "Choose one of them.")
    with working(actor, Act.WORK, f"{kind} opened", job, command=command) as work:
        measurement = Measurement(
            kind=kind,
            number=next_number(Measurement, job=work.job, kind=kind),
            begun_on=today(actor.workshop),
            scale=_in_use(found(work.person, Scale, scale)) if scale else None,
            stand=_in_use(found(work.person, Stand, stand)) if stand else None,
            set_up=plain_data("set-up", set_up or {}),
            **work.made,
        )
        work.keep(measurement)
    return measurement


def change_set_up(
    actor: Actor,
    measurement: UUID,
    place: str,
    was: Any,
    value: Any,
    command: Command | None = None,
    *,
    undoes: int | None = None,
) -> Measurement:
    """Set one value of a set-up, such as ``support.0.arm``, where it still is as it was seen.

    ``undoes`` is the position of the entry that is taken back by it.

    Raises
    ------
    NotAllowed
        Something was worked out from it already: then it is corrected, with a reason.
    Moved
        Another person set it since: both values are in it, nothing was written.
    """
    kept = _measurement(actor, measurement)
    says = {"place": place}
    with working(actor, Act.WORK, "set-up changed", kept.job_id, says=says, command=command) as work:
        kept.refresh_from_db()
        if kept.results.exists():
            raise NotAllowed(_("A statement rests on this set-up: correct it with a reason, or begin a new weighing."))
        is_now = value_at(kept.set_up, place)
        refuse_another_s(work, place, is_now, (was, value), command)
        work.entry.says |= from_to(is_now, value, undoes)
        kept.set_up = plain_data("set-up", with_value(kept.set_up, place, value))
        work.keep(kept)
    return kept


def add_reading(
    actor: Actor, measurement: UUID, typed: str, *, place: str = "support 1", command: Command | None = None
) -> Reading:
    """Add a reading, as typed with its unit. It is refused or kept, never changed into something else.

    Raises
    ------
    InputRefused
        It is no number with a unit that can be weighed; finer than the scale's step; above its largest.
    """
    kept = _measurement(actor, measurement)
    with working(actor, Act.WORK, "reading added", kept.job_id, command=command) as work:
        reading = read_off(work, kept, typed, place)
        work.keep(reading)
    return reading


def read_off(work: Work, measurement: Measurement, typed: str, place: str) -> Reading:
    """Make a reading of what was typed; not kept yet."""
    gravity = read(work.job.workshop.local_gravity, "acceleration")
    text = legible("reading", typed, longest=40)
    value = read(text, DIMENSIONS[measurement.kind], field="reading", local_gravity=gravity, page=True)
    dimension = _dimension(text, DIMENSIONS[measurement.kind])
    if measurement.scale and dimension == "mass":
        refuse_beyond(measurement.scale, value, text)
    return Reading(
        measurement=measurement,
        place=legible("place", place, longest=60),
        typed=text,
        si_value=float(value),
        si_unit=SI_UNITS[dimension],
        **work.made,
    )


def _dimension(text: str, dimensions: tuple[str, ...]) -> str:
    """Say which of several dimensions a text was read in: the first that knows its unit."""
    for dimension in dimensions[:-1]:
        with suppress(InputRefused):
            read(text, dimension, page=True)
            return dimension
    return dimensions[-1]


def refuse_beyond(scale: Scale, kilograms: float, typed: str) -> None:
    """Refuse what this scale cannot have shown."""
    step, largest = read(scale.step, "mass"), read(scale.largest, "mass")
    steps = kilograms / step
    if abs(steps - round(steps)) > 1e-6 or abs(kilograms) > largest * (1 + 1e-9):
        remedy = (
            f"{scale.name} reads {scale.step} up to {scale.largest}: read it again, or choose the scale that was used."
        )
        raise InputRefused.of("reading", typed, f"a multiple of {scale.step}, at most {scale.largest}", remedy)


def withdraw_reading(actor: Actor, reading: UUID, reason: str, command: Command | None = None) -> Reading:
    """Withdraw a reading with a reason; it stays and is printed as withdrawn.

    Raises
    ------
    NotAllowed
        It was withdrawn before, or is another person's and the actor is not certifying.
    """
    kept: Reading = found_by(actor, Reading, reading)
    says = {"reason": remark("reason", reason, needed=True)}
    by = kept.made_by_id
    with working(actor, Act.CORRECT, "reading withdrawn", kept.job_id, says=says, command=command, made_by=by) as work:
        kept.refresh_from_db()
        if kept.withdrawn_because:
            raise NotAllowed(_("This reading was withdrawn before."))
        withdraw(work, kept, says["reason"])
    return kept


def withdraw(work: Work, reading: Reading, reason: str) -> None:
    """Mark a reading as withdrawn, and keep it."""
    reading.withdrawn_because, reading.withdrawn_by = reason, work.person
    reading.withdrawn_at_change = work.job.changes
    work.keep(reading)


def record_result(
    actor: Actor,
    job: UUID,
    document: Mapping[str, Any],
    *,
    measurement: UUID | None = None,
    asked: Mapping[str, Any] | None = None,
    command: Command | None = None,
) -> Result:
    """Keep a document that the library made, in its one spelling, with its digest.

    Raises
    ------
    InputRefused
        It names no format, or is too large.
    """
    with working(actor, Act.WORK, "result recorded", job, command=command) as work:
        result = Result(
            measurement=_measurement(actor, measurement) if measurement else None,
            document_format=str(document.get("format", "")),
            software=hingeline.__version__,
            **spelled(document),
            asked=spelled(asked)["document"] if asked else "",
            **work.made,
        )
        if result.measurement is not None and result.measurement.job_id != work.job.pk:
            raise Nowhere("there is no such measurement of this job")
        work.keep(result)
    return result


def spelled(document: Mapping[str, Any]) -> dict[str, str]:
    """Give a document in its one spelling, with its digest.

    Raises
    ------
    InputRefused
        It names no format of ours, or is too large.
    """
    named = document.get("format")
    if not isinstance(named, str) or not named.startswith("hingeline/") or len(named) > 60:
        raise InputRefused.of("document", named, "a document that names its format", "Give the whole document.")
    data = canonical(plain_data("document", document, LARGEST_DOCUMENT))
    return {"document": data.decode(), "digest": digest_of(data)}


def found_by(actor: Actor, table: type[Any], identifier: UUID) -> Any:
    """Find a row for who acts.

    Raises
    ------
    Nowhere
        It does not exist for that person.
    """
    if actor.person is None:
        raise NotAllowed(_("Nobody is signed in."))
    return found(actor.person, table, identifier)


def _measurement(actor: Actor, identifier: UUID) -> Measurement:
    measurement: Measurement = found_by(actor, Measurement, identifier)
    return measurement


def _in_use(chosen: Equipment) -> Equipment:
    if chosen.withdrawn_on is not None:
        kind, expected = ("scale", "a scale in use") if isinstance(chosen, Scale) else ("stand", "a stand in use")
        raise InputRefused.of(kind, chosen.name, expected, "It was withdrawn: choose another.")
    return chosen
