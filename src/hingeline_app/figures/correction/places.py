"""The places of a correction, to scale along the beam: what is carried, what is added, what comes off.

Aft is right, forward is left. Plates in the colour of force are added, a dashed outline is taken off, an
open one is not used. Letters tie each place to the list below.
"""

from __future__ import annotations

from dataclasses import dataclass
from string import ascii_uppercase

from hingeline_app.figures.beam.frame import HINGE_Y, Frame, draw_hinge, draw_section, draw_tubes, frame_for
from hingeline_app.figures.beam.model import BeamPicture, WeightMark
from hingeline_app.figures.dimensions import LEVEL, Dimension, draw_dimensions
from hingeline_app.figures.lettering import Box, Ground, Label, spread, text_width
from hingeline_app.figures.svg import Drawing, arrowhead
from hingeline_app.figures.wording import format_quantity, shorten
from hingeline_app.figures.writing import write_labels
from hingeline_app.said import say

BALLOON = 11.0
BALLOON_Y = 34.0
HALF_WIDTH, HALF_HEIGHT = 13.0, 18.0
PLATE = 7.0
DIMENSIONS_TOP = 190.0
ARROW = (HINGE_Y + HALF_HEIGHT + PLATE + 5.0, DIMENSIONS_TOP - 22.0)
LINE = 20.0
MOST_LISTED = 20


@dataclass(frozen=True, slots=True)
class PlaceMark:
    """One place.

    Parameters
    ----------
    name : str
    arm : float
        Aft of the hinge line positive [m].
    present : float
        Carried before the change [kg].
    change : float
        Added, or negative taken off, bracket and screws included [kg].
    change_text, after_text : str
        The change, and all that is carried then, as they are to be written; empty where nothing changes.
    """

    name: str
    arm: float
    present: float = 0.0
    change: float = 0.0
    change_text: str = ""
    after_text: str = ""


@dataclass(frozen=True, slots=True)
class PlacesPicture:
    """What the picture is made from.

    Parameters
    ----------
    places : tuple of PlaceMark
    trailing_edge : float, optional
        From the hinge line [m]; without it the outline is guessed and drawn as phantom.
    centre_before, centre_after : float, optional
        Centre of gravity aft of the hinge line [m].
    """

    places: tuple[PlaceMark, ...]
    trailing_edge: float | None = None
    centre_before: float | None = None
    centre_after: float | None = None


def draw_places(picture: PlacesPicture, width: float = 650) -> str:
    """Draw the places of a correction as SVG text.

    Parameters
    ----------
    picture : PlacesPicture
    width : float
        The width it will be shown at, in pixels: 650 on a tablet and on paper, 348 on a phone.
    """
    beam = BeamPicture(
        weights=tuple(WeightMark(place.arm, place.name) for place in picture.places),
        trailing_edge=picture.trailing_edge,
        centre_of_gravity=picture.centre_before,
    )
    frame, ground = frame_for(beam, width), Ground(width)
    drawing = Drawing(width, 0.0, finding_words(picture))
    draw_tubes(drawing, frame, beam)
    draw_section(drawing, frame)
    _draw_centres(drawing, frame, picture)
    changed = [place for place in picture.places if place.change]
    for place in picture.places:
        _draw_place(drawing, ground, frame, place)
    for place in changed:
        _draw_arrow(drawing, ground, frame.x(place.arm), place)
    for place in changed:
        _write_change(ground, frame.x(place.arm), place)
    draw_hinge(drawing, frame)
    _draw_balloons(drawing, ground, frame, picture)
    bottom = _draw_dimensions(drawing, ground, frame, picture)
    drawing.height = _list_places(ground, picture, width, bottom)
    write_labels(drawing, ground.labels, plates_below=DIMENSIONS_TOP - 10.0)
    return drawing.finished("places")


def finding_words(picture: PlacesPicture) -> str:
    """Say what the picture shows, in sentences."""
    found = [f"{letter_of(index)} {_sentence(place)}" for index, place in enumerate(picture.places[:MOST_LISTED])]
    if picture.centre_before is not None and picture.centre_after is not None:
        ends = [_centre(end) for end in (picture.centre_before, picture.centre_after)]
        found.append(f"Centre of gravity {ends[0]} before, {ends[1]} after")
    return f"Side view of the places, to scale along the beam. {'. '.join(found)}."


