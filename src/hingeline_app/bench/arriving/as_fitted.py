"""What the limits assume is fitted, against what was found fitted on arrival."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

ITEMS = ("tab", "pushrod", "wicks", "seals", "bolts")
FITTED, OFF, NONE, BOTH = "fitted", "off", "none", "both"
STATES = (FITTED, OFF, NONE)
# How documents name the items.
WORDS: Mapping[str, tuple[str, ...]] = {
    "tab": ("tab", "trim tab"),
    "pushrod": ("pushrod", "push rod", "push-rod", "control rod"),
    "wicks": ("wick", "wicks", "static wicks", "discharger", "dischargers"),
    "seals": ("seal", "seals", "gap seal", "gap seals"),
    "bolts": ("bolt", "bolts", "hinge bolts"),
}
_NAMES = {
    item: re.compile(rf"\b(?:{'|'.join(sorted(words, key=len, reverse=True))})\b") for item, words in WORDS.items()
}
# Between two parts; after "and" a "without" still holds, after a comma that stays open, after a full stop it ends.
_JOINT = re.compile(r"([,;]|\.(?=\s+\D)|\b(?:and|or|nor|und|oder|et|ou)\b)")
_ENDS = (";", ".")
_OFF_BEFORE = r"w/o|without|less(?! than)|minus|no(?!\.)|excluding|except|ohne|keine?|sans|hors"
_OFF = re.compile(
    rf"(?<!\w)(?:{_OFF_BEFORE}|not|off|removed|detached|disconnected|nicht|abgebaut|entfernt|non|déposée?s?)(?!\w)"
)
_LEADS = re.compile(rf"\s*(?:but |and )?(?:{_OFF_BEFORE})(?!\w)")
_WITHOUT = re.compile(rf"(?<!\w)(?:{_OFF_BEFORE})(?!\w)")
_ON = re.compile(r"\b(?:with|fitted|installed|mounted|connected|mit|montiert|angebaut|avec|montée?s?|posée?s?)\b")
_BESIDE = re.compile(r"\b(?:the|all|both|any|its|static|control|die|der|das|alle|les?|la)\b|[^\w]")
AGREES, DIFFERS, NOT_SAID = "agrees", "differs", "not said"


@dataclass(frozen=True)
class Compared:
    """One item: what the limits assume, what was found, and whether they differ."""

    item: str
    assumed: str
    found: str
    finding: str


@dataclass(frozen=True)
class _Part:
    """A part of what a row says: what joins it to the part before, its items, and the state it names itself.

    ``leads``: "without tab" says it of what follows too, "pushrod removed" of what stood before. ``is_bare``: it names
    its items and nothing else.
    """

    joint: str
    items: tuple[str, ...]
    state: str
    leads: bool
    is_bare: bool


def assumed_by(text: str) -> dict[str, str]:
    """Read what a row says is fitted when weighed, item by item: "tab, pushrod, without static wicks".

    What can be read both ways, as the tab of "without wicks, tab", is left out.
    """
    read = list(_parts(text.lower()))
    said: dict[str, str] = {}
    for place, part in enumerate(read):
        said |= dict.fromkeys(part.items, part.state or _from_beside(read, place))
    return {item: state for item, state in said.items() if state != BOTH}


def _parts(text: str) -> Iterator[_Part]:
    for joint, piece in _pieces(text):
        items = _items(piece)
        if items:
            left = _BESIDE.sub("", re.sub("|".join(each.pattern for each in _NAMES.values()), "", piece))
            yield _Part(joint, items, _state(piece), bool(_LEADS.match(piece)), not left)


def _pieces(text: str) -> Iterator[tuple[str, str]]:
    """Give each piece with what joins it; a "without" says nothing of an item before it: "tab without pushrod"."""
    pieces = ["", *_JOINT.split(text)]
    for joint, piece in zip(pieces[::2], pieces[1::2], strict=True):
        without = _WITHOUT.search(piece)
        at = without.start() if without else 0
        if _items(piece[:at]) and _items(piece[at:]):
            yield from ((joint, piece[:at]), ("", piece[at:]))
        else:
            yield joint, piece


def _items(piece: str) -> tuple[str, ...]:
    return tuple(item for item, names in _NAMES.items() if names.search(piece))


def _state(piece: str) -> str:
    """Give the state that a part names itself; "not removed" is none that we read, so it counts as both."""
    times = len(_OFF.findall(piece))
    return BOTH if times > 1 else OFF if times else FITTED if _ON.search(piece) else ""


def _from_beside(read: Sequence[_Part], place: int) -> str:
    """Give the state of a part that names none, from the "without" before it or the "removed" after it."""
    return _from_before(read, place) or _from_after(read, place) or FITTED


def _from_before(read: Sequence[_Part], place: int) -> str:
    before = next((at for at in range(place - 1, -1, -1) if read[at].state), None)
    if before is None or read[before].state != OFF or not read[before].leads:
        return ""
    joints = {part.joint for part in read[before + 1 : place + 1]}
    if joints.intersection(_ENDS):
        return ""
    return OFF if "," not in joints and read[place].is_bare else BOTH


def _from_after(read: Sequence[_Part], place: int) -> str:
    after = next((at for at in range(place + 1, len(read)) if read[at].state), None)
    if after is None or read[after].state != OFF or read[after].leads:
        return ""
    joints = [part.joint for part in read[place + 1 : after + 1]]
    if all(map(str.isalpha, joints)):
        return OFF if read[place].is_bare else BOTH
    is_list = joints[-1].isalpha() and set(joints[:-1]) == {","} and all(part.is_bare for part in read[place:after])
    return BOTH if is_list else ""


def compared(text: str, found: Mapping[str, Any]) -> list[Compared]:
    """Compare what a row assumes with what was found, for every item that either names."""
    assumed = assumed_by(text)
    return [
        _compared(item, assumed.get(item, ""), str(found.get(item) or ""))
        for item in ITEMS
        if assumed.get(item) or found.get(item)
    ]


def _compared(item: str, assumed: str, found: str) -> Compared:
    if not assumed or not found:
        return Compared(item, assumed, found, NOT_SAID)
    # What the surface does not have at all is not fitted either.
    same = (assumed == FITTED) == (found == FITTED)
    return Compared(item, assumed, found, AGREES if same else DIFFERS)
