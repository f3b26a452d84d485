"""Corrections: a new entry that names the old one and says why. What stood there stays in the ledger."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from hingeline.errors import InputRefused
from hingeline_app.records.actions.measuring import found_by, read_off, withdraw
from hingeline_app.records.actions.working import Work, working
from hingeline_app.records.legible import remark
from hingeline_app.records.models import Correction, Entry, Measurement, Reading
from hingeline_app.records.models.jobs import JobRow
from hingeline_app.records.plain_data import plain_data
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command


def correct_reading(actor: Actor, reading: UUID, typed: str, reason: str, command: Command | None = None) -> Reading:
    """Put a right reading in a wrong one's place: the wrong one is withdrawn, both stay.

    Raises
    ------
    NotAllowed
        It is another person's and the actor is not certifying, or the job is released.
    """
    kept: Reading = found_by(actor, Reading, reading)
    with _correcting(actor, kept, "reading corrected", reason, command) as work:
        kept.refresh_from_db()
        if kept.withdrawn_because:
            raise InputRefused.of("reading", kept.typed, "a reading that counts", "It was withdrawn: add a new one.")
        new = read_off(work, kept.measurement, typed, kept.place)
        withdraw(work, kept, work.entry.says["reason"])
        work.keep(new)
        work.keep(_correction(work, kept, "typed", kept.typed, new.typed))
    return new


# What a set-up need not have said before it is corrected: the ± of this weighing alone.
MAY_BE_ADDED = "uncertainty"


def correct_set_up(
    actor: Actor, measurement: UUID, name: str, now: Any, reason: str, command: Command | None = None
) -> Measurement:
    """Correct one value of a measurement's set-up, such as an arm.

    Raises
    ------
    InputRefused
        The set-up has no such value.
    NotAllowed
        As for :func:`correct_reading`.
    """
    kept: Measurement = found_by(actor, Measurement, measurement)
    with _correcting(actor, kept, "set-up corrected", reason, command) as work:
        kept.refresh_from_db()
        if name not in (*kept.set_up, MAY_BE_ADDED):
            raise InputRefused.of("set-up", name, " or ".join(kept.set_up) or "a value", "Choose one that is there.")
        was, kept.set_up = kept.set_up.get(name), plain_data("set-up", kept.set_up | {name: now})
        work.keep(kept)
        work.keep(_correction(work, kept, f"set_up.{name}"[:60], was, kept.set_up[name]))
    return kept


def _correcting(actor: Actor, row: JobRow, kind: str, reason: str, command: Command | None) -> Any:
    says = {"reason": remark("reason", reason, needed=True)}
    by = row.made_by_id
    return working(actor, Act.CORRECT, kind, row.job_id, says=says, command=command, made_by=by)


def _correction(work: Work, row: JobRow, field: str, was: Any, now: Any) -> Correction:
    work.entry.follows.append(_entry_of(row).digest)
    return Correction(
        table=str(row._meta.model_name),
        row=row.pk,
        field=field,
        was=was,
        now=now,
        reason=work.entry.says["reason"],
        **work.made,
    )


def _entry_of(row: JobRow) -> Entry:
    """Find the last entry that noted a row. Corrections are rare: the ledger is read through."""
    noted = Entry.objects.filter(workshop=row.job.workshop_id, chain="records", body__contains=f'"{row.pk}"')
    entry = noted.order_by("-position").first()
    assert entry is not None, "every row was noted when it was kept"
    return entry
