"""Computes the cases of motion.toml, one function a kind, by the library's public names."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import expm

from hingeline.motion import equations, fit_tones, modes_by_tap, recording_of
from hingeline.motion.flaws import flaws_of
from hingeline.motion.margin import flutter_margin, lowest_zero
from hingeline.motion.marks.lines import lateness
from hingeline.motion.marks.solve import file_rate, time_scale
from hingeline.motion.pencil import swings_in
from tests.simulated_motion.marching import karman

Inputs = Mapping[str, Any]
Outcome = dict[str, Any]
Array = NDArray[np.float64]

A_CYCLE = 12.0
"""Samples in a cycle from which on none are left out: thinning rounds the ends of a record off."""
NOISE = 1e-6
"""Of the simulated decays, as a part of their first amplitude: the tap test looks for the noise."""


def compute(kind: str, inputs: Inputs) -> Outcome:
    """Compute a case by its kind."""
    return COMPUTE[kind](inputs)


def pole(frequency: float, damping: float) -> complex:
    """Give the pole of a mode of a natural frequency [Hz] and a damping ratio."""
    natural = 2.0 * math.pi * frequency
    return complex(-damping * natural, natural * math.sqrt(1.0 - damping**2))


def decrement(inputs: Inputs) -> Outcome:
    """Take the logarithmic decrement from a damping ratio."""
    return {"decrement": equations.decrement_of(inputs["damping_ratio"])}


def damping(inputs: Inputs) -> Outcome:
    """Take the damping ratio from a decrement."""
    return {"damping_ratio": equations.damping_of(inputs["decrement"])}


def counted_decrement(inputs: Inputs) -> Outcome:
    """Take the decrement from the amplitude that is left after so many cycles."""
    return {"decrement": equations.decrement_over(inputs["ratio"], inputs["cycles"])}


def tap(inputs: Inputs) -> Outcome:
    """Take the damping ratio of a sampled decay by the tap test."""
    times = np.arange(round(inputs["rate"] * inputs["length"])) / inputs["rate"]
    swing = (np.exp(pole(inputs["frequency"], inputs["damping_ratio"]) * times)).real
    swing = swing + NOISE * np.random.default_rng(1).standard_normal(len(times))
    (mode,) = modes_by_tap(recording_of(times, {"plunge": 0.01 * swing})).modes
    return {"damping_ratio": mode.damping_ratio.value}


def half_power(inputs: Inputs) -> Outcome:
    """Take the half-power frequencies over the natural one, and the damping that their distance is said to give."""
    low, high = equations.half_power_ratios(inputs["damping_ratio"])
    return {"ratios": [low, high], "damping_ratio": equations.damping_by_half_power(low, high, 1.0)}


def half_power_read(inputs: Inputs) -> Outcome:
    """Take damping and quality from two half-power frequencies that were read off."""
    damped = equations.damping_by_half_power(inputs["low"], inputs["high"], inputs["natural"])
    return {"damping_ratio": damped, "quality": 1.0 / (2.0 * damped)}


def chain(inputs: Inputs) -> Outcome:
    """Let two masses on two springs swing free, and find their modes in what the masses do."""
    stiffness = np.array([[2.0, -1.0], [-1.0, 1.0]]) * inputs["stiffness"]
    dampers = inputs["of_mass"] * np.eye(2) + inputs["of_stiffness"] * stiffness + np.diag(inputs["dampers"])
    state = np.block([[np.zeros((2, 2)), np.eye(2)], [-stiffness, -dampers]])
    step = expm(state / inputs["rate"])
    rows = [np.array([1.0, 0.0, 0.0, 0.0])]
    for _ in range(round(inputs["rate"] * inputs["length"])):
        rows.append(step @ rows[-1])
    found = swings_in(np.array(rows)[:, :2].T * 1e6, inputs["rate"], inputs["rate"] / A_CYCLE)
    first, second = np.sort_complex(found.poles[np.argsort(-found.energies)[:2]] * -1j) * 1j
    poles = sorted((complex(first), complex(second)), key=lambda each: each.imag)
    return {
        "natural": [abs(each) for each in poles],
        "damping_ratios": [-each.real / abs(each) for each in poles],
        "poles": [part for each in poles for part in (each.real, each.imag)],
    }


def pencil(inputs: Inputs) -> Outcome:
    """Find the poles of a sum of damped swings without noise."""
    times = np.arange(round(inputs["rate"] * inputs["length"])) / inputs["rate"]
    wanted = [pole(*each) for each in zip(inputs["frequencies"], inputs["damping_ratios"], strict=True)]
    values = sum((np.exp(each * times)).real for each in wanted)
    found = swings_in(np.array([values]) * 1e6, inputs["rate"], inputs["rate"] / A_CYCLE)
    strongest = found.poles[np.argsort(-found.energies)[: len(wanted)]]
    poles = sorted(map(complex, strongest), key=lambda each: each.imag)
    return {
        "frequencies": [abs(each) / (2.0 * math.pi) for each in poles],
        "damping_ratios": [-each.real / abs(each) for each in poles],
    }


def growth(inputs: Inputs) -> Outcome:
    """Take growth a cycle, and the cycles in which it doubles."""
    damped = inputs["damping_ratio"]
    return {"growth_a_cycle": equations.growth_a_cycle(damped), "cycles_to_double": equations.cycles_to_double(damped)}


def margin(inputs: Inputs) -> Outcome:
    """Take the flutter margin of two modes."""
    first, second = (pole(*each) for each in zip(inputs["frequencies"], inputs["damping_ratios"], strict=True))
    return {"margin": flutter_margin(first, second)}


def margin_over_pressure(inputs: Inputs) -> Outcome:
    """Take the margin of a section over dynamic pressure, and where a quadratic through it first is zero."""
    still, air, dampers = (np.array(inputs[name], dtype=float) for name in ("stiffness", "of_air", "dampers"))
    margins = []
    for pressure in inputs["pressures"]:
        state = np.block([[np.zeros((2, 2)), np.eye(2)], [-(still + pressure * air), -dampers]])
        upper = sorted((each for each in np.linalg.eigvals(state) if each.imag > 0.0), key=abs)
        margins.append(flutter_margin(complex(upper[0]), complex(upper[1])))
    onset = lowest_zero(np.array(inputs["pressures"]), np.array(margins), 2)
    return {"margins": margins, "onset": onset}


def kurtosis(inputs: Inputs) -> Outcome:
    """Take the excess kurtosis of one whole cycle of a sine."""
    angle = np.linspace(0.0, 2.0 * np.pi, inputs["samples"], endpoint=False)
    return {"kurtosis": equations.excess_kurtosis(np.sin(angle))}


def envelope_variation(_inputs: Inputs) -> Outcome:
    """Give the variation of the envelope of narrow-band Gaussian motion."""
    return {"variation": equations.RAYLEIGH_VARIATION}


def memory(inputs: Inputs) -> Outcome:
    """Give how alike a mode is to itself ten cycles later, shaken by white noise."""
    return {"likeness": [equations.memory_of_a_mode(each) for each in inputs["damping_ratios"]]}


def bandwidth(inputs: Inputs) -> Outcome:
    """Give the equivalent noise bandwidth of a resonance."""
    return {"bandwidth": equations.noise_bandwidth(inputs["damping_ratio"])}


def best_accuracy(inputs: Inputs) -> Outcome:
    """Give the least deviation of a damping ratio from a randomly shaken record."""
    known = (inputs["damping_ratio"], inputs["frequency"], inputs["length"])
    return {"deviation": equations.best_damping_accuracy(*known)}


def coherence(inputs: Inputs) -> Outcome:
    """Give the coherence that two unrelated channels stay under."""
    return {"level": equations.coherence_floor(inputs["segments"])}


def alias(inputs: Inputs) -> Outcome:
    """Give the frequency at which a faster motion appears."""
    pairs = zip(inputs["frequencies"], inputs["rates"], strict=True)
    return {"apparent": [equations.alias_of(*each) for each in pairs]}


def exposure(inputs: Inputs) -> Outcome:
    """Give what an open shutter leaves of an amplitude."""
    return {"factor": equations.seen_through_shutter(inputs["frequency"], inputs["exposure"])}


def slow_motion(inputs: Inputs) -> Outcome:
    """Take the true frequency from a file that is shown slower than it was taken, by the door of videos."""
    times = np.arange(300) / inputs["stored"]
    scale = time_scale(times, None, inputs["captured"]).true_over_file
    assert scale is not None
    assert abs(file_rate(times) - inputs["stored"]) < 1e-9
    return {"slower": 1.0 / scale, "frequency": inputs["apparent"] / scale}


def rolling_shutter(inputs: Inputs) -> Outcome:
    """Give the phase by which two marks some lines apart are wrong."""
    places = np.array([[0j], [complex(0.0, inputs["apart"])]])
    late = lateness(places, inputs["readout"], inputs["rows"], 0)
    return {"phase": math.degrees(equations.skewed_phase(inputs["frequency"], float(late[1, 0] - late[0, 0])))}


def angle(inputs: Inputs) -> Outcome:
    """Give the deviation of an angle from two marks."""
    return {"angle": math.degrees(equations.angle_noise(inputs["apart"], inputs["noise"]))}


def acceleration(inputs: Inputs) -> Outcome:
    """Give the acceleration of a swing."""
    found = equations.acceleration_of(inputs["amplitude"], inputs["frequency"])
    return {"acceleration": found, "in_g": found / 9.80665}


def clipped(inputs: Inputs) -> Outcome:
    """Clip a sine: third harmonic over the first, samples at both rails by the flaws of one."""
    angles = np.linspace(0.0, 2.0 * np.pi, inputs["samples"], endpoint=False) + 1e-4
    wave = np.clip(np.sin(angles), -inputs["rail"], inputs["rail"])
    lines = abs(np.fft.rfft(wave))
    return {"third_over_first": float(lines[3] / lines[1]), "at_the_rail": 2.0 * flaws_of(wave[None, :]).clipped}


def tones(inputs: Inputs) -> Outcome:
    """Fit steady tones to samples one apart, from stated first guesses; some of the periods may be held."""
    values = np.array(inputs["values"], dtype=float)
    places = np.arange(1.0, len(values) + 1.0)
    found = fit_tones(places, values, [1.0 / each for each in inputs["periods"]], inputs["held"])
    free = slice(inputs["held"], None)
    return {
        "level": found.level,
        "cosines": found.cosines.tolist(),
        "sines": found.sines.tolist(),
        "sizes": np.hypot(found.cosines, found.sines).tolist(),
        "phases": np.arctan2(found.cosines, found.sines).tolist(),
        "frequencies": found.frequencies[free].tolist(),
        "periods": (1.0 / found.frequencies[free]).tolist(),
        "squares": found.squares,
        "deviation": found.deviation,
        "serial_correlation": equations.serial_correlation(values),
    }


def gust_variance(inputs: Inputs) -> Outcome:
    """Integrate the gust spectrum that the simulated recordings are drawn from."""
    from scipy.integrate import quad

    speed, scale = np.array(inputs["speed"]), inputs["scale"]
    whole = sum(
        quad(lambda frequency: float(karman(np.array(frequency), speed, scale)), low, high, limit=200)[0]
        for low, high in pairwise((0.0, 1.0, 10.0, 1e2, 1e4, 1e7))
    )
    return {"variance": inputs["deviation"] ** 2 * whole}


COMPUTE: Mapping[str, Callable[[Inputs], Outcome]] = {
    "decrement": decrement,
    "damping": damping,
    "counted_decrement": counted_decrement,
    "tap": tap,
    "half_power": half_power,
    "half_power_read": half_power_read,
    "chain": chain,
    "pencil": pencil,
    "growth": growth,
    "margin": margin,
    "margin_over_pressure": margin_over_pressure,
    "kurtosis": kurtosis,
    "envelope_variation": envelope_variation,
    "memory": memory,
    "bandwidth": bandwidth,
    "best_accuracy": best_accuracy,
    "coherence": coherence,
    "alias": alias,
    "exposure": exposure,
    "slow_motion": slow_motion,
    "rolling_shutter": rolling_shutter,
    "angle": angle,
    "acceleration": acceleration,
    "clipped": clipped,
    "tones": tones,
    "gust_variance": gust_variance,
}
