"""The spectrum that a page shows: its peak and how wide that is, against closed forms."""

from __future__ import annotations

import numpy as np
import pytest

from hingeline.motion import judge, recording_of, trace_of
from hingeline.motion.equations import half_power_ratios
from hingeline.motion.spectrum import half_power_ends

RATE, SECONDS, TONE = 100.0, 20.0, 6.0


@pytest.mark.parametrize("damping", [0.01, 0.05, 0.2])
def test_the_half_power_ends_of_a_resonance_are_those_of_its_closed_form(damping: float) -> None:
    """|H|² of one mode on a fine scale: ends at r² = 1 - 2ζ² -/+ 2ζ√(1 - ζ²) (own derivation), to a step of the scale.

    The ratios are of half the power at the natural frequency's peak, so the peak itself is given.
    """
    ratio = np.linspace(0.0, 3.0, 300_001)
    power = 1.0 / ((1.0 - ratio**2) ** 2 + (2.0 * damping * ratio) ** 2)
    peak = float(ratio[np.argmax(power)])
    assert half_power_ends(ratio, power, peak) == pytest.approx(half_power_ratios(damping), abs=2e-5)


def test_a_steady_tone_peaks_where_it_is_and_is_no_wider_than_the_window() -> None:
    """6 Hz for 20 s: the peak within 0.01 Hz; half its power lies as far apart as the window makes it."""
    times = np.arange(round(RATE * SECONDS)) / RATE
    noise = 1e-5 * np.random.default_rng(3).standard_normal(len(times))
    trace = trace_of(recording_of(times, {"plunge": 0.01 * np.sin(2.0 * np.pi * TONE * times) + noise}))
    low, high = trace.half_power
    assert trace.peak == pytest.approx(TONE, abs=0.01)
    assert high - low == pytest.approx(1.44 * 4.0 / SECONDS, rel=0.25)
    assert trace.resolution == pytest.approx(1.44 * 4.0 / SECONDS, rel=1e-3)
    frequencies, parts = np.array(trace.spectrum).T
    assert frequencies[np.argmax(parts)] == pytest.approx(TONE, abs=0.05)
    assert parts.max() == pytest.approx(1.0, abs=0.01)


def test_a_tone_of_few_samples_a_cycle_at_uneven_times_keeps_its_frequency_in_the_evidence() -> None:
    """5 Hz, 3 samples a cycle, steps scattered by 0.2 and 5 % lost: the statement is cannot tell, the sine is right."""
    generator = np.random.default_rng(11)
    times = (np.arange(300) + 0.2 * generator.standard_normal(300)) / 15.0
    times = np.sort(times)[generator.random(300) > 0.05]
    swing = 0.01 * np.sin(2.0 * np.pi * 5.0 * times) + 1e-4 * generator.standard_normal(len(times))
    found = judge(recording_of(times, {"plunge": swing}))
    shown = {each.measure: each.value for each in found.evidence}
    assert found.statement == "cannot tell"
    assert shown["frequency, by one sine at the true times"] == pytest.approx(5.0, rel=0.001)
    assert (shown["that sine over what it leaves"] or 0.0) > 20.0
