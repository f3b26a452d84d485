"""The moments of mass: one function, one equation.

x is positive aft of the hinge line, y outboard of the flapping or roll axis.

S = ∫ x dm, I = ∫ x² dm, K = ∫ x y dm, and K/I, the coefficient of dynamic balance: E. B. Rosenbaum and
A. A. Vollmecke, Simplified Flutter Prevention Criteria for Personal Type Aircraft (Airframe and Equipment
Engineering Report 45), list of symbols, read; the integrals from memory.
"""

from __future__ import annotations


def point_product(mass: float, x: float, y: float) -> float:
    """Give what a point adds to the product of inertia, m x y [kg m²]."""
    return mass * x * y


def plate_moment(mass: float, x_from: float, x_to: float) -> float:
    """Give the mass moment of a rectangle, m (x₁ + x₂)/2 [kg m].

    Examples
    --------
    >>> plate_moment(1.875, 0.0, 0.25)
    0.234375
    """
    return mass * (x_from + x_to) / 2.0


def plate_inertia(mass: float, x_from: float, x_to: float) -> float:
    """Give the inertia of a rectangle about the hinge line, m (x₁² + x₁ x₂ + x₂²)/3 [kg m²].

    Examples
    --------
    >>> plate_inertia(1.875, 0.0, 0.25)
    0.0390625
    """
    return mass * (x_from * x_from + x_from * x_to + x_to * x_to) / 3.0


def plate_product(mass: float, x_from: float, x_to: float, y_from: float, y_to: float) -> float:
    """Give the product of inertia of a rectangle, m (x₁ + x₂)(y₁ + y₂)/4 [kg m²].

    Valid for a rectangle whose edges lie along and across the hinge line.

    Examples
    --------
    >>> round(plate_product(1.875, 0.0, 0.25, 2.5, 4.0), 6)
    0.761719
    """
    return mass * (x_from + x_to) * (y_from + y_to) / 4.0


def balancing_mass(mass_moment: float, x: float) -> float:
    """Give the mass at x that makes the mass moment zero, -S/x [kg].

    Examples
    --------
    >>> balancing_mass(0.234375, -0.060)
    3.90625
    """
    return -mass_moment / x


def inertia_about(inertia: float, mass_moment: float, mass: float, x: float) -> float:
    """Give the inertia about an axis that lies x aft of the hinge line, I - 2 x S + m x² [kg m²].

    Parallel axes. Smallest about the centre of gravity, x = S/m.

    Examples
    --------
    >>> inertia_about(0.0390625, 0.234375, 1.875, 0.125)
    0.009765625
    """
    return inertia - 2.0 * x * mass_moment + mass * x * x
