"""Would the motion grow if it were small? An autoregression whose stiffness depends on the size of the swing.

y = (plunge, angle), each over its standard deviation; p = the angle one sample ago, q = two samples ago:

    y_k = sum over i = 1 … 4 of A_i y_(k-i)  +  C g(p, q)  +  e_k

Least squares at about 12 samples a cycle, with two laws for g:

    fading   g = (p, q) exp(-p²/2)                        (after Haggan and Ozaki 1981, from memory)
    powers   g = (p³, p² q, p q², q³, p⁵, p⁴ q, q⁵)

The poles of the linear part at zero amplitude, for the fading law with C added to A, are the motion if it were
small. The same fit without g gives the familiar healthy damping of a limit cycle, which is the trap.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hingeline.motion.pencil import thinned

Array = NDArray[np.float64]

ORDER, A_CYCLE, BLOCKS = 4, 12.0, 12
LINEAR = 2 * ORDER


@dataclass(frozen=True, slots=True)
class Law:
    """How the stiffness depends on the swing.

    Parameters
    ----------
    terms : callable
        Of p and q, to rows.
    at_zero : tuple of tuple of int
        Row of a term and the column of the linear part that it adds to at zero amplitude.
    """

    terms: Callable[[Array, Array], Array]
    at_zero: tuple[tuple[int, int], ...] = ()


def _fading(one: Array, two: Array) -> Array:
    weight = np.exp(-0.5 * one**2)
    return np.stack([one * weight, two * weight])


def _powers(p: Array, q: Array) -> Array:
    return np.stack([p**3, p**2 * q, p * q**2, q**3, p**5, p**4 * q, q**5])


FADING, POWERS = Law(_fading, ((0, 1), (1, 3))), Law(_powers)


@dataclass(frozen=True, slots=True)
class Extrapolated:
    """The motion at zero amplitude, by one law.

    Parameters
    ----------
    growth : float
        Largest real part of the poles at 0.5 to 2 times the frequency; biased toward zero, so that only its
        sign may be told [1/s].
    scatter : float
        Its standard deviation, jackknife over twelve blocks [1/s].
    bend : float
        F, the reduction of the residual by the law's terms, for each degree of freedom [1].
    """

    growth: float
    scatter: float
    bend: float

    @property
    def surely(self) -> float:
        """The growth over its scatter [1]."""
        return self.growth / self.scatter if self.scatter > 0.0 else 0.0


@dataclass(frozen=True, slots=True)
class SmallMotion:
    """The motion at zero amplitude, by both laws."""

    fading: Extrapolated
    powers: Extrapolated


def small_motion(values: Array, rate: float, frequency: float) -> SmallMotion | None:
    """Extrapolate a motion to zero amplitude; None where it cannot be fitted.

    Parameters
    ----------
    values : array, shape (2, n)
        Plunge, then the angle whose stiffness may bend.
    rate, frequency : float
        [1/s], [Hz]

    Notes
    -----
    Tried on simulated sections only: a hardening spring, play, linear and stiffening ones that die out.
    """
    values, rate = thinned(values, rate, frequency, A_CYCLE)
    values = values / values.std(axis=1, keepdims=True)
    fading, powers = (extrapolated(values, rate, frequency, law) for law in (FADING, POWERS))
    return None if fading is None or powers is None else SmallMotion(fading, powers)


def extrapolated(values: Array, rate: float, frequency: float, law: Law) -> Extrapolated | None:
    """Fit one law and give the motion at zero amplitude; None where it cannot be fitted."""
    columns, wanted = _regression(values, law)
    if len(columns) < 6 * columns.shape[1]:
        return None
    pieces = zip(np.array_split(columns, BLOCKS), np.array_split(wanted, BLOCKS), strict=True)
    blocks = [(part.T @ part, part.T @ goal) for part, goal in pieces]
    normal, right = np.sum([block[0] for block in blocks], axis=0), np.sum([block[1] for block in blocks], axis=0)
    growths = [_growth(normal, right, law, rate, frequency)]
    growths += [_growth(normal - one, right - other, law, rate, frequency) for one, other in blocks]
    if any(each is None for each in growths):
        return None
    whole, *left_out = np.array(growths, dtype=float)
    scatter = float(np.sqrt((BLOCKS - 1) * np.var(left_out)))
    return Extrapolated(float(whole), scatter, _bend(columns, wanted))


def _regression(values: Array, law: Law) -> tuple[Array, Array]:
    count = values.shape[1]
    past = [values[:, ORDER - lag : count - lag] for lag in range(1, ORDER + 1)]
    return np.concatenate([*past, law.terms(past[0][1], past[1][1])]).T, values[:, ORDER:].T


def _growth(normal: Array, right: Array, law: Law, rate: float, frequency: float) -> float | None:
    try:
        sizes = np.linalg.solve(normal, right)
    except np.linalg.LinAlgError:
        return None
    companion = np.zeros((LINEAR, LINEAR))
    companion[:2] = sizes[:LINEAR].T
    for term, column in law.at_zero:
        companion[:2, column] += sizes[LINEAR + term]
    companion[2:, :-2] = np.eye(LINEAR - 2)
    roots = np.linalg.eigvals(companion)
    poles = np.log(np.where(abs(roots) > 1e-9, roots, 1e-9).astype(complex)) * rate
    near = (poles.imag > np.pi * frequency) & (poles.imag < 4.0 * np.pi * frequency)
    return float(poles[near].real.max()) if near.any() else None


def _bend(columns: Array, wanted: Array) -> float:
    left, left_without = (_residual(part, wanted) for part in (columns, columns[:, :LINEAR]))
    free, added = wanted.size - 2 * columns.shape[1], 2 * (columns.shape[1] - LINEAR)
    return (left_without - left) / added / (left / free) if left > 0.0 else 0.0


def _residual(columns: Array, wanted: Array) -> float:
    return float(((wanted - columns @ np.linalg.lstsq(columns, wanted, rcond=None)[0]) ** 2).sum())
