"""Mass and moment of a coat: one function, one equation.

x is positive aft of the hinge line; a moment is positive where it makes the
surface tail-heavy (trailing edge down).

Sources: a film's mass is area times thickness times density (geometry); coverage
of liquid paint by volume solids and transfer efficiency, and the constant of
1604 square feet a gallon and mil (231 cubic inches spread one thousandth of an
inch thin): coating weight and coverage formulas of paintcenter.org, pages of May
and October 2006, read.
"""

from __future__ import annotations

import math


def film_mass_per_area(film: float, density: float) -> float:
    """Give the mass of a dry film on one face, t ρ [kg/m²].

    Parameters
    ----------
    film : float
        Dry thickness, t [m].
    density : float
        Of the dry film, ρ [kg/m³].

    Notes
    -----
    Geometry. Valid for an even film; the edge and rivet heads carry more (common practice, no source).

    Examples
    --------
    >>> round(film_mass_per_area(60e-6, 1400.0), 6)
    0.084
    """
    return film * density


def wet_mass(wet_volume: float, volume_solids: float, solids_density: float, transfer: float) -> float:
    """Give the dry mass that a wet volume leaves on the surface, V s ρ e [kg].

    Parameters
    ----------
    wet_volume : float
        Paint used up, V [m³].
    volume_solids : float
        Part of it that stays when dry, s [1].
    solids_density : float
        Density of what stays, ρ [kg/m³].
    transfer : float
        Part that reaches the surface, e [1].

    Notes
    -----
    paintcenter.org, May and October 2006 (head of this file): wet volume times volume solids times transfer
    efficiency is the volume of the dry film. Valid for paint whose solvent has left: cured.

    Examples
    --------
    >>> round(wet_mass(0.5e-3, 0.45, 1500.0, 0.65), 6)
    0.219375
    """
    return wet_volume * volume_solids * solids_density * transfer


def coat_moment(mass: float, x: float, local_gravity: float) -> float:
    """Give the static moment of a coat whose centroid lies at x, m g x [N m, tail-heavy positive].

    Examples
    --------
    >>> round(coat_moment(0.1661, 0.060, 9.80665), 5)
    0.09773
    """
    return mass * local_gravity * x


def counts_to_limit(room: float, one: float) -> float:
    """Give how many more coats fill the room to a limit: n = D/a.

    Parameters
    ----------
    room : float
        From the predicted value to the limit, D; negative beyond it [any unit].
    one : float
        What one coat adds toward that limit, a, positive [same unit].

    Returns
    -------
    float
        0 where no room is left [1].
    """
    return room / one if room > 0.0 else 0.0


def counts_to_guarded_limit(
    room: float, one: float, count: float, one_uncertainty: float, other_uncertainty: float, coverage_factor: float
) -> float:
    """Give how many more coats a surface takes until value and U together reach a limit.

    The uncertainty of a coat is common to all coats of the layer, so that it grows with their number:
    D - n a = k √(r² + (c + n)² v²).

    Parameters
    ----------
    room : float
        From the predicted value to the limit, D [any unit].
    one : float
        What one coat adds toward that limit, a, positive [same unit].
    count : float
        Coats that the prediction already holds, c, positive [1].
    one_uncertainty : float
        Standard uncertainty of what one coat adds, v [same unit].
    other_uncertainty : float
        Standard uncertainty of everything else in the prediction, r [same unit].
    coverage_factor : float
        k of the prediction, kept as the coats grow [1].

    Returns
    -------
    float
        n, 0 where no room is left [1].

    Notes
    -----
    The equation squared, A n² - 2 B n + C = 0 with A = a² - k² v², B = D a + k² v² c and
    C = D² - k² (r² + c² v²), has n = C/(B + √(B² - A C)) as the root at which D - n a is not negative.
    Guard band w = U: JCGM 106:2012 8.3.2 (clause from memory). Computed here, no source.

    Examples
    --------
    >>> round(counts_to_guarded_limit(0.4, 0.1, 1.0, 0.01, 0.02, 2.0), 4)
    3.0895
    """
    if room <= coverage_factor * math.hypot(other_uncertainty, count * one_uncertainty):
        return 0.0
    # As parts of the room, so that no square leaves the range of floats.
    one, wide = one / room, coverage_factor * one_uncertainty / room
    held = math.hypot(coverage_factor * other_uncertainty / room, count * wide)
    a = (one - wide) * (one + wide)
    b = one + wide * wide * count
    c = (1.0 - held) * (1.0 + held)
    return c / (b + math.sqrt(max(0.0, b * b - a * c)))
