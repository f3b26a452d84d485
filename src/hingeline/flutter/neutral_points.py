"""All neutral points in a range of speeds, by the k-method, with the direction in which each is crossed.

The branches are followed from wave number to wave number and a cell is halved until each branch
is known beyond doubt and its phase either changes sign once or keeps well clear of zero. What is
found is then refined on the matrix itself. That none was missed is for ``counting`` to show.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np

from hingeline.flutter.branches import Link, Sample, branches, link
from hingeline.flutter.singular import Singular, refine_neutral
from hingeline.flutter.system import AeroelasticSystem, Array, Wake, largest_semichord, merged, scaled

LOWEST_REDUCED_FREQUENCY = 1e-5
SAMPLES_A_DECADE = 16
NARROWEST_CELL = 1e-6
NEARLY_REAL = 0.01
WIDER = 1.1
SAME = 1e-8


@dataclass(frozen=True, slots=True)
class NeutralPoint:
    """A motion that neither grows nor dies out.

    Parameters
    ----------
    speed : float
        True airspeed [m/s].
    angular_frequency : float
        ω [rad/s].
    shape : array (n,)
        The motion, complex, in the system's own freedoms.
    direction : {"into", "out of"}
        With rising speed it goes into growth, or out of it.
    drift : complex
        dp/dU of the root [1/m].
    """

    speed: float
    angular_frequency: float
    shape: np.ndarray[tuple[int], np.dtype[np.complex128]]
    direction: Literal["into", "out of"]
    drift: complex


@dataclass(frozen=True, slots=True)
class _Search:
    """What one search carries along."""

    system: AeroelasticSystem
    wake: Wake
    lowest: float
    highest: float
    found: list[Singular]

    def matters(self, *speeds: float) -> bool:
        """Say whether a branch with these speeds can be in the range."""
        return max(speeds) > self.lowest / WIDER and min(speeds) < self.highest * WIDER

    def keep(self, point: Singular) -> None:
        """Keep a point of the range once."""
        if not self.lowest <= point.speed <= self.highest:
            return
        if not any(abs(point.p - had.p) + abs(point.speed - had.speed) * abs(point.p) / had.speed
                   < SAME * abs(had.p) for had in self.found):  # fmt: skip
            self.found.append(point)


def find_neutral_points(system: AeroelasticSystem, speeds: tuple[float, float], wake: Wake) -> tuple[NeutralPoint, ...]:
    """Find all neutral points between two speeds.

    Parameters
    ----------
    system : AeroelasticSystem
        Any number of freedoms, unequal structural damping, viscous damping, several wakes.
    speeds : (float, float)
        True airspeed [m/s], 0 < lowest < highest.
    wake : callable

    Returns
    -------
    tuple of NeutralPoint
        By speed; speed and frequency to about 1e-12.

    Notes
    -----
    k-method, common practice; written for ω, so that zero stiffness and viscous damping are no exception.
    Reduced frequencies from 1e-5 are searched. A system without any damping, lag or rate forces has a
    real matrix, where every motion is neutral: see ``coalescence``.
    """
    plain, unit = scaled(merged(system))
    search = _Search(plain, wake, *speeds, found=[])
    samples = branches(plain, _first_wave_numbers(plain, search, wake), wake)
    cells = list(pairwise(samples))
    while cells:
        cells = _halved([cell for cell in cells if not _closed(search, *cell)], search)
    found = sorted(search.found, key=lambda point: point.speed)
    return tuple(_neutral_point(point, unit) for point in found)


def _neutral_point(point: Singular, unit: Array) -> NeutralPoint:
    shape = point.right * unit
    direction: Literal["into", "out of"] = "into" if point.drift.real > 0 else "out of"
    return NeutralPoint(point.speed, point.p.imag, shape / np.abs(shape).max(), direction, point.drift)


def _first_wave_numbers(system: AeroelasticSystem, search: _Search, wake: Wake) -> Array:
    """Give ln κ from where the wake hardly lags up to where every branch is slower than the range."""
    chord = largest_semichord(system)
    low, high = LOWEST_REDUCED_FREQUENCY / chord, 2.0 / chord
    while high < 1e9 / chord:
        (sample,) = branches(system, np.array([np.log(high)]), wake)
        if sample.speeds.max(initial=-1.0) < search.lowest / WIDER:
            break
        high *= 2
    number = int(np.ceil(SAMPLES_A_DECADE * np.log10(2 * high / low)))
    return np.linspace(np.log(low), np.log(2 * high), number)


def _halved(cells: list[tuple[Sample, Sample]], search: _Search) -> list[tuple[Sample, Sample]]:
    """Halve all cells in one go; where one is too narrow for that, start from its branches."""
    wide = []
    for first, second in cells:
        if second.log_wave_number - first.log_wave_number > NARROWEST_CELL:
            wide.append((first, second))
        else:
            _start_from(search, first)
    if not wide:
        return []
    middles = np.array([(a.log_wave_number + b.log_wave_number) / 2 for a, b in wide])
    samples = branches(search.system, middles, search.wake)
    return [half for (a, b), m in zip(wide, samples, strict=True) for half in ((a, m), (m, b))]


def _start_from(search: _Search, sample: Sample) -> None:
    """Start the refinement from every branch that is nearly real, where two meet and cannot be told apart."""
    for value, speed in zip(sample.log_values, sample.speeds, strict=True):
        if speed <= 0 or not search.matters(float(speed)) or abs(value.imag) > NEARLY_REAL:
            continue
        point = refine_neutral(
            search.system, (float(speed * np.exp(sample.log_wave_number)), float(speed)), search.wake
        )
        if point is not None and abs(np.log(point.p.imag / point.speed) - sample.log_wave_number) < NEARLY_REAL:
            search.keep(point)


def _closed(search: _Search, first: Sample, second: Sample) -> bool:
    """Say whether a cell needs no halving; keep the neutral points that are in it."""
    speeds = [*first.speeds[first.speeds > 0], *second.speeds[second.speeds > 0]]
    if not speeds or not search.matters(*speeds):
        return True
    links = link(first, second)
    if links is None:
        return False
    return all([_settled(search, first, second, one) for one in links])


def _settled(search: _Search, first: Sample, second: Sample, one: tuple[int, int, Link]) -> bool:
    """Say whether one branch of a cell is settled: out of range, clear of zero, or its zero refined."""
    i, j, curve = one
    speeds = [speed for speed in (first.speeds[i], second.speeds[j]) if speed > 0]
    if not speeds or not search.matters(*speeds):
        return True
    if (curve.left.imag < 0) == (curve.right.imag < 0):
        return curve.clearance() > curve.doubt
    return _refined(search, first, second, curve)


def _refined(search: _Search, first: Sample, second: Sample, curve: Link) -> bool:
    """Refine a change of sign; False where the refined point is not in this cell."""
    if abs(curve.left.imag - curve.right.imag) > np.pi:
        return True
    t = curve.zero()
    step = second.log_wave_number - first.log_wave_number
    wave_number = np.exp(first.log_wave_number + t * step)
    value = np.exp(curve.at(t).real)
    frequency = float(value if search.system.damping.any() else np.sqrt(value))
    point = refine_neutral(search.system, (frequency, frequency / float(wave_number)), search.wake)
    if point is None:
        return False
    place = (np.log(point.p.imag / point.speed) - first.log_wave_number) / step
    if not -0.05 <= place <= 1.05:
        return False
    search.keep(point)
    return True
