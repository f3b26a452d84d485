"""What acts on the beam, drawn where it acts, and the places where its words may stand."""

from __future__ import annotations

from collections.abc import Sequence

from hingeline_app.figures.beam.frame import BLOCK_HALF_WIDTH, GROUND_Y, HINGE_Y, Frame
from hingeline_app.figures.beam.model import BeamPicture, HungMass, LoosePart, SupportMark, WeightMark
from hingeline_app.figures.lettering import Box, Ground, Label, spread, text_width
from hingeline_app.figures.svg import Drawing, arrowhead, polyline
from hingeline_app.figures.wording import shorten
from hingeline_app.said import say

BOX_HEIGHT = 24.0
BOX_TOP = GROUND_Y - BOX_HEIGHT
CUP_BOTTOM = BOX_TOP - 8.0
LONGEST_WORDS = 28


def draw_supports(
    drawing: Drawing, ground: Ground, frame: Frame, picture: BeamPicture, words_of: Sequence[str]
) -> bool:
    """Draw every support: post or hook, box with its reading, force arrow. Tell whether all words fitted."""
    contacts = [frame.x(support.arm) for support in picture.supports]
    widths = [_box_width(words) for words in words_of]
    boxes = spread(contacts, widths, 6.0, frame.width - 6.0, 6.0)
    fitted = sum(widths) + 6.0 * len(widths) <= frame.width - 12.0
    for support, contact, box_x, box_width, words in zip(
        picture.supports, contacts, boxes, widths, words_of, strict=True
    ):
        _draw_post(drawing, frame, support, contact, (box_x, box_width))
        drawing.rectangle(box_x - box_width / 2, BOX_TOP, box_width, BOX_HEIGHT, "open")
        if words:
            ground.put(Label(words, box_x, GROUND_Y - 6.0, "measure", "middle"))
        ground.take(Box(box_x - box_width / 2, BOX_TOP, box_x + box_width / 2, GROUND_Y))
    lengths = [_arrow_length(support, picture.full_force) for support in picture.supports]
    for support, contact, length in zip(picture.supports, contacts, lengths, strict=True):
        _draw_force(drawing, ground, frame, support, contact, length)
    return fitted


def _box_width(words: str) -> float:
    """Return how wide a scale's box is: roomy for a reading, tight for a number, a mere foot without words."""
    if len(words) > 2:
        return text_width(words, "measure") + 18.0
    return 26.0 if words else 8.0


def label_forces(ground: Ground, frame: Frame, picture: BeamPicture) -> bool:
    """Write the force of each support beside its arrow. Tell whether all found room."""
    return all([_label_force(ground, frame, support, picture.full_force) for support in picture.supports])


def _label_force(ground: Ground, frame: Frame, support: SupportMark, full: float | None) -> bool:
    x, length = frame.x(support.arm), _arrow_length(support, full)
    up = support.pushes == "up"
    words = "" if frame.narrow else ("scale pushes up" if up else "hook pulls down")
    heights = [HINGE_Y - length + 8.0, HINGE_Y - 50.0] if up else [frame.underside(x) + 22.0, HINGE_Y - 40.0]
    options = [
        _force_words(
            x + side * 12.0, y - 8.0 * (len(lines) > 1), "start" if side > 0 else "end", support.force_text, lines
        )
        for lines in ((say(words),), _in_two_lines(say(words)), ())
        for y in heights
        for side in ((-1, 1) if support.arm > 0.0 else (1, -1))
    ]
    return ground.place(options)


def _in_two_lines(words: str) -> tuple[str, ...]:
    """Break words at the space nearest their middle: other languages are longer than the room beside an arrow."""
    spaces = [index for index, sign in enumerate(words) if sign == " "]
    middle = min(spaces, key=lambda index: abs(index - len(words) / 2), default=len(words))
    return tuple(filter(None, (words[:middle], words[middle + 1 :])))


def _force_words(x: float, y: float, anchor: str, force: str, lines: tuple[str, ...]) -> list[Label]:
    value = Label(force, x, y, "measure", anchor, "force-text")
    below = [Label(line, x, y + 18.0 + 15.0 * index, "quiet", anchor) for index, line in enumerate(lines) if line]
    return [value, *below]


def _arrow_length(support: SupportMark, full: float | None) -> float:
    longest = 80.0 if support.pushes == "up" else 48.0
    share = support.force / full if full else 0.8
    return max(30.0, min(longest, 44.0 + 30.0 * share))


def _draw_post(drawing: Drawing, frame: Frame, support: SupportMark, contact: float, box: tuple[float, float]) -> None:
    (box_x, box_width), top = box, frame.underside(contact)
    if support.pushes == "down":
        drawing.path(polyline([(contact, top), (contact, BOX_TOP - 12.0), (box_x, BOX_TOP)]), "outline")
        drawing.circle((contact, top + 3.0), 4.0, "open-thin")
        return
    drawing.path(polyline([(contact, top), (contact, BOX_TOP - 9.0), (box_x, BOX_TOP - 5.0), (box_x, BOX_TOP)]), "post")
    drawing.rectangle(box_x - 0.32 * box_width, BOX_TOP - 6.0, 0.64 * box_width, 6.0, "steel")


def _draw_force(drawing: Drawing, ground: Ground, frame: Frame, support: SupportMark, x: float, length: float) -> None:
    up = support.pushes == "up"
    start = HINGE_Y if up else frame.underside(x) + 2.0
    tip = start - length if up else start + length
    inner = tip + 13.0 if up else tip - 13.0
    drawing.line((x, start), (x, inner), "force")
    drawing.path(arrowhead((x, tip), (0.0, tip - start), 15.0, 14.0), "force-head")
    ground.take(Box(x - 8.0, min(start, tip), x + 8.0, max(start, tip)), Box(x - 5.0, HINGE_Y, x + 5.0, BOX_TOP))


