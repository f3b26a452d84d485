"""A section of the surface as it moves: one computed motion, slowed, with the still picture telling the same.

The section swings by SVG's own animation, which a page can pause. Four phantom outlines a quarter
cycle apart stay in the picture, and five sections along their path stand under it, so that
paper and a reader who wants no movement lose nothing. A motion that grows or dies out does so in
the picture at its computed rate, begun anew after every four cycles.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from hingeline_app.figures.lettering import Ground, Label, text_width
from hingeline_app.figures.svg import Drawing, Point, arrowhead, number, polyline
from hingeline_app.figures.wording import format_number
from hingeline_app.figures.writing import write_labels

__all__ = ["SectionMotion", "draw_section_in_motion", "shown_positions"]

STEPS, CYCLES, SECONDS_A_CYCLE = 24, 4, 2.4
MOST_PLUNGE, MOST_ANGLE = 60.0, math.radians(9.0)
CHORD_PART, AXIS_PART, MIDDLE = 0.6, 0.42, 132.0
THICKNESS = 0.15
Sign = Callable[[Drawing, Point], None]
KEY, KEY_LEFT, KEY_ROW = 250.0, 12.0, 20.0
STRIP_TOP, STRIP_HEIGHT, STRIP_CHORD, STRIP_PLUNGE = 264.0, 78.0, 0.175, 0.28
# A motion whose amplitude changes by less than this part in a cycle is drawn as steady.
STEADY = 0.002
SHAPE_POINTS = 16
SLACK_DRAWN = 10.0


@dataclass(frozen=True, slots=True)
class SectionMotion:
    """One motion of one section.

    Parameters
    ----------
    chord : float
        [m]
    axis : float
        Where the whole section turns, as a part of the chord from its nose.
    plunge : complex
        Of the axis, down positive [m]; size and phase are relative to the other freedoms.
    pitch : complex
        Nose up [rad].
    frequency : float
        [Hz]
    growth_rate : float
        [1/s], growing positive.
    finding : str
        What the picture says.
    surface_hinge : float or None
        Hinge line of a trailing surface, as a part of the chord from the nose.
    surface : complex
        Its angle against the section, trailing edge down [rad].
    centre_of_gravity : float or None
        Of what turns about the hinge, as a part of the chord from the nose.
    slack : float
        By which the surface can be turned each way before its circuit holds it [rad].
    weight_arm : float
        Of a balance weight ahead of the hinge line, as a part of the chord; 0 without one.
    """

    chord: float
    axis: float
    plunge: complex
    pitch: complex
    frequency: float
    growth_rate: float
    finding: str
    surface_hinge: float | None = None
    surface: complex = 0.0
    centre_of_gravity: float | None = None
    slack: float = 0.0
    weight_arm: float = 0.0


@dataclass(frozen=True, slots=True)
class Position:
    """Where the section is at one moment: plunge [px], pitch and surface angle [degrees]."""

    plunge: float
    pitch: float
    surface: float


def draw_section_in_motion(motion: SectionMotion, width: float = 372) -> str:
    """Draw the section, its phantom outlines, and one cycle along its path.

    Parameters
    ----------
    motion : SectionMotion
    width : float
        The width it will be shown at, in pixels.
    """
    rows = _key_rows(motion, width)
    strip = STRIP_TOP + KEY_ROW * (len(rows) - 1)
    drawing, ground = Drawing(width, strip + STRIP_HEIGHT + 30.0, motion.finding), Ground(width)
    outline = Outline.of(motion, CHORD_PART * width)
    place = (AXIS_PART * width, MIDDLE)
    _draw_air(drawing, ground)
    for position in shown_positions(motion, 1.0, 4, width):
        drawing.group(outline.placed(position, "phantom"), _translate(place))
    drawing.line((place[0], 24.0), (place[0], 236.0), "chain")
    drawing.group(_moving(motion, outline, width), _translate(place))
    _draw_cycle(drawing, ground, motion, strip)
    _write_key(drawing, ground, rows)
    if motion.slack > 0.0:
        _draw_slack(drawing, ground, motion, outline, place)
    ground.put(Label(_rate_words(motion), width - 4.0, 18.0, "", "end"))
    write_labels(drawing, ground.labels, plates_below=0.0)
    return drawing.finished("section-in-motion")


@dataclass(frozen=True, slots=True)
class Outline:
    """The section's parts about its axis, in pixels: aft is right."""

    fixed: str
    surface: str | None
    hinge: float
    gravity: float | None
    chord: float

    @classmethod
    def of(cls, motion: SectionMotion, chord: float) -> Outline:
        """Make the outline of a section of a chord [px]."""
        hinge = motion.surface_hinge
        nose = -motion.axis * chord
        gravity = None if motion.centre_of_gravity is None else nose + motion.centre_of_gravity * chord
        if hinge is None:
            return cls(_aerofoil(chord, 0.0, 1.0, nose), None, 0.0, gravity, chord)
        at = nose + hinge * chord
        return cls(
            _aerofoil(chord, 0.0, hinge, nose), _aerofoil(chord, hinge, 1.0, nose - at), at,
            None if gravity is None else gravity - at, chord,
        )  # fmt: skip

    def placed(self, position: Position, classes: str) -> str:
        """Give the outline at one position, as elements."""
        inner = Drawing(0.0, 0.0, "")
        inner.path(self.fixed, classes)
        if self.surface is not None:
            part = Drawing(0.0, 0.0, "")
            part.path(self.surface, classes)
            inner.group("".join(part.elements), f"translate({number(self.hinge)} 0) rotate({number(position.surface)})")
        turned = Drawing(0.0, 0.0, "")
        turned.group(
            "".join(inner.elements), f"translate(0 {number(position.plunge)}) rotate({number(position.pitch)})"
        )
        return "".join(turned.elements)


