"""The one door through which the records are written.

    with write_door(actor, "scale added") as entry:
        entry.keep(Scale(...))
    entry.receipt        # where it stands, for whom it may concern

Inside: one writer, one transaction, one entry that notes every row it kept. On leaving, the
entry is hashed to the one before, committed, and written to the journal; only then does
the caller get a receipt. Where anything raises, nothing was written.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from django.db import transaction

import hingeline
from hingeline_app.records.canonical import canonical, digest_of
from hingeline_app.records.chain import ORIGIN, Link, link_digest
from hingeline_app.records.disk import in_plain_words
from hingeline_app.records.journal import append_lines
from hingeline_app.records.locking import one_writer
from hingeline_app.records.models import Account, Entry, Person, Tablet, Workshop
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.rows import Note, note_of
from hingeline_app.records.second_place import catch_up, journal_of

FORMAT = "hingeline/entry/1"
RECORDS, SECURITY = "records", "security"
LONGEST_PAUSE = timedelta(days=31)
"""A workshop that writes nothing for longer is asked whether the time passed, or the clock is ahead."""


@dataclass(frozen=True)
class Actor:
    """Who acts, on which device. A person is None only while a workshop is set up, and for the machine's own acts.

    ``witness`` is on whose page a guest acts, who has no account.
    """

    workshop: Workshop
    person: Person | None = None
    account: Account | None = None
    tablet: Tablet | None = None
    witness: Person | None = None


@dataclass(frozen=True)
class Command:
    """A command as its sender named it: the same key and body twice is one command.

    ``follows`` is the key of the one after which its sender gave it, about the same thing: both may have waited.
    """

    key: str
    body: Mapping[str, Any]
    follows: str = ""

    @property
    def digest(self) -> str:
        """Give the digest of what was asked."""
        return digest_of(canonical(self.body))


@dataclass(frozen=True)
class Receipt:
    """Where an entry stands: what counts as saved."""

    position: int
    digest: str
    repeated: bool = False

    @property
    def short(self) -> str:
        """Give the receipt as it is shown: position and the first eight signs of the digest."""
        return f"{self.position}-{self.digest[:8]}"


class AlreadyDone(Exception):
    """The command was carried out before; the receipt is the first one's."""

    def __init__(self, receipt: Receipt) -> None:
        super().__init__(receipt.short)
        self.receipt = receipt


class OtherBody(ValueError):
    """A key came back with another body: nothing was written."""


@dataclass
class OpenEntry:
    """An entry while it is being written."""

    actor: Actor
    kind: str
    says: dict[str, Any] = field(default_factory=dict)
    follows: list[str] = field(default_factory=list)
    attachments: list[str] = field(default_factory=list)
    rows: list[Note] = field(default_factory=list)
    _receipt: Receipt | None = None

    def keep(self, row: KeptRow) -> None:
        """Write a row and note all of its values."""
        row.full_clean(validate_unique=False, validate_constraints=False)
        row.save(through_the_door=True)
        row.refresh_from_db()
        self.rows.append(note_of(row))

    @property
    def receipt(self) -> Receipt:
        """Give the receipt, once the door has closed."""
        assert self._receipt is not None, "the door has not closed yet"
        return self._receipt


@contextmanager
def write_door(
    actor: Actor,
    kind: str,
    says: Mapping[str, Any] | None = None,
    *,
    command: Command | None = None,
    chain: str = RECORDS,
) -> Iterator[OpenEntry]:
    """Open the door for one entry.

    Raises
    ------
    Busy
        Another writer did not let go in time.
    AlreadyDone
        The command was carried out before.
    OtherBody
        The command's key was used for something else, or by another person.
    OlderCopy
        The journal knows entries that the database does not.
    NotAcknowledged
        The disk did not take it; it may not be counted as saved.
    """
    entry = OpenEntry(actor, kind, dict(says or {}))
    with in_plain_words(), one_writer():
        catch_up(actor.workshop.pk, chain)
        with transaction.atomic(durable=True):
            _refuse_repetition(actor, command)
            yield entry
            stored = _append(entry, chain, command)
        link = Link(stored.position, stored.previous, stored.digest, stored.body.encode())
        append_lines(journal_of(actor.workshop.pk, chain), [link])
    entry._receipt = Receipt(stored.position, stored.digest)


