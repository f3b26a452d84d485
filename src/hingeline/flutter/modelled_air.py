"""What a task's wake model and lift slope leave of a strip's air forces."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from hingeline.flutter.strip_air import StripAir

LARGEST_LIFT_SLOPE = 1.2
"""Of the factor on the lift slope: more than the strip of an endless wing is a mistake."""


def modelled(air: StripAir, wake: str, lift_slope_factor: float) -> StripAir:
    """Leave of the air forces what a model keeps.

    Parameters
    ----------
    air : StripAir
        The full forces of two-dimensional flow.
    wake : {"theodorsen", "two-lag", "quasi-steady", "steady"}
        "steady" keeps angles only: no apparent mass, nothing from rates.
    lift_slope_factor : float
        Lift slope over 2 π [1], for a finite span, assumed or measured.

    Returns
    -------
    StripAir
        The factor acts on R alone: the apparent mass, Bn and Kn hold no circulation. So control moments
        that hold none stay as they are.

    Notes
    -----
    Common practice, no source: one factor for lift, moments and all frequencies. In truth a finite span
    also changes the lag of its wake, and the hinge moments by another factor than the lift.
    """
    air = replace(air, circulation_force=lift_slope_factor * air.circulation_force)
    if wake != "steady":
        return air
    return replace(
        air,
        apparent_mass=np.zeros_like(air.apparent_mass),
        air_damping=np.zeros_like(air.air_damping),
        downwash_of_rates=np.zeros_like(air.downwash_of_rates),
    )
