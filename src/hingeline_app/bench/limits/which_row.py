"""Which row of limits applies to a surface, and why the others do not: said for each, decided by a person.

A row that says nothing of a serial number, a version or an option applies to all of them. What
a row says and we cannot read, or what is not known of the aircraft, is a question, never an answer.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from hingeline_app.bench.arriving.surface_kinds import same_surface
from hingeline_app.bench.limits.limits_of import is_understood
from hingeline_app.records.queries.limits import DRAFT, SUPERSEDED, RowRecord

APPLIES, ASK, REJECTED = "applies", "ask", "rejected"
ALL = ("all", "all serial numbers", "alle", "tous", "any", "")
# From 0040 on; 0040 and up; ab 0040.
_FROM = re.compile(
    r"^(?:from|since|ab|a partir de|à partir de)?\s*(\d+)\s*(?:on|onwards?|and (?:up|on|above|later)|\+)$"
)
_FROM_WORD = re.compile(r"^(?:from|since|ab|à partir de|a partir de)\s+(\d+)$")
_UP_TO = re.compile(r"^(?:up to|to|until|bis|jusqu'à)\s+(?:and including\s+)?(\d+)$")
_RANGE = re.compile(r"^(?:from\s+|von\s+|de\s+)?(\d+)\s*(?:to|through|thru|until|bis|à|-|–|…|\.\.\.?)\s*(\d+)$")
_ONE = re.compile(r"^(\d+)$")
_BEFORE = re.compile(r"^before\s+(\d+)$")
# An "and" that joins two ranges, not the one of "0040 and up" or "up to and including".
_JOINT = re.compile(r"[,;]|\band\b(?! (?:up|on|above|later|including))|\bund\b|\bet\b")
_LEAD = re.compile(r"^(?:serial(?:\s+numbers?)?|s/?n|nos?\.?|werk-?nr\.?|numbers?)\s*:?\s+")


@dataclass(frozen=True)
class Reason:
    """One reason why a row does not apply, or is to be asked: what about, what the row says, what is here."""

    about: str
    row_says: str
    here: str = ""


@dataclass(frozen=True)
class Judged:
    """A row, and whether it applies."""

    row: RowRecord
    finding: str
    reasons: tuple[Reason, ...] = ()


@dataclass(frozen=True)
class Piece:
    """What is known of the surface and its aircraft.

    Parameters
    ----------
    surface, serial : str
        The surface's name, the aircraft's serial number.
    version, option : str
        As a person typed them for this job; empty where nobody did.
    """

    surface: str
    serial: str
    version: str = ""
    option: str = ""


def judged(rows: Iterable[RowRecord], piece: Piece) -> list[Judged]:
    """Judge every row of the type: those that apply first, then the questions, then the rejected ones."""
    found = [judge(row, piece) for row in rows]
    turn = (APPLIES, ASK, REJECTED)
    return sorted(found, key=lambda each: turn.index(each.finding))


def judge(row: RowRecord, piece: Piece) -> Judged:
    """Say whether a row applies, with every reason against it and every question."""
    against, asked = [], []
    if not same_surface(row.surface, piece.surface):
        against.append(Reason("surface", row.surface, piece.surface))
    if row.state in (SUPERSEDED, DRAFT):
        against.append(Reason(row.state, f"{row.document}, {row.issue}"))
    if row.printed is None and not against:
        asked.append(Reason("hidden", row.surface))
    for finding, reason in _stated(row, piece):
        (against if finding == REJECTED else asked).append(reason)
    if against:
        return Judged(row, REJECTED, tuple(against))
    return Judged(row, ASK if asked else APPLIES, tuple(asked))


def is_for_another(row: RowRecord, piece: Piece) -> bool:
    """Say whether a row is for another surface, or for other serial numbers: so it was not when it was chosen.

    What was typed wrong of a surface or an aircraft can be corrected after the choice (decision 0208).
    """
    effectivity = str((row.printed or {}).get("effectivity") or "")
    covered = covers(effectivity, piece.serial) if effectivity else True
    return not same_surface(row.surface, piece.surface) or covered is False


def covers(effectivity: str, serial: str) -> bool | None:
    """Say whether printed serial numbers cover one; None where either cannot be read as whole numbers.

    Both ends are counted in, as documents mean "0001 to 0012" and "up to 0039"; "before 0040" leaves 0040 out. One
    piece that cannot be read leaves the whole open: "0001 to 0012, except 0005" says of 0005 what its range denies.
    """
    text = _LEAD.sub("", " ".join(effectivity.lower().split()).rstrip("."))
    if text in ALL:
        return True
    own = re.search(r"(\d+)$", serial.strip())
    if own is None:
        return None
    lead = serial.strip()[: own.start()].lower()
    bare = re.sub(rf"(?<!\w){re.escape(lead)}(?=\d)", "", text) if lead else text
    if bare == text and any(character.isdigit() for character in lead):
        # "28-0040" against "0040 on": whether the leading number belongs to it is not ours to say.
        return None
    pieces = [_covers_one(each.strip(), int(own.group(1))) for each in _JOINT.split(bare)]
    return None if None in pieces else any(pieces)


def _covers_one(text: str, number: int) -> bool | None:
    if found := _BEFORE.match(text):
        return number < int(found.group(1))
    if found := _RANGE.match(text):
        return int(found.group(1)) <= number <= int(found.group(2))
    if found := _FROM.match(text) or _FROM_WORD.match(text):
        return number >= int(found.group(1))
    if found := _UP_TO.match(text):
        return number <= int(found.group(1))
    if found := _ONE.match(text):
        return number == int(found.group(1))
    return None


def _stated(row: RowRecord, piece: Piece) -> Iterable[tuple[str, Reason]]:
    printed: Mapping[str, Any] = row.printed or {}
    if not is_understood(row):
        yield ASK, Reason("sense", str(printed["positive"]))
    if row.may_be_turned:
        yield ASK, Reason("turned", str(printed.get("positive")))
    effectivity = str(printed.get("effectivity") or "")
    if effectivity:
        covered = covers(effectivity, piece.serial)
        if not covered:
            yield REJECTED if covered is False else ASK, Reason("serial number", effectivity, piece.serial)
    for name, own in (("version", piece.version), ("option", piece.option)):
        says = " ".join(str(printed.get(name) or "").split())
        if not says:
            continue
        if not own:
            yield ASK, Reason(name, says)
        elif says.lower() != " ".join(own.lower().split()):
            yield REJECTED, Reason(name, says, own)
