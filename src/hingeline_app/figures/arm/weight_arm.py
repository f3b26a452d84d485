"""The arm of a balance weight, to scale: root, tube, weight, what is lost, and the places to look at.

Seen from the side, forward to the left, the hinge line on the right; below it the section at the root, larger.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from hingeline_app.figures.arm.root_section import RootSection, draw_root_section
from hingeline_app.figures.dimensions import Dimension, draw_dimensions
from hingeline_app.figures.lettering import Box, Ground, Label, spread, text_width, wrapped
from hingeline_app.figures.svg import Drawing, number
from hingeline_app.figures.wording import capitalised
from hingeline_app.figures.writing import write_labels

MARGIN, BALLOON = 16.0, 12.0
TALLEST = 84.0  # pixels that tube or weight may take in height
NOSE, SPOT = 30.0, 13.0
AXIS = 118.0
LINE = 21.0
LEAD_DENSITY = 11340.0


@dataclass(frozen=True, slots=True)
class WeightArm:
    """What the picture is made from; lengths in metres.

    Parameters
    ----------
    length : float
        Root to the weight's centre.
    hinge_to_root : float
        Hinge line to root.
    beyond_tip : float
        End of the tube to the weight's centre.
    thickness : float
        Outside diameter, or height of a bar, where nothing is lost.
    weight : float
        Mass of the weight [kg]; drawn as a cube of lead.
    section : RootSection
    places : tuple of str
        What to look at: the weight, the wall, the root.
    sentences : tuple of str
        Under the picture: estimates, then the caution.
    """

    length: float
    hinge_to_root: float
    beyond_tip: float
    thickness: float
    weight: float
    section: RootSection
    places: tuple[str, str, str]
    sentences: tuple[str, ...]
    length_text: str
    name: str = ""

    @property
    def cube(self) -> float:
        """Edge of a cube of lead of the weight's mass [m]."""
        return math.cbrt(self.weight / LEAD_DENSITY)


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where things stand [pixels]."""

    scale: float
    hinge: float
    root: float

    def forward(self, distance: float) -> float:
        """Give the place of a distance forward of the root."""
        return self.root - distance * self.scale


def draw_weight_arm(arm: WeightArm, width: float = 650) -> str:
    """Draw the arm, as SVG text.

    Parameters
    ----------
    arm : WeightArm
    width : float
        The width it will be shown at, in pixels: 650 on a tablet and on paper, 348 on a phone.
    """
    drawing, ground, frame = Drawing(width, 0.0, finding_words(arm)), Ground(width), _frame(arm, width)
    ground.take(Box(frame.hinge - 1.0, AXIS - 62.0, frame.hinge + 1.0, AXIS + 62.0))
    _nose(drawing, frame, arm, width)
    _tube(drawing, frame, arm)
    _weight(drawing, frame, arm)
    _root(drawing, frame, arm)
    drawing.line((frame.hinge, AXIS - 62.0), (frame.hinge, AXIS + 92.0), "chain")
    drawing.circle((frame.hinge, AXIS), 6.0, "open")
    _balloons(drawing, ground, frame, arm)
    below = _dimension(drawing, ground, frame, arm)
    below = draw_root_section(drawing, ground, arm.section, (MARGIN, below + 16.0), width)
    below = _legend(drawing, ground, arm, below + 12.0, width)
    drawing.height = _sentences(ground, arm, below, width) + 8.0
    write_labels(drawing, ground.labels, plates_below=AXIS + 40.0)
    return drawing.finished("weight-arm")


def finding_words(arm: WeightArm) -> str:
    """Say what the picture shows, in sentences."""
    named = f"The arm of a balance weight to scale, {arm.length_text}."
    if arm.name:
        named = f"{arm.name}: the arm of the balance weight to scale, {arm.length_text}."
    section = [f"{capitalised(words)}." for words in arm.section.words]
    look = "; ".join(f"{at}: {words}" for at, words in enumerate(arm.places, 1))
    return " ".join([named, *section, f"Look at {look}.", *arm.sentences])


def _frame(arm: WeightArm, width: float) -> _Frame:
    """Choose one scale both ways, so that weight and nose stand inside."""
    along = arm.length + arm.hinge_to_root + arm.cube / 2.0
    room = width - 2.0 * MARGIN - 2.2 * NOSE
    scale = min(room / along, TALLEST / max(arm.thickness, arm.cube))
    hinge = MARGIN + scale * along + (room - scale * along) / 2.0 + NOSE / 2.0
    return _Frame(scale, hinge, hinge - scale * arm.hinge_to_root)


def _nose(drawing: Drawing, frame: _Frame, arm: WeightArm, width: float) -> None:
    """Draw the surface's nose behind the root, broken off at the edge."""
    half = max(NOSE, frame.scale * arm.thickness)
    front, back = frame.hinge - 0.6 * NOSE, min(width - 6.0, frame.hinge + 1.5 * NOSE)
    curve = (
        f"M{number(back)} {number(AXIS - half)}"
        f"C{number(frame.hinge)} {number(AXIS - half)} {number(front)} {number(AXIS - half * 0.7)} "
        f"{number(front)} {number(AXIS)}"
        f"C{number(front)} {number(AXIS + half * 0.7)} {number(frame.hinge)} {number(AXIS + half)} "
        f"{number(back)} {number(AXIS + half)}"
    )
    drawing.path(f"{curve}z", "wash")
    drawing.path(curve, "outline")


