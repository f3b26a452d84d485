"""Give a chain's head away, and keep the list of the heads that were given."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

from django.conf import settings

from hingeline.errors import InputRefused
from hingeline_app.records.heads import Head, SignedHead, read_code, sign_head
from hingeline_app.records.journal import append_bytes
from hingeline_app.records.keys import signing_key
from hingeline_app.records.locking import one_writer
from hingeline_app.records.models import Entry

DEFAULT = "default"


def heads_file(workshop: UUID, folder: Path | None = None) -> Path:
    """Name the list of a workshop's heads: it lies beside the journal."""
    return (folder or Path(settings.JOURNAL_FOLDER)) / f"{workshop}.heads"


def give_head(workshop: UUID, chain: str = "records", now: datetime | None = None) -> SignedHead | None:
    """Sign where a chain stands and note that this head was given; none where the chain is empty.

    Two prints at once note theirs in turn: whoever looked for the end of the list first would else cut off what the
    other wrote there meanwhile.

    Raises
    ------
    Busy
        Another writer did not let go in time: nothing was given.
    """
    head = head_of(workshop, chain, now or datetime.now(UTC))
    if head is None:
        return None
    path = heads_file(workshop)
    with one_writer():
        signed = sign_head(head, signing_key(Path(settings.DATA_FOLDER)))
        append_bytes(path, signed.code.encode() + b"\n", _whole_up_to(path))
    return signed


def _whole_up_to(path: Path) -> int:
    """Give where the last whole line ends: what a power cut left behind it was never given away."""
    return path.read_bytes().rfind(b"\n") + 1 if path.exists() else 0


def head_of(workshop: UUID, chain: str, now: datetime, using: str = DEFAULT) -> Head | None:
    """Give where a chain stands, unsigned."""
    last = Entry.objects.using(using).filter(workshop=workshop, chain=chain).order_by("-position").first()
    at = now.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
    return Head(str(workshop), chain, last.position, last.digest, at) if last else None


def heads_given(workshop: UUID, folder: Path | None = None) -> Iterator[SignedHead]:
    """Read the list of heads; a line that is no head is left out, since a power cut may have left it."""
    path = heads_file(workshop, folder)
    for line in path.read_text("utf-8", errors="replace").splitlines() if path.exists() else []:
        try:
            read = read_code(line)
        except InputRefused:
            continue
        if isinstance(read, SignedHead):
            yield read
