"""Bring the journal up to the database before anything new is written, or say why that may not be.

The database is committed first and the journal written then, so after a power cut the
database may be ahead by an entry that was never acknowledged: its line is written now.
A journal that is ahead knows entries that the database does not: an older copy was put
back, and nothing may be written on top of it.
"""

from __future__ import annotations

from pathlib import Path
from uuid import UUID

from django.conf import settings

from hingeline_app.records.chain import ORIGIN, Link
from hingeline_app.records.journal import append_lines, journal_file, tail_of
from hingeline_app.records.models import Entry

DEFAULT = "default"


class OlderCopy(RuntimeError):
    """The journal knows what the database does not: an older copy was put back. Nothing was written."""


def journal_of(workshop: UUID, chain: str) -> Path:
    """Name the journal of one chain, where the settings say."""
    return journal_file(Path(settings.JOURNAL_FOLDER), str(workshop), chain)


def catch_up(workshop: UUID, chain: str) -> int:
    """Write the lines that the journal lacks, and say how many they were.

    Raises
    ------
    OlderCopy
        The journal is ahead of the database, or another one.
    """
    path = journal_of(workshop, chain)
    last = tail_of(path).link
    position, digest = (last.position, last.digest) if last else (0, ORIGIN)
    missing = links_after(workshop, chain, max(position - 1, 0))
    if position:
        if not missing or missing[0].digest != digest:
            raise OlderCopy(_what_differs(path, position, missing))
        missing = missing[1:]
    if missing:
        append_lines(path, missing)
    return len(missing)


def _what_differs(path: Path, position: int, stored: list[Link]) -> str:
    found = "does not know that entry" if not stored else "has another entry there"
    return (
        f"the journal {path.name} ends at entry {position}, and the database {found}: an older copy, or another "
        "database, was put back. Make the records again from the journal: hingeline ledger rebuild"
    )


def links_after(workshop: UUID, chain: str, position: int, using: str = DEFAULT) -> list[Link]:
    """Give the entries after a position."""
    stored = Entry.objects.using(using).filter(workshop=workshop, chain=chain, position__gt=position)
    rows = stored.order_by("position").values_list("position", "previous", "digest", "body")
    return [Link(number, previous, digest, body.encode()) for number, previous, digest, body in rows]
