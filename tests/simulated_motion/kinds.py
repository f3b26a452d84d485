"""The nineteen kinds of recordings that the statement is tried on, each drawn at random from a seed.

Self-excited: growth, limit cycles on a hardening spring and through play, in calm and in rough air, a burst
through onset and back. Not self-excited: turbulence, buffeting, gusts, ramps, decays, knocks, drives, nothing.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from tests.simulated_motion.marching import RATE, Drive, band, coloured, march, turbulence
from tests.simulated_motion.sections import STATES, Array, Sections, drawn, modes, onsets

NOISES = ((0.05e-3, 0.02), (0.2e-3, 0.1), (0.6e-3, 0.3), (1.5e-3, 0.8))
"""Of plunge [m] and pitch [deg], standard deviations of the camera's or sensor's noise."""
BURN_IN = 8.0
LENGTHS = (6.0, 12.0, 25.0)
DEG = np.pi / 180.0


@dataclass(frozen=True)
class Simulated:
    """One simulated recording and what is true of it."""

    kind: str
    times: Array
    plunge: Array
    pitch: Array
    rate: float
    noise: int
    signal_to_noise: float
    """Root mean square of the loudest half second over the noise, of the better channel."""
    frequencies: tuple[float, ...]
    """Damped frequencies of the linear modes, or of the drive [Hz]."""
    dampings: tuple[float, ...]
    """Damping ratios of the linear modes; none where a drive or a limit cycle holds the motion."""


@dataclass
class Batch:
    """Motions of one kind at every step of the march, and what is true of them."""

    motion: Array
    frequencies: Array
    dampings: Array
    ends: Array | None = None
    """Step at which a recording ends early."""


Kind = Callable[[np.random.Generator, int, float], Batch]


def _steps(length: float) -> int:
    return 2 * (int(length * RATE) // 2)


def _onset_speeds(generator: np.random.Generator, count: int) -> tuple[Sections, Array]:
    sections = drawn(generator, 2 * count + 6)
    speeds = onsets(sections)
    usable = np.flatnonzero(np.isfinite(speeds) & (speeds > 3.0))[:count]
    return sections.taken(usable), speeds[usable]


def _rest(count: int) -> Array:
    return np.zeros((count, STATES))


def _disturbed(generator: np.random.Generator, count: int, plunge: float, pitch: float) -> Array:
    start = _rest(count)
    start[:, 0] = plunge * generator.uniform(0.5, 1.0, count) * generator.choice([-1.0, 1.0], count)
    start[:, 1] = pitch * generator.uniform(0.5, 1.0, count) * generator.choice([-1.0, 1.0], count)
    return start


def _air(generator: np.random.Generator, speed: Array, length: float, low: float, high: float) -> Array:
    return turbulence(generator, generator.uniform(low, high, len(speed)), speed, _steps(length))


def _steady_run(
    generator: np.random.Generator, sections: Sections, speed: Array, length: float, rough: tuple[float, float],
    **more: Array,
) -> Batch:  # fmt: skip
    """March in steady air from a disturbance, and leave out how it began."""
    whole = BURN_IN + length
    gust = _air(generator, speed, whole, *rough)
    start = _disturbed(generator, len(speed), 5e-3, 3.0 * DEG)
    motion = march(sections, Drive(speed[:, None], gust, **more), start)
    frequency, damping = modes(sections, speed)
    return Batch(motion[:, -_steps(length) :], frequency, damping)


def flutter(generator: np.random.Generator, count: int, length: float) -> Batch:
    """Grow past onset until the model would be wrecked; then the recording ends."""
    sections, onset = _onset_speeds(generator, count)
    speed = onset * generator.uniform(1.02, 1.1, count)
    start = _disturbed(generator, count, 0.3e-3, 0.15 * DEG)
    motion = march(sections, Drive(speed[:, None], _air(generator, speed, length, 0.0, 0.003)), start)
    wrecked = (abs(motion[:, :, 1]) > 0.35) | (abs(motion[:, :, 0]) > 0.06)
    ends = np.where(wrecked.any(axis=1), wrecked.argmax(axis=1), motion.shape[1]).astype(float)
    return Batch(np.nan_to_num(motion), *modes(sections, speed), ends)


def _persisting(
    generator: np.random.Generator, count: int, ratios: tuple[float, float], *, play: bool, lasting: bool = True
) -> tuple[Sections, Array, dict[str, Array]]:
    """Draw sections whose limit cycle lasts in still air and stays within sight, or in which every motion dies out."""
    sections, onset = _onset_speeds(generator, 3 * count)
    speed = onset * generator.uniform(*ratios, len(onset))
    spring = (
        {"half_gap": generator.uniform(0.3, 1.2, len(onset)) * DEG}
        if play
        else {"hardening": generator.uniform(2.0, 30.0, len(onset))}
    )
    start = _disturbed(generator, len(onset), 6e-3, 4.0 * DEG)
    still = np.zeros((len(onset), _steps(30.0)))
    motion = march(sections, Drive(speed[:, None], still, **spring), start)[:, -_steps(6.0) :]
    early, late = abs(motion[:, : _steps(2.0), 1]).max(axis=1), abs(motion[:, -_steps(2.0) :, 1]).max(axis=1)
    lasts = (late > 0.9 * early) & (late > 0.5 * DEG) & (late < 0.5) & (abs(motion[:, :, 0]).max(axis=1) < 0.1)
    swings = np.ptp(motion[:, -_steps(2.0) :, 1], axis=1) > 0.5 * DEG
    kept = np.flatnonzero(lasts & swings if lasting else np.ptp(motion[:, -_steps(2.0) :, 1], axis=1) < 0.05 * DEG)[
        :count
    ]
    return sections.taken(kept), speed[kept], {name: values[kept] for name, values in spring.items()}


def _limit_cycle(rough: tuple[float, float], ratios: tuple[float, float], *, play: bool) -> Kind:
    def draw(generator: np.random.Generator, count: int, length: float) -> Batch:
        sections, speed, spring = _persisting(generator, count, ratios, play=play)
        batch = _steady_run(generator, sections, speed, length, rough, **spring)
        return Batch(batch.motion, np.full((len(speed), 2), np.nan), np.full((len(speed), 2), np.nan))

    return draw


def _stable(rough: tuple[float, float], ratios: tuple[float, float], *, play: bool) -> Kind:
    def draw(generator: np.random.Generator, count: int, length: float) -> Batch:
        sections, speed, spring = _persisting(generator, count, ratios, play=play, lasting=False)
        return _steady_run(generator, sections, speed, length, rough, **spring)

    return draw


def burst(generator: np.random.Generator, count: int, length: float) -> Batch:
    """Let the airspeed pass onset and come back, a hardening spring holding what grows."""
    sections, onset = _onset_speeds(generator, count)
    steps = _steps(length)
    part = np.linspace(0.0, 1.0, steps)[None, :]
    peak, width = generator.uniform(0.35, 0.65, (count, 1)), generator.uniform(0.15, 0.3, (count, 1))
    ratio = 0.85 + generator.uniform(0.2, 0.3, (count, 1)) * np.exp(-0.5 * ((part - peak) / width) ** 2)
    drive = Drive(onset[:, None] * ratio, _air(generator, onset, length, 0.002, 0.01), hardening=np.full(count, 10.0))
    motion = march(sections, drive, _disturbed(generator, count, 1e-3, 0.5 * DEG))
    return Batch(motion, np.full((count, 2), np.nan), np.full((count, 2), np.nan))


def _in_turbulence(ratios: tuple[float, float], rough: tuple[float, float]) -> Kind:
    def draw(generator: np.random.Generator, count: int, length: float) -> Batch:
        sections, onset = _onset_speeds(generator, count)
        return _steady_run(generator, sections, onset * generator.uniform(*ratios, count), length, rough)

    return draw


def _buffeting(*, at_a_mode: bool) -> Kind:
    def draw(generator: np.random.Generator, count: int, length: float) -> Batch:
        sections, onset = _onset_speeds(generator, count)
        speed = onset * generator.uniform(0.4, 0.85, count)
        frequency, damping = modes(sections, speed)
        chosen = frequency[np.arange(count), generator.integers(0, 2, count)]
        centre = chosen if at_a_mode else generator.uniform(2.0, 10.0, count)
        width = generator.uniform(0.05, 0.15, count) if at_a_mode else generator.uniform(0.2, 0.5, count)
        steps = _steps(BURN_IN + length)
        force = coloured(generator, band(steps, centre, width)) * generator.uniform(0.3, 3.0, count)[:, None]
        share = generator.uniform(-0.5, 0.5, count)[:, None] * sections.semichord[:, None]
        drive = Drive(speed[:, None], _air(generator, speed, BURN_IN + length, 0.0, 0.01), force, share * force)
        motion = march(sections, drive, _rest(count))[:, -_steps(length) :]
        return Batch(motion, frequency, damping)

    return draw


def ramp(generator: np.random.Generator, count: int, length: float) -> Batch:
    """Raise the airspeed through the recording, below onset, in turbulence."""
    sections, onset = _onset_speeds(generator, count)
    steps = _steps(length)
    low, high = generator.uniform(0.4, 0.6, (count, 1)), generator.uniform(0.75, 0.95, (count, 1))
    ratio = low + (high - low) * np.linspace(0.0, 1.0, steps)[None, :]
    gust = _air(generator, onset, length, 0.02, 0.06) * ratio
    motion = march(sections, Drive(onset[:, None] * ratio, gust), _disturbed(generator, count, 3e-3, 1.0 * DEG))
    return Batch(motion, *modes(sections, onset * 0.7))


def gusts(generator: np.random.Generator, count: int, length: float) -> Batch:
    """Let separate gusts of cosine shape pass through nearly calm air."""
    sections, onset = _onset_speeds(generator, count)
    speed, steps = onset * generator.uniform(0.4, 0.85, count), _steps(length)
    gust, times = _air(generator, speed, length, 0.002, 0.006), np.arange(steps) / RATE
    for row in range(count):
        for _ in range(generator.integers(2, 8)):
            at, lasts = generator.uniform(0.0, length), generator.uniform(0.08, 0.5)
            size = generator.uniform(0.05, 0.2) * speed[row] * generator.choice([-1.0, 1.0])
            inside = abs(times - at) < lasts / 2.0
            gust[row, inside] += size * 0.5 * (1.0 + np.cos(2.0 * np.pi * (times[inside] - at) / lasts))
    return Batch(march(sections, Drive(speed[:, None], gust), _rest(count)), *modes(sections, speed))


def decay(generator: np.random.Generator, count: int, length: float) -> Batch:
    """Let go in an airstream that is nearly calm."""
    sections, onset = _onset_speeds(generator, count)
    speed = onset * generator.uniform(0.3, 0.85, count)
    start = _disturbed(generator, count, 20e-3, 4.0 * DEG)
    motion = march(sections, Drive(speed[:, None], _air(generator, speed, length, 0.0, 0.002)), start)
    return Batch(motion, *modes(sections, speed))


def _knock(*, close: bool) -> Kind:
    """Knock on the ground: one mode, or two that lie close together, after a short wait."""

    def draw(generator: np.random.Generator, count: int, length: float) -> Batch:
        first, times = generator.uniform(3.0, 9.0, count), np.arange(_steps(length)) / RATE
        frequency = np.stack([first, first * generator.uniform(1.04, 1.15, count)], -1)
        damping = generator.uniform(0.006, 0.04, (count, 2))
        size = np.stack([np.ones(count), generator.uniform(0.4, 1.0, count) if close else np.zeros(count)], -1)
        since = times[None, :] - generator.uniform(0.05, 0.8, (count, 1))
        motion = np.zeros((count, len(times), 2))
        for mode in range(2):
            turning = 2.0 * np.pi * frequency[:, mode, None]
            rate = turning * damping[:, mode, None] / np.sqrt(1.0 - damping[:, mode, None] ** 2)
            swing = size[:, mode, None] * np.exp(-rate * since) * np.sin(turning * since) * (since > 0.0)
            motion[:, :, 0] += swing * generator.uniform(2e-3, 10e-3, (count, 1))
            motion[:, :, 1] += swing * generator.uniform(0.5, 3.0, (count, 1)) * DEG
        if not close:
            frequency[:, 1] = damping[:, 1] = np.nan
        return Batch(motion, frequency, damping)

    return draw


def _driven(*, from_rest: bool, rough: tuple[float, float] = (0.0, 0.02)) -> Kind:
    def draw(generator: np.random.Generator, count: int, length: float) -> Batch:
        sections, onset = _onset_speeds(generator, count)
        speed, steps = onset * generator.uniform(0.3, 0.7, count), _steps(length + (0.0 if from_rest else BURN_IN))
        frequency = modes(sections, speed)[0][:, 0] * generator.uniform(0.8, 1.25, count)
        phase = 2.0 * np.pi * frequency[:, None] * np.arange(steps)[None, :] / RATE
        force = generator.uniform(0.5, 4.0, (count, 1)) * np.sin(phase)
        gust = _air(generator, speed, steps / RATE, *((0.0, 0.003) if from_rest else rough))
        motion = march(sections, Drive(speed[:, None], gust, force), _rest(count))[:, -_steps(length) :]
        return Batch(motion, np.stack([frequency] * 2, -1), np.full((count, 2), np.nan))

    return draw


def sweep(generator: np.random.Generator, count: int, length: float) -> Batch:
    """Sweep a drive through the resonances."""
    sections, onset = _onset_speeds(generator, count)
    speed, steps = onset * generator.uniform(0.3, 0.6, count), _steps(length)
    middle = modes(sections, speed)[0][:, 0]
    low, high = middle * generator.uniform(0.4, 0.7, count), middle * generator.uniform(1.4, 2.0, count)
    part = np.linspace(0.0, 1.0, steps)[None, :]
    turning = 2.0 * np.pi * (low[:, None] + (high - low)[:, None] * part)
    force = generator.uniform(0.5, 3.0, (count, 1)) * np.sin(np.cumsum(turning, axis=1) / RATE)
    motion = march(sections, Drive(speed[:, None], _air(generator, speed, length, 0.0, 0.005), force), _rest(count))
    return Batch(motion, np.full((count, 2), np.nan), np.full((count, 2), np.nan))


def nothing(generator: np.random.Generator, count: int, length: float) -> Batch:
    """Let nothing move."""
    return Batch(np.zeros((count, _steps(length), 2)), np.full((count, 2), np.nan), np.full((count, 2), np.nan))


KINDS: dict[str, Kind] = {
    "flutter growth": flutter,
    "limit cycle, hardening spring, 0-2 % turbulence": _limit_cycle((0.0, 0.02), (1.03, 1.25), play=False),
    "limit cycle, play, 0-0.5 %": _limit_cycle((0.0, 0.005), (0.65, 0.97), play=True),
    "limit cycle, hardening spring, 3-8 %": _limit_cycle((0.03, 0.08), (1.03, 1.25), play=False),
    "limit cycle, play, 1-3 %": _limit_cycle((0.01, 0.03), (0.65, 0.97), play=True),
    "burst through onset and back": burst,
    "turbulence, 40-90 % of onset": _in_turbulence((0.4, 0.9), (0.02, 0.08)),
    "turbulence, 90-97 % of onset": _in_turbulence((0.9, 0.97), (0.02, 0.08)),
    "buffeting": _buffeting(at_a_mode=False),
    "buffeting at a resonance": _buffeting(at_a_mode=True),
    "airspeed ramp below onset": ramp,
    "separate gusts": gusts,
    "free decay in air": decay,
    "knock, one mode": _knock(close=False),
    "knock, two close modes": _knock(close=True),
    "steady drive": _driven(from_rest=False),
    "steady drive from rest": _driven(from_rest=True),
    "drive sweeping through resonance": sweep,
    "nothing moves": nothing,
}
BENT: dict[str, Kind] = {
    "stable hardening spring, 40-90 %, in 3-8 %": _stable((0.03, 0.08), (0.4, 0.9), play=False),
    "stable hardening spring, 90-97 %, in 3-8 %": _stable((0.03, 0.08), (0.9, 0.97), play=False),
    "stable play, 25-65 %, in 1-3 %": _stable((0.01, 0.03), (0.25, 0.65), play=True),
    "steady drive in 1-5 % turbulence": _driven(from_rest=False, rough=(0.01, 0.05)),
}
"""Not self-excited, but no simple shaken structures: what the rule for turbulence mistakes most easily."""
SELF_EXCITED = tuple(KINDS)[:6]
CLEAN, HARD = SELF_EXCITED[:3], SELF_EXCITED[3:5]
LINEAR_RANDOM = tuple(KINDS)[6:12]
DYING = tuple(KINDS)[12:15]


def draw_records(
    kind: str, seed: int, count: int, lengths: tuple[float, ...] = LENGTHS, rate: int | None = None
) -> list[Simulated]:
    """Draw recordings of one kind, as many of each length; the same seed gives the same ones."""
    found: list[Simulated] = []
    for order, length in enumerate(lengths):
        kinds = {**KINDS, **BENT}
        generator = np.random.default_rng([seed, list(kinds).index(kind), order])
        share = len(range(order, count, len(lengths)))
        batch = kinds[kind](generator, share, length)
        found += [_recorded(generator, kind, batch, index, rate) for index in range(len(batch.motion))]
    return found


def _recorded(generator: np.random.Generator, kind: str, batch: Batch, index: int, rate: int | None) -> Simulated:
    """Take one recording of a motion: at a camera's rate, with its noise."""
    frames = int(generator.choice([30, 60, 120, 240])) if rate is None else rate
    noise = index % len(NOISES)
    motion = _cut(batch, index)[:: RATE // frames]
    size = np.array([NOISES[noise][0], NOISES[noise][1] * DEG])
    seen = motion + size * generator.standard_normal(motion.shape)
    return Simulated(
        kind, np.arange(len(seen)) / frames, seen[:, 0], seen[:, 1], frames, noise,
        _loudest(motion / size, frames // 2),
        tuple(batch.frequencies[index][np.isfinite(batch.frequencies[index])].tolist()),
        tuple(batch.dampings[index][np.isfinite(batch.dampings[index])].tolist()),
    )  # fmt: skip


def _cut(batch: Batch, index: int) -> Array:
    """Let a growth end where the model would be wrecked."""
    if batch.ends is None:
        return batch.motion[index]
    return batch.motion[index, : max(int(batch.ends[index]), RATE)]


def _loudest(scaled: Array, span: int) -> float:
    """Give the root mean square of the loudest half second, of the better channel, about its mean."""
    power = (scaled - scaled.mean(axis=0)) ** 2
    sums = np.cumsum(np.vstack([np.zeros(2), power]), axis=0)
    windows = (sums[span:] - sums[:-span]) / span if len(sums) > span else power.mean(axis=0, keepdims=True)
    return float(np.sqrt(windows.max()))
