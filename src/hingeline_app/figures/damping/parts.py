"""Pieces of curves over speed: panels with their scales, lines that end at the frame, their numbers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal, Protocol

from hingeline_app.figures.axis import Axis, ticks
from hingeline_app.figures.lettering import Ground, Label, spread
from hingeline_app.figures.svg import Drawing, Point, polyline
from hingeline_app.figures.wording import format_number

KNOT = 1852.0 / 3600.0
NUMBER_ROW = 16.0
NEUTRAL = 1e-9


class CurvePoint(Protocol):
    """One motion at one speed."""

    @property
    def speed(self) -> float:
        """True airspeed [m/s]."""

    @property
    def frequency(self) -> float:
        """[Hz]."""

    @property
    def damping(self) -> float:
        """As a part of critical [1]."""


class ModeCurve(Protocol):
    """One motion over speed."""

    @property
    def number(self) -> int:
        """By frequency at the lowest speed."""

    @property
    def runs(self) -> Sequence[Sequence[CurvePoint]]:
        """Points without a gap between them."""


class Mark(Protocol):
    """A neutral point."""

    @property
    def speed(self) -> float:
        """True airspeed [m/s]."""

    @property
    def frequency(self) -> float:
        """[Hz]."""

    @property
    def starts(self) -> bool:
        """Whether a motion starts growing there; else one stops."""


@dataclass(frozen=True, slots=True)
class Panel:
    """One of the two pictures over one scale of speed.

    Parameters
    ----------
    quantity : {"damping", "frequency"}
        Which field of a point it shows.
    words : str
        Name and unit of its scale.
    factor : float
        From the field to that unit.
    low, high : float
        Ends of the scale, as the field.
    top, bottom : float
        [px]
    """

    quantity: Literal["damping", "frequency"]
    words: str
    factor: float
    low: float
    high: float
    top: float
    bottom: float

    def y(self, value: float) -> float:
        """Return where a value stands, inside the panel or not."""
        return self.bottom - (value - self.low) / (self.high - self.low) * (self.bottom - self.top)

    def of(self, point: CurvePoint) -> float:
        """Return the field of a point that is shown."""
        return point.damping if self.quantity == "damping" else point.frequency


def draw_panel(drawing: Drawing, ground: Ground, panel: Panel, speed: Axis) -> None:
    """Draw frame, zero line and scale."""
    frame = [(speed.left, panel.top), (speed.right, panel.top), (speed.right, panel.bottom), (speed.left, panel.bottom)]
    drawing.path(polyline(frame, closed=True), "thin")
    if panel.low < 0.0:
        drawing.line((speed.left, panel.y(0.0)), (speed.right, panel.y(0.0)), "axis")
    values, places = ticks(Axis(panel.factor * panel.low, panel.factor * panel.high, panel.top, panel.bottom), 6)
    for value in values:
        y = panel.y(value / panel.factor)
        drawing.line((speed.left - 5.0, y), (speed.left, y), "axis")
        ground.put(Label(format_number(value, places) if value else "0", speed.left - 9.0, y + 5.0, "", "end"))
    ground.put(Label(panel.words, speed.left + 2.0, panel.top - 6.0, "quiet"))


def draw_speed_scales(drawing: Drawing, ground: Ground, speed: Axis, top: float, bottom: float) -> None:
    """Draw the scale in knots above and in metres per second below."""
    knots = replace(speed, low=speed.low / KNOT, high=speed.high / KNOT)
    _scale(drawing, ground, knots, (top, -6.0, -26.0), "kn")
    _scale(drawing, ground, speed, (bottom, 6.0, 22.0), "m/s")


def _scale(drawing: Drawing, ground: Ground, axis: Axis, place: tuple[float, float, float], unit: str) -> None:
    y, tick, text = place
    name = Label(f"{unit} true airspeed", axis.right + 40.0, y + text + (18.0 if tick > 0 else -18.0), "quiet", "end")
    ground.put(name)
    values, places = ticks(axis, 7)
    for value in values:
        drawing.line((axis.x(value), y), (axis.x(value), y + tick), "axis")
        label = Label(format_number(value, places) if value else "0", axis.x(value), y + text, "", "middle")
        if ground.is_free(label):
            ground.put(label)


def draw_modes(drawing: Drawing, panel: Panel, speed: Axis, modes: Iterable[ModeCurve]) -> None:
    """Draw every motion, heavy where it grows."""
    for mode in modes:
        for run in mode.runs:
            for piece in _inside(panel, speed, run):
                drawing.path(polyline(piece), "outline")
            for grown in _growing(run):
                for piece in _inside(panel, speed, grown):
                    drawing.path(polyline(piece), "moment out")


def _growing(run: Sequence[CurvePoint]) -> Iterator[Sequence[CurvePoint]]:
    """Give the stretches of a run in which the motion grows, with the neutral points at their ends."""
    start = 0
    while start < len(run):
        end = start
        while end < len(run) and grows(run[end]):
            end += 1
        if end > start:
            first = start - 1 if start and run[start - 1].damping == 0.0 else start
            last = end + 1 if end < len(run) and run[end].damping == 0.0 else end
            yield run[first:last]
        start = end + 1


def grows(point: CurvePoint) -> bool:
    """Tell whether a motion grows; what rounding leaves of an undamped one does not."""
    return point.damping < -NEUTRAL


def _inside(panel: Panel, speed: Axis, points: Sequence[CurvePoint]) -> Iterator[list[Point]]:
    """Give the pieces of a line that lie in the panel, cut at its top and bottom."""
    piece: list[Point] = []
    places = [(speed.x(point.speed), panel.y(panel.of(point))) for point in points]
    for before, place in zip([None, *places[:-1]], places, strict=True):
        here = panel.top <= place[1] <= panel.bottom
        was = before is not None and panel.top <= before[1] <= panel.bottom
        if before is not None and here != was:
            piece.append(_at_edge(panel, before, place))
        if here:
            piece.append(place)
        elif piece:
            yield piece
            piece = []
    if len(piece) > 1:
        yield piece


def _at_edge(panel: Panel, one: Point, other: Point) -> Point:
    outer = one if not panel.top <= one[1] <= panel.bottom else other
    edge = panel.top if outer[1] < panel.top else panel.bottom
    part = (edge - one[1]) / (other[1] - one[1])
    return one[0] + part * (other[0] - one[0]), edge


def name_modes(ground: Ground, panel: Panel, speed: Axis, modes: Iterable[ModeCurve]) -> None:
    """Write the number of each motion in the margin, beside the end of its line, kept apart."""
    ends = [(mode.number, y) for mode in modes if (y := _end(panel, speed, mode)) is not None]
    wished = [y for _, y in ends]
    placed = spread(wished, [NUMBER_ROW] * len(ends), panel.top, panel.bottom, 0.0)
    for (number, _), y in zip(ends, placed, strict=True):
        ground.put(Label(str(number), speed.right + 8.0, y + 5.0, "strong"))


def _end(panel: Panel, speed: Axis, mode: ModeCurve) -> float | None:
    """Return the height at which a line reaches the right edge; None where it ends before or is cut."""
    last = mode.runs[-1][-1]
    y = panel.y(panel.of(last))
    return y if speed.x(last.speed) >= speed.right - 0.5 and panel.top <= y <= panel.bottom else None


def draw_crossings(drawing: Drawing, damping: Panel, frequency: Panel, speed: Axis, marks: Iterable[Mark]) -> None:
    """Draw a point at each neutral point in both panels: filled where growth starts, open where it stops."""
    for mark in marks:
        classes = "point out" if mark.starts else "open-thin"
        drawing.circle((speed.x(mark.speed), damping.y(0.0)), 5.0, classes)
        if mark.frequency <= frequency.high:
            drawing.circle((speed.x(mark.speed), frequency.y(mark.frequency)), 5.0, classes)