def _aerofoil(chord: float, start: float, end: float, nose: float) -> str:
    """Draw the part of a symmetrical section between two places of the chord, its own nose rounded.

    The thickness is that of the four-digit family (NACA Report 460, 1933, equation of page 4), closed aft.
    """
    reach = [
        start + (end - start) * (1.0 - math.cos(math.pi * step / SHAPE_POINTS)) / 2.0
        for step in range(SHAPE_POINTS + 1)
    ]
    upper = [(nose + part * chord, -_half_thickness(part) * chord) for part in reach]
    lower = [(x, -y) for x, y in reversed(upper)]
    if start > 0.0:  # the surface's own nose, an arc about its hinge
        radius = upper[0][1]
        arc = [(upper[0][0] + radius * math.sin(angle), radius * math.cos(angle)) for angle in _half_turn()]
        return polyline([*upper, *lower, *reversed(arc)], closed=True)
    return polyline([*upper, *lower], closed=True)


def _half_turn() -> list[float]:
    return [math.pi * step / 8.0 for step in range(1, 8)]


def _half_thickness(part: float) -> float:
    root = math.sqrt(max(part, 0.0))
    series = 0.2969 * root - 0.1260 * part - 0.3516 * part**2 + 0.2843 * part**3 - 0.1036 * part**4
    return THICKNESS / 0.2 * series


def shown_positions(motion: SectionMotion, cycles: float, steps: int, width: float = 372.0) -> list[Position]:
    """Give evenly spaced positions of the steady part of the motion, without its growth.

    The larger of plunge and angles fills its room in the picture; the ratios between them are the computed ones.
    """
    factor = _factor(motion, CHORD_PART * width / motion.chord)
    return [_position(motion, factor, 2.0 * math.pi * cycles * step / steps, width) for step in range(steps)]


def _position(motion: SectionMotion, factor: float, phase: float, width: float) -> Position:
    turn = factor * cmath.exp(1j * phase)
    return Position(
        (motion.plunge * turn).real * CHORD_PART * width / motion.chord,
        math.degrees((motion.pitch * turn).real),
        math.degrees((motion.surface * turn).real),
    )


def _factor(motion: SectionMotion, scale: float) -> float:
    """Scale the motion so that none of its parts leaves its room."""
    filled = max(
        abs(motion.plunge) * scale / MOST_PLUNGE,
        abs(motion.pitch) / MOST_ANGLE,
        abs(motion.surface) / (2.0 * MOST_ANGLE),
    )
    return 1.0 / filled if filled > 0.0 else 0.0


