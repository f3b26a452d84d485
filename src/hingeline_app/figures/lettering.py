"""How much room words take in a picture, and how labels are kept apart.

The widths are those of our own fonts (``advances.toml``), so what is kept apart here stays
apart on paper.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files

from hingeline_app.said import say

#: role → (table of widths, size in pixels); the roles are text classes of ``drawing.css``
ROLES = {
    "": ("condensed-500", 15.0),
    "quiet": ("condensed-500", 15.0),
    "strong": ("condensed-600", 16.0),
    "measure": ("text-600", 17.0),
    "headline": ("text-700", 23.0),
}


@cache
def _advances(table: str) -> dict[str, int]:
    stored = tomllib.loads(files("hingeline_app.figures").joinpath("advances.toml").read_text(encoding="utf-8"))
    widths = {character: int(width) for width, characters in stored[table].items() for character in characters}
    return widths | {"": int(stored["default"])}


def text_width(words: str, role: str = "") -> float:
    """Return the width of a line of text, in pixels."""
    table, size = ROLES[role]
    widths = _advances(table)
    return sum(widths.get(character, widths[""]) for character in say(words)) * size / 1000.0


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle of the picture that something stands in."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Tell whether two boxes share any ground."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )

    def within(self, width: float) -> bool:
        """Tell whether the box stays inside a picture of this width."""
        return self.left >= 0.0 and self.right <= width


@dataclass(frozen=True, slots=True)
class Label:
    """One line of text and where it stands: ``x`` by its anchor, ``y`` its base line."""

    words: str
    x: float
    y: float
    role: str = ""
    anchor: str = "start"
    colour: str = ""

    def __post_init__(self) -> None:
        """Say the words as the reader does, before anything asks how much room they take."""
        object.__setattr__(self, "words", say(self.words))

    @property
    def classes(self) -> str:
        """Return the classes of its text element."""
        return f"{self.role} {self.colour}".strip()

    @property
    def box(self) -> Box:
        """Return the ground it covers: capitals above the base line, tails below."""
        width, size = text_width(self.words, self.role), ROLES[self.role][1]
        left = self.x - {"start": 0.0, "middle": width / 2.0, "end": width}[self.anchor]
        return Box(left, self.y - 0.76 * size, left + width, self.y + 0.22 * size)


@dataclass(slots=True)
class Ground:
    """What is already taken in a picture, and the labels placed so far."""

    width: float
    taken: list[Box] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)

    def take(self, *boxes: Box) -> None:
        """Keep labels off these boxes."""
        self.taken += boxes

    def is_free(self, label: Label, air: float = 2.0) -> bool:
        """Tell whether a label would stand alone, with some air at its ends, and inside the picture."""
        box = label.box
        wider = Box(box.left - air, box.top, box.right + air, box.bottom)
        return box.within(self.width) and not any(wider.meets(other) for other in self.taken)

    def place(self, candidates: Sequence[Sequence[Label]], air: float = 2.0) -> bool:
        """Place the first group of labels that stands free as a whole; tell whether one did."""
        for group in candidates:
            if all(self.is_free(label, air) for label in group):
                self.put(*group)
                return True
        return False

    def put(self, *labels: Label) -> None:
        """Place labels without asking."""
        self.labels += labels
        self.taken += [label.box for label in labels]


def spread(centres: Sequence[float], widths: Sequence[float], low: float, high: float, gap: float) -> list[float]:
    """Move centres of boxes in a row apart, as little as may be, keeping their order.

    Boxes pushed to an end stay inside ``low`` … ``high`` as long as they fit at all.
    """
    order = sorted(range(len(centres)), key=lambda index: centres[index])
    groups: list[tuple[float, list[int]]] = []
    for index in order:
        groups.append((centres[index], [index]))
        while len(groups) > 1 and _start(groups[-1], widths, gap, low, high) < _end(groups[-2], widths, gap, low, high):
            members = groups[-2][1] + groups[-1][1]
            groups[-2:] = [(_common_centre(members, centres, widths, gap), members)]
    placed = list(centres)
    for group in groups:
        edge = _start(group, widths, gap, low, high) + gap / 2.0
        for index in group[1]:
            placed[index] = edge + widths[index] / 2.0
            edge += widths[index] + gap
    return placed


def _extent(members: Iterable[int], widths: Sequence[float], gap: float) -> float:
    return sum(widths[index] + gap for index in members)


def _start(group: tuple[float, list[int]], widths: Sequence[float], gap: float, low: float, high: float) -> float:
    extent = _extent(group[1], widths, gap)
    return max(low - gap / 2.0, min(high + gap / 2.0 - extent, group[0] - extent / 2.0))


def _end(group: tuple[float, list[int]], widths: Sequence[float], gap: float, low: float, high: float) -> float:
    return _start(group, widths, gap, low, high) + _extent(group[1], widths, gap)


def _common_centre(members: Sequence[int], centres: Sequence[float], widths: Sequence[float], gap: float) -> float:
    """Return where a joined row's middle lies when its boxes stray least from their own centres."""
    extent, edge, strays = _extent(members, widths, gap), 0.0, []
    for index in members:
        strays.append(centres[index] - (edge + (widths[index] + gap) / 2.0))
        edge += widths[index] + gap
    return sum(strays) / len(strays) + extent / 2.0


def wrapped(words: str, room: float, role: str = "") -> list[str]:
    """Break a sentence into lines of at most this width; a word that is longer alone is cut."""
    lines: list[str] = []
    for word in say(words).split(" "):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, role) <= room:
            lines[-1] = longer
        else:
            lines.append(_cut(word, room, role))
    return lines


def _cut(word: str, room: float, role: str) -> str:
    while len(word) > 1 and text_width(word, role) > room:
        word = word[:-2] + "…"
    return word
