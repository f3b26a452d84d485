"""The mechanics of a swing: one function, one equation.

x is positive aft of the hinge line. T is the time of one swing there and back,
at zero amplitude; I is about the hinge line.

Source of the pendulum, of two wires and of the spring: mechanics of a rigid body
that swings about a fixed axis (from memory); that amplitude, air and the mass of
the fixture must be corrected for: Society of Flight Test Engineers, Reference
Handbook (2013), chapter on mass properties, read.
"""

from __future__ import annotations

import math


def period_factor(amplitude: float) -> float:
    """Give the period of a pendulum over its period at zero amplitude, T/T₀ = 1/agm(1, cos θ/2).

    Parameters
    ----------
    amplitude : float
        Angle to one side, θ, from 0 to less than π [rad].

    Returns
    -------
    float
        1 at zero amplitude, and more beyond [1].

    Notes
    -----
    T/T₀ = (2/π) K(sin θ/2), K the complete elliptic integral of the first kind, which is π over twice the
    arithmetic-geometric mean of 1 and cos θ/2 (NIST Digital Library of Mathematical Functions 19.8.5, from
    memory). Its series begins 1 + θ²/16 + 11 θ⁴/3072 + 173 θ⁶/737280. Valid for a rigid body that its weight
    alone brings back, and, nearly, on two wires that are long beside their spacing; not for a spring.

    Examples
    --------
    >>> round(period_factor(math.radians(10.0)), 6)
    1.001907
    """
    larger, smaller = 1.0, math.cos(amplitude / 2.0)
    while larger - smaller > 1e-15:
        larger, smaller = (larger + smaller) / 2.0, math.sqrt(larger * smaller)
    return 1.0 / larger


def period_factor_slope(amplitude: float) -> float:
    """Give the change of :func:`period_factor` with the amplitude [1/rad], by a central difference.

    Examples
    --------
    >>> round(period_factor_slope(0.1), 6)   # θ/8 + 11 θ³/768
    0.012514
    """
    step = 1e-4
    return (period_factor(amplitude + step) - period_factor(abs(amplitude - step))) / (2.0 * step)


def time_squared(period: float) -> float:
    """Give T²/(4π²), which every method multiplies [s²].

    Examples
    --------
    >>> time_squared(2.0 * math.pi)
    1.0
    """
    return (period / (2.0 * math.pi)) ** 2


def pendulum_inertia(hanging_moment: float, period: float, local_gravity: float) -> float:
    """Give the inertia of what swings about its hinge line under its weight, g S T²/(4π²) [kg m²].

    Parameters
    ----------
    hanging_moment : float
        Mass moment below the hinge line, m x, positive [kg m].
    period : float
        [s]
    local_gravity : float
        [m/s²]

    Notes
    -----
    Compound pendulum. Valid for a hinge without friction and a swing brought to zero amplitude. The less
    the surface hangs, the slower and the less certain it is: a balanced one does not swing at all.

    Examples
    --------
    >>> round(pendulum_inertia(0.234375, 16.3823 / 20, 9.80665), 6)
    0.039063
    """
    return local_gravity * hanging_moment * time_squared(period)


def without_added_mass(inertia: float, added_mass: float, arm: float) -> float:
    """Take a clipped-on mass off an inertia, I - m a² [kg m²].

    Parameters
    ----------
    inertia : float
        Of all that swung [kg m²].
    added_mass : float
        Small beside its arm: taken as a point [kg].
    arm : float
        [m]

    Examples
    --------
    >>> round(without_added_mass(0.073125, 0.5, 0.2), 6)
    0.053125
    """
    return inertia - added_mass * arm * arm


def two_wire_inertia(mass: float, spacing: float, length: float, period: float, local_gravity: float) -> float:
    """Give the inertia about the centre of gravity from two wires, m g D² T²/(16 π² L) [kg m²].

    Parameters
    ----------
    mass : float
        [kg]
    spacing, length : float
        Of the wires, D and L; the centre of gravity midway between them [m].
    period : float
        Turning about the upright axis midway between the wires [s].
    local_gravity : float
        [m/s²]

    Notes
    -----
    Valid for small turns on upright wires that are long beside their spacing.

    Examples
    --------
    >>> round(two_wire_inertia(4.1, 0.4, 1.5, 1.2, 9.80665), 6)
    0.039109
    """
    return mass * local_gravity * spacing * spacing * time_squared(period) / (4.0 * length)


def about_hinge_line(inertia_about_centre: float, mass: float, mass_moment: float) -> float:
    """Move an inertia from the centre of gravity to the hinge line, I + S²/m [kg m²].

    Parallel axes: the distance is S/m.

    Examples
    --------
    >>> about_hinge_line(0.009765625, 1.875, 0.234375)   # a plate's 1/12 becomes 1/3
    0.0390625
    """
    return inertia_about_centre + mass_moment * mass_moment / mass


def spring_inertia(spring_rate: float, arm: float, period: float) -> float:
    """Give the inertia of what swings on a spring, k r² T²/(4π²) [kg m²].

    Parameters
    ----------
    spring_rate : float
        Of all springs together [N/m].
    arm : float
        From the hinge line to where they pull, at right angles [m].
    period : float
        [s]

    Notes
    -----
    Valid for a linear spring, light beside the surface, and a weight that neither helps nor hinders: hinge
    line upright, or the surface balanced. The amplitude then does not matter.

    Examples
    --------
    >>> round(spring_inertia(200.0, 0.15, 0.6), 6)
    0.041035
    """
    return spring_rate * arm * arm * time_squared(period)