def _moving(motion: SectionMotion, outline: Outline, width: float) -> str:
    """Give the section with its animation; where nothing animates it stands at the first position."""
    positions = _with_growth(motion, width)
    seconds = SECONDS_A_CYCLE * len(positions) / STEPS
    first = positions[0]
    inner = Drawing(0.0, 0.0, "")
    inner.path(outline.fixed, "body")
    if outline.surface is not None:
        part = Drawing(0.0, 0.0, "")
        _animate(part, "rotate", [number(each.surface) for each in positions], seconds)
        part.path(outline.surface, "body")
        _draw_weight(part, motion, outline)
        _draw_gravity(part, outline)
        part.circle((0.0, 0.0), 6.0, "open")
        hinge = Drawing(0.0, 0.0, "")
        hinge.group("".join(part.elements), f"rotate({number(first.surface)})")
        inner.group("".join(hinge.elements), f"translate({number(outline.hinge)} 0)")
    else:
        _draw_weight(inner, motion, outline)
        _draw_gravity(inner, outline)
        inner.circle((0.0, 0.0), 7.0, "open")
    turned = Drawing(0.0, 0.0, "")
    _animate(turned, "rotate", [number(each.pitch) for each in positions], seconds)
    turned.elements += inner.elements
    moved = Drawing(0.0, 0.0, "")
    _animate(moved, "translate", [f"0 {number(each.plunge)}" for each in positions], seconds)
    moved.group("".join(turned.elements), f"rotate({number(first.pitch)})")
    whole = Drawing(0.0, 0.0, "")
    whole.group("".join(moved.elements), f"translate(0 {number(first.plunge)})", "moving")
    return "".join(whole.elements)


def _animate(drawing: Drawing, kind: str, values: Sequence[str], seconds: float) -> None:
    drawing.add(
        "animateTransform", "", attributeName="transform", type=kind, values=";".join([*values, values[0]]),
        dur=f"{number(seconds)}s", repeatCount="indefinite",
    )  # fmt: skip


def _with_growth(motion: SectionMotion, width: float) -> list[Position]:
    """Give the positions of one cycle, or of four with their growth, the largest filling the room."""
    steady = shown_positions(motion, 1.0, STEPS, width)
    in_a_cycle = motion.growth_rate / motion.frequency if motion.frequency > 0.0 else 0.0
    if abs(in_a_cycle) < STEADY:
        return steady
    largest = max(0.0, in_a_cycle * CYCLES)
    return [
        _scaled(steady[step % STEPS], math.exp(in_a_cycle * step / STEPS - largest)) for step in range(STEPS * CYCLES)
    ]


def _scaled(position: Position, factor: float) -> Position:
    return Position(factor * position.plunge, factor * position.pitch, factor * position.surface)


def _draw_weight(drawing: Drawing, motion: SectionMotion, outline: Outline) -> None:
    """Draw the balance weight on its arm ahead of the hinge."""
    if motion.weight_arm <= 0.0:
        return
    x = -motion.weight_arm * outline.chord
    drawing.line((x, 0.0), (0.0, 0.0), "weight")
    _draw_block(drawing, (x, 0.0))


def _draw_block(drawing: Drawing, middle: Point) -> None:
    x, y = middle
    corners = [(x - 9.0, y - 7.0), (x + 9.0, y - 7.0), (x + 9.0, y + 7.0), (x - 9.0, y + 7.0)]
    drawing.path(polyline(corners, closed=True), "steel")


def _draw_gravity(drawing: Drawing, outline: Outline) -> None:
    if outline.gravity is not None:
        _draw_quartered(drawing, (outline.gravity, 0.0))


def _draw_quartered(drawing: Drawing, middle: Point) -> None:
    """Draw the sign of the centre of gravity: a quartered circle."""
    (x, y), r = middle, 8.0
    drawing.circle(middle, r, "open-thin")
    drawing.path(
        f"M{number(x)} {number(y)}V{number(y - r)}A{r} {r} 0 0 1 {number(x + r)} {number(y)}z"
        f"M{number(x)} {number(y)}V{number(y + r)}A{r} {r} 0 0 1 {number(x - r)} {number(y)}z",
        "steel",
    )


