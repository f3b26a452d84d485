"""Walk the chains of a workshop once, and gather what the other looks need."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import islice
from typing import Any
from uuid import UUID

from django.db.models import QuerySet

from hingeline_app.records.chain import Break, Link, breaks
from hingeline_app.records.looking.reading_rows import NO_VALUE
from hingeline_app.records.models import Entry
from hingeline_app.records.queries.clock_ahead import TIME_CONFIRMED
from hingeline_app.records.rows import Note

ROW = ("table", "identifier")
COLUMNS = ("position", "previous", "digest", "body", "kind", "command_key", "command_digest")
NOTHING_READ = (None,) * len(COLUMNS)


@dataclass(frozen=True, slots=True)
class Step:
    """What is remembered of one entry."""

    position: int
    digest: str
    at: str
    beside: Mapping[str, Any] | None
    rows: list[Note]
    attachments: list[str]
    clock_moved_back_from: str
    clock_ahead_of: str
    # Entries whose jump of the clock an administrator confirmed by this one.
    confirms: tuple[str, ...] = ()


@dataclass
class Walked:
    """One chain, walked."""

    workshop: UUID
    chain: str
    steps: list[Step] = field(default_factory=list)
    breaks: list[Break] = field(default_factory=list)
    version: str = ""

    @property
    def digests(self) -> dict[int, str]:
        """Give each entry's digest by its position."""
        return {step.position: step.digest for step in self.steps}


def walk(workshop: UUID, chain: str, using: str) -> Walked:
    """Follow one chain from its first entry to its last."""
    walked = Walked(workshop, chain)
    walked.breaks = list(breaks(_links(walked, using)))
    return walked


def _links(walked: Walked, using: str) -> Iterator[Link]:
    for raw in _stored(walked, using):
        position, (previous, digest, body), columns = _number(raw[0]), map(_text, raw[1:4]), list(raw[4:])
        read = _read(body)
        walked.steps.append(step_of(position, digest, read))
        software = _whole(read.get("software"), {"hingeline"})
        walked.version = str(software["hingeline"]) if software else walked.version
        yield Link(position, previous, digest, body.encode() if _agrees(read, walked, columns) else b"")


def _stored(walked: Walked, using: str) -> Iterator[Sequence[Any]]:
    """Give each entry's columns; of one that cannot be read, nothing: the chain breaks there.

    They are read by the hundreds. Where that fails, what was not given yet is read one by one.
    """
    stored = Entry.objects.using(using).filter(workshop=walked.workshop, chain=walked.chain).order_by("position", "id")
    given = 0
    try:
        for raw in stored.values_list(*COLUMNS).iterator(chunk_size=500):
            yield raw
            given += 1
    except NO_VALUE:
        yield from islice(_one_by_one(stored), given, None)


def _one_by_one(stored: QuerySet[Entry]) -> Iterator[Sequence[Any]]:
    for number in list(stored.values_list("id", flat=True)):
        try:
            yield stored.values_list(*COLUMNS).get(id=number)
        except NO_VALUE:
            yield NOTHING_READ


def _read(body: str) -> dict[str, Any]:
    """Read an entry's text; what was damaged reads as nothing, and the chain breaks there."""
    try:
        read = json.loads(body)
    except (ValueError, RecursionError):
        return {}
    return read if isinstance(read, dict) else {}


def step_of(position: int, digest: str, read: Mapping[str, Any]) -> Step:
    """Remember of an entry what the looks need."""
    return Step(
        position=position,
        digest=digest,
        at=str(read.get("at", "")),
        beside=_beside(read.get("beside")),
        rows=[row for row in _list(read.get("rows")) if _is_note(row)],
        attachments=[str(each) for each in _list(read.get("attachments"))],
        clock_moved_back_from=str(read.get("clock_moved_back_from", "")),
        clock_ahead_of=str(read.get("clock_ahead_of", "")),
        confirms=_confirmed_by(read),
    )


def _confirmed_by(read: Mapping[str, Any]) -> tuple[str, ...]:
    says = _whole(read.get("says"), {"of"}) if read.get("kind") == TIME_CONFIRMED else None
    return tuple(map(str, says["of"])) if says and isinstance(says["of"], list) else ()


def _number(value: Any) -> int:
    """Give a position; what is no number, written there by hand, stands nowhere in a chain."""
    return value if isinstance(value, int) else 0


def _text(value: Any) -> str:
    return value if isinstance(value, str) else ""


def _beside(part: Any) -> Mapping[str, Any] | None:
    """Give how far the other chain was; a position that is no number was written by somebody else."""
    whole = _whole(part, {"position", "digest"})
    return whole if whole and isinstance(whole["position"], int) else None


def _list(part: Any) -> list[Any]:
    return part if isinstance(part, list) else []


def _is_note(row: Any) -> bool:
    whole = _whole(row, {"table", "identifier", "values"})
    return bool(whole) and isinstance(whole["values"], dict) and all(isinstance(whole[name], str) for name in ROW)


def _whole(part: Any, names: set[str]) -> Any:
    """Give a part of an entry that has these names, and nothing for one that was damaged."""
    return part if isinstance(part, dict) and names <= part.keys() else None


def _agrees(read: dict[str, Any], walked: Walked, columns: list[Any]) -> bool:
    """Whether the columns say what the text says; where they do not, the entry counts as changed."""
    command = _whole(read.get("command"), {"key", "digest"}) or {"key": None, "digest": ""}
    said = [read.get("kind"), command.get("key"), command.get("digest")]
    return columns == said and read.get("chain") == walked.chain and read.get("workshop") == str(walked.workshop)


def in_order(records: list[Step], security: list[Step]) -> Iterator[Step]:
    """Give the entries of both chains in the order they were written: each knows how far the other was."""
    first, second = 0, 0
    while first < len(records) or second < len(security):
        of_records = second == len(security) or (first < len(records) and _seen(records[first]) <= second)
        yield records[first] if of_records else security[second]
        first, second = first + of_records, second + (not of_records)


def _seen(step: Step) -> int:
    return int(step.beside["position"]) if step.beside else 0


def last_notes(steps: Iterator[Step]) -> dict[tuple[str, str], Note]:
    """Give the last note of each row."""
    return {(note["table"], note["identifier"]): note for step in steps for note in step.rows}
