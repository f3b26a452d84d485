"""The spectrum of a recording with its peak and how wide that is at half its power, as SVG."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hingeline_app.figures.axis import Axis, ticks
from hingeline_app.figures.lettering import Ground, Label, wrapped
from hingeline_app.figures.svg import Drawing, polyline
from hingeline_app.figures.wording import format_number, places_for, with_unit
from hingeline_app.figures.writing import write_labels

__all__ = ["SpectrumPicture", "draw_spectrum"]

LEFT, RIGHT, TOP, HEIGHT, ROW = 44.0, 12.0, 26.0, 150.0, 20.0
LOWEST = -60.0
"""Where the picture ends below [dB]."""


@dataclass(frozen=True, slots=True)
class SpectrumPicture:
    """What is drawn.

    Parameters
    ----------
    pairs : sequence of (float, float)
        Frequency, and power over that of the peak [1].
    peak : float
    half_power : (float, float)
        Where the power has fallen to a half.
    resolution : float
        Two peaks nearer than this are one.
    quantity, unit : str
        What was recorded; of the frequency.
    """

    pairs: Sequence[tuple[float, float]]
    peak: float
    half_power: tuple[float, float]
    resolution: float
    quantity: str
    unit: str


def draw_spectrum(spectrum: SpectrumPicture, width: float) -> str:
    """Draw it.

    Parameters
    ----------
    spectrum : SpectrumPicture
    width : float
        The width it will be shown at, in pixels.
    """
    words = _words(spectrum)
    drawing, ground = Drawing(width, 0.0, " ".join(words)), Ground(width)
    across = Axis(0.0, max((frequency for frequency, _ in spectrum.pairs), default=1.0), LEFT, width - RIGHT)
    _draw_peak(drawing, across, spectrum)
    _draw_scales(drawing, ground, across, spectrum)
    drawing.path(polyline((across.x(frequency), _y(part)) for frequency, part in spectrum.pairs), "thin")
    y = TOP + HEIGHT + 58.0
    for sentence in words:
        for line in wrapped(sentence, width - 24.0):
            ground.put(Label(line, 8.0, y, "" if sentence is words[0] else "quiet"))
            y += ROW
    drawing.height = y - 10.0
    write_labels(drawing, ground.labels, plates_below=0.0)
    return drawing.finished("spectrum")


def _words(spectrum: SpectrumPicture) -> tuple[str, str]:
    low, high = spectrum.half_power
    places = max(0, places_for(max(high - low, 1e-9), 2))
    shown = " … ".join(format_number(each, places) for each in (low, high))
    resolution = with_unit(
        format_number(spectrum.resolution, max(0, places_for(spectrum.resolution, 2))), spectrum.unit
    )
    narrow = high - low < 1.5 * spectrum.resolution
    told = "this peak is hardly wider" if narrow else "this peak is wider"
    return (
        f"Peak at {with_unit(format_number(spectrum.peak, places), spectrum.unit)}; half its power at {shown}.",
        f"A pure tone would show {resolution} wide in a recording of this length; {told}.",
    )


def _y(part: float) -> float:
    """Give the height of a power, held inside the frame."""
    decibels = 10.0 * math.log10(part) if part > 0.0 else LOWEST
    return TOP + HEIGHT * min(1.0, max(0.0, (3.0 - decibels) / (3.0 - LOWEST)))


def _draw_peak(drawing: Drawing, across: Axis, spectrum: SpectrumPicture) -> None:
    left, right = (across.x(end) for end in spectrum.half_power)
    drawing.rectangle(left, TOP, max(right - left, 1.0), HEIGHT, "wash")
    drawing.line((across.x(spectrum.peak), TOP), (across.x(spectrum.peak), TOP + HEIGHT), "chain")


def _draw_scales(drawing: Drawing, ground: Ground, across: Axis, spectrum: SpectrumPicture) -> None:
    bottom = TOP + HEIGHT
    corners = [(across.left, TOP), (across.right, TOP), (across.right, bottom), (across.left, bottom)]
    drawing.path(polyline(corners, closed=True), "thin")
    for decibels in (0, -20, -40, -60):
        y = _y(10.0 ** (decibels / 10.0))
        drawing.line((across.left - 5.0, y), (across.left, y), "axis")
        ground.put(Label(format_number(decibels, 0), across.left - 8.0, y + 5.0, "", "end"))
    values, places = ticks(across, 5)
    for value in values:
        drawing.line((across.x(value), bottom), (across.x(value), bottom + 6.0), "axis")
        ground.put(Label(format_number(value, places) if value else "0", across.x(value), bottom + 22.0, "", "middle"))
    ground.put(Label(f"{spectrum.quantity}: power over the peak's, dB", LEFT + 2.0, TOP - 8.0, "quiet"))
    ground.put(Label(spectrum.unit, across.right, bottom + 40.0, "quiet", "end"))
