"""The k-method's branches: at each wave number ω/U, every frequency at which the matrix would be singular.

With p = i ω and U = ω/κ the dynamic matrix is ω² G(κ) + i ω D + K (1 + i g): an eigenvalue problem in ω
(in ω² without viscous damping; never in 1/ω², so that a free surface gives a zero and no infinity).
A neutral point is where an eigenvalue is real and positive. Here w = ln z is kept, z = ω² or ω, with its
slope by ln κ, so that each branch is known between two wave numbers as a cubic.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from hingeline.flutter.system import (
    AeroelasticSystem,
    Array,
    ComplexArray,
    Wake,
    stiffness_with_damping,
    wake_slope,
    whole_mass,
)

NOISE_OF_SQUARES, NOISE = 1e-13, 3e-7


@dataclass(frozen=True, slots=True)
class Sample:
    """All branches at one wave number.

    Parameters
    ----------
    log_wave_number : float
        ln κ, κ = ω/U [1/m].
    log_values, slopes : array (m,)
        w = ln z and dw/d ln κ; z is ω² or ω.
    speeds : array (m,)
        U = Re ω/κ; -1 where the branch is no motion with Re ω > 0.
    """

    log_wave_number: float
    log_values: ComplexArray
    slopes: ComplexArray
    speeds: Array


def branches(system: AeroelasticSystem, log_wave_numbers: Array, wake: Wake) -> list[Sample]:
    """Solve the k-method's eigenvalue problem at several wave numbers.

    Parameters
    ----------
    system : AeroelasticSystem
        Scaled.
    log_wave_numbers : array
        ln κ, κ in [1/m].
    wake : callable

    Returns
    -------
    list of Sample
    """
    companion, by_log = _companion(system, np.exp(log_wave_numbers), wake)
    values, right = np.linalg.eig(companion)
    slopes = np.einsum("sjk,skl,slj->sj", np.linalg.inv(right), by_log, right)
    squared = not system.damping.any()
    return [
        _sample(float(log_wave_numbers[index]), values[index], slopes[index], squared=squared)
        for index in range(len(values))
    ]


def _sample(log_wave_number: float, values: ComplexArray, slopes: ComplexArray, *, squared: bool) -> Sample:
    """Take logarithms, without the zeros of free freedoms."""
    size = np.abs(values)
    keep = size > size.max() * (NOISE_OF_SQUARES if squared else NOISE)
    values, slopes = values[keep], slopes[keep]
    frequency = np.sqrt(values) if squared else values
    moves = np.abs(np.angle(values)) < np.pi / 2
    speeds = np.where(moves, frequency.real / np.exp(log_wave_number), -1.0)
    return Sample(log_wave_number, np.log(values), slopes / values, speeds)


def _air(system: AeroelasticSystem, wave_number: Array, wake: Wake) -> tuple[ComplexArray, ComplexArray]:
    """Give G(κ) and dG/d ln κ."""
    one_over = (1 / wave_number)[:, None, None]
    first = system.air_damping.astype(complex)[None]
    second = system.air_stiffness.astype(complex)[None]
    first_change, second_change = np.zeros_like(first), np.zeros_like(second)
    for group in system.wakes:
        reduced = 1j * wave_number * group.semichord
        value = np.asarray(wake(reduced))[:, None, None]
        change = (wake_slope(wake, reduced) * reduced)[:, None, None]
        first, second = first + value * group.damping, second + value * group.stiffness
        first_change = first_change + change * group.damping
        second_change = second_change + change * group.stiffness
    air = -whole_mass(system) + 1j * one_over * first + one_over**2 * second
    by_log = 1j * one_over * (first_change - first) + one_over**2 * (second_change - 2 * second)
    return air, by_log


def _companion(system: AeroelasticSystem, wave_number: Array, wake: Wake) -> tuple[ComplexArray, ComplexArray]:
    """Give the matrix whose eigenvalues are ω² (or ω, with viscous damping), and its derivative by ln κ."""
    air, by_log = _air(system, wave_number, wake)
    inverse = np.linalg.inv(air)
    bottom = -inverse @ stiffness_with_damping(system)
    if not system.damping.any():
        return bottom, -inverse @ by_log @ bottom
    size = len(system.mass)
    bottom = np.concatenate([bottom, -1j * inverse @ system.damping], axis=2)
    top = np.zeros_like(bottom)
    top[:, :, size:] = np.eye(size)
    change = np.concatenate([np.zeros_like(top), -inverse @ by_log @ bottom], axis=1)
    return np.concatenate([top, bottom], axis=1), change


@dataclass(frozen=True, slots=True)
class Link:
    """One branch between two wave numbers, as a cubic in t from 0 to 1.

    Parameters
    ----------
    left, right : complex
        w at the ends; the right one unwrapped.
    left_slope, right_slope : complex
        dw/dt.
    doubt : float
        How far apart the two ends foresee the middle.
    """

    left: complex
    right: complex
    left_slope: complex
    right_slope: complex
    doubt: float

    def at(self, t: float) -> complex:
        """Give w between the ends (Hermite's cubic)."""
        u = 1 - t
        ends = u * u * (1 + 2 * t) * self.left + t * t * (1 + 2 * u) * self.right
        return ends + t * u * (u * self.left_slope - t * self.right_slope)

    def clearance(self) -> float:
        """Give the least |phase| at nine points, 0 where it changes sign more than once or touches zero."""
        phases = [self.at(index / 8).imag for index in range(9)]
        changes = sum(a * b <= 0 for a, b in pairwise(phases))
        return 0.0 if changes > 1 else min(map(abs, phases))

    def zero(self) -> float:
        """Give t where the phase is zero, between ends of different sign, by halving."""
        low, high = 0.0, 1.0
        for _ in range(40):
            middle = (low + high) / 2
            same = (self.at(middle).imag < 0) == (self.left.imag < 0)
            low, high = (middle, high) if same else (low, middle)
        return (low + high) / 2


def link(first: Sample, second: Sample) -> list[tuple[int, int, Link]] | None:
    """Say which branch at one wave number is which at the next.

    Parameters
    ----------
    first, second : Sample

    Returns
    -------
    list of (int, int, Link) or None
        None where it is not beyond doubt: the cell must be halved.
    """
    if len(first.log_values) != len(second.log_values):
        return None
    step = second.log_wave_number - first.log_wave_number
    ahead = first.log_values + first.slopes * step / 2
    behind = second.log_values - second.slopes * step / 2
    apart = behind[None, :] - ahead[:, None]
    turns = np.round(apart.imag / (2 * np.pi))
    distance = np.abs(apart - 2j * np.pi * turns)
    partner = distance.argmin(axis=1)
    if len(set(partner.tolist())) < len(partner) or not _beyond_doubt(distance, partner):
        return None
    return [
        (i, int(j), _link(first, second, (i, int(j)), float(turns[i, j]), float(distance[i, j])))
        for i, j in enumerate(partner)
    ]


def _beyond_doubt(distance: Array, partner: np.ndarray[tuple[int], np.dtype[np.int64]]) -> bool:
    """Say whether each partner is near, and much nearer than any other."""
    rows = np.arange(len(partner))
    best = distance[rows, partner]
    others = distance.copy()
    others[rows, partner] = np.inf
    return bool(np.all(best < 0.1) and np.all(others.min(axis=1) > 4 * best))


def _link(first: Sample, second: Sample, pair: tuple[int, int], turns: float, doubt: float) -> Link:
    step = second.log_wave_number - first.log_wave_number
    i, j = pair
    return Link(
        complex(first.log_values[i]),
        complex(second.log_values[j] - 2j * np.pi * turns),
        complex(first.slopes[i] * step),
        complex(second.slopes[j] * step),
        doubt,
    )
