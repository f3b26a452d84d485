"""The beam in words: for those who do not see it, and as a numbered list where words found no room."""

from __future__ import annotations

from hingeline_app.figures.beam.frame import GROUND_Y, HINGE_Y, Frame
from hingeline_app.figures.beam.model import BeamPicture, HungMass, LoosePart, Mark, SupportMark, WeightMark
from hingeline_app.figures.lettering import Ground, Label, wrapped
from hingeline_app.figures.wording import capitalised, format_quantity

LINE = 20.0


def finding_words(picture: BeamPicture) -> str:
    """Say what the picture shows, in sentences."""
    sentences = ["Side view, to scale along the beam"]
    sentences += [_sentence(mark) for mark in picture.marks[:20]]
    if picture.centre_of_gravity is not None:
        away = f"{abs(picture.centre_of_gravity) * 1e3:.1f}\u00a0mm"
        aft = picture.centre_of_gravity >= 0.0
        place = f"{away} aft of the hinge line" if aft else f"{away} forward of the hinge line"
        sentences.append(f"centre of gravity {place}")
    if picture.moment is not None:
        sentences.append(f"static moment {picture.moment_text}")
    if picture.statement:
        sentences.append(f"statement: {picture.statement}")
    return ". ".join(map(capitalised, sentences)) + "."


def _sentence(mark: Mark) -> str:
    arm = mark.arm_text or format_quantity(abs(mark.arm) * 1e3, "mm")
    place = f"{arm} aft of the hinge line" if mark.arm > 0.0 else f"{arm} forward of the hinge line"
    match mark:
        case SupportMark(pushes="up"):
            return f"scale pushes up {mark.force_text} at {place}, shows {mark.reading_text}"
        case SupportMark():
            return f"hook pulls down {mark.force_text} at {place}, shows {mark.reading_text}"
        case HungMass():
            return f"hung mass {mark.text} at {place}"
        case WeightMark():
            return f"balance {mark.text} at {place}"
        case LoosePart():
            return f"{mark.text} at {place}"


def draw_numbers(ground: Ground, frame: Frame, picture: BeamPicture, most: int) -> None:
    """Write the number of each mark beside it; the boxes of supports carry theirs already."""
    start = len(picture.supports)
    for index, mark in enumerate(picture.marks[start:most], start + 1):
        x, y = frame.x(mark.arm), GROUND_Y - 37.0 if isinstance(mark, HungMass) else HINGE_Y - 34.0
        places = [(x + 17.0, y), (x - 24.0, y), (x - 4.0, y - 4.0), (x - 4.0, y - 20.0), (x + 12.0, y + 18.0)]
        ground.place([[Label(str(index), *place, "measure")] for place in places])


def draw_legend(ground: Ground, picture: BeamPicture, width: float, top: float, most: int) -> float:
    """Write the numbered list below the picture; return the height of the whole."""
    y = top + 14.0
    for index, mark in enumerate(picture.marks[:most], 1):
        for line_number, line in enumerate(wrapped(_sentence(mark), width - 36.0)):
            if line_number == 0:
                ground.put(Label(str(index), 8.0, y, "measure"))
            ground.put(Label(line, 30.0, y, ""))
            y += LINE
    left_over = len(picture.marks) - most
    if left_over > 0:
        ground.put(Label(f"and {left_over} more: see the table", 30.0, y))
        y += LINE
    return y - LINE + 8.0
