"""Knocks at several speeds below the onset: what an onset is estimated from, and the onset that is true."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tests.simulated_motion.marching import RATE, Drive, march
from tests.simulated_motion.sections import STATES, Array, drawn, onsets

DEG = np.pi / 180.0
FIRST = 0.35
"""Of the onset, the slowest speed."""


@dataclass(frozen=True)
class Series:
    """One section: its onset, and recordings as (speed, times, plunge, pitch)."""

    onset: float
    recordings: tuple[tuple[float, Array, Array, Array], ...]


def draw_series(
    seed: int, count: int, stop: float, speeds: int = 6, knocks: int = 6, length: float = 6.0, rate: int = 120
) -> list[Series]:
    """Draw sections that are knocked at even steps of speed up to a part of their onset."""
    generator = np.random.default_rng([seed, int(100 * stop)])
    sections = drawn(generator, 3 * count)
    onset = onsets(sections)
    kept = np.flatnonzero(np.isfinite(onset) & (onset > 3.0))[:count]
    sections, onset = sections.taken(kept), onset[kept]
    found: list[list[tuple[float, Array, Array, Array]]] = [[] for _ in kept]
    still = np.zeros((len(kept), int(length * RATE)))
    for ratio in np.linspace(FIRST, stop, speeds):
        for _ in range(knocks):
            start = np.zeros((len(kept), STATES))
            start[:, 2] = generator.uniform(0.1, 0.4, len(kept)) * generator.choice([-1.0, 1.0], len(kept))
            start[:, 3] = generator.uniform(0.3, 1.5, len(kept)) * generator.choice([-1.0, 1.0], len(kept))
            motion = march(sections, Drive((onset * ratio)[:, None], still), start)[:, :: RATE // rate]
            seen = motion + np.array([1e-4, 0.05 * DEG]) * generator.standard_normal(motion.shape)
            times = np.arange(motion.shape[1]) / rate
            for row, each in enumerate(found):
                each.append((float(onset[row] * ratio), times, seen[row, :, 0], seen[row, :, 1]))
    return [Series(float(speed), tuple(each)) for speed, each in zip(onset, found, strict=True)]
