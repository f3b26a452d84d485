"""Random sections that plunge and pitch in an airstream: what the simulated recordings are made of.

Two freedoms, lift by R. T. Jones's two-lag approximation of the indicial function (from memory), viscous
structural damping. Nothing here is taken from the product: it is what the product is tried on.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

DENSITY = 1.225
LAGS, SHARES = (0.0455, 0.3), (0.165, 0.335)
STATES = 6
"""Plunge, pitch, their rates, two lags."""


@dataclass
class Sections:
    """Many sections side by side: each field holds one number a section."""

    semichord: Array
    axis: Array
    offset: Array
    radius2: Array
    mass: Array
    plunge_frequency: Array
    pitch_frequency: Array
    plunge_damping: Array
    pitch_damping: Array

    def __len__(self) -> int:
        """How many sections."""
        return len(self.semichord)

    def taken(self, chosen: NDArray[np.int64]) -> Sections:
        """Give some of the sections."""
        return Sections(**{name: values[chosen] for name, values in vars(self).items()})

    @property
    def pitch_stiffness(self) -> Array:
        """Of one metre of span [N]."""
        return self.mass * self.semichord**2 * self.radius2 * (2.0 * np.pi * self.pitch_frequency) ** 2


def drawn(generator: np.random.Generator, count: int) -> Sections:
    """Draw sections of model size, with the plunge frequency below the pitch frequency."""
    plunge = generator.uniform(2.0, 4.0, count)
    return Sections(
        semichord=generator.uniform(0.07, 0.15, count),
        axis=generator.uniform(-0.4, -0.15, count),
        offset=generator.uniform(0.1, 0.3, count),
        radius2=generator.uniform(0.24, 0.31, count),
        mass=generator.uniform(1.8, 5.2, count),
        plunge_frequency=plunge,
        pitch_frequency=plunge * generator.uniform(1.4, 2.4, count),
        plunge_damping=generator.uniform(0.004, 0.015, count),
        pitch_damping=generator.uniform(0.004, 0.02, count),
    )


def _square(top_left: Array, top_right: Array, bottom_left: Array, bottom_right: Array) -> Array:
    return np.stack([np.stack([top_left, top_right], -1), np.stack([bottom_left, bottom_right], -1)], -2)


def system(sections: Sections, speed: Array) -> tuple[Array, Array, Array]:
    """Give A, the gust's column and the columns of a force and a moment of the state equation ẋ = A x + …"""
    s, b, a = sections, sections.semichord, sections.axis
    added, circulation, arm = np.pi * DENSITY * b**2, 2.0 * np.pi * DENSITY * speed * b, b * (0.5 + a)
    lever, nothing = b * (0.5 - a), np.zeros_like(b)
    inertia = _square(
        s.mass + added,
        s.mass * b * s.offset - added * b * a,
        s.mass * b * s.offset - added * b * a,
        s.mass * b**2 * s.radius2 + added * b**2 * (0.125 + a**2),
    )
    plunge_rate, pitch_rate = 2.0 * np.pi * s.plunge_frequency, 2.0 * np.pi * s.pitch_frequency
    half = 0.5 * circulation
    damping = _square(
        2.0 * s.plunge_damping * s.mass * plunge_rate + half,
        added * speed + half * lever,
        -half * arm,
        2.0 * s.pitch_damping * s.mass * b**2 * s.radius2 * pitch_rate + added * speed * lever - half * arm * lever,
    )
    stiffness = _square(s.mass * plunge_rate**2, half * speed, nothing, s.pitch_stiffness - half * arm * speed)
    lag = np.stack([np.stack([circulation, circulation], -1), np.stack([-circulation * arm] * 2, -1)], -2)
    gust = np.stack([half, -half * arm], -1)
    inverse = np.linalg.inv(inertia)
    matrix = np.zeros((len(s), STATES, STATES))
    matrix[:, 0, 2] = matrix[:, 1, 3] = 1.0
    matrix[:, 2:4, 0:2], matrix[:, 2:4, 2:4] = -inverse @ stiffness, -inverse @ damping
    matrix[:, 2:4, 4:6] = -inverse @ lag
    by_gust = np.zeros((len(s), STATES))
    by_gust[:, 2:4] = -np.einsum("nij,nj->ni", inverse, gust)
    for index, (pole, share) in enumerate(zip(LAGS, SHARES, strict=True)):
        rate, row = pole * speed / b, 4 + index
        matrix[:, row, row] = -rate
        matrix[:, row, 1], matrix[:, row, 2], matrix[:, row, 3] = (
            share * rate * speed, share * rate, share * rate * lever
        )  # fmt: skip
        by_gust[:, row] = share * rate
    by_force = np.zeros((len(s), STATES, 2))
    by_force[:, 2:4] = inverse
    return matrix, by_gust, by_force


def modes(sections: Sections, speed: Array) -> tuple[Array, Array]:
    """Give frequency [Hz] and damping ratio of the two swinging modes, by frequency."""
    roots = np.linalg.eigvals(system(sections, speed)[0])
    frequency, damping = np.full((len(sections), 2), np.nan), np.full((len(sections), 2), np.nan)
    for index, each in enumerate(roots):
        upper = each[each.imag > 1e-3]
        upper = upper[np.argsort(upper.imag)][-2:]
        frequency[index, : len(upper)] = upper.imag / (2.0 * np.pi)
        damping[index, : len(upper)] = -upper.real / abs(upper)
    return frequency, damping


def grows(sections: Sections, speed: Array) -> NDArray[np.bool_]:
    """Tell in which sections a swing grows at this speed."""
    roots = np.linalg.eigvals(system(sections, speed)[0])
    return ((roots.real > 0.0) & (abs(roots.imag) > 1e-3)).any(axis=1)


def onsets(sections: Sections, highest: float = 80.0) -> Array:
    """Give the lowest speed at which a swing starts to grow [m/s]; NaN where there is none."""
    found = np.full(len(sections), np.nan)
    for speed in np.arange(1.0, highest, 0.5):
        fresh = np.isnan(found) & grows(sections, np.full(len(sections), speed))
        found[fresh] = speed
    low, high = found - 0.5, found.copy()
    known = np.flatnonzero(~np.isnan(found))
    for _ in range(30):
        middle = (low + high) / 2.0
        growing = np.zeros(len(sections), dtype=bool)
        growing[known] = grows(sections.taken(known), middle[known])
        low, high = np.where(growing, low, middle), np.where(growing, middle, high)
    return high