def _tube(drawing: Drawing, frame: _Frame, arm: WeightArm) -> None:
    """Draw the tube with its axis; where metal is gone, along what was there."""
    half = frame.scale * arm.thickness / 2.0
    tip = frame.forward(arm.length - arm.beyond_tip)
    drawing.rectangle(tip, AXIS - half, frame.root - tip, 2.0 * half, "open")
    drawing.line((tip - 6.0, AXIS), (frame.root + 2.0, AXIS), "chain-thin")
    if arm.section.lost:
        for way in (-1.0, 1.0) if arm.section.where != "local" else (-1.0,):
            inside = arm.section.where == "inside"
            level = half - frame.scale * arm.section.wall if inside and arm.section.wall else half
            drawing.line((tip, AXIS + way * level), (frame.root, AXIS + way * level), "loss")


def _weight(drawing: Drawing, frame: _Frame, arm: WeightArm) -> None:
    edge, centre = frame.scale * arm.cube, frame.forward(arm.length)
    drawing.rectangle(centre - edge / 2.0, AXIS - edge / 2.0, edge, edge, "steel")
    drawing.line((centre, AXIS - edge / 2.0 + 3.0), (centre, AXIS + edge / 2.0 - 3.0), "on-steel")


def _root(drawing: Drawing, frame: _Frame, arm: WeightArm) -> None:
    """Draw the clamp, and round the most stressed fibre the place where a crack would begin."""
    half = frame.scale * arm.thickness / 2.0 + 3.0
    drawing.rectangle(frame.root, AXIS - half, 9.0, 2.0 * half, "steel")
    drawing.circle((frame.root, AXIS - half + 3.0), SPOT, "spot")


def _balloons(drawing: Drawing, ground: Ground, frame: _Frame, arm: WeightArm) -> None:
    """Give each place its number, from the weight to the root, in a balloon above what it means."""
    half = frame.scale * arm.thickness / 2.0
    weight = frame.forward(arm.length)
    wall = (frame.forward(arm.length - max(arm.beyond_tip, arm.cube / 2.0)) + frame.root) / 2.0
    # The third from the left of its place, since the hinge line may stand just above the root.
    ends = (
        (weight, AXIS - frame.scale * arm.cube / 2.0),
        (wall, AXIS - half),
        (frame.root - 9.0, AXIS - half - SPOT + 1.0),
    )
    wanted, room = [weight, wall, frame.root - 24.0], 2.0 * BALLOON
    placed = spread(wanted, [room] * 3, BALLOON, drawing.width - BALLOON, 8.0)
    for at, (x, end) in enumerate(zip(placed, ends, strict=True), 1):
        _led(drawing, ground, at, (x, 20.0), end)


def _led(drawing: Drawing, ground: Ground, at: int, balloon: tuple[float, float], place: tuple[float, float]) -> None:
    """Draw a balloon with the line that leads from it to its place."""
    x, y = balloon
    drawing.line((x, y + BALLOON), place, "thin")
    _balloon(drawing, ground, balloon, at)


def _balloon(drawing: Drawing, ground: Ground, centre: tuple[float, float], at: int) -> None:
    x, y = centre
    drawing.circle((x, y), BALLOON, "balloon")
    ground.put(Label(str(at), x, y + 5.5, "strong", "middle"))
    ground.take(Box(x - BALLOON, y - BALLOON, x + BALLOON, y + BALLOON))


def _dimension(drawing: Drawing, ground: Ground, frame: _Frame, arm: WeightArm) -> float:
    """Write how far the weight's centre lies ahead of the root; the hinge line has its name."""
    from_y = AXIS + max(frame.scale * arm.cube, frame.scale * arm.thickness) / 2.0 + 4.0
    top = AXIS + 60.0
    distance = Dimension(frame.forward(arm.length), arm.length_text, from_y, strong=True)
    drawing.line((frame.root, AXIS + frame.scale * arm.thickness / 2.0 + 6.0), (frame.root, top + 6.0), "thin")
    lowest = draw_dimensions(drawing, ground, frame.root, top, [distance])
    words = "hinge line"
    x = min(frame.hinge + 6.0, drawing.width - text_width(words, "quiet") - 4.0)
    ground.put(Label(words, x, top + 32.0, "quiet"))
    return max(lowest, top + 34.0)


def _legend(drawing: Drawing, ground: Ground, arm: WeightArm, top: float, width: float) -> float:
    """Say what each number stands for."""
    for at, words in enumerate(arm.places, 1):
        drawing.circle((MARGIN + BALLOON, top + BALLOON), BALLOON, "balloon")
        ground.put(Label(str(at), MARGIN + BALLOON, top + BALLOON + 5.5, "strong", "middle"))
        lines = wrapped(words, width - 2.0 * MARGIN - 2.0 * BALLOON - 12.0)
        for line, part in enumerate(lines):
            ground.put(Label(part, MARGIN + 2.0 * BALLOON + 10.0, top + BALLOON + 5.0 + LINE * line))
        top += max(2.0 * BALLOON + 7.0, LINE * len(lines) + 8.0)
    return top


def _sentences(ground: Ground, arm: WeightArm, top: float, width: float) -> float:
    """Write the estimates; the caution is the last, and stands out."""
    for at, sentence in enumerate(arm.sentences):
        last = at == len(arm.sentences) - 1
        for line in wrapped(sentence, width - 2.0 * MARGIN, "strong" if last else ""):
            top += LINE
            ground.put(Label(line, MARGIN, top, "strong" if last else "", colour="near" if last else ""))
    return top
