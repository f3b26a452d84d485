"""The first picture of a video with the marks that were followed: ring, cross and number over each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hingeline_app.figures.lettering import Label
from hingeline_app.figures.svg import Drawing
from hingeline_app.figures.writing import draw_plate


@dataclass(frozen=True, slots=True)
class SeenMark:
    """A mark where it was first seen.

    Parameters
    ----------
    name : str
    x, y : float
        [pixel of the video]
    lost : float
        Part of the pictures in which it was not found.
    """

    name: str
    x: float
    y: float
    lost: float


def draw_followed_marks(address: str, size: tuple[float, float], marks: Sequence[SeenMark], width: float) -> str:
    """Draw them over the picture.

    Parameters
    ----------
    address : str
        Of the picture.
    size : tuple of float
        Of the video, as shown [pixel].
    marks : sequence of SeenMark
    width : float
        [px]
    """
    scale = width / size[0]
    names = ", ".join(f"{number} {mark.name}" for number, mark in enumerate(marks, 1))
    drawing = Drawing(width, size[1] * scale, f"First picture with the marks: {names}")
    drawing.add("image", "", href=address, x=0.0, y=0.0, width=width, height=size[1] * scale)
    for number, mark in enumerate(marks, 1):
        x, y = mark.x * scale, mark.y * scale
        for kind in ("mark-halo", "mark-ring"):
            drawing.circle((x, y), 10.0, kind)
            drawing.path(f"M{x - 15:.1f} {y:.1f}H{x + 15:.1f}M{x:.1f} {y - 15:.1f}V{y + 15:.1f}", kind)
        label = Label(str(number), min(x + 13.0, width - 12.0), max(16.0, y - 13.0), "strong")
        draw_plate(drawing, label)
        drawing.text(label.x, label.y, label.words, label.classes)
    return drawing.finished("followed-marks")
