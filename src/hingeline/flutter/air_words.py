"""What a study assumed about its air, said aloud: sentences for every result."""

from __future__ import annotations

from hingeline.flutter.wake import wake_named

WAKE_WORDS: dict[str, str] = {
    "theodorsen": "Lift follows the motion through Theodorsen's function C, for growing and dying motion too.",
    "two-lag": "Lift follows the motion through two lags, an approximation of Theodorsen's function; "
    "flutter speeds move by about one per cent.",
    "quasi-steady": "Lift follows the motion at once (C = 1); the apparent mass is kept. The lag of the wake is left "
    "out: the flutter speed can be far off.",
    "steady": "Lift follows the angles alone, and at once: no apparent mass, no force from rates. "
    "For comparison with text books only.",
}
"""One sentence or two for each model of the wake."""

STRIP_THEORY = (
    "Strip theory: thin plates in two-dimensional incompressible flow. Left out: flow around tips, compressibility, "
    "gaps at the hinge, balance area ahead of the hinge."
)


def air_assumptions(wake: str, lift_slope_factor: float = 1.0, source: str = "assumed") -> tuple[str, ...]:
    """Say what was assumed about the air.

    Parameters
    ----------
    wake : str
        "theodorsen", "two-lag", "quasi-steady" or "steady".
    lift_slope_factor : float
        Lift slope over that of two-dimensional flow [1].
    source : str
        "assumed" or "measured": where the factor comes from.

    Returns
    -------
    tuple of str
        Sentences, in the order in which they are shown.

    Raises
    ------
    InputRefused
        If there is no such wake.

    Examples
    --------
    >>> air_assumptions("theodorsen")[2]
    'Lift slope 2 pi, as in two-dimensional flow; a finite span lifts less.'
    """
    wake_named(wake)
    return (STRIP_THEORY, WAKE_WORDS[wake], lift_slope_words(lift_slope_factor, source))


def lift_slope_words(factor: float, source: str) -> str:
    """Say which lift slope was taken, and what the factor leaves alone.

    One factor for lift, hinge moments and all frequencies is common practice, no source. In truth a finite
    span also changes the lag of its wake, and hinge moments by another factor than lift.
    """
    if factor == 1:
        return "Lift slope 2 pi, as in two-dimensional flow; a finite span lifts less."
    return (
        f"Lift slope {factor:.4g} times 2 pi ({source}), at every frequency and for hinge moments too; "
        "the apparent mass is not scaled. It is an input, not a result."
    )
