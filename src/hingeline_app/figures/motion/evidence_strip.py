"""A recording as evidence: the swing with its envelope over time, and one motion against the other, as SVG.

The stretch that the numbers come from is shaded; a growth is drawn heavy. Nothing is coloured as good.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hingeline_app.figures.axis import Axis, ticks
from hingeline_app.figures.lettering import Ground, Label, text_width, wrapped
from hingeline_app.figures.svg import Drawing, Point, polyline
from hingeline_app.figures.wording import format_number
from hingeline_app.figures.writing import write_labels

LEFT, RIGHT, HEIGHT, ROW = 64.0, 20.0, 210.0, 20.0
ROOM_FOR_OTHER_FONTS, PORTRAIT, BETWEEN = 90.0, 190.0, 46.0


@dataclass(frozen=True, slots=True)
class EvidenceStrip:
    """What is drawn.

    Parameters
    ----------
    finding : tuple of str
        What was found, sentence by sentence; written on top.
    quantity : str
        Name and unit of the trace.
    times, values, envelope : sequence of float
        [s], in the unit named.
    start, stop : float
        The stretch that the numbers come from [s].
    line : sequence of float
        Envelope of the growth or the decay at the start and the end of the stretch; empty where there is none.
    grows : bool
    portrait : sequence of (float, float)
        One motion against the other, in units of its own greatest swing; empty where there is one motion only.
    portrait_words : tuple of str
        Across, up.
    remark : str
        Under the portrait.
    """

    finding: tuple[str, ...]
    quantity: str
    times: Sequence[float]
    values: Sequence[float]
    envelope: Sequence[float]
    start: float
    stop: float
    line: Sequence[float]
    grows: bool
    portrait: Sequence[tuple[float, float]]
    portrait_words: tuple[str, str]
    remark: str


@dataclass(frozen=True, slots=True)
class Frame:
    """Where the trace stands: its scales across and up."""

    across: Axis
    largest: float
    top: float

    @property
    def bottom(self) -> float:
        """Lower edge [px]."""
        return self.top + HEIGHT

    def point(self, time: float, value: float) -> Point:
        """Give the place of a value at a time, held inside the frame."""
        part = max(-1.0, min(1.0, value / self.largest))
        return self.across.x(time), self.top + HEIGHT * (1.0 - part) / 2.0


def draw_evidence_strip(strip: EvidenceStrip, width: float = 860.0) -> str:
    """Draw the trace with its envelope, and the portrait beside it where there is one.

    Parameters
    ----------
    strip : EvidenceStrip
    width : float
        The width it will be shown at, in pixels.
    """
    drawing, ground = Drawing(width, 0.0, " ".join(strip.finding)), Ground(width)
    top = _write_finding(ground, strip.finding) + 26.0
    right = width - RIGHT - (PORTRAIT + BETWEEN if strip.portrait else 0.0)
    largest = 1.08 * max(1e-30, *(abs(value) for value in strip.values))
    frame = Frame(Axis(strip.times[0], strip.times[-1], LEFT, right), largest, top)
    _draw_stretch(drawing, ground, frame, strip)
    _draw_scales(drawing, ground, frame, strip)
    drawing.path(polyline(frame.point(*each) for each in zip(strip.times, strip.values, strict=True)), "thin")
    _draw_envelope(drawing, frame, strip)
    if strip.portrait:
        _draw_portrait(drawing, ground, strip, right + BETWEEN, top)
    drawing.height = frame.bottom + 48.0
    write_labels(drawing, ground.labels, plates_below=top)
    return drawing.finished("evidence-strip")


def draw_motion(strip: EvidenceStrip, width: float, words: str = "") -> str:
    """Draw the trace with its envelope alone, as a view of a page.

    Parameters
    ----------
    strip : EvidenceStrip
    width : float
        [px]
    words : str
        What the envelope does, above it.
    """
    drawing, ground = Drawing(width, 0.0, " ".join(strip.finding)), Ground(width)
    top = 30.0 + (ROW if words else 0.0)
    largest = 1.08 * max(1e-30, *(abs(value) for value in strip.values))
    frame = Frame(Axis(strip.times[0], strip.times[-1], LEFT, width - 8.0), largest, top)
    _draw_stretch(drawing, ground, frame, strip)
    _draw_scales(drawing, ground, frame, strip)
    drawing.path(polyline(frame.point(*each) for each in zip(strip.times, strip.values, strict=True)), "thin")
    _draw_envelope(drawing, frame, strip)
    if words:
        ground.put(Label(words, LEFT + 2.0, 16.0, "strong", colour="out" if strip.grows else ""))
    drawing.height = frame.bottom + 48.0
    write_labels(drawing, ground.labels)
    return drawing.finished("motion-trace")


def draw_portrait(strip: EvidenceStrip, width: float, words: str) -> str:
    """Draw one motion against the other alone, as a view of a page.

    Parameters
    ----------
    strip : EvidenceStrip
    width : float
        [px]
    words : str
        What it does: winds outward, and so on.
    """
    finding = f"{strip.portrait_words[1]} against {strip.portrait_words[0]}: {words}"
    drawing, ground = Drawing(width, 0.0, finding), Ground(width)
    size = min(width - 40.0, 230.0)
    middle = (width / 2.0, 24.0 + size / 2.0)
    _draw_cross_and_path(drawing, strip, middle, size / 2.0)
    across, up = strip.portrait_words
    ground.put(Label(up, middle[0] + 6.0, 18.0, "quiet"))
    ground.put(Label(across, middle[0] + size / 2.0, middle[1] - 7.0, "quiet", "end"))
    lines = [*wrapped(words, width - 20.0), "point: the end of the stretch"]
    for index, line in enumerate(lines):
        role = "quiet" if index == len(lines) - 1 else ""
        ground.put(Label(line, middle[0], 24.0 + size + 22.0 + index * ROW, role, "middle"))
    drawing.height = 24.0 + size + 12.0 + len(lines) * ROW
    write_labels(drawing, ground.labels, plates_below=0.0)
    return drawing.finished("portrait")


def _write_finding(ground: Ground, finding: tuple[str, ...]) -> float:
    y = 22.0
    for index, sentence in enumerate(finding):
        role = "" if index else "strong"
        for line in wrapped(sentence, ground.width - ROOM_FOR_OTHER_FONTS, role):
            ground.put(Label(line, 14.0, y, role))
            y += ROW
    return y


def _draw_stretch(drawing: Drawing, ground: Ground, frame: Frame, strip: EvidenceStrip) -> None:
    left, right = frame.across.x(strip.start), frame.across.x(strip.stop)
    drawing.rectangle(left, frame.top, right - left, HEIGHT, "wash")
    ground.put(
        Label("shaded: the part that the numbers come from", frame.across.right, frame.bottom + 40.0, "quiet", "end")
    )


def _draw_scales(drawing: Drawing, ground: Ground, frame: Frame, strip: EvidenceStrip) -> None:
    corners = [(x, y) for x, y in ((LEFT, frame.top), (frame.across.right, frame.top))]
    corners += [(frame.across.right, frame.bottom), (LEFT, frame.bottom)]
    drawing.path(polyline(corners, closed=True), "thin")
    drawing.line(frame.point(frame.across.low, 0.0), frame.point(frame.across.high, 0.0), "axis")
    values, places = ticks(Axis(-frame.largest, frame.largest, frame.top, frame.bottom), 5)
    for value in values:
        y = frame.point(frame.across.low, value)[1]
        drawing.line((LEFT - 5.0, y), (LEFT, y), "axis")
        ground.put(Label(format_number(value, places) if value else "0", LEFT - 9.0, y + 5.0, "", "end"))
    seconds, places = ticks(frame.across, 8)
    for value in seconds:
        x = frame.across.x(value)
        drawing.line((x, frame.bottom), (x, frame.bottom + 6.0), "axis")
        ground.put(Label(format_number(value, places) if value else "0", x, frame.bottom + 22.0, "", "middle"))
    ground.put(Label("s", frame.across.left - 20.0, frame.bottom + 22.0, "quiet", "end"))
    ground.put(Label(strip.quantity, LEFT + 2.0, frame.top - 7.0, "quiet"))


def _draw_envelope(drawing: Drawing, frame: Frame, strip: EvidenceStrip) -> None:
    """Draw the envelope dashed; over the stretch the exponential of the growth rate, heavy where it grows."""
    for sign in (1.0, -1.0):
        places = [frame.point(time, sign * size) for time, size in zip(strip.times, strip.envelope, strict=True)]
        drawing.path(polyline(places), "lead")
        if strip.line:
            drawing.path(polyline(_exponential(frame, strip, sign)), "moment out" if strip.grows else "outline")


def _exponential(frame: Frame, strip: EvidenceStrip, sign: float) -> list[Point]:
    first, last = strip.line
    steps = 60
    parts = [index / steps for index in range(steps + 1)]
    span = strip.stop - strip.start
    return [frame.point(strip.start + part * span, sign * first * (last / first) ** part) for part in parts]


def _draw_portrait(drawing: Drawing, ground: Ground, strip: EvidenceStrip, left: float, top: float) -> None:
    middle = (left + PORTRAIT / 2.0, top + HEIGHT / 2.0)
    _draw_cross_and_path(drawing, strip, middle, PORTRAIT / 2.0)
    across, up = strip.portrait_words
    ground.put(Label(up, middle[0] + 6.0, top - 7.0, "quiet"))
    ground.put(Label(across, left + PORTRAIT, middle[1] - 7.0, "quiet", "end"))
    inside = min(middle[0], ground.width - 4.0 - text_width(strip.remark) / 2.0)
    ground.put(Label(strip.remark, inside, top + HEIGHT + 22.0, "", "middle"))
    ground.put(Label("point: the end of the stretch", middle[0], top + HEIGHT + 40.0, "quiet", "middle"))


def _draw_cross_and_path(drawing: Drawing, strip: EvidenceStrip, middle: Point, half: float) -> None:
    drawing.line((middle[0] - half, middle[1]), (middle[0] + half, middle[1]), "axis")
    drawing.line((middle[0], middle[1] - half), (middle[0], middle[1] + half), "axis")
    size = 0.92 * half
    places = [(middle[0] + size * across, middle[1] - size * up) for across, up in strip.portrait]
    drawing.path(polyline(places), "orbit")
    drawing.circle(places[-1], 5.0, "point out" if strip.grows else "point")
