"""How surely a crack of a size is found, and how large the one is that a method is planned for."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from hingeline.tables import read_table

LOGISTIC = math.pi / math.sqrt(3.0)
"""By which a standard deviation becomes the scale of a logistic curve."""
FARTHEST = 700.0


@dataclass(frozen=True, slots=True)
class Method:
    """A method of looking for cracks.

    Parameters
    ----------
    name : str
    size : float
        Half length at the surface to plan with [m].
    source : str
    provenance : str
        How that size came to us.
    """

    name: str
    size: float
    source: str
    provenance: str


def methods() -> dict[str, Method]:
    """Give the methods with their planning sizes, by name.

    Examples
    --------
    >>> methods()["wet fluorescent magnetic particle"].size
    0.002
    """
    rows = read_table("hingeline.arm", "methods.toml")["method"]
    return {row["name"]: Method(**row) for row in rows}


def chance_to_find(size: float, half_found: float, spread: float) -> float:
    """Give the chance to find a crack of a size, 1/(1 + exp(-(π/√3)(ln a - μ)/σ)) [1].

    Parameters
    ----------
    size : float
        a [m].
    half_found : float
        Size that is found every second time, exp μ [m].
    spread : float
        σ, standard deviation of the logarithm [1].

    Notes
    -----
    Berens's form of the logistic curve (MIL-HDBK-1823A, from memory). For cracks under the conditions of the
    trial, not for corrosion.

    Examples
    --------
    >>> round(chance_to_find(2.0e-3, 1.2e-3, 0.45), 4)
    0.8869
    """
    place = LOGISTIC * math.log(size / half_found) / spread
    # So far below the middle of a steep curve exp has no number any more, and the chance is none.
    return 1.0 / (1.0 + math.exp(-place)) if place > -FARTHEST else 0.0


def size_found(chance: float, half_found: float, spread: float) -> float:
    """Give the size that is found with a chance: the inverse of :func:`chance_to_find` [m].

    Examples
    --------
    >>> round(1e3 * size_found(0.9, 1.2e-3, 0.45), 4)
    2.0698
    """
    return half_found * math.exp(spread * math.log(chance / (1.0 - chance)) / LOGISTIC)


def size_found_at_confidence(
    chance: float, intercept: float, slope: float, covariance: tuple[float, float, float], quantile: float
) -> float:
    """Give the size at which the lower bound of a fitted curve reaches a chance, a90/95 for example [m].

    Parameters
    ----------
    chance : float
        [1]
    intercept, slope : float
        b0 and b1 of ln(p/(1 - p)) = b0 + b1 ln a, with the size in the unit of the fit.
    covariance : tuple of float
        Of the fit: var b0, cov(b0, b1), var b1.
    quantile : float
        One-sided normal quantile of the confidence: 1.645 for 95 %.

    Returns
    -------
    float
        In the unit of the fit.

    Raises
    ------
    ValueError
        The fit is too uncertain: its bound never reaches the chance.

    Notes
    -----
    Wald's bound, b0 + b1 x - z √(var b0 + 2 x cov + x² var b1) = ln(p/(1 - p)), a quadratic in x = ln a. The
    handbook prefers bounds by likelihood ratio (from memory).

    Examples
    --------
    >>> round(size_found_at_confidence(0.9, -2.4, 2.1, (0.25, -0.16, 0.12), 1.6448536), 4)
    12.8369
    """
    level, (first, mixed, second) = math.log(chance / (1.0 - chance)), covariance
    square = slope**2 - quantile**2 * second
    linear = 2.0 * (slope * (intercept - level) - quantile**2 * mixed)
    rest = (intercept - level) ** 2 - quantile**2 * first
    inside = linear**2 - 4.0 * square * rest
    if square <= 0.0 or inside < 0.0:
        raise ValueError("the fit is too uncertain: its lower bound never reaches the chance")
    return math.exp((-linear + math.sqrt(inside)) / (2.0 * square))


def chance_in_visits(chances: Iterable[float]) -> float:
    """Give the chance that at least one of several visits finds it, 1 - Π(1 - p) [1].

    Notes
    -----
    As if the visits were independent. The same eyes, paint and light miss the same crack twice: an upper bound.

    Examples
    --------
    >>> round(chance_in_visits([0.5, 0.5]), 4)
    0.75
    """
    return 1.0 - math.prod(1.0 - chance for chance in chances)