def letter_of(index: int) -> str:
    """Give the letter of a place; after Z with a number."""
    return ascii_uppercase[index] if index < 26 else f"{ascii_uppercase[index % 26]}{index // 26}"


def _sentence(place: PlaceMark) -> str:
    side = "aft" if place.arm > 0.0 else "forward"
    change = f"{place.change_text}, {place.after_text} then" if place.change_text else "not changed"
    return f"{place.name}, {_millimetres(abs(place.arm))} {side}: {change}"


def _millimetres(length: float) -> str:
    return format_quantity(length * 1e3, "mm", digits=4)


def _centre(length: float) -> str:
    side = "aft" if length > 0.0 else "forward"
    return f"{format_quantity(abs(length) * 1e3, 'mm', places=1)} {side}"


def _draw_place(drawing: Drawing, ground: Ground, frame: Frame, place: PlaceMark) -> None:
    x = frame.x(place.arm)
    left, top = x - HALF_WIDTH, HINGE_Y - HALF_HEIGHT
    if place.present > 0.0:
        emptied = place.change < 0.0 and -place.change >= place.present * 0.999
        drawing.rectangle(left, top, 2 * HALF_WIDTH, 2 * HALF_HEIGHT, "dashed" if emptied else "steel", rx=3.0)
    elif not place.change:
        drawing.rectangle(left + 4.0, top + 4.0, 2 * HALF_WIDTH - 8.0, 2 * HALF_HEIGHT - 8.0, "dashed")
    if place.change > 0.0:
        _draw_plates(drawing, left, place.present > 0.0)
    elif place.change < 0.0 and place.present > 0.0:
        drawing.path(f"M{left:.2f} {top:.2f}l{2 * HALF_WIDTH} {2 * HALF_HEIGHT}", "whisker-halo")
        drawing.path(f"M{left:.2f} {top:.2f}l{2 * HALF_WIDTH} {2 * HALF_HEIGHT}", "outline")
    ground.take(Box(left - 2.0, top - PLATE - 2.0, left + 2 * HALF_WIDTH + 2.0, HINGE_Y + HALF_HEIGHT + PLATE + 2.0))


def _draw_plates(drawing: Drawing, left: float, around: bool) -> None:
    """Draw what is added: plates on the block, or a block of its own where there was none."""
    if around:
        for y in (HINGE_Y - HALF_HEIGHT - PLATE - 1.0, HINGE_Y + HALF_HEIGHT + 1.0):
            drawing.rectangle(left - 2.0, y, 2 * HALF_WIDTH + 4.0, PLATE, "added")
    else:
        drawing.rectangle(left + 2.0, HINGE_Y - HALF_HEIGHT, 2 * HALF_WIDTH - 4.0, 2 * HALF_HEIGHT, "added", rx=2.0)


def _draw_arrow(drawing: Drawing, ground: Ground, x: float, place: PlaceMark) -> None:
    """Draw the weight that is gained downward, or lost upward, under its place."""
    top, tip = ARROW
    start, end = (top, tip) if place.change > 0.0 else (tip, top)
    way = 1.0 if end > start else -1.0
    drawing.line((x, start), (x, end - way * 11.0), "weight")
    drawing.path(arrowhead((x, end), (0.0, way), 13.0, 12.0), "weight-head")
    ground.take(Box(x - 7.0, top, x + 7.0, tip))


def _write_change(ground: Ground, x: float, place: PlaceMark) -> None:
    """Write the change beside its arrow where there is room; the list below has it in any case."""
    tip = ARROW[1]
    ground.place(
        [
            [Label(place.change_text, x + side * 12.0, tip - lift, "measure", "start" if side > 0 else "end")]
            for lift in (2.0, 16.0)
            for side in (1, -1)
        ]
    )


