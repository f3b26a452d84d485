"""The beam: a side view of a weighing, to scale along the beam, that shows what acts where.

Aft is right, forward is left, tail-heavy turns clockwise. Where the words do not fit beside what
they name, everything is numbered and the words stand in a list below.
"""

from __future__ import annotations

from hingeline_app.figures.beam.frame import (
    GROUND_Y,
    HINGE_Y,
    Frame,
    draw_hinge,
    draw_knife_edge,
    draw_section,
    draw_tubes,
    frame_for,
)
from hingeline_app.figures.beam.legend import draw_legend, draw_numbers, finding_words
from hingeline_app.figures.beam.marks import (
    CUP_BOTTOM,
    draw_centre_of_gravity,
    draw_hung,
    draw_part,
    draw_supports,
    draw_weight,
    label_above,
    label_forces,
    label_hung,
)
from hingeline_app.figures.beam.model import BeamPicture, HungMass, LoosePart, Mark, SupportMark, WeightMark
from hingeline_app.figures.dimensions import LEVEL, Dimension, draw_dimensions
from hingeline_app.figures.lettering import Box, Ground, Label, text_width
from hingeline_app.figures.style import status_class
from hingeline_app.figures.svg import Drawing, arrowhead, number
from hingeline_app.figures.wording import format_quantity
from hingeline_app.figures.writing import write_labels

__all__ = ["BeamPicture", "HungMass", "LoosePart", "SupportMark", "WeightMark", "draw_beam"]

GUESSED = "outline guessed"
MOST_NUMBERED = 10
MOST_DIMENSIONS_A_SIDE = 4


def draw_beam(picture: BeamPicture, width: float = 650) -> str:
    """Draw a weighing as SVG text.

    Parameters
    ----------
    picture : BeamPicture
        What acts, in metres and newtons, with the words to write.
    width : float
        The width it will be shown at, in pixels: 650 on a tablet and on paper, 348 on a phone.
    """
    plain, fitted = _attempt(picture, width, numbered=False)
    return plain if fitted else _attempt(picture, width, numbered=True)[0]


def _attempt(picture: BeamPicture, width: float, *, numbered: bool) -> tuple[str, bool]:
    """Draw once; tell whether every word found room."""
    frame, ground = frame_for(picture, width), Ground(width)
    drawing = Drawing(width, 0.0, finding_words(picture))
    draw_tubes(drawing, frame, picture)
    draw_section(drawing, frame)
    boxes = [support.reading_text for support in picture.supports]
    if numbered:
        boxes = [str(number) if number <= MOST_NUMBERED else "" for number in range(1, len(boxes) + 1)]
    ground.take(Box(frame.hinge_x - 15.0, HINGE_Y + 40.0, frame.hinge_x + 15.0, GROUND_Y))
    fitted = [_draw_marks(drawing, ground, frame, picture, boxes)]
    _draw_moment(drawing, ground, frame, picture)
    fitted.append(draw_centre_of_gravity(drawing, ground, frame, picture))
    if frame.guessed and picture.marks:
        label_above(drawing, ground, frame, 0.6 * frame.chord, GUESSED, leader=False)
    if numbered:
        draw_numbers(ground, frame, picture, MOST_NUMBERED)
    else:
        fitted.append(_label_marks(drawing, ground, frame, picture))
    _label_directions(ground, width)
    bottom = _draw_dimensions(drawing, ground, frame, picture)
    bottom = _finish_hinge_line(drawing, ground, frame, bottom)
    drawing.height = draw_legend(ground, picture, width, bottom, MOST_NUMBERED) if numbered else bottom
    write_labels(drawing, ground.labels, plates_below=GROUND_Y)
    return drawing.finished("beam"), all(fitted) and len(picture.marks) <= MOST_NUMBERED


def _draw_marks(drawing: Drawing, ground: Ground, frame: Frame, picture: BeamPicture, boxes: list[str]) -> bool:
    for mass in picture.hung:
        draw_hung(drawing, ground, frame, mass)
    for weight in picture.weights:
        draw_weight(drawing, ground, frame, weight)
    draw_knife_edge(drawing, frame)
    fitted = draw_supports(drawing, ground, frame, picture, boxes)
    draw_hinge(drawing, frame)
    for part in picture.parts:
        draw_part(drawing, ground, frame, part)
    return fitted


def _label_marks(drawing: Drawing, ground: Ground, frame: Frame, picture: BeamPicture) -> bool:
    fitted = [label_forces(ground, frame, picture)]
    fitted += [label_hung(ground, frame, mass, mass.text) for mass in picture.hung]
    fitted += [label_above(drawing, ground, frame, mark.arm, mark.text) for mark in picture.weights]
    fitted += [label_above(drawing, ground, frame, mark.arm, mark.text) for mark in picture.parts]
    return all(fitted)


