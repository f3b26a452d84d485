"""How far a surface moves, from what a rule shows at its trailing edge, and what is left between weight and structure.

Manuals give a travel as an angle or as a distance, and a distance in one of two ways: follow the figure.
"""

from __future__ import annotations

import math
from typing import Literal

from hingeline.arm.refusing import CHECK, HEAVIEST, LONGEST, STIFFEST
from hingeline.errors import InputRefused

Way = Literal["straight", "square"]
FASTEST, SOFTEST_ARM = 1e6, 1e-3
"""No flight accelerates an arm more [m/s²], and none is softer [N/m] (common practice, no source)."""


def travel_angle(distance: float, hinge_to_edge: float, way: Way = "straight") -> float:
    """Give the angle through which a surface moved, from the distance that its trailing edge went.

    Parameters
    ----------
    distance : float
        Of the trailing edge from where it was, 0 or more [m].
    hinge_to_edge : float
        Hinge line to trailing edge, above 0 [m].
    way : {'straight', 'square'}
        Along the straight line between both places; or square to where the surface was.

    Returns
    -------
    float
        [rad]; a straight distance reaches to π, a square one to π/2.

    Raises
    ------
    InputRefused
        A length that cannot be, or a distance longer than the edge can go.

    Notes
    -----
    Straight: θ = 2 asin(x / 2c), the chord of the arc. Square: θ = asin(x / c). Elementary, no source; free play
    is measured the same way, and its half is half the angle of the whole.

    Examples
    --------
    >>> import math
    >>> from hingeline.arm import travel_angle
    >>> round(math.degrees(travel_angle(0.074, 0.212)), 4)
    20.1024
    >>> round(math.degrees(travel_angle(0.074, 0.212, "square")), 4)
    20.4296
    """
    longest = hinge_to_edge * (2.0 if way == "straight" else 1.0)
    if not 0.0 < hinge_to_edge < math.inf:
        raise InputRefused.of(
            "hinge_to_edge", f"{hinge_to_edge:g} m", "a length above 0", "Measure it square to the hinge."
        )
    if not 0.0 <= distance <= longest:
        expected = f"a distance from 0 to {longest:g} m"
        raise InputRefused.of(
            "distance", f"{distance:g} m", expected, "Check both lengths, and how the manual measures."
        )
    part = math.asin(distance / longest)
    return 2.0 * part if way == "straight" else part


def swept_by(arm: float, angle: float) -> float:
    """Give how far the end of an arm goes square to where it was, L sin θ.

    Parameters
    ----------
    arm : float
        Hinge line to the end, positive [m].
    angle : float
        Turned through, either way, up to half a turn [rad].

    Returns
    -------
    float
        [m]

    Raises
    ------
    InputRefused
        An arm that is no length of an arm, or an angle beyond half a turn [rad].

    Examples
    --------
    >>> import math
    >>> from hingeline.arm import swept_by
    >>> round(1e3 * swept_by(0.260, math.radians(25.0)), 3)
    109.881
    """
    _refuse_beyond(("arm", arm, LONGEST, "m"), ("angle", angle, math.pi, "rad"))
    return arm * math.sin(angle)


def gap_under_load(gap: float, mass: float, acceleration: float, stiffness: float) -> float:
    """Give what is left of a gap when the weight bends its arm: gap - m a/k; below 0 it touches.

    Parameters
    ----------
    gap : float
        Measured at the stop, unloaded [m].
    mass : float
        Of the weight [kg]; the arm's own mass is left out.
    acceleration : float
        Normal to the surface [m/s²].
    stiffness : float
        Of the arm at the weight, k = 3 E I/L³ [N/m].

    Returns
    -------
    float
        [m], an estimate: play of the root and bending of the structure come on top.

    Raises
    ------
    InputRefused
        A number that no arm can have.

    Notes
    -----
    Deflection of a cantilever, m a L³/(3 E I); the same by its strain energy.

    Examples
    --------
    >>> from hingeline.arm import gap_under_load
    >>> round(1e3 * gap_under_load(0.012, 1.4, 24.0 * 9.80665, 71556.904), 4)
    7.3952
    """
    _refuse_beyond(
        ("gap", gap, LONGEST, "m"), ("mass", mass, HEAVIEST, "kg"), ("acceleration", acceleration, FASTEST, "m/s²")
    )
    if not SOFTEST_ARM <= stiffness <= STIFFEST:
        expected = f"a stiffness from {SOFTEST_ARM:g} to {STIFFEST:g} N/m"
        raise InputRefused.of("stiffness", f"{stiffness:g} N/m", expected, CHECK)
    return gap - mass * acceleration / stiffness


def _refuse_beyond(*numbers: tuple[str, float, float, str]) -> None:
    """Refuse what is no number, or beyond what an arm can have: name, value, the largest, unit."""
    for name, value, most, unit in numbers:
        if not abs(value) <= most:
            expected = f"a number from {-most:g} to {most:g} {unit}"
            raise InputRefused.of(name, f"{value:g} {unit}", expected, CHECK)
