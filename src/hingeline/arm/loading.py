"""What the arm carries: moments, stresses, margins, bolts. One function, one equation.

Load factors: 14 CFR 23.659 before amendment 23-64, read: 24 g normal to the surface, 12 g fore and aft, 12 g along
the hinge line, three separate cases. A design load counts as limit unless it is said otherwise, and ultimate is 1.5
times limit: 14 CFR 23.303 (2014) and 23.2230, read. The type's own basis rules.
"""

from __future__ import annotations

import math

ULTIMATE_FACTOR = 1.5


def root_moment(acceleration: float, weight: float, length: float, tube_mass: float, tube_length: float) -> float:
    """Give the moment at the root, a (m L + m_t L_t/2) [N m].

    Parameters
    ----------
    acceleration : float
        Of weight and tube alike [m/s²].
    weight, tube_mass : float
        [kg]
    length : float
        Root to the weight's centre [m].
    tube_length : float
        Root to the tube's end [m].

    Examples
    --------
    >>> round(root_moment(24 * 9.80665, 1.4, 0.260, 0.1032982268, 0.260), 4)
    88.8315
    """
    return acceleration * (weight * length + tube_mass * tube_length / 2.0)


def axial_stress(acceleration: float, mass: float, area: float) -> float:
    """Give the stress of a pull along the arm, a m/A [Pa]."""
    return acceleration * mass / area


def margin(allowable: float, stress: float) -> float:
    """Give the margin of safety, as the trade calls it: allowable over stress, less 1 [1].

    Examples
    --------
    >>> round(margin(517.1e6, 403.6561e6), 4)
    0.281
    """
    return allowable / stress - 1.0


def swing_acceleration(amplitude: float, frequency: float, arm: float) -> float:
    """Give the peak acceleration of a weight that swings with the surface, θ (2π f)² r [m/s²].

    Parameters
    ----------
    amplitude : float
        To one side, small [rad].
    frequency : float
        [Hz]
    arm : float
        Hinge line to the weight's centre [m].

    Examples
    --------
    >>> round(swing_acceleration(math.radians(4.0), 9.0, 0.260) / 9.80665, 4)
    5.9188
    """
    return amplitude * (2.0 * math.pi * frequency) ** 2 * arm


def worst_bolt_load(moment: float, shear: float, spacing: float) -> float:
    """Give the load on the worse of two bolts that hold the root as a couple, M/s + V/2 [N].

    Parameters
    ----------
    moment : float
        At the root [N m].
    shear : float
        At the root [N].
    spacing : float
        Between the bolts, along the arm [m].

    Notes
    -----
    Statics of a rigid clamp with no slack. Real grip and slack change the shares: not modelled.

    Examples
    --------
    >>> round(worst_bolt_load(88.83148421, 353.81566934, 0.040), 3)
    2397.695
    """
    return moment / spacing + shear / 2.0


def bolt_shear_stress(load: float, diameter: float, shear_planes: int) -> float:
    """Give the mean shear stress of a bolt, P/(n π d²/4) [Pa]."""
    return load / (shear_planes * math.pi * diameter**2 / 4.0)


def bearing_stress(load: float, diameter: float, thickness: float, walls: int = 2) -> float:
    """Give the bearing stress of a bolt on the tube's walls, P/(n d t) [Pa]."""
    return load / (walls * diameter * thickness)
