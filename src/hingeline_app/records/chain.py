"""How entries are chained: no database here, so that a chain can be followed wherever it lies.

    digest = SHA-256( 0x01 || previous digest || SHA-256(body) )

The first entry follows sixty-four zeros. Positions count from 1 without a gap.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

ORIGIN = "0" * 64
MARK = b"\x01"


@dataclass(frozen=True, slots=True)
class Link:
    """One entry as it lies somewhere: in a database, a journal, an export."""

    position: int
    previous: str
    digest: str
    body: bytes


@dataclass(frozen=True, slots=True)
class Blank:
    """An entry whose text was left out: its digest alone lets the chain be followed past it."""

    position: int
    previous: str
    digest: str
    body_digest: str


@dataclass(frozen=True, slots=True)
class Break:
    """A place where a chain does not hold, and why."""

    position: int
    finding: str


def link_digest(previous: str, body: bytes) -> str:
    """Hash an entry to the one before it."""
    return blank_digest(previous, hashlib.sha256(body).hexdigest())


def blank_digest(previous: str, body_digest: str) -> str:
    """Hash an entry, of which only the digest of the text is known, to the one before it."""
    return hashlib.sha256(MARK + bytes.fromhex(previous) + bytes.fromhex(body_digest)).hexdigest()


def breaks(links: Iterable[Link | Blank], previous: str = ORIGIN, position: int = 0) -> Iterator[Break]:
    """Follow a chain and name each place where it does not hold."""
    for link in links:
        position += 1
        if link.position != position:
            yield Break(link.position, f"position {position} was expected: entries were taken out, put in or moved")
            position = link.position
        if link.previous != previous:
            yield Break(link.position, "it does not follow the entry before it")
        if not _holds(link):
            yield Break(link.position, "its text was changed after it was hashed")
        previous = link.digest


def _holds(link: Link | Blank) -> bool:
    try:
        if isinstance(link, Blank):
            return blank_digest(link.previous, link.body_digest) == link.digest
        return (
            link_digest(link.previous, link.body) == link.digest and json.loads(link.body)["position"] == link.position
        )
    except (ValueError, KeyError, TypeError, RecursionError):
        return False
