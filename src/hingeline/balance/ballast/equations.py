"""The statics of a correction: one function, one equation.

x is positive aft of the hinge line, y outboard of the flapping or roll axis; a mass taken off is
negative; a moment is positive where it makes the surface tail-heavy (trailing edge down).

Definitions S = ∫ x dm, I = ∫ x² dm, K = ∫ x y dm and the coefficient K/I: as in ``spread/equations.py``, with
their source.
"""

from __future__ import annotations

from typing import NamedTuple

from hingeline.units import STANDARD_GRAVITY

# 14 CFR 23.659, as it stood before 2017, read in a copy: balance weights and their support are designed
# for these load factors. The type's own basis rules.
NORMAL_FACTOR, FORE_AND_AFT_FACTOR, ALONG_HINGE_FACTOR = 24.0, 12.0, 12.0


class Loads(NamedTuple):
    """Inertia loads [N]."""

    normal: float
    fore_and_aft: float
    along_hinge: float


def moment_of_change(mass: float, x: float, local_gravity: float) -> float:
    """Give what a mass at ``x`` adds to the static moment, m g x [N m, tail-heavy positive].

    Mass added forward of the hinge line, and mass taken off aft of it, make the surface less tail-heavy.
    """
    return mass * local_gravity * x


def inertia_of_change(mass: float, x: float) -> float:
    """Give what a mass at ``x`` adds to the moment of inertia about the hinge line, m x² [kg m²].

    The weight's inertia about its own centre is left out: it is a small part for a compact weight.
    """
    return mass * x * x


def product_of_change(mass: float, x: float, y: float) -> float:
    """Give what a mass at ``x``, ``y`` adds to the product of inertia, m x y [kg m²]."""
    return mass * x * y


def mass_to_add(moment: float, target: float, x: float, local_gravity: float) -> float:
    """Give the mass that brings the moment to the target from one place, (target - M)/(g x) [kg].

    Parameters
    ----------
    moment, target : float
        [N m, tail-heavy positive]
    x : float
        Of the place, aft positive, not 0 [m].
    local_gravity : float
        [m/s²]

    Returns
    -------
    float
        Negative: to be taken off.

    Notes
    -----
    With a weight forward of the hinge line at the arm a this is m = (M - M_target)/(g a), as the Travel
    Air 95 shop manual works it out on its page 3-10 (read in a text copy).

    Examples
    --------
    >>> from hingeline.balance.ballast import mass_to_add
    >>> round(mass_to_add(2.106, 1.850, -0.180, 9.80665), 4)
    0.145
    """
    return (target - moment) / (local_gravity * x)


def inertia_loads(mass: float) -> Loads:
    """Give the inertia loads on a balance weight, 24, 12 and 12 times its weight [N].

    Standard gravity: load factors are counted in it. Source: 14 CFR 23.659, as it stood before 2017.

    Parameters
    ----------
    mass : float
        All that the place carries [kg].

    Returns
    -------
    Loads
        Normal to the surface, fore and aft, along the hinge line, each to either side [N].

    Examples
    --------
    >>> from hingeline.balance.ballast import inertia_loads
    >>> [round(load, 1) for load in inertia_loads(1.6)]
    [376.6, 188.3, 188.3]
    """
    weight = mass * STANDARD_GRAVITY
    return Loads(NORMAL_FACTOR * weight, FORE_AND_AFT_FACTOR * weight, ALONG_HINGE_FACTOR * weight)
