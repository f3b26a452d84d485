"""What a study may assume about its air: the wake's model and the lift slope of a finite span, each said aloud."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from hingeline.errors import InputRefused
from hingeline.flutter.strip_air import StripAir
from hingeline.flutter.wake import wake_named

WAKE_WORDS: dict[str, str] = {
    "theodorsen": "Lift follows the motion through Theodorsen's function C, for growing and dying motion too.",
    "two-lag": "Lift follows the motion through two lags, an approximation of Theodorsen's function; "
    "flutter speeds move by up to about one per cent.",
    "quasi-steady": "Lift follows the motion at once (C = 1); the apparent mass is kept. "
    "The lag of the wake is left out: flutter speeds can come out far too low or too high.",
    "steady": "Lift follows the angles alone, at once: no apparent mass and no force from rates. "
    "Only for comparison with text books.",
}
LARGEST_FACTOR = 1.2


def as_modelled(air: StripAir, wake: str) -> StripAir:
    """Leave out of the air forces what a wake model leaves out.

    Parameters
    ----------
    air : StripAir
        The full forces of a strip.
    wake : str
        "theodorsen", "two-lag", "quasi-steady" or "steady".

    Returns
    -------
    StripAir
        The same, except for "steady": no apparent mass, nothing from rates. All angles stay.

    Raises
    ------
    InputRefused
        If there is no such model.
    """
    wake_named(wake)
    if wake != "steady":
        return air
    return replace(
        air,
        apparent_mass=np.zeros_like(air.apparent_mass),
        air_damping=np.zeros_like(air.air_damping),
        downwash_of_rates=np.zeros_like(air.downwash_of_rates),
    )


def with_lift_slope(air: StripAir, factor: float) -> StripAir:
    """Scale the circulatory forces for a lift slope that is not that of two-dimensional flow.

    Parameters
    ----------
    air : StripAir
        Two-dimensional forces, lift slope 2 π.
    factor : float
        Lift slope over 2 π [1], above 0 and at most 1.2: assumed for a finite span, or measured.

    Returns
    -------
    StripAir
        R is multiplied by the factor. Apparent mass, Bn and Kn stay: they hold no circulation.

    Raises
    ------
    InputRefused
        If the factor is out of range.

    Notes
    -----
    Common practice, no source: one factor for lift, moments and all frequencies. In truth a finite span
    also changes the lag of its wake, and the hinge moments by another factor than the lift.
    """
    if not 0 < factor <= LARGEST_FACTOR:
        raise InputRefused.of(
            "lift_slope_factor", factor, f"a factor above 0 and at most {LARGEST_FACTOR}", "1 is two-dimensional flow."
        )
    return replace(air, circulation_force=factor * air.circulation_force)


def lift_slope_words(factor: float) -> str:
    """Say which lift slope was taken."""
    if factor == 1:
        return "Strip theory: each strip lifts as in two-dimensional flow, lift slope 2 pi; a finite span lifts less."
    return (
        f"Lift slope taken as {factor:.4g} times that of two-dimensional flow, at every frequency and for hinge "
        "moments too; the apparent mass is not scaled. This factor is an input, not a result."
    )
