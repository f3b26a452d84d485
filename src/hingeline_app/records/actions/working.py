"""Work on a job: found, allowed, still open, not moved by another writer; then one change further."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any
from uuid import UUID

from django.utils.translation import gettext_lazy as _

from hingeline_app.records.actions.entrance import NotAllowed, require, signed_in
from hingeline_app.records.actions.hands import add_worker, is_work
from hingeline_app.records.models import Entry, Job, Person
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.queries.matter import OPEN, matter_of
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command, OpenEntry, write_door

NOT_OPEN = _("This job is closed: nothing is added to it. A released one is opened by withdrawing the release.")


class Moved(Exception):
    """Another person was quicker: nothing was written. Both sides, so that a person can choose; never merged by us."""

    def __init__(self, yours: Mapping[str, Any], theirs: Mapping[str, Any]) -> None:
        super().__init__("it was changed by another person since you saw it")
        self.yours, self.theirs = dict(yours), dict(theirs)

    @property
    def changed(self) -> tuple[str, ...]:
        """Name what differs between the two sides."""
        names = sorted({*self.yours, *self.theirs})
        return tuple(name for name in names if self.yours.get(name) != self.theirs.get(name))


@dataclass
class Work:
    """One act on a job, while the door is open."""

    entry: OpenEntry
    job: Job
    person: Person

    @property
    def made(self) -> dict[str, Any]:
        """Give what every row of a job says: which job, after how many changes, by whom."""
        return {"job": self.job, "change": self.job.changes, "made_by": self.person}

    def keep(self, row: KeptRow) -> None:
        """Write a row through the door."""
        self.entry.keep(row)


@contextmanager
def working(
    actor: Actor,
    act: Act,
    kind: str,
    job: UUID,
    *,
    says: Mapping[str, Any] | None = None,
    command: Command | None = None,
    made_by: UUID | None = None,
) -> Iterator[Work]:
    """Open the door for one act on a job that is still open; ``made_by`` is who made what is to be corrected.

    Raises
    ------
    Nowhere, NotAllowed
        There is no such job for this person; the table of roles has no yes; the job is closed.
    """
    with write_door(actor, kind, says, command=command) as entry:
        person = signed_in(actor)
        kept = found(person, Job, job)
        about = matter_of(kept)
        require(actor, act, about if made_by is None else replace(about, workers=frozenset({made_by})))
        refuse_closed(kept)
        work = begun(entry, kept, person)
        if is_work(kind):
            add_worker(kept, person)
        yield work
        entry.keep(kept)


def begun(entry: OpenEntry, job: Job, person: Person) -> Work:
    """Count one change of a job, and let the entry say which job it is about."""
    job.changes += 1
    entry.says |= {"job": str(job.pk), "number": job.number}
    return Work(entry, job, person)


def refuse_another_s(work: Work, place: str, is_now: Any, seen: tuple[Any, Any], command: Command | None) -> None:
    """Refuse to write over what another person set: ``seen`` is what was there when it was entered, and what is to be.

    Two changes of one value may wait on a tablet: the second was entered over the first, and follows on it.

    Raises
    ------
    Moved
        Something else stands there now: both values are in it, nothing was written.
    """
    _was, value = seen
    if is_now not in seen and not follows_own(work.entry.actor, work.entry.kind, work.job.pk, place, is_now, command):
        raise Moved({place: value}, {place: is_now})


def follows_own(actor: Actor, kind: str, job: UUID, place: str | None, is_now: Any, command: Command | None) -> bool:
    """Say whether what stands there was set by the command that this one was given after, by the same person.

    Of what has one place on a job, such as its row of limits, ``place`` is None.
    """
    if command is None or not command.follows or actor.person is None:
        return False
    before = Entry.objects.filter(workshop=actor.workshop, command_key=command.follows).first()
    if before is None or before.kind != kind:
        return False
    body = json.loads(before.body)
    says, by = body["says"], (body["by"] or {}).get("person")
    same = says.get("place") == place and says.get("job") == str(job) and by == str(actor.person.pk)
    return same and "now" in says and says["now"] == is_now


def from_to(was: Any, now: Any, undoes: int | None = None) -> dict[str, Any]:
    """Give what an entry says of a value that changes: from what, to what, and which entry is taken back by it."""
    return {"was": was, "now": now} | ({} if undoes is None else {"undoes": undoes})


def refuse_closed(job: Job) -> None:
    """Refuse what would change a job that is released or voided."""
    if job.state != OPEN:
        raise NotAllowed(NOT_OPEN)
