"""How many cycles of a stress a sound piece is said to take: stress life, and what several loads use up."""

from __future__ import annotations

import math
from collections.abc import Iterable


def without_mean(amplitude: float, mean: float, ultimate: float) -> float:
    """Give the amplitude about zero that does the same harm, S_a/(1 - S_m/S_u) [Pa].

    Parameters
    ----------
    amplitude : float
        S_a [Pa].
    mean : float
        S_m, below the ultimate strength [Pa]. A pressing mean counts as none, which is cautious.
    ultimate : float
        S_u [Pa].

    Notes
    -----
    Goodman's straight line (from memory).

    Examples
    --------
    >>> round(without_mean(320e6, 100e6, 655e6) / 1e6, 4)
    377.6577
    """
    return amplitude / (1.0 - max(mean, 0.0) / ultimate)


def cycles_to_failure(amplitude: float, strength: float, exponent: float) -> float:
    """Give the cycles that an amplitude about zero takes, (S/σ_f')^(1/b)/2 [1].

    Parameters
    ----------
    amplitude : float
        [Pa]
    strength : float
        σ_f', fatigue strength coefficient [Pa].
    exponent : float
        b, negative [1].

    Notes
    -----
    Basquin, S = σ_f' (2N)^b (from memory). No endurance limit: a corroded part has none. It is a mean line, and
    tests scatter about it by a factor of several.

    Examples
    --------
    >>> round(cycles_to_failure(377.6576577e6, 1758e6, -0.0977), -2)
    3430900.0
    """
    return float((amplitude / strength) ** (1.0 / exponent)) / 2.0


def used_up(shares: Iterable[tuple[float, float]]) -> float:
    """Give the part of the life that loads use up, Σ n/N [1].

    Parameters
    ----------
    shares : iterable of tuple
        Cycles or hours endured, and those to failure, in the same unit.

    Notes
    -----
    Palmgren and Miner (from memory): the order of the loads is taken not to matter, which is not true.

    Examples
    --------
    >>> round(1.0 / used_up([(40 / 60, 50000.0), (15 / 60, 6500.0), (5 / 60, 1000.0)]), 2)
    7400.38
    """
    return math.fsum(done / life for done, life in shares)
