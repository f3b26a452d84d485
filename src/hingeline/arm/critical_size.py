"""How large a crack may be before the limit load breaks the arm: by fracture and by plastic collapse."""

from __future__ import annotations

import math
from collections.abc import Callable

from hingeline.arm.crack_geometry import WIDEST, through_crack_intensity

_HALVINGS = 200


def constant_fracture_size(toughness: float, factor: float, stress: float) -> float:
    """Give the size at which K reaches the toughness, (K_c/(Y S))²/π [m].

    Parameters
    ----------
    toughness : float
        [Pa √m]
    factor : float
        Y [1].
    stress : float
        Largest, the limit load's [Pa].

    Examples
    --------
    >>> round(1e3 * constant_fracture_size(50e6, 1.0, 300e6), 4)
    8.8419
    """
    return (toughness / (factor * stress)) ** 2 / math.pi


def through_fracture_angle(toughness: float, stress: float, mean_radius: float, wall: float) -> float | None:
    """Give the half angle at which a through crack reaches the toughness [rad].

    Returns
    -------
    float or None
        None where it does not within the range in which the factor holds.

    Examples
    --------
    >>> round(math.degrees(through_fracture_angle(75e6, 300e6, 9.0805e-3, 0.889e-3)), 3)
    46.977
    """
    widest = WIDEST * math.pi

    def short_of(angle: float) -> float:
        return toughness - through_crack_intensity(stress, mean_radius, wall, angle)

    return None if short_of(widest) > 0.0 else falling_root(short_of, 0.0, widest)


def collapse_moment_ratio(half_angle: float) -> float:
    """Give the plastic moment of a thin ring with a through crack over that of the whole one [1].

    Parameters
    ----------
    half_angle : float
        θ [rad].

    Notes
    -----
    cos(θ/2) - sin(θ)/2, exact for a thin ring; the plastic moment of the cracked ring summed up agrees.

    Examples
    --------
    >>> round(collapse_moment_ratio(math.radians(30.0)), 4)
    0.7159
    """
    return math.cos(half_angle / 2.0) - math.sin(half_angle) / 2.0


def through_collapse_angle(stress: float, flow_stress: float) -> float:
    """Give the half angle at which the ring collapses under M/(π R² t) = (4/π) σ_f [cos(θ/2) - sin(θ)/2] [rad].

    Returns
    -------
    float
        0 where the whole ring collapses already.

    Examples
    --------
    >>> round(math.degrees(through_collapse_angle(300e6, 550e6)), 3)
    60.53
    """
    needed = math.pi * stress / (4.0 * flow_stress)
    if needed >= 1.0:
        return 0.0
    return falling_root(lambda angle: collapse_moment_ratio(angle) - needed, 0.0, math.pi)


def bar_collapse_depth(stress: float, flow_stress: float, height: float) -> float:
    """Give the depth of an edge crack at which the rest of a bar collapses in bending [m].

    Parameters
    ----------
    stress : float
        M/Z of the whole bar [Pa].
    flow_stress : float
        [Pa]
    height : float
        In the direction of the load [m].

    Notes
    -----
    Plastic moment of what is left: σ_f b (h - a)²/4 = S b h²/6. Closed form.

    Examples
    --------
    >>> round(bar_collapse_depth(300e6, 800e6, 0.020), 6)
    0.01
    """
    part = 2.0 * stress / (3.0 * flow_stress)
    return 0.0 if part >= 1.0 else height * (1.0 - math.sqrt(part))


def falling_root(function: Callable[[float], float], low: float, high: float) -> float:
    """Halve an interval to the last digit; the function is positive at its low end and not at its high end."""
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        if middle in (low, high):
            break
        if function(middle) > 0.0:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
