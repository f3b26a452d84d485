"""Marching a model with slack in time: Runge and Kutta's steps of fourth order, the wake by two lags.

States q, q', and for each wake two lags y of f = Bc q' + U Kc q:

    (M + Ma) q'' = -(D + U Bn) q' - (K + U² Kn) q + k clip(θ, ±e) v - U Σ [f/2 + Σ_j a_j λ_j y_j]
    y_j' = (U/b)(f - λ_j y_j),   C = 1/2 + Σ_j a_j λ_j/(s + λ_j)

so that the only thing not linear is one clipped angle. The four stages of a step are worked out once as
matrices; a step is then one product and four clips, for all speeds and starts together. To the last
digit but rounding it is the classical step.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from hingeline.flutter.slack import Slack
from hingeline.flutter.system import AeroelasticSystem, Array, whole_mass
from hingeline.flutter.wake import TWO_LAGS

STEP = 0.5e-3
LENGTH = 30.0
PLUNGE_A_GAP = 0.003
"""A start knocks the first other freedom by 3 mm for each half-gap of the angle."""
BEYOND = 1e4
"""Half-gaps past which a motion has left all that the model can say."""
AT_ONCE = 2000

Progress = Callable[[int, int], bool | None]


@dataclass(frozen=True, slots=True)
class March:
    """One run.

    Parameters
    ----------
    speed : float
        [m/s]
    start : float
        [half-gaps]
    step : float
        Between samples [s].
    angles : array
        θ in half-gaps, the last third of the run.
    left : bool
        It passed ten thousand half-gaps.
    """

    speed: float
    start: float
    step: float
    angles: Array
    left: bool


@dataclass(frozen=True, slots=True)
class _Step:
    """One step as matrices: where it goes, and the angles at its four stages, in half-gaps."""

    onward: Array
    by_clip: Array
    angles: Array
    angles_by_clip: Array


def rates_of(system: AeroelasticSystem, speed: float) -> Array:
    """Give the matrix of x' = A x of a system with the two-lag wake, x = (q, q', y of each wake and lag).

    Parameters
    ----------
    system : AeroelasticSystem
        Without structural damping.
    speed : float
        [m/s]

    Returns
    -------
    array (m, m)
        m = 2 n (1 + number of wakes).
    """
    n = len(system.mass)
    size = 2 * n * (1 + len(system.wakes))
    rates, force = np.zeros((size, size)), np.zeros((n, size))
    rates[:n, n : 2 * n] = np.eye(n)
    force[:, :n] = -(system.stiffness + speed**2 * system.air_stiffness)
    force[:, n : 2 * n] = -(system.damping + speed * system.air_damping)
    place = 2 * n
    for group in system.wakes:
        felt = np.zeros((n, size))
        felt[:, :n], felt[:, n : 2 * n] = speed * group.stiffness, group.damping
        force -= speed * (1 - sum(amount for amount, _ in TWO_LAGS)) * felt
        for amount, rate in TWO_LAGS:
            own = slice(place, place + n)
            force[:, own] -= speed * amount * rate * np.eye(n)
            rates[own] = speed / group.semichord * felt
            rates[own, own] -= speed / group.semichord * rate * np.eye(n)
            place += n
    rates[n : 2 * n] = np.linalg.solve(whole_mass(system), force)
    return rates


def _step_of(slack: Slack, speed: float, step: float) -> _Step:
    """Work the four stages out as matrices of the state and of the four clipped angles."""
    rates = rates_of(slack.system, speed)
    size, n = len(rates), len(slack.direction)
    push = np.zeros(size)
    push[n : 2 * n] = np.linalg.solve(whole_mass(slack.system), slack.direction) * slack.stiffness * slack.half_gap
    read = np.zeros(size)
    read[:n] = slack.direction / slack.half_gap
    identity = np.eye(size)
    slopes: list[tuple[Array, Array]] = []
    angles, by_clip = np.zeros((4, size)), np.zeros((4, 4))
    for stage, part in enumerate((0.0, step / 2, step / 2, step)):
        had = slopes[-1] if slopes else (np.zeros((size, size)), np.zeros((size, 4)))
        at, at_clip = identity + part * had[0], part * had[1]
        angles[stage], by_clip[stage] = read @ at, read @ at_clip
        pushed = rates @ at_clip
        pushed[:, stage] += push
        slopes.append((rates @ at, pushed))
    weights = (step / 6, step / 3, step / 3, step / 6)
    onward = identity + sum(weight * slope for weight, (slope, _) in zip(weights, slopes, strict=True))
    return _Step(onward, sum((w * s for w, (_, s) in zip(weights, slopes, strict=True)), np.zeros((size, 4))),
                 angles, by_clip)  # fmt: skip


def start_state(slack: Slack, start: float) -> Array:
    """Give the state a run starts from: the angle at so many half-gaps, the first other freedom 3 mm for each."""
    n = len(slack.direction)
    state = np.zeros(2 * n * (1 + len(slack.system.wakes)))
    turned = int(np.abs(slack.direction).argmax())
    state[turned] = start * slack.half_gap / slack.direction[turned]
    state[next(index for index in range(n) if index != turned)] = PLUNGE_A_GAP * start
    return state


def march(
    slack: Slack, runs: Sequence[tuple[float, float]], *, step: float = STEP, length: float = LENGTH,
    progress: Progress | None = None,
) -> tuple[March, ...]:  # fmt: skip
    """March several runs at once.

    Parameters
    ----------
    slack : Slack
    runs : sequence of (float, float)
        Speed [m/s] and start [half-gaps] of each.
    step, length : float
        [s]
    progress : callable, optional
        Called with steps done and steps in all; answers False to stop.

    Returns
    -------
    tuple of March
        None of them where it was stopped.

    Notes
    -----
    Runge and Kutta, fourth order (common practice, no source). Halving the step moves amplitudes of cycles by
    less than 0.5 % in our check cases.
    """
    steps = {speed: _step_of(slack, speed, step) for speed in {speed for speed, _ in runs}}
    stack = [np.stack([getattr(steps[speed], name) for speed, _ in runs])
             for name in ("onward", "by_clip", "angles", "angles_by_clip")]  # fmt: skip
    states = np.stack([start_state(slack, start) for _, start in runs])
    total = round(length / step)
    kept: list[Array] = []
    left = np.zeros(len(runs), dtype=bool)
    for begin in range(0, total, AT_ONCE):
        count = min(AT_ONCE, total - begin)
        states, seen = _march_some(stack, states, count)
        left |= np.abs(seen).max(axis=0) > BEYOND
        states[left] = 0.0
        if begin + count > 2 * total / 3:
            kept.append(seen)
        if progress is not None and progress(begin + count, total) is False:
            return ()
    angles = np.concatenate(kept)[-round(total / 3) :]
    return tuple(
        March(speed, start, step, angles[:, index], bool(left[index])) for index, (speed, start) in enumerate(runs)
    )


def _march_some(stack: list[Array], states: Array, count: int) -> tuple[Array, Array]:
    """Take some steps; give the states after them, and the angle at every one."""
    onward, by_clip, angles, angles_by_clip = stack
    both = np.concatenate([onward, angles], axis=1)
    size = onward.shape[1]
    lower = [angles_by_clip[:, stage, :stage] for stage in range(4)]
    seen, clips = np.empty((count, len(states))), np.empty((len(states), 4))
    for index in range(count):
        ahead = (both @ states[:, :, None])[:, :, 0]
        seen[index] = ahead[:, size]
        clips[:, 0] = np.minimum(np.maximum(ahead[:, size], -1.0), 1.0)
        for stage in (1, 2, 3):
            angle = ahead[:, size + stage] + (lower[stage] * clips[:, :stage]).sum(axis=1)
            clips[:, stage] = np.minimum(np.maximum(angle, -1.0), 1.0)
        states = ahead[:, :size] + (by_clip @ clips[:, :, None])[:, :, 0]
    return states, seen
