"""March many sections at once through gusts, forces, a hardening spring or play."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg import expm

from tests.simulated_motion.sections import STATES, Array, Sections, system

RATE = 480
"""Steps of the march in a second: every rate of a recording divides it."""
PIECE = 0.25
"""Where the airspeed changes, the system is made anew so often [s]."""


@dataclass
class Drive:
    """What acts on the sections: one row a section, one column a step."""

    speed: Array
    """True airspeed; one column where it is steady [m/s]."""
    gust: Array
    """Upward speed of the air [m/s]."""
    force: Array | None = None
    """On plunge, of one metre of span [N/m]."""
    moment: Array | None = None
    """On pitch [N]."""
    hardening: Array | float = 0.0
    """Pitch stiffness grows as 1 + hardening α² [1/rad²]."""
    half_gap: Array | float = 0.0
    """Play in pitch to each side [rad]."""


def _discrete(sections: Sections, speed: Array) -> tuple[Array, Array, Array]:
    matrix, gust, force = system(sections, speed)
    whole = np.zeros((len(sections), STATES + 3, STATES + 3))
    whole[:, :STATES, :STATES], whole[:, :STATES, STATES], whole[:, :STATES, STATES + 1 :] = matrix, gust, force
    step = expm(whole / RATE)
    return step[:, :STATES, :STATES], step[:, :STATES, STATES], step[:, :STATES, STATES + 1 :]


def march(sections: Sections, drive: Drive, start: Array) -> Array:
    """Give plunge and pitch at every step, shape (sections, steps, 2).

    The linear part is exact for inputs held over a step; what the spring adds is taken at both ends of it.
    """
    steps = drive.gust.shape[1]
    state, found = start.copy(), np.empty((len(sections), steps, 2))
    steady, piece = drive.speed.shape[1] == 1, int(PIECE * RATE)
    by_step = None
    stiffness = sections.pitch_stiffness
    half_gap = np.asarray(drive.half_gap)
    hardens, has_play = bool(np.any(np.asarray(drive.hardening) != 0.0)), bool(np.any(half_gap != 0.0))
    bent = hardens or has_play

    def spring(pitch: Array) -> Array:
        # np.clip says the same, and takes three times as long for a few sections.
        slack = np.minimum(np.maximum(pitch, -half_gap), half_gap) if has_play else np.zeros_like(pitch)
        if hardens:
            slack = slack - drive.hardening * np.minimum(np.maximum(pitch, -3.0), 3.0) ** 3
        return stiffness * slack

    for step in range(steps):
        if by_step is None or (not steady and step % piece == 0):
            by_step = _discrete(sections, drive.speed[:, 0 if steady else step])
            matrix, by_gust, by_force = by_step
            by_moment = by_force[:, :, 1]
        found[:, step] = state[:, :2]
        linear = (matrix @ state[:, :, None])[:, :, 0] + by_gust * drive.gust[:, step, None]
        if drive.force is not None:
            linear += by_force[:, :, 0] * drive.force[:, step, None]
        if drive.moment is not None:
            linear += by_moment * drive.moment[:, step, None]
        if bent:
            before = spring(state[:, 1])[:, None]
            guess = linear + by_moment * before
            state = linear + by_moment * (before + spring(guess[:, 1])[:, None]) / 2.0
        else:
            state = linear
    return found


def turbulence(generator: np.random.Generator, intensity: Array, speed: Array, steps: int, scale: float = 0.5) -> Array:
    """Draw upward gusts of the von Kármán transverse spectrum, one row a section."""
    frequency = np.fft.rfftfreq(steps, 1.0 / RATE)
    power = karman(frequency[None, :], speed[:, None], scale)
    return (intensity * speed)[:, None] * coloured(generator, power)


def karman(frequency: Array, speed: Array, scale: float) -> Array:
    """Give the von Kármán transverse spectrum of variance 1 [1/Hz] (constants from memory).

    Φ(f) = 2 (L/U) (1 + 8/3 (1.339 L Ω)²)/(1 + (1.339 L Ω)²)^(11/6), Ω = 2π f/U.
    """
    reduced = (1.339 * scale * 2.0 * np.pi * frequency / speed) ** 2
    return np.asarray(2.0 * scale / speed * (1.0 + 8.0 / 3.0 * reduced) / (1.0 + reduced) ** (11.0 / 6.0))


def coloured(generator: np.random.Generator, power: Array) -> Array:
    """Draw Gaussian noise whose one-sided spectrum [1/Hz] is given at the frequencies of an even-length record."""
    steps = 2 * (power.shape[1] - 1)
    size = np.sqrt(power * RATE * steps / 4.0)
    parts = generator.standard_normal((*power.shape, 2)) @ np.array([1.0, 1.0j])
    parts[:, 0] = 0.0
    return np.asarray(np.fft.irfft(size * parts, steps, axis=1))


def band(steps: int, centre: Array, width: Array) -> Array:
    """Give a one-sided spectrum of variance 1 about a centre, width as a part of it, one row a section."""
    frequency = np.fft.rfftfreq(steps, 1.0 / RATE)
    shape = np.exp(-0.5 * ((frequency[None, :] - centre[:, None]) / (width * centre)[:, None]) ** 2)
    return shape / (shape.sum(axis=1) * RATE / steps)[:, None]