def draw_hung(drawing: Drawing, ground: Ground, frame: Frame, mass: HungMass) -> None:
    """Draw a cup that hangs from the surface."""
    x, top = frame.x(mass.arm), frame.underside(frame.x(mass.arm))
    bottom = CUP_BOTTOM
    drawing.line((x, top), (x, bottom - 22.0), "thin")
    drawing.path(
        polyline([(x - 11, bottom - 22), (x + 11, bottom - 22), (x + 8, bottom), (x - 8, bottom)], True),
        "steel",
    )
    ground.take(Box(x - 12.0, top, x + 12.0, bottom))


def label_hung(ground: Ground, frame: Frame, mass: HungMass, words: str) -> bool:
    """Write a hung mass beside its cup."""
    x = frame.x(mass.arm)
    sides = (-1, 1) if mass.arm < 0.0 else (1, -1)
    return ground.place(
        [
            [Label(words, x + side * 17.0, CUP_BOTTOM - 5.0 - lift, "measure", "start" if side > 0 else "end")]
            for lift in (0.0, 20.0)
            for side in sides
        ]
    )


def draw_weight(drawing: Drawing, ground: Ground, frame: Frame, weight: WeightMark) -> None:
    """Draw a balance weight as a solid block at its arm."""
    x = frame.x(weight.arm)
    outside = x < frame.nose_x or x > frame.tail_x
    half_height = 23.0 if outside else min(16.0, 0.6 * frame.half_thickness)
    half_width = BLOCK_HALF_WIDTH if outside else 11.0
    drawing.rectangle(x - half_width, HINGE_Y - half_height, 2 * half_width, 2 * half_height, "steel", rx=4.0)
    ground.take(Box(x - half_width, HINGE_Y - half_height, x + half_width, HINGE_Y + half_height))


def draw_part(drawing: Drawing, ground: Ground, frame: Frame, part: LoosePart) -> None:
    """Draw a part that was off (dashed) or must not count (crossed)."""
    x = frame.x(part.arm)
    drawing.rectangle(x - 7.0, HINGE_Y - 7.0, 14.0, 14.0, "open-thin" if part.fitted else "dashed")
    if part.fitted:
        drawing.path(f"M{x - 7:.2f} {HINGE_Y - 7}l14 14m0 -14l-14 14", "thin")
    ground.take(Box(x - 8.0, HINGE_Y - 8.0, x + 8.0, HINGE_Y + 8.0))


def label_above(drawing: Drawing, ground: Ground, frame: Frame, arm: float, words: str, *, leader: bool = True) -> bool:
    """Write the words of a weight or a part above it, else below, with a thin leader where it stands inside."""
    x = frame.x(arm)
    inside = frame.nose_x < x < frame.tail_x
    reach = (frame.half_thickness if inside else 23.0) + 8.0
    for y in (HINGE_Y - reach, HINGE_Y - reach - 18.0, HINGE_Y + reach + 12.0, HINGE_Y - reach - 36.0):
        line = _leader(x, y) if inside and leader else None
        if line is not None and any(line.meets(label.box) for label in ground.labels):
            continue
        if ground.place(_places_at(x, y, shorten(words, LONGEST_WORDS), frame.width)):
            if line is not None:
                drawing.line((x, line.top), (x, line.bottom), "thin")
                ground.take(line)
            return True
    return False


def _leader(x: float, y: float) -> Box:
    """Return the ground of the thin line from a part to its words."""
    return (
        Box(x - 1.0, y + 4.0, x + 1.0, HINGE_Y - 8.0) if y < HINGE_Y else Box(x - 1.0, HINGE_Y + 8.0, x + 1.0, y - 13.0)
    )


def _places_at(x: float, y: float, words: str, width: float) -> list[list[Label]]:
    anchors: tuple[tuple[float, str], ...] = (
        (x - 18.0, "start"),
        (x, "middle"),
        (x + 18.0, "end"),
        (x, "start"),
        (x, "end"),
    )
    if y > HINGE_Y:
        # Under the mark its extension line runs down: words beside it first.
        anchors = ((x + 6.0, "start"), (x - 6.0, "end"), *anchors)
    return [[Label(words, max(6.0, min(width - 6.0, at)), y, "quiet", anchor)] for at, anchor in anchors]


def draw_centre_of_gravity(drawing: Drawing, ground: Ground, frame: Frame, picture: BeamPicture) -> bool:
    """Draw the quartered circle, the weight arrow and the mass. Without a known place there is nothing to draw."""
    if picture.centre_of_gravity is None:
        return True
    x = frame.x(picture.centre_of_gravity)
    y = HINGE_Y if abs(x - frame.hinge_x) > 17.0 else HINGE_Y - 18.0
    drawing.circle((x, y), 9.0, "open-thin")
    quarters = f"M{x:.2f} {y}v-9a9 9 0 0 1 9 9zM{x:.2f} {y}v9a9 9 0 0 1 -9 -9z"
    drawing.path(quarters, "glyph-solid")
    tip = GROUND_Y - 14.0
    drawing.line((x, y + 14.0), (x, tip - 12.0), "weight")
    drawing.path(arrowhead((x, tip), (0.0, 1.0), 15.0, 14.0), "weight-head")
    ground.take(Box(x - 10.0, y - 10.0, x + 10.0, tip))
    if not picture.mass_text:
        return True
    sides = (1, -1) if picture.centre_of_gravity >= 0.0 else (-1, 1)
    return ground.place(
        [
            [Label(picture.mass_text, x + side * 13.0, tip - lift, "measure", "start" if side > 0 else "end")]
            for lift in (12.0, 30.0)
            for side in sides
        ]
    )