def _draw_balloons(drawing: Drawing, ground: Ground, frame: Frame, picture: PlacesPicture) -> None:
    """Tie each place to its letter; balloons are moved apart, their leaders follow.

    Where there are too many, those of places that do not change go first: the list names all of them.
    """
    most = int((frame.width - 8.0) // (2.0 * BALLOON + 5.0))
    order = sorted(range(len(picture.places)), key=lambda index: (not picture.places[index].change, index))
    shown = sorted(order[:most])
    feet = [frame.x(picture.places[index].arm) for index in shown]
    at = spread(feet, [2.0 * BALLOON] * len(shown), 4.0, frame.width - 4.0, 5.0)
    for index, x, foot in zip(shown, at, feet, strict=True):
        changed = bool(picture.places[index].change)
        drawing.line((x, BALLOON_Y + BALLOON), (foot, HINGE_Y - HALF_HEIGHT - PLATE - 3.0), "thin")
        drawing.circle((x, BALLOON_Y), BALLOON, "steel" if changed else "balloon")
        if changed:
            drawing.circle((x, BALLOON_Y), BALLOON - 2.5, "plate")
        ground.put(Label(letter_of(index), x, BALLOON_Y + 5.5, "strong", "middle"))


def _draw_centres(drawing: Drawing, frame: Frame, picture: PlacesPicture) -> None:
    """Draw the centre of gravity before as an open ring, and after as the quartered circle."""
    y = HINGE_Y
    if picture.centre_before is not None:
        drawing.circle((frame.x(picture.centre_before), y), 9.0, "open-thin")
    if picture.centre_after is not None:
        x = frame.x(picture.centre_after)
        drawing.circle((x, y), 9.0, "open-thin")
        drawing.path(f"M{x:.2f} {y}v-9a9 9 0 0 1 9 9zM{x:.2f} {y}v9a9 9 0 0 1 -9 -9z", "glyph-solid")


def _draw_dimensions(drawing: Drawing, ground: Ground, frame: Frame, picture: PlacesPicture) -> float:
    dimensions = [
        Dimension(frame.x(place.arm), _millimetres(abs(place.arm)), HINGE_Y + HALF_HEIGHT + 4.0, bool(place.change))
        for place in picture.places
        if place.change
    ]
    bottom = draw_dimensions(drawing, ground, frame.hinge_x, DIMENSIONS_TOP, dimensions[:6])
    x = frame.hinge_x
    drawing.line((x, 54.0), (x, HINGE_Y - 8.0), "chain")
    drawing.line((x, HINGE_Y + 9.0), (x, bottom + 8.0), "chain")
    ground.place(
        [
            [Label("hinge line", x + way * 6.0, bottom + lift, "quiet", "start" if way > 0 else "end")]
            for lift in (LEVEL, LEVEL + 8.0)
            for way in (1, -1)
        ]
    )
    _label_directions(ground, frame.width)
    return bottom + LEVEL + 8.0


def _label_directions(ground: Ground, width: float) -> None:
    ground.place([[Label("◂ forward", 6.0, y, "quiet")] for y in (15.0, DIMENSIONS_TOP)], air=8.0)
    ground.place([[Label("aft ▸", width - 6.0, y, "quiet", "end")] for y in (15.0, DIMENSIONS_TOP)], air=8.0)


def _list_places(ground: Ground, picture: PlacesPicture, width: float, top: float) -> float:
    """List the places under the picture: letter, name, arm, what is done, what is carried then."""
    lines = [
        (line, "" if place.change else "quiet")
        for index, place in enumerate(picture.places[:MOST_LISTED])
        for line in _broken(f"{letter_of(index)} {_sentence(place)}", width)
    ]
    left_out = len(picture.places) - MOST_LISTED
    if left_out > 0:
        lines.append((f"and {left_out} more", "quiet"))
    if picture.centre_before is not None and picture.centre_after is not None:
        ends = [_centre(end) for end in (picture.centre_before, picture.centre_after)]
        words = f"centre of gravity {ends[0]} before (ring): {ends[1]} after"
        lines += [(line, "quiet") for line in _broken(words, width)]
    for number, (words, role) in enumerate(lines):
        ground.put(Label(words, 8.0, top + 14.0 + number * LINE, role))
    return top + 10.0 + len(lines) * LINE


def _broken(words: str, width: float) -> list[str]:
    """Break words after their colon where they do not fit in one line, and cut what does not fit even then."""
    if text_width(words) <= width - 16.0:
        return [words]
    first, _, rest = say(words).rpartition(": ")
    return [_cut(line, width) for line in (f"{first}:", f"    {rest}")]


def _cut(words: str, width: float) -> str:
    while text_width(words) > width - 16.0:
        words = shorten(words, len(words) - 1)
    return words
