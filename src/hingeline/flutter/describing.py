"""Cycles of a model with slack by one harmonic: the describing function of a spring with a gap.

A sine of amplitude A in half-gaps feels part r of the spring, x = 1/A:

    r = 1 - (2/π)(asin x + x √(1 - x²)) for A > 1, else 0

The system is linear for each r. At one speed, det A(i ω, U; r) = 0 where

    r = -1 / (k vᵀ A₀(i ω, U)⁻¹ v)

is real and between 0 and 1, A₀ the matrix without the spring: one function of ω, whose changes of sign are found.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from hingeline.flutter.neutral_points import NeutralPoint, find_neutral_points
from hingeline.flutter.slack import Slack
from hingeline.flutter.system import Array, ComplexArray, dynamic_matrix
from hingeline.flutter.wake import two_lag

SAMPLES = 4000
CLOSER_LOOKS = 3
CLOSER = 24
"""How often, and by how many points, the places are looked at where a curve nearly touches zero."""
SLOWEST = 1e-2
"""Of the highest natural frequency: where the search for ω begins."""


@dataclass(frozen=True, slots=True)
class OneHarmonic:
    """A cycle by one harmonic.

    Parameters
    ----------
    speed : float
        [m/s]
    amplitude : float
        [half-gaps]
    angular_frequency : float
        [rad/s]
    part : float
        r, of the spring [1].
    """

    speed: float
    amplitude: float
    angular_frequency: float
    part: float


def part_of_spring(amplitude: float) -> float:
    """Compute what part of a spring a sine feels across a gap.

    Parameters
    ----------
    amplitude : float
        A [half-gaps].

    Returns
    -------
    float
        r [1]: 0 inside the gap, toward 1 for a large swing.

    Notes
    -----
    First Fourier coefficient of a dead zone; common practice, no source; confirmed by integration.

    Examples
    --------
    >>> part_of_spring(1.0), round(part_of_spring(2.0), 6)
    (0.0, 0.391002)
    """
    if amplitude <= 1.0:
        return 0.0
    x = 1.0 / amplitude
    return 1.0 - 2.0 / math.pi * (math.asin(x) + x * math.sqrt(1.0 - x * x))


def amplitude_of(part: float) -> float:
    """Give the amplitude [half-gaps] at which a sine feels part r of the spring, 0 < r < 1; by halving."""
    low, high = 0.0, 1.0
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if middle == 0.0 or part_of_spring(1.0 / middle) > part else (low, middle)
    return 2.0 / (low + high)


def cycle_speeds(slack: Slack, amplitude: float, speeds: tuple[float, float]) -> tuple[NeutralPoint, ...]:
    """Find all speeds at which one harmonic of an amplitude would keep itself going.

    Parameters
    ----------
    slack : Slack
    amplitude : float
        [half-gaps]
    speeds : (float, float)
        Range searched [m/s].

    Returns
    -------
    tuple of NeutralPoint
        Of the system with the part of the spring that is felt; two-lag wake.
    """
    return find_neutral_points(slack.with_part(part_of_spring(amplitude)), speeds, two_lag)


def cycles_at(slack: Slack, speed: float) -> tuple[OneHarmonic, ...]:
    """Find all cycles of one harmonic at one speed.

    Parameters
    ----------
    slack : Slack
    speed : float
        [m/s]

    Returns
    -------
    tuple of OneHarmonic
        By frequency. Whether a cycle draws neighbouring motions in is not said: the march shows it.
    """
    frequencies = _grid(slack)
    needed = needed_part(slack, frequencies, speed)
    for _ in range(CLOSER_LOOKS):
        frequencies = _closer(frequencies, needed)
        needed = needed_part(slack, frequencies, speed)
    changes = np.flatnonzero((needed.imag[1:] < 0) != (needed.imag[:-1] < 0))
    found = [_refined(slack, speed, float(frequencies[at]), float(frequencies[at + 1])) for at in changes]
    return tuple(one for one in found if one is not None)


def _grid(slack: Slack) -> Array:
    system = slack.system
    highest = math.sqrt(float(np.abs(np.linalg.eigvals(np.linalg.solve(system.mass, system.stiffness))).max()))
    return np.geomspace(SLOWEST * highest, 1.5 * highest, SAMPLES)


def _closer(frequencies: Array, needed: ComplexArray) -> Array:
    """Lay more points about each least of |Im r|: near a fold two zeros lie close together."""
    size = np.abs(needed.imag)
    least = 1 + np.flatnonzero((size[1:-1] <= size[:-2]) & (size[1:-1] <= size[2:]))
    more = [np.linspace(frequencies[at - 1], frequencies[at + 1], CLOSER) for at in least]
    return np.asarray(np.unique(np.concatenate([frequencies, *more])))


def needed_part(slack: Slack, frequencies: Array, speed: float) -> ComplexArray:
    """Give the part of the spring that a motion at each ω would need to go on; it must be real."""
    loose = dynamic_matrix(slack.with_part(0.0), 1j * frequencies, speed, two_lag)
    answers = np.linalg.solve(loose, slack.direction[:, None].astype(complex))[..., 0] @ slack.direction
    return np.asarray(-1.0 / (slack.stiffness * answers))


def _refined(slack: Slack, speed: float, low: float, high: float) -> OneHarmonic | None:
    """Halve a change of sign; None where it is a pole, or the part is none of a spring."""
    below = needed_part(slack, np.array([low]), speed)[0].imag < 0
    for _ in range(60):
        middle = (low + high) / 2
        same = (needed_part(slack, np.array([middle]), speed)[0].imag < 0) == below
        low, high = (middle, high) if same else (low, middle)
    part = complex(needed_part(slack, np.array([(low + high) / 2]), speed)[0])
    if abs(part.imag) > 1e-6 or not 0.0 < part.real < 1.0:
        return None
    return OneHarmonic(speed, amplitude_of(part.real), (low + high) / 2, part.real)
