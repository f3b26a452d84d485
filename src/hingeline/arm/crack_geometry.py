"""How hard a crack is driven: stress intensity for a stress, by the place and shape of the crack."""

from __future__ import annotations

import math

from hingeline.errors import InputRefused

WIDEST = 0.55
"""Largest half angle of a through crack over π for which its factor holds."""
THICKEST, THINNEST = 5.0, 20.0
"""Mean radius over wall for which it holds."""


def constant_intensity(factor: float, stress: float, size: float) -> float:
    """Give K = Y S √(π a) [Pa √m].

    Parameters
    ----------
    factor : float
        Y [1]; 1.12 for a small crack at an edge.
    stress : float
        Far from the crack, S [Pa].
    size : float
        a [m].

    Examples
    --------
    >>> round(constant_intensity(1.12, 300e6, 1e-3) / 1e6, 4)
    18.8328
    """
    return factor * stress * math.sqrt(math.pi * size)


def through_crack_factor(mean_radius: float, wall: float, half_angle: float) -> float:
    """Give the factor F_b of a through crack round a tube in bending [1].

    Parameters
    ----------
    mean_radius, wall : float
        [m]
    half_angle : float
        θ, to one side of the most stressed fibre [rad].

    Returns
    -------
    float
        At least 1.

    Raises
    ------
    InputRefused
        The mean radius over the wall is not between 5 and 20, or the crack is longer than ± 0.55 π.

    Notes
    -----
    F_b = 1 + A[4.5967 x^1.5 + 2.6422 x^4.24] with x = θ/π; A = (0.125 R/t - 0.25)^0.25 up to R/t = 10,
    (0.4 R/t - 3)^0.25 beyond. **From memory** of Zahoor, Ductile Fracture Handbook (EPRI): not read again. Its
    companion for tension agrees within 2.2 % at 10 to 30 deg with the shell factor √(1 + 0.3225 a²/(R t)),
    from memory too.

    Examples
    --------
    >>> round(through_crack_factor(9.0805e-3, 0.889e-3, math.radians(30.0)), 4)
    1.3206
    """
    slender, part = mean_radius / wall, half_angle / math.pi
    if not THICKEST <= slender <= THINNEST:
        raise InputRefused.of(
            "crack.geometry", f"tube through, with a mean radius of {slender:.3g} walls",
            f"a mean radius of {THICKEST:g} to {THINNEST:g} walls",
            'The factor does not hold here: use geometry = "constant" with a factor from the design office.',
        )  # fmt: skip
    if not 0.0 <= part <= WIDEST:
        raise InputRefused.of(
            "crack.half_angle", f"{math.degrees(half_angle):.4g} deg", f"an angle from 0 to {180.0 * WIDEST:g} deg",
            "The factor does not hold for a longer crack.",
        )  # fmt: skip
    shell = (0.125 * slender - 0.25) if slender <= 10.0 else (0.4 * slender - 3.0)
    return 1.0 + math.pow(shell, 0.25) * (4.5967 * math.pow(part, 1.5) + 2.6422 * math.pow(part, 4.24))


def through_crack_intensity(stress: float, mean_radius: float, wall: float, half_angle: float) -> float:
    """Give K = S √(π R θ) F_b of a through crack round a tube in bending [Pa √m].

    Parameters
    ----------
    stress : float
        M/(π R² t) [Pa].
    mean_radius, wall : float
        [m]
    half_angle : float
        [rad]

    Examples
    --------
    >>> round(through_crack_intensity(120e6, 9.0805e-3, 0.889e-3, math.radians(10.0)) / 1e6, 4)
    8.9878
    """
    length = math.pi * mean_radius * half_angle
    return stress * math.sqrt(length) * through_crack_factor(mean_radius, wall, half_angle)


def surface_crack_factors(depth: float, half_length: float, thickness: float, place: float) -> tuple[float, float]:
    """Give K/(S √(π a)) of a part-elliptical surface crack in tension and in bending [1].

    Parameters
    ----------
    depth, half_length, thickness : float
        a, c and t [m]; 0 < a/c <= 1, a/t <= 1.
    place : float
        Along the front, φ [rad]: π/2 at the deepest point, 0 at the surface.

    Returns
    -------
    tuple of float
        Tension, bending.

    Notes
    -----
    Newman and Raju, NASA TP-1578 (1979), for a wide plate: f_w = 1. Coefficients **read as coded in four public
    files**, not in the report; f_φ off the two axes, H1 and p **from memory**. Confirmed at the half circle in a
    thick plate: 1.04 and 1.144 over √2.464. In a thin tube that bends, the stress is nearly even through the
    wall: use tension.

    Examples
    --------
    >>> round(surface_crack_factors(0.5e-3, 1.0e-3, 0.889e-3, math.pi / 2)[0], 4)
    1.0565
    """
    aspect, part = depth / half_length, depth / thickness
    sine, cosine = math.sin(place), math.cos(place)
    first, second = 1.13 - 0.09 * aspect, -0.54 + 0.89 / (0.2 + aspect)
    third = 0.5 - 1.0 / (0.65 + aspect) + 14.0 * (1.0 - aspect) ** 24
    surface = 1.0 + (0.1 + 0.35 * part**2) * (1.0 - sine) ** 2
    front = math.pow((aspect * cosine) ** 2 + sine**2, 0.25)
    tension = (first + second * part**2 + third * part**4) * surface * front
    tension /= math.sqrt(1.0 + 1.464 * math.pow(aspect, 1.65))
    return tension, tension * _bending_part(aspect, part, sine)


def _bending_part(aspect: float, part: float, sine: float) -> float:
    """Give H: how much of a bending stress counts at this place of the front."""
    at_surface = 1.0 - 0.34 * part - 0.11 * aspect * part
    linear, square = -1.22 - 0.12 * aspect, 0.55 - 1.05 * math.pow(aspect, 0.75) + 0.47 * math.pow(aspect, 1.5)
    at_depth = 1.0 + linear * part + square * part**2
    inward = math.pow(sine, 0.2 + aspect + 0.6 * part)
    return at_surface + (at_depth - at_surface) * inward
