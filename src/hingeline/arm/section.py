"""What is left of the arm's section: area, second moment, section modulus. One function, one equation.

Closed forms of the mechanics of beams (from memory), each confirmed by adding up small sectors. Bending about the
axis through the section's own centroid; the modulus belongs to the fibre farthest from it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Section:
    """A section in numbers.

    Parameters
    ----------
    area : float
        [m²]
    second_moment : float
        About the axis of bending through the centroid, I [m⁴].
    section_modulus : float
        Z = I over the distance of the farthest fibre [m³].
    """

    area: float
    second_moment: float
    section_modulus: float


def tube_section(outer_radius: float, inner_radius: float) -> Section:
    """Give the section of a round tube: A = π(D² - d²)/4, I = π(D⁴ - d⁴)/64, Z = 2 I/D.

    Parameters
    ----------
    outer_radius, inner_radius : float
        [m]; an inner radius of 0 is a round bar.

    Returns
    -------
    Section

    Examples
    --------
    >>> round(1e9 * tube_section(9.525e-3, 8.636e-3).section_modulus, 3)   # 3/4 in x 0.035 in
    220.067
    """
    area = math.pi * (outer_radius**2 - inner_radius**2)
    second_moment = math.pi * (outer_radius**4 - inner_radius**4) / 4.0
    return Section(area, second_moment, second_moment / outer_radius)


def bar_section(width: float, height: float) -> Section:
    """Give the section of a rectangular bar: A = b h, I = b h³/12, Z = b h²/6.

    Parameters
    ----------
    width : float
        Along the axis of bending [m].
    height : float
        In the direction of the load [m].

    Returns
    -------
    Section

    Examples
    --------
    >>> round(1e9 * bar_section(0.010, 0.020).section_modulus, 3)
    666.667
    """
    return Section(width * height, width * height**3 / 12.0, width * height**2 / 6.0)


def locally_thinned_tube(outer_radius: float, inner_radius: float, depth: float, half_angle: float) -> Section:
    """Give the section of a tube ground down from outside over ± ``half_angle`` round its most stressed fibre.

    Parameters
    ----------
    outer_radius, inner_radius, depth : float
        [m]; the depth stays within the wall.
    half_angle : float
        From 0 to π [rad]; up to 150 deg the modulus lies between those of no loss and of one all round. Beyond,
        a sliver is left whose own fibre governs, and the modulus says nothing.

    Returns
    -------
    Section
        The modulus is the lower one of both sides.

    Notes
    -----
    With r = outer radius less depth: A = A₀ - α(R² - r²); first moment Q = -(2/3)(R³ - r³) sin α;
    I = I₀ - (R⁴ - r⁴)(α + sin α cos α)/4 - Q²/A. The farthest fibre on the thinned side is the higher one of
    the ground crown, r, and the shoulder, R cos α. Worked out here and confirmed by two million sectors.

    Examples
    --------
    >>> thinned = locally_thinned_tube(9.525e-3, 8.636e-3, 0.3e-3, math.radians(30.0))
    >>> round(1e9 * thinned.section_modulus, 3)
    188.715
    """
    sound, ground, angle = tube_section(outer_radius, inner_radius), outer_radius - depth, half_angle
    area = sound.area - angle * (outer_radius**2 - ground**2)
    first = -(2.0 / 3.0) * (outer_radius**3 - ground**3) * math.sin(angle)
    lost = (outer_radius**4 - ground**4) * (angle + math.sin(angle) * math.cos(angle)) / 4.0
    centroid = first / area
    second_moment = sound.second_moment - lost - area * centroid**2
    crown = max(ground, outer_radius * math.cos(angle)) - centroid
    opposite = (outer_radius if angle < math.pi else ground) + centroid
    return Section(area, second_moment, second_moment / max(crown, opposite))


def with_bolt_hole(outer_radius: float, inner_radius: float, hole: float) -> Section:
    """Give the section of a tube through a bolt hole in both walls, its axis in the plane of bending.

    Parameters
    ----------
    outer_radius, inner_radius : float
        [m]
    hole : float
        Diameter [m], less than the inner diameter.

    Returns
    -------
    Section
        The modulus with the unbroken outer radius, which is the cautious side.

    Notes
    -----
    Taken away from I: (4/3)[F(R) - F(r)] with F(r) = ∫₀ᵇ (r² - x²)^(3/2) dx =
    [b(5 r² - 2 b²) √(r² - b²) + 3 r⁴ asin(b/r)]/8, b half the hole; from A: 4[G(R) - G(r)] with
    G(r) = ∫₀ᵇ √(r² - x²) dx. No stress concentration is in it: that belongs to fatigue.

    Examples
    --------
    >>> round(1e9 * with_bolt_hole(9.525e-3, 8.636e-3, 4.8e-3).section_modulus, 3)
    146.998
    """
    sound, half = tube_section(outer_radius, inner_radius), hole / 2.0
    area = sound.area - 4.0 * (_under_arc(outer_radius, half) - _under_arc(inner_radius, half))
    lost = 4.0 / 3.0 * (_cubes_under_arc(outer_radius, half) - _cubes_under_arc(inner_radius, half))
    second_moment = sound.second_moment - lost
    return Section(area, second_moment, second_moment / outer_radius)


def _under_arc(radius: float, half: float) -> float:
    return (half * math.sqrt(radius**2 - half**2) + radius**2 * math.asin(half / radius)) / 2.0


def _cubes_under_arc(radius: float, half: float) -> float:
    root = math.sqrt(radius**2 - half**2)
    return (half * (5.0 * radius**2 - 2.0 * half**2) * root + 3.0 * radius**4 * math.asin(half / radius)) / 8.0
