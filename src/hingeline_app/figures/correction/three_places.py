"""One surface seen from above, once for each place of a weight: the same static balance, another K/I.

Forward is up, outboard is right, to one scale both ways.
"""

from __future__ import annotations

from dataclasses import dataclass

from hingeline_app.figures.lettering import Ground, Label, text_width
from hingeline_app.figures.svg import Drawing
from hingeline_app.figures.wording import NOT_KNOWN, format_number, format_quantity
from hingeline_app.figures.writing import TO_LEFT, TO_RIGHT, write_labels

MARGIN = 22.0
TALLEST = 170.0  # pixels for the surface and the weight's arm
TITLE = 26.0
BETWEEN = 16.0
BLOCK = (14.0, 10.0)
MOST_PLACES = 6


@dataclass(frozen=True, slots=True)
class PlateShape:
    """A rectangle of the surface: from and to, aft of the hinge line and outboard positive [m]."""

    chordwise: tuple[float, float]
    spanwise: tuple[float, float]


@dataclass(frozen=True, slots=True)
class PlacedWeight:
    """The weight at one place.

    Parameters
    ----------
    name : str
    spanwise : float
        From the flapping or roll axis [m].
    coefficient : float or None
        K/I with the weight there.
    """

    name: str
    spanwise: float
    coefficient: float | None


@dataclass(frozen=True, slots=True)
class ThreePlaces:
    """What the picture is made from.

    Parameters
    ----------
    plates : tuple of PlateShape
    points : tuple of (float, float)
        Aft of the hinge line, and from the axis [m].
    arm : float
        Of the weight, aft positive [m].
    places : tuple of PlacedWeight
    weight_text : str
        The weight as it is to be written.
    """

    plates: tuple[PlateShape, ...]
    points: tuple[tuple[float, float], ...]
    arm: float
    places: tuple[PlacedWeight, ...]
    weight_text: str = ""


@dataclass(frozen=True, slots=True)
class _Frame:
    """How metres become pixels in one row."""

    scale: float
    low: float
    forward: float
    height: float

    def x(self, spanwise: float) -> float:
        return MARGIN + (spanwise - self.low) * self.scale

    def y(self, top: float, aft: float) -> float:
        return top + (aft - self.forward) * self.scale


def draw_three_places(picture: ThreePlaces, width: float = 650) -> str:
    """Draw the surface from above with the weight at each place, as SVG text.

    Parameters
    ----------
    picture : ThreePlaces
        Metres, and K/I.
    width : float
        The width it will be shown at, in pixels: 650 on a tablet and on paper, 348 on a phone.
    """
    places = picture.places[:MOST_PLACES]
    drawing, ground, frame = Drawing(width, 0.0, finding_words(picture)), Ground(width), _frame(picture, width)
    top = 0.0
    for place in places:
        _title(ground, place, top, width)
        _surface(drawing, frame, picture, top + TITLE + BLOCK[1])
        _weight(drawing, frame, picture.arm, place, top + TITLE + BLOCK[1])
        top += TITLE + frame.height + 2.0 * BLOCK[1] + BETWEEN
    drawing.height = _foot(ground, frame, picture, top, width)
    write_labels(drawing, ground.labels)
    return drawing.finished("three-places")


def finding_words(picture: ThreePlaces) -> str:
    """Say what the picture shows, in sentences."""
    found = [f"weight at {place.name}: K/I {_coefficient(place)}" for place in picture.places[:MOST_PLACES]]
    left_out = len(picture.places) - len(found)
    more = f"; and {left_out} more" if left_out else ""
    return f"The surface from above. The same static moment, {'; '.join(found)}{more}."


def _coefficient(place: PlacedWeight) -> str:
    return NOT_KNOWN if place.coefficient is None else format_number(place.coefficient, 2)


def _frame(picture: ThreePlaces, width: float) -> _Frame:
    """Choose one scale both ways, so that everything stands inside."""
    chordwise = [end for plate in picture.plates for end in plate.chordwise]
    spanwise = [end for plate in picture.plates for end in plate.spanwise]
    chordwise += [0.0, picture.arm, *(x for x, _ in picture.points)]
    spanwise += [y for _, y in picture.points] + [place.spanwise for place in picture.places]
    forward, aft, low, high = min(chordwise), max(chordwise), min(spanwise), max(spanwise)
    along, across = (high - low) or (aft - forward) or 1.0, (aft - forward) or 1.0
    scale = min((width - 2.0 * MARGIN) / along, TALLEST / across)
    return _Frame(scale, low, forward, (aft - forward) * scale)


def _title(ground: Ground, place: PlacedWeight, top: float, width: float) -> None:
    """Write the place on the left and K/I on the right of the row."""
    words = f"K/I = {_coefficient(place)}"
    ground.put(Label(words, width - MARGIN, top + 18.0, "measure", "end"))
    room = width - 2.0 * MARGIN - text_width(words, "measure") - 12.0
    name = place.name
    while name and text_width(name, "strong") > room:
        name = name[:-2].rstrip() + "…" if len(name) > 2 else ""
    ground.put(Label(name, MARGIN, top + 18.0, "strong"))


def _surface(drawing: Drawing, frame: _Frame, picture: ThreePlaces, top: float) -> None:
    for plate in picture.plates:
        (front, back), (inner, outer) = plate.chordwise, plate.spanwise
        drawing.rectangle(
            frame.x(inner),
            frame.y(top, front),
            max(1.0, (outer - inner) * frame.scale),
            max(1.0, (back - front) * frame.scale),
            "body",
        )
    for aft, spanwise in picture.points:
        drawing.circle((frame.x(spanwise), frame.y(top, aft)), 3.5, "open-thin")
    y, right = frame.y(top, 0.0), drawing.width - 8.0
    drawing.line((8.0, y), (right, y), "chain")


def _weight(drawing: Drawing, frame: _Frame, arm: float, place: PlacedWeight, top: float) -> None:
    """Draw the weight as a solid block on its arm."""
    x, hinge, y = frame.x(place.spanwise), frame.y(top, 0.0), frame.y(top, arm)
    wide, high = BLOCK
    drawing.line((x, hinge), (x, y), "outline")
    drawing.rectangle(x - wide / 2.0, y - high / 2.0, wide, high, "steel")


def _foot(ground: Ground, frame: _Frame, picture: ThreePlaces, top: float, width: float) -> float:
    """Write what holds for every row, and which way is which."""
    if picture.weight_text:
        ground.put(Label(picture.weight_text, MARGIN, top + 14.0))
        top += 20.0
    inner = f"{TO_LEFT}to the axis {format_quantity(frame.low, 'm', places=2)}"
    ground.put(Label(inner, 6.0, top + 14.0, "quiet"))
    ground.put(Label(f"outboard{TO_RIGHT}", width - 6.0, top + 14.0, "quiet", "end"))
    return top + 22.0
