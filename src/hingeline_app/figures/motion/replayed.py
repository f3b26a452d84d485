"""A few cycles of a recording, slowed, as SVG that animates itself: the film with its marks, the section beside it.

Each step of the picture is a step of the recording: nothing is drawn between. The film is one sheet of pictures
whose window moves. Still, it shows the first step, and phantom outlines a quarter of the way apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hingeline_app.figures.lettering import Ground, Label
from hingeline_app.figures.motion.section_in_motion import Outline, Position, SectionMotion
from hingeline_app.figures.svg import Drawing, arrowhead, number
from hingeline_app.figures.wording import format_number
from hingeline_app.figures.writing import draw_plate, write_labels

__all__ = ["Film", "SectionSteps", "draw_film", "draw_section_steps"]

Place = tuple[float, float] | None
COLUMNS, PHANTOMS = 8, 4
MOST_PLUNGE, MOST_ANGLE, MOST_SURFACE = 46.0, 8.0, 16.0
CHORD_PART, AXIS_PART, MIDDLE, HEIGHT, HINGE = 0.62, 0.40, 118.0, 236.0, 0.72
AWAY = "-9999 0"
"""Where a mark is drawn that was lost: outside."""


@dataclass(frozen=True, slots=True)
class Film:
    """Pictures on one sheet, and the marks in them.

    Parameters
    ----------
    address : str
        Of the sheet.
    size : tuple of float
        Of the video as shown [pixel]; the sheet's pictures have the same shape.
    steps : int
    places : sequence of sequence
        Mark by mark, step by step [pixel of the video]; none where it was lost.
    seconds : float
        One showing.
    finding : str
    """

    address: str
    size: tuple[float, float]
    steps: int
    places: Sequence[Sequence[Place]]
    seconds: float
    finding: str


@dataclass(frozen=True, slots=True)
class SectionSteps:
    """What the section did, step by step.

    Parameters
    ----------
    plunge, pitch, surface : sequence of float
        Down [m], nose up [rad], trailing edge down [rad]; empty where it was not recorded.
    seconds : float
        One showing.
    slowed : float
    known : bool
        How long a second of the file is; else it is told against the file.
    finding : str
    """

    plunge: Sequence[float]
    pitch: Sequence[float]
    surface: Sequence[float]
    seconds: float
    slowed: float
    known: bool
    finding: str


def draw_film(film: Film, width: float) -> str:
    """Draw the film with its marks.

    Parameters
    ----------
    film : Film
    width : float
        [px]
    """
    scale = width / film.size[0]
    height = film.size[1] * scale
    drawing = Drawing(width, height, film.finding)
    rows = -(-film.steps // COLUMNS)
    sheet = Drawing(0.0, 0.0, "")
    offsets = [f"{number(-width * (at % COLUMNS))} {number(-height * (at // COLUMNS))}" for at in range(film.steps)]
    _animate(sheet, "translate", offsets, film.seconds)
    sheet.add("image", "", href=film.address, x=0.0, y=0.0, width=width * COLUMNS, height=height * rows)
    drawing.group("".join(sheet.elements), f"translate({offsets[0]})")
    for index, places in enumerate(film.places, 1):
        _draw_mark(drawing, index, [_scaled(place, scale) for place in places], film.seconds)
    return drawing.finished("film")


def _scaled(place: Place, scale: float) -> str:
    return AWAY if place is None else f"{number(place[0] * scale)} {number(place[1] * scale)}"


def _draw_mark(drawing: Drawing, index: int, offsets: Sequence[str], seconds: float) -> None:
    inner = Drawing(0.0, 0.0, "")
    _animate(inner, "translate", offsets, seconds)
    for kind in ("mark-halo", "mark-ring"):
        inner.circle((0.0, 0.0), 10.0, kind)
        inner.path("M-15 0H15M0 -15V15", kind)
    label = Label(str(index), 13.0, -13.0, "strong")
    draw_plate(inner, label)
    inner.text(label.x, label.y, label.words, label.classes)
    drawing.group("".join(inner.elements), f"translate({offsets[0]})")


def draw_section_steps(steps: SectionSteps, width: float) -> str:
    """Draw the section as it moved; angles and plunge each enlarged to be seen, and by how much is said.

    Parameters
    ----------
    steps : SectionSteps
    width : float
        [px]
    """
    drawing, ground = Drawing(width, HEIGHT + 44.0, steps.finding), Ground(width)
    hinge = HINGE if steps.surface else None
    motion = SectionMotion(1.0, 0.25, 0.0, 0.0, 0.0, 0.0, "", surface_hinge=hinge)
    outline, place = Outline.of(motion, CHORD_PART * width), (AXIS_PART * width, MIDDLE)
    positions, words = _positions(steps)
    for at in range(PHANTOMS):
        shown = positions[at * len(positions) // PHANTOMS]
        drawing.group(outline.placed(shown, "phantom"), f"translate({number(place[0])} {number(place[1])})")
    drawing.line((place[0], 14.0), (place[0], HEIGHT - 14.0), "chain")
    drawing.group(_moving(outline, positions, steps.seconds), f"translate({number(place[0])} {number(place[1])})")
    drawing.line((4.0, 40.0), (34.0, 40.0), "force")
    drawing.path(arrowhead((46.0, 40.0), (1.0, 0.0), 14.0, 14.0), "force-head")
    ground.put(Label("air", 4.0, 18.0), Label(_slowed_words(steps), width - 4.0, 18.0, "", "end"))
    for row, line in enumerate(words):
        ground.put(Label(line, 4.0, HEIGHT + 14.0 + 20.0 * row, "quiet"))
    write_labels(drawing, ground.labels, plates_below=0.0)
    return drawing.finished("section-in-motion")


def _positions(steps: SectionSteps) -> tuple[list[Position], list[str]]:
    """Enlarge plunge and angles, each until its largest is seen well."""
    degrees = [[57.29577951308232 * each for each in angles] for angles in (steps.pitch, steps.surface)]
    plunge, by_plunge = _enlarged(list(steps.plunge), MOST_PLUNGE)
    turned = max(_largest(degrees[0]) / MOST_ANGLE, _largest(degrees[1]) / MOST_SURFACE) or 1.0
    count = max(len(plunge), *map(len, degrees))
    pitch, surface = ([each / turned for each in angles] or [0.0] * count for angles in degrees)
    words = []
    if by_plunge:
        words.append(
            f"plunge: largest {format_number(1000.0 * _largest(steps.plunge), 1)} mm, not to the section's scale"
        )
    if any(degrees):
        words.append(f"angles: drawn {format_number(1.0 / turned, 1)} times")
    plunge = plunge or [0.0] * count
    return [Position(*each) for each in zip(plunge, pitch, surface, strict=True)], words


def _enlarged(values: list[float], most: float) -> tuple[list[float], float]:
    largest = _largest(values)
    factor = most / largest if largest else 0.0
    return [factor * each for each in values], factor


def _largest(values: Sequence[float]) -> float:
    return max(map(abs, values), default=0.0)


def _moving(outline: Outline, positions: Sequence[Position], seconds: float) -> str:
    first = positions[0]
    inner = Drawing(0.0, 0.0, "")
    inner.path(outline.fixed, "body")
    if outline.surface is not None:
        part, hinge = Drawing(0.0, 0.0, ""), Drawing(0.0, 0.0, "")
        _animate(part, "rotate", [number(each.surface) for each in positions], seconds)
        part.path(outline.surface, "body")
        part.circle((0.0, 0.0), 6.0, "open")
        hinge.group("".join(part.elements), f"rotate({number(first.surface)})")
        inner.group("".join(hinge.elements), f"translate({number(outline.hinge)} 0)")
    inner.circle((0.0, 0.0), 7.0, "open")
    turned, moved, whole = Drawing(0.0, 0.0, ""), Drawing(0.0, 0.0, ""), Drawing(0.0, 0.0, "")
    _animate(turned, "rotate", [number(each.pitch) for each in positions], seconds)
    turned.elements += inner.elements
    _animate(moved, "translate", [f"0 {number(each.plunge)}" for each in positions], seconds)
    moved.group("".join(turned.elements), f"rotate({number(first.pitch)})")
    whole.group("".join(moved.elements), f"translate(0 {number(first.plunge)})", "moving")
    return "".join(whole.elements)


def _animate(drawing: Drawing, kind: str, values: Sequence[str], seconds: float) -> None:
    """Let a group step through its positions, as the recording stepped; nothing between."""
    drawing.add(
        "animateTransform", "", attributeName="transform", type=kind, values=";".join(values), calcMode="discrete",
        dur=f"{number(seconds)}s", repeatCount="indefinite",
    )  # fmt: skip


def _slowed_words(steps: SectionSteps) -> str:
    against = "" if steps.known else " against the file"
    if steps.slowed <= 1.05:
        return f"at its own pace{against}"
    return f"slowed {format_number(steps.slowed, 0 if steps.slowed >= 9.5 else 1)} times{against}"
