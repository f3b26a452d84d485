"""The section of an arm at its root: what is there, and what was there before, drawn larger."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hingeline_app.figures.lettering import Box, Ground, Label, wrapped
from hingeline_app.figures.svg import Drawing, Point, polyline

SIZE = 84.0
LINE = 21.0
THINNEST = 1.6
"""What is lost is drawn at least so wide, or nobody would see it; the words have the measure."""


@dataclass(frozen=True, slots=True)
class RootSection:
    """What is drawn; lengths in metres.

    Parameters
    ----------
    width, height : float
        Where nothing is lost; a tube has its diameter twice.
    wall : float or None
        Of a tube, where nothing is lost; None for a bar.
    lost : float
        Depth; 0 for none.
    where : str
        outside, inside or local.
    half_angle : float
        Of a local loss of a tube [rad].
    words : tuple of str
        The section and its loss as they are to be written.
    """

    width: float
    height: float
    wall: float | None
    lost: float
    where: str
    half_angle: float
    words: tuple[str, ...]


def draw_root_section(drawing: Drawing, ground: Ground, section: RootSection, corner: Point, width: float) -> float:
    """Draw the section with its words beside it, and give the height below."""
    left, top = corner
    scale = SIZE / max(section.width, section.height)
    centre = (left + SIZE / 2.0, top + SIZE / 2.0)
    if section.wall is None:
        _bar(drawing, section, centre, scale)
    else:
        _tube(drawing, section, centre, scale)
    drawing.line((centre[0] - SIZE / 2.0 - 5.0, centre[1]), (centre[0] + SIZE / 2.0 + 5.0, centre[1]), "chain-thin")
    ground.take(Box(left, top, left + SIZE, top + SIZE))
    return max(top + SIZE, _words(ground, section, left + SIZE + 16.0, top + 24.0, width))


def _words(ground: Ground, section: RootSection, left: float, y: float, width: float) -> float:
    for at, words in enumerate(section.words):
        for line in wrapped(words, width - left - 8.0):
            ground.put(Label(line, left, y, colour="out" if at and section.lost else ""))
            y += LINE
    return y


def _tube(drawing: Drawing, section: RootSection, centre: Point, scale: float) -> None:
    """Draw the ring; what is gone is a ring, or a piece of one at the top, the most stressed fibre."""
    wall = section.wall or 0.0
    outer, inner = scale * section.width / 2.0, scale * (section.width / 2.0 - wall)
    lost = max(THINNEST, scale * section.lost) if section.lost else 0.0
    drawing.circle(centre, outer - (lost if section.where == "outside" else 0.0), "metal")
    drawing.circle(centre, inner + (lost if section.where == "inside" else 0.0), "bore")
    if section.where == "local" and lost:
        drawing.path(arc_piece(centre, outer, outer - lost, section.half_angle), "gone")
    elif lost:
        drawing.circle(centre, outer if section.where == "outside" else inner, "loss")


def arc_piece(centre: Point, outer: float, inner: float, half_angle: float) -> str:
    """Write the outline of a piece of a ring, centred at the top."""
    steps = max(4, int(24 * half_angle))
    angles = [half_angle * (2.0 * step / steps - 1.0) for step in range(steps + 1)]
    around = [(radius, angle) for radius, listed in ((outer, angles), (inner, angles[::-1])) for angle in listed]
    x, y = centre
    return polyline([(x + r * math.sin(angle), y - r * math.cos(angle)) for r, angle in around], closed=True)


def _bar(drawing: Drawing, section: RootSection, centre: Point, scale: float) -> None:
    wide, high = scale * section.width, scale * section.height
    lost = max(THINNEST, scale * section.lost) if section.lost else 0.0
    left, top = centre[0] - wide / 2.0, centre[1] - high / 2.0
    if section.where == "local":
        drawing.rectangle(left, top + lost, wide, high - lost, "metal")
        drawing.rectangle(left, top, wide, lost, "gone")
        return
    drawing.rectangle(left + lost, top + lost, wide - 2.0 * lost, high - 2.0 * lost, "metal")
    if lost:
        drawing.rectangle(left, top, wide, high, "loss")
