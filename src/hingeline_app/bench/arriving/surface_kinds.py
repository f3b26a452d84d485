"""What kind of surface a name means, and on which side: for its place in the picture and in the order of work.

The words are the trade's, in English, German and French; a name that says none of them has no place in the picture.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

TAB, AILERON, ELEVATOR, RUDDER, FLAP, TAIL = "tab", "aileron", "elevator", "rudder", "flap", "all-moving tail"
# The first kind of which a word is in the name: a tab of an elevator is a tab.
WORDS: Mapping[str, tuple[str, ...]] = {
    TAB: ("tab", "tabs", "trimmklappe", "trimmruder", "hilfsruder", "compensateur", "volet de trim"),
    TAIL: ("stabilator", "all moving tail", "all moving tailplane", "pendelruder", "pendelhöhenruder", "monobloc"),
    FLAP: ("flap", "flaperon", "landeklappe", "wölbklappe", "volet"),
    AILERON: ("aileron", "querruder"),
    ELEVATOR: ("elevator", "höhenruder", "gouverne de profondeur", "profondeur"),
    RUDDER: ("rudder", "seitenruder", "gouverne de direction", "direction"),
}
_WORD = re.compile(r"[^\W_]+")
LEFT, RIGHT, MIDDLE = "left", "right", ""
SIDES: Mapping[str, tuple[str, ...]] = {
    LEFT: ("left", "lh", "port", "links", "linkes", "linke", "gauche"),
    RIGHT: ("right", "rh", "starboard", "rechts", "rechtes", "rechte", "droit", "droite"),
}


@dataclass(frozen=True)
class SurfaceKind:
    """A kind, its side, and of which kind the surface is that carries a tab."""

    kind: str
    side: str = MIDDLE
    carrier: str = ""


def kind_of(name: str) -> SurfaceKind | None:
    """Read a surface's name; None where it says no kind."""
    words = f" {' '.join(_WORD.findall(name.lower()))} "
    kinds = [kind for kind, each in WORDS.items() if _says(words, each)]
    if not kinds:
        return None
    side = next((side for side, each in SIDES.items() if _says(words, each)), MIDDLE)
    carrier = kinds[1] if kinds[0] == TAB and len(kinds) > 1 else ""
    return SurfaceKind(kinds[0], side, carrier)


def same_surface(first: str, second: str) -> bool:
    """Whether two names can mean one surface: the same words, or the same kind where neither says the other side."""
    if " ".join(first.lower().split()) == " ".join(second.lower().split()):
        return True
    one, other = kind_of(first), kind_of(second)
    if one is None or other is None or (one.kind, one.carrier) != (other.kind, other.carrier):
        return False
    return one.side == other.side or MIDDLE in (one.side, other.side)


def _says(words: str, kind: tuple[str, ...]) -> bool:
    return any(f" {each} " in words for each in kind)
