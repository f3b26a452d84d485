"""The one formula of an old statistical criterion that could be sourced: the wing's twist under a torque.

E. B. Rosenbaum and A. A. Vollmecke, Simplified Flutter Prevention Criteria for Personal Type Aircraft, Airframe and
Equipment Engineering Report 45. Of its criteria for ailerons, elevators, rudders, tabs and attachments only remembered
curves exist; they are not built here. Report 45 itself was read in part only: formula and case are from a design note
that quotes it, the definition of θ is from memory.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hingeline.errors import InputRefused, Refusal
from hingeline.flutter.ranges import Range, fault, one_out_of_range

MILE_PER_HOUR, FOOT, FOOT_POUND = 0.44704, 0.3048, 1.3558179483314004
HIGHEST_DIVING_SPEED = 260 * 1852 / 3600
"""Equivalent airspeed [m/s] below which the rule was meant to be used (14 CFR 23.629, older text; from memory)."""
RANGES = {
    "twist": Range("a twist for one unit of torque", "rad/(N m)", 0.0, 1.0),
    "chord": Range("a chord", "m", 0.0, 20.0),
    "width": Range("a width along the span", "m", 0.0, 50.0),
}


@dataclass(frozen=True, slots=True)
class TwistedStrip:
    """A strip of the wing under a torque at the tip.

    Parameters
    ----------
    twist : float
        θ for one unit of torque [rad/(N m)].
    chord, width : float
        c and its width along the span [m].
    """

    twist: float
    chord: float
    width: float


def wing_flexibility(strips: Sequence[TwistedStrip]) -> float:
    """Compute how far a half wing twists, in the measure of Report 45.

    Parameters
    ----------
    strips : sequence of TwistedStrip
        From root to tip.

    Returns
    -------
    float
        F = Σ θ c² ds [rad m²/N].

    Raises
    ------
    InputRefused
        There is no strip, or a number of one cannot be.

    Notes
    -----
    Report 45, wing torsional rigidity (see the head of this file). It is a sum over one half wing.
    """
    refusals = list(_faults(strips))
    if refusals:
        raise InputRefused(refusals)
    return math.fsum(one.twist * one.chord**2 * one.width for one in strips)


def _faults(strips: Sequence[TwistedStrip]) -> list[Refusal]:
    if not strips:
        return [fault("strip", "none", "at least one strip", "Measure the twist at several places along the span.")]
    return [
        refusal
        for index, one in enumerate(strips)
        for name, allowed in RANGES.items()
        for refusal in one_out_of_range(f"strip[{index}].{name}", getattr(one, name), allowed)
    ]


def largest_flexibility(diving_speed: float) -> float:
    """Give the largest F of Report 45 for a diving speed.

    Parameters
    ----------
    diving_speed : float
        V_d, equivalent airspeed, up to 260 kn [m/s].

    Returns
    -------
    float
        200/V_d² of the report (V_d in mph, F in rad/(lbf ft) ft³), in rad m²/N.

    Raises
    ------
    InputRefused
        The report was not meant for such a speed.

    Notes
    -----
    A statistical rule of its time for wings like those it was drawn from, of the wing alone: being below it shows
    nothing about the controls, and is no proof.

    Examples
    --------
    >>> round(largest_flexibility(287 * 0.44704) / REPORT_UNIT, 6)
    0.002428
    """
    if not 0.0 < diving_speed <= HIGHEST_DIVING_SPEED:
        raise InputRefused.of(
            "diving_speed", diving_speed, f"a speed above 0 and up to {HIGHEST_DIVING_SPEED:.4g} m/s (260 kn)",
            "The report was not meant for faster aircraft.",
        )  # fmt: skip
    return 200.0 / (diving_speed / MILE_PER_HOUR) ** 2 * REPORT_UNIT


REPORT_UNIT = FOOT**3 / FOOT_POUND
"""rad/(lbf ft) ft³ in rad m²/N."""
