"""What a recording shows, as a wave beside its word: grows, stays, is uneven, shrinks, or cannot be told."""

from __future__ import annotations

import math

from hingeline_app.figures.svg import Drawing, polyline
from hingeline_app.said import kept_by_language

WIDTH, HEIGHT = 56.0, 38.0
STATEMENTS = ("growing", "sustained", "irregular", "dying out", "cannot tell")
_UNEVEN = (3.0, 9.0, 4.0, 13.0, 6.0, 8.0, 3.5)


@kept_by_language(32)
def draw_wave(statement: str) -> str:
    """Draw the sign of a statement; hidden from those who do not see it, since its word stands beside it.

    Parameters
    ----------
    statement : str
        One of the five.
    """
    drawing = Drawing(WIDTH, HEIGHT, statement)
    if statement == "cannot tell":
        _draw_unknown(drawing)
    else:
        drawing.path(polyline(_wave(statement)), "wave")
    if statement == "sustained":
        for y in (6.0, 32.0):
            drawing.line((4.0, y), (52.0, y), "wave-edge")
    return drawing.finished("wave-picture")


def _wave(statement: str) -> list[tuple[float, float]]:
    """Give the turning points of a wave, left to right."""
    count = 7
    points = [(4.0, 19.0)]
    for index in range(count):
        part = (index + 0.5) / count
        size = {
            "growing": 2.0 + 13.0 * part**1.4,
            "sustained": 9.5,
            "irregular": _UNEVEN[index],
            "dying out": 2.0 + 13.0 * (1.0 - part) ** 1.4,
        }[statement]
        points.append((4.0 + 48.0 * part, 19.0 - size * math.copysign(1.0, 0.5 - index % 2)))
    return [*points, (52.0, 19.0)]


def _draw_unknown(drawing: Drawing) -> None:
    drawing.path("M3 19L9 12L14 27M42 12L47 27L53 19", "wave")
    drawing.rectangle(17.0, 6.0, 22.0, 26.0, "wave-frame")
    drawing.path("M24.5 15.5A3.6 3.6 0 1 1 29.6 18.9C28.4 19.6 28 20.4 28 22.2M28 25.6V26.4", "wave thin-wave")
