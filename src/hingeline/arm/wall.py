"""What the wall readings say, how deep a loss is in words, and what stripping and painting do to the balance."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hingeline.uncertainty import Measured, from_expanded, rectangular, resolution, type_a
from hingeline.uncertainty.student import normal_cumulative

LIGHT, MODERATE = 0.0254e-3, 0.254e-3
"""Depths up to which corrosion is called light and moderate [m]: 0.001 and 0.010 in (AC 43-4A, from memory)."""
BLEND = 20.0
"""Length over depth of a blended depression: AC 43.13-1B, 6-157 and 6-167, read."""


def wall_thickness(
    readings: Sequence[float], step: float, calibration: tuple[float, float] | None, curvature: float
) -> Measured:
    """Give the wall at one place from the readings of a thickness gauge.

    Parameters
    ----------
    readings : sequence of float
        At that place [m]; of one alone the scatter is not known, and not counted.
    step : float
        Full step of the display [m].
    calibration : tuple of float or None
        U [m] and k of the gauge.
    curvature : float
        Limit of error of a flat gauge on a curved tube [m].

    Returns
    -------
    Measured
        The mean; u² = s²/n + d²/12 + (U/k)² + a²/3 (JCGM 100:2008, 4.2.3, 4.3.3, 4.3.7, F.2.2.1) [m].

    Raises
    ------
    InputRefused
        For no reading, NaN and negative uncertainties.

    Examples
    --------
    >>> gauge = wall_thickness([0.792e-3, 0.801e-3, 0.787e-3, 0.795e-3, 0.789e-3], 1e-5, (2e-5, 2.0), 3e-5)
    >>> round(1e3 * gauge.value, 4), round(1e3 * gauge.standard_uncertainty, 5)
    (0.7928, 0.02036)
    """
    scatter = type_a(readings)
    parts = [scatter.standard_uncertainty or 0.0, resolution(step), rectangular(curvature)]
    if calibration is not None:
        parts.append(from_expanded(*calibration))
    return Measured(scatter.value, math.sqrt(math.fsum(part * part for part in parts)))


def chance_above(limit: float, value: float, normal: float, half_widths: Sequence[float]) -> float:
    """Give the chance that a quantity lies above a limit, for a normal and some rectangular causes of error [1].

    Parameters
    ----------
    limit, value : float
        [any unit]
    normal : float
        Standard uncertainty of all normal causes together, positive [same unit].
    half_widths : sequence of float
        Of the rectangular causes, at most two, positive [same unit].

    Notes
    -----
    The distributions are convolved: where one rectangle is the largest cause, the normal probability is off by
    some hundredths. Each rectangle averages once more the integral of the normal cumulative probability.

    Examples
    --------
    >>> round(chance_above(0.0, 0.0, 1.0, []), 4)
    0.5
    """
    place = (value - limit) / normal
    widths = [width / normal for width in half_widths]
    if not widths:
        return normal_cumulative(place)
    if len(widths) == 1:
        return (_once(place + widths[0]) - _once(place - widths[0])) / (2.0 * widths[0])
    one, other = widths
    corners = ((one + other, 1.0), (one - other, -1.0), (other - one, -1.0), (-one - other, 1.0))
    return sum(sign * _twice(place + corner) for corner, sign in corners) / (4.0 * one * other)


def _density(place: float) -> float:
    return math.exp(-place * place / 2.0) / math.sqrt(2.0 * math.pi)


def _once(place: float) -> float:
    """Integrate the normal cumulative probability once."""
    return place * normal_cumulative(place) + _density(place)


def _twice(place: float) -> float:
    """Integrate it twice."""
    return ((place * place + 1.0) * normal_cumulative(place) + place * _density(place)) / 2.0


def depth_word(depth: float) -> str:
    """Say how deep corrosion is in the trade's words: light, moderate, severe.

    Notes
    -----
    AC 43-4A (from memory; severe above 0.010 in also read second hand). The word says nothing of strength: what
    is moderate can be a third of a thin wall.

    Examples
    --------
    >>> depth_word(0.0001)
    'moderate'
    """
    if depth <= LIGHT:
        return "light"
    return "moderate" if depth <= MODERATE else "severe"


def blend_length(depth: float) -> float:
    """Give the length of a blended depression, 20 times its depth [m]; whether in all or each way: ask."""
    return BLEND * depth


def film_mass(outer_diameter: float, length: float, film: float, density: float) -> float:
    """Give the mass of a dry coat on the outside of the tube, π D L t ρ [kg]; its moment acts at half the length."""
    return math.pi * outer_diameter * length * film * density


def ground_mass(outer_diameter: float, length: float, depth: float, density: float) -> float:
    """Give the mass of metal ground off all round, π(D - x) x L ρ [kg]; its moment acts at half the length.

    Examples
    --------
    >>> round(1e3 * ground_mass(19.05e-3, 0.260, 0.15e-3, 7833.0), 3)
    18.139
    """
    return math.pi * (outer_diameter - depth) * depth * length * density