def repeated(actor: Actor, command: Command | None) -> None:
    """Say before the door opens that a command was carried out before: for acts that look at what stands first.

    Raises
    ------
    AlreadyDone, OtherBody
        As for :func:`write_door`.
    """
    _refuse_repetition(actor, command)


def _refuse_repetition(actor: Actor, command: Command | None) -> None:
    if command is None:
        return
    before = Entry.objects.filter(workshop=actor.workshop, command_key=command.key).first()
    if before is None:
        return
    if before.command_digest != command.digest or not _is_of_the_same(before, actor):
        raise OtherBody("this command's key was used for something else; nothing was written")
    raise AlreadyDone(Receipt(before.position, before.digest, repeated=True))


def _is_of_the_same(entry: Entry, actor: Actor) -> bool:
    """Whether an entry is the same person's: what one signed is not told to another as kept."""
    try:
        by = json.loads(entry.body)["by"]
    except ValueError:
        # Somebody wrote over it, which the look at the records names.
        return False
    return (by or {}).get("person") == _identifier(actor.person)


def _append(entry: OpenEntry, chain: str, command: Command | None) -> Entry:
    last = _last(entry.actor.workshop, chain)
    position, previous = (last.position + 1, last.digest) if last else (1, ORIGIN)
    body = canonical(_body(entry, chain, position, command) | _clock(entry.actor.workshop, chain, last))
    return Entry.objects.create(
        workshop=entry.actor.workshop,
        chain=chain,
        position=position,
        previous=previous,
        digest=link_digest(previous, body),
        body=body.decode(),
        kind=entry.kind,
        command_key=command.key if command else None,
        command_digest=command.digest if command else "",
    )


def _last(workshop: Workshop, chain: str) -> Entry | None:
    return Entry.objects.filter(workshop=workshop, chain=chain).order_by("-position").first()


def _body(entry: OpenEntry, chain: str, position: int, command: Command | None) -> dict[str, Any]:
    actor = entry.actor
    return {
        "format": FORMAT,
        "workshop": str(actor.workshop.pk),
        "chain": chain,
        "position": position,
        "beside": _beside(actor.workshop, chain),
        "kind": entry.kind,
        "by": _who(actor),
        "tablet": _identifier(actor.tablet),
        "at": now_as_text(),
        "command": {"key": command.key, "digest": command.digest} if command else None,
        "follows": entry.follows,
        "says": entry.says,
        "rows": entry.rows,
        "attachments": entry.attachments,
        "software": {"hingeline": hingeline.__version__},
    }


def now_as_text() -> str:
    """Give the time of this machine as it stands in entries: UTC, to the millisecond."""
    return datetime.now(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def _beside(workshop: Workshop, chain: str) -> dict[str, Any] | None:
    """Name how far the workshop's other chain was: each holds the other's tail, and their order is known."""
    other = _last(workshop, SECURITY if chain == RECORDS else RECORDS)
    return {"chain": other.chain, "position": other.position, "digest": other.digest} if other else None


def _clock(workshop: Workshop, chain: str, last: Entry | None) -> dict[str, Any]:
    """Flag an entry that is dated before the one it follows, or long after: positions order, not times."""
    now, before = now_as_text(), _at(last)
    if now < before:
        return {"clock_moved_back_from": before}
    if not before or is_long_after(now, before):
        # The other chain may have had an entry since.
        before = max(before, _at(_last(workshop, SECURITY if chain == RECORDS else RECORDS)))
    return {"clock_ahead_of": before} if is_long_after(now, before) else {}


def _at(entry: Entry | None) -> str:
    return str(json.loads(entry.body)["at"]) if entry else ""


def is_long_after(now: str, before: str) -> bool:
    """Say whether so much time lies between that somebody has to say that it passed."""
    try:
        return datetime.fromisoformat(now) - datetime.fromisoformat(before) > LONGEST_PAUSE
    except ValueError:
        # An entry that somebody wrote over: the look at the records names it, and it stops no save.
        return False


def _who(actor: Actor) -> dict[str, Any] | None:
    if actor.person is None:
        return None
    return {"person": str(actor.person.pk), "name": actor.person.name, "account": _identifier(actor.account)}


def _identifier(row: KeptRow | None) -> str | None:
    return None if row is None else str(row.pk)
