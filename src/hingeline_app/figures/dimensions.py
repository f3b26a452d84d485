"""Dimension lines under a picture, stacked on levels so that no two meet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hingeline_app.figures.lettering import Box, Ground, Label, text_width
from hingeline_app.figures.svg import Drawing, arrowhead

LEVEL = 23.0
GAP_ON_LINE = 30.0  # what the two heads and a little air need beside the words


@dataclass(frozen=True, slots=True)
class Dimension:
    """A distance from the hinge line to ``x``, with its words and the height its extension line starts at."""

    x: float
    words: str
    from_y: float
    strong: bool = False
    first_level: int = 0


def draw_dimensions(
    drawing: Drawing, ground: Ground, hinge_x: float, top: float, dimensions: Sequence[Dimension]
) -> float:
    """Draw dimensions, shorter ones nearer, each on the first level where it stands free.

    Returns the height below the lowest of them.
    """
    lowest = top
    ordered = sorted(dimensions, key=lambda one: (one.first_level, abs(one.x - hinge_x)))
    for index, dimension in enumerate(ordered):
        y, label = _first_free(ground, hinge_x, top, dimension, [later.x for later in ordered[index + 1 :]])
        _draw(drawing, hinge_x, y, dimension)
        ground.take(_line_box(hinge_x, y, dimension))
        ground.put(label)
        lowest = max(lowest, y)
    return lowest


def _first_free(
    ground: Ground, hinge_x: float, top: float, dimension: Dimension, extensions: Sequence[float]
) -> tuple[float, Label]:
    """Find height and words; those that no extension line of a lower dimension runs through come first."""
    y = top + LEVEL * dimension.first_level
    while True:
        line = _line_box(hinge_x, y, dimension)
        if not any(line.meets(box) for box in ground.taken):
            free = [label for label in _labels(hinge_x, y, dimension) if ground.is_free(label)]
            if free:
                return y, min(free, key=lambda label: sum(label.box.left < x < label.box.right for x in extensions))
        y += LEVEL


def _labels(hinge_x: float, y: float, dimension: Dimension) -> list[Label]:
    """Return where the words may stand: on the line, beyond its end, or before the hinge."""
    role = "measure" if dimension.strong else ""
    length, words = abs(dimension.x - hinge_x), dimension.words
    aft = dimension.x >= hinge_x
    if length >= text_width(words, role) + GAP_ON_LINE:
        return [Label(words, (hinge_x + dimension.x) / 2.0, y + 5.0, role, "middle")]
    beyond = Label(words, dimension.x + (8.0 if aft else -8.0), y + 5.0, role, "start" if aft else "end")
    before = Label(words, hinge_x - (8.0 if aft else -8.0), y + 5.0, role, "end" if aft else "start")
    return [beyond, before]


def _line_box(hinge_x: float, y: float, dimension: Dimension) -> Box:
    left, right = sorted((hinge_x, dimension.x))
    return Box(left + 0.5, y - 8.0, right - 0.5, y + 8.0)


def _draw(drawing: Drawing, hinge_x: float, y: float, dimension: Dimension) -> None:
    drawing.line((dimension.x, dimension.from_y), (dimension.x, y + 6.0), "thin")
    length = dimension.x - hinge_x
    drawing.line((hinge_x, y), (dimension.x, y), "thin")
    head = min(10.0, abs(length) / 2.5)
    if head >= 2.0:
        drawing.path(arrowhead((dimension.x, y), (length, 0.0), head, 6.0), "thin-head")
        drawing.path(arrowhead((hinge_x, y), (-length, 0.0), head, 6.0), "thin-head")