def _key_rows(motion: SectionMotion, width: float) -> list[list[tuple[str, Sign, float]]]:
    """Name the signs that move with the section; where a language's words are too long for one row, in two."""
    signs: list[tuple[str, Sign]] = [("hinge line", _draw_ring)]
    signs += [("centre of gravity", _draw_quartered)] if motion.centre_of_gravity is not None else []
    signs += [("balance weight", _draw_block)] if motion.weight_arm > 0.0 else []
    rows: list[list[tuple[str, Sign, float]]] = [[]]
    x = KEY_LEFT
    for words, draw in signs:
        if rows[-1] and x + 13.0 + text_width(words) > width:
            rows.append([])
            x = KEY_LEFT
        rows[-1].append((words, draw, x))
        x += 13.0 + text_width(words) + 26.0
    return rows


def _write_key(drawing: Drawing, ground: Ground, rows: list[list[tuple[str, Sign, float]]]) -> None:
    """Draw each sign under the section, and its name beside it."""
    for index, row in enumerate(rows):
        y = KEY + index * KEY_ROW
        for words, draw, x in row:
            draw(drawing, (x, y - 5.0))
            ground.put(Label(words, x + 13.0, y))


def _draw_ring(drawing: Drawing, place: Point) -> None:
    drawing.circle(place, 7.0, "open")


def _draw_slack(drawing: Drawing, ground: Ground, motion: SectionMotion, outline: Outline, place: Point) -> None:
    """Draw behind the trailing edge how far the surface can be turned freely, so many times larger than it is."""
    middle = (place[0] + outline.hinge, place[1])
    radius = (1.0 - (motion.axis if motion.surface_hinge is None else motion.surface_hinge)) * outline.chord + 12.0
    wide = SLACK_DRAWN * motion.slack

    def at(angle: float, reach: float) -> Point:
        return middle[0] + reach * math.cos(angle), middle[1] + reach * math.sin(angle)

    drawing.path(polyline([at(wide * (step / 8.0 - 1.0), radius) for step in range(17)]), "slack")
    for end in (-wide, wide):
        drawing.line(at(end, radius - 7.0), at(end, radius + 7.0), "slack")
    words = f"free play ±{format_number(math.degrees(motion.slack), 1)}°, drawn {SLACK_DRAWN:.0f} times"
    ground.put(Label(words, ground.width - 4.0, 38.0, "", "end"))


def _draw_air(drawing: Drawing, ground: Ground) -> None:
    ground.put(Label("air", 4.0, 18.0))
    for y in (44.0, 108.0, 172.0):
        drawing.line((4.0, y), (34.0, y), "force")
        drawing.path(arrowhead((46.0, y), (1.0, 0.0), 14.0, 14.0), "force-head")


def _draw_cycle(drawing: Drawing, ground: Ground, motion: SectionMotion, top: float) -> None:
    """Draw five sections along their own path: one cycle, its ends alike."""
    width = ground.width
    positions = [*shown_positions(motion, 1.0, 4, width), shown_positions(motion, 1.0, 4, width)[0]]
    outline = Outline.of(motion, STRIP_CHORD * width)
    left = 0.09 * width
    places = [(left + step * (width - 2.75 * left) / 4.0, top + STRIP_HEIGHT / 2.0) for step in range(5)]
    path = _path_of_axis(motion, width, places)
    drawing.path(polyline(path), "phantom")
    for place, position, words in zip(places, positions, ("0", "¼", "½", "¾", "1 cycle"), strict=True):
        smaller = Position(STRIP_PLUNGE * position.plunge, position.pitch, position.surface)
        drawing.group(outline.placed(smaller, "body-thin"), _translate(place))
        ground.put(Label(words, place[0] + 0.05 * width, top + STRIP_HEIGHT + 20.0, "", "middle"))


def _path_of_axis(motion: SectionMotion, width: float, places: Sequence[Point]) -> list[Point]:
    steps = 32
    positions = shown_positions(motion, 1.0, steps, width)
    run = places[-1][0] - places[0][0]
    heights = [STRIP_PLUNGE * positions[step % steps].plunge for step in range(steps + 1)]
    return [(places[0][0] + run * step / steps, places[0][1] + height) for step, height in enumerate(heights)]


def _rate_words(motion: SectionMotion) -> str:
    if motion.frequency <= 0.0:
        return "no oscillation"
    slowed = SECONDS_A_CYCLE * motion.frequency
    times = f"slowed {format_number(slowed, 0)} times" if slowed >= 1.5 else "at its own pace"
    return f"{format_number(motion.frequency, 1)} Hz, {times}"


def _translate(place: Point) -> str:
    return f"translate({number(place[0])} {number(place[1])})"
