"""The geometry of the beam picture: one scale along the beam, where things stand, how thick the section is."""

from __future__ import annotations

from dataclasses import dataclass

from hingeline_app.figures.beam.model import BeamPicture
from hingeline_app.figures.svg import Drawing, smooth

NARROW = 500.0
SIDE_MARGIN = 32.0
HINGE_Y = 118.0
GROUND_Y = 202.0
NOSE_PART = 0.126  # of the chord aft of the hinge: how far the invented section reaches ahead of it
BLOCK_HALF_WIDTH = 18.0


@dataclass(frozen=True, slots=True)
class Frame:
    """How metres become pixels in one picture."""

    width: float
    scale: float
    hinge_x: float
    chord: float
    guessed: bool

    @property
    def narrow(self) -> bool:
        """Tell whether this is the picture for a phone: fewer words."""
        return self.width < NARROW

    def x(self, arm: float) -> float:
        """Return where an arm, aft positive [m], stands across the picture."""
        return self.hinge_x + arm * self.scale

    @property
    def half_thickness(self) -> float:
        """Return half the section's thickness at the hinge, in pixels; kept drawable when very slim."""
        return min(31.0, max(11.0, 0.1 * self.chord * self.scale))

    @property
    def nose_x(self) -> float:
        """Return the foremost point of the section."""
        return self.hinge_x - max(13.0, NOSE_PART * self.chord * self.scale)

    @property
    def tail_x(self) -> float:
        """Return the trailing edge."""
        return self.x(self.chord)

    def underside(self, x: float) -> float:
        """Return the height of the section's lower side, or of the tube that reaches beyond it."""
        if x < self.nose_x or x > self.tail_x:
            return HINGE_Y + 5.0
        along = max(0.0, (x - self.hinge_x) / max(1.0, self.tail_x - self.hinge_x))
        return HINGE_Y + max(3.0, self.half_thickness * (1.0 - along) * (1.0 + 0.35 * along))


def frame_for(picture: BeamPicture, width: float) -> Frame:
    """Choose the scale so that everything that acts stands inside the picture."""
    chord = picture.trailing_edge or _guessed_chord(picture)
    arms = [mark.arm for mark in picture.marks] + [picture.centre_of_gravity or 0.0]
    forward = max(NOSE_PART * chord, -min(arms, default=0.0))
    aft = max(chord, max(arms, default=0.0))
    room = width - 2.0 * (SIDE_MARGIN + BLOCK_HALF_WIDTH)
    scale = room / (forward + aft)
    hinge_x = SIDE_MARGIN + BLOCK_HALF_WIDTH + forward * scale
    return Frame(width, scale, hinge_x, chord, picture.trailing_edge is None)


def _guessed_chord(picture: BeamPicture) -> float:
    aft = [mark.arm for mark in picture.marks if mark.arm > 0.0]
    if aft:
        return 1.06 * max(aft)
    forward = [-mark.arm for mark in picture.marks if mark.arm < 0.0]
    return 0.8 * max(forward) if forward else 0.3


def draw_section(drawing: Drawing, frame: Frame) -> None:
    """Draw the surface: nose arc, thickest at the hinge, taper to the trailing edge."""
    h, hinge, nose = frame.half_thickness, frame.hinge_x, frame.nose_x
    chord, edge = frame.tail_x - hinge, 0.055 * frame.half_thickness
    top = [
        (frame.tail_x, HINGE_Y - edge),
        (hinge + 0.55 * chord, HINGE_Y - 0.72 * h),
        (hinge + 0.222 * chord, HINGE_Y - h),
        (hinge, HINGE_Y - h),
        (hinge + 0.59 * (nose - hinge), HINGE_Y - h),
        (nose, HINGE_Y - 0.62 * h),
        (nose, HINGE_Y),
    ]
    below = [(x, 2.0 * HINGE_Y - y) for x, y in reversed(top)]
    drawing.path(smooth([*top, *below[1:]]) + "z", "phantom" if frame.guessed else "body")


def draw_tubes(drawing: Drawing, frame: Frame, picture: BeamPicture) -> None:
    """Draw the tubes that carry whatever lies beyond the section."""
    ends = [frame.x(mark.arm) for mark in picture.marks]
    foremost, aftmost = min(ends, default=frame.hinge_x), max(ends, default=frame.hinge_x)
    if foremost < frame.nose_x:
        drawing.rectangle(foremost, HINGE_Y - 4.6, frame.nose_x + 6.0 - foremost, 9.2, "open-thin")
    if aftmost > frame.tail_x:
        drawing.rectangle(frame.tail_x - 2.0, HINGE_Y - 4.6, aftmost - frame.tail_x + 2.0, 9.2, "open-thin")


def draw_knife_edge(drawing: Drawing, frame: Frame) -> None:
    """Draw the knife edge under the hinge, and the ground."""
    x = frame.hinge_x
    drawing.path(f"M{x:.2f} {HINGE_Y + 9}L{x - 15:.2f} {GROUND_Y}H{x + 15:.2f}z", "knife")
    drawing.line((8.0, GROUND_Y), (frame.width - 8.0, GROUND_Y), "thin")


def draw_hinge(drawing: Drawing, frame: Frame) -> None:
    """Draw the hinge itself: a ring and its centre."""
    drawing.circle((frame.hinge_x, HINGE_Y), 7.0, "open")
    drawing.circle((frame.hinge_x, HINGE_Y), 1.8, "glyph-solid")