def _draw_moment(drawing: Drawing, ground: Ground, frame: Frame, picture: BeamPicture) -> None:
    """Draw the arc over the hinge and write the moment beside it, on the side it turns toward."""
    if picture.moment is None:
        return
    colour, x = status_class(picture.statement), frame.hinge_x
    turn = 1.0 if picture.moment > 0.0 else -1.0
    if picture.moment != 0.0:
        _draw_arc(drawing, frame, turn, colour)
    radius = _arc_radius(frame)
    ground.take(Box(x - radius, HINGE_Y - radius - 3.0, x + radius, HINGE_Y - 0.5 * radius))
    extent = text_width(picture.moment_text, "headline")
    wished = x + 20.0 if turn > 0.0 else x - 20.0 - extent
    left = max(6.0, min(frame.width - 6.0 - extent, wished))
    ground.put(Label(picture.moment_text, left, 24.0, "headline", "start", colour))


def _arc_radius(frame: Frame) -> float:
    return 46.0 if frame.narrow else 58.0


def _draw_arc(drawing: Drawing, frame: Frame, turn: float, colour: str) -> None:
    radius, x = _arc_radius(frame), frame.hinge_x
    start = (x - turn * 0.67 * radius, HINGE_Y - 0.742 * radius)
    end = (x + turn * 0.80 * radius, HINGE_Y - 0.6 * radius)
    sweep = 1 if turn > 0.0 else 0
    near = (x + turn * 0.66 * radius, HINGE_Y - 0.751 * radius)
    drawing.path(
        f"M{number(start[0])} {number(start[1])}A{number(radius)} {number(radius)} 0 0 {sweep} "
        f"{number(near[0])} {number(near[1])}",
        f"moment {colour}",
    )
    drawing.path(arrowhead(end, (end[0] - near[0], end[1] - near[1]), 15.0, 14.0), f"moment-head {colour}")


def _label_directions(ground: Ground, width: float) -> None:
    heights = (20.0, GROUND_Y - 8.0, 46.0)
    ground.place([[Label("◂ forward", 6.0, y, "quiet")] for y in heights], air=8.0)
    ground.place([[Label("aft ▸", width - 6.0, y, "quiet", "end")] for y in heights], air=8.0)


def _draw_dimensions(drawing: Drawing, ground: Ground, frame: Frame, picture: BeamPicture) -> float:
    known = picture.centre_of_gravity is not None
    dimensions = _arm_dimensions(frame, picture, 1 if known else 0)
    if picture.centre_of_gravity is not None:
        words = f"{abs(picture.centre_of_gravity) * 1e3:.1f}\u00a0mm" + ("" if frame.narrow else "  centre of gravity")
        dimensions.append(Dimension(frame.x(picture.centre_of_gravity), words, GROUND_Y - 10.0))
    return draw_dimensions(drawing, ground, frame.hinge_x, GROUND_Y + 22.0, dimensions)


def _arm_dimensions(frame: Frame, picture: BeamPicture, level: int) -> list[Dimension]:
    """Return one dimension for each different arm; the list below names those that find no room."""
    dimensions: dict[tuple[bool, str], Dimension] = {}
    for mark in picture.marks:
        x, words = frame.x(mark.arm), _arm_words(mark)
        aft = mark.arm > 0.0
        if (aft, words) in dimensions or sum(side == aft for side, _ in dimensions) >= MOST_DIMENSIONS_A_SIDE:
            continue
        dimensions[aft, words] = Dimension(x, words, _below(mark), isinstance(mark, SupportMark), level)
    return list(dimensions.values())


def _below(mark: Mark) -> float:
    """Return the height at which the extension line of a mark begins."""
    match mark:
        case SupportMark():
            return GROUND_Y + 3.0
        case HungMass():
            return CUP_BOTTOM + 3.0
        case WeightMark():
            return HINGE_Y + 28.0
        case LoosePart():
            return HINGE_Y + 10.0


def _arm_words(mark: Mark) -> str:
    return mark.arm_text or format_quantity(abs(mark.arm) * 1e3, "mm", digits=4)


def _finish_hinge_line(drawing: Drawing, ground: Ground, frame: Frame, bottom: float) -> float:
    """Draw the chain line through the hinge down past the dimensions, and name it."""
    x, end = frame.hinge_x, bottom + 8.0
    drawing.line((x, 34.0), (x, HINGE_Y - 8.0), "chain")
    drawing.line((x, HINGE_Y + 9.0), (x, end), "chain")
    label = Label("hinge line", x + 6.0, bottom + LEVEL, "quiet")
    if not ground.is_free(label):
        label = Label("hinge line", x - 6.0, bottom + LEVEL, "quiet", "end")
    ground.put(label)
    return bottom + LEVEL + 6.0
