"""Times that are written rounded: by a camera's file in whole milliseconds, by a table in four decimals."""

from __future__ import annotations

import numpy as np
import pytest

from hingeline.motion import MotionResult, judge, recording_of
from hingeline.motion.regular import clock_of
from hingeline_app.files.recordings import read_recording
from tests.doors.checkouts import ROOT

FREQUENCY, GROWTH, LENGTH = 4.0, -0.4, 8.0


def swing_of(times: np.ndarray, true_times: np.ndarray) -> MotionResult:
    """Judge a swing that dies out, of which frequency and rate are known, with a little noise."""
    swing = np.exp(GROWTH * true_times) * np.sin(2.0 * np.pi * FREQUENCY * true_times)
    noise = 0.005 * np.random.default_rng(1).standard_normal(len(times))
    return judge(recording_of(times, {"plunge": 0.01 * (swing + noise), "pitch": 0.02 * (swing - noise)}))


@pytest.mark.parametrize(("rate", "decimals"), [(24, 3), (30, 3), (30, 4), (60, 3), (60, 4), (120, 4), (240, 4)])
def test_rounded_times_leave_frequency_and_rate_as_they_are(rate: int, decimals: int) -> None:
    """The interval holds the truth, and the value is that of the times in full to 1 in 20,000.

    By the median step they were off by up to 1 % (30 a second in milliseconds), far outside an interval of 0.05 %.
    """
    times = np.arange(int(LENGTH * rate)) / rate
    full, rounded = swing_of(times, times), swing_of(np.round(times, decimals), times)
    for name, truth in (("frequency", FREQUENCY), ("growth_rate", GROWTH)):
        found, wanted = getattr(rounded, name), getattr(full, name)
        assert found.low < truth < found.high
        assert found.value == pytest.approx(wanted.value, rel=5e-5 if name == "frequency" else 2e-3)


@pytest.mark.parametrize(("rate", "decimals"), [(24, 3), (30, 3), (120, 4)])
def test_a_gap_in_rounded_times_leaves_the_frequency(rate: int, decimals: int) -> None:
    """Two samples are missing: what is lost is counted, and the frequency is that of the times in full."""
    true_times = np.delete(np.arange(int(LENGTH * rate)) / rate, [50, 51])
    rounded = np.round(true_times, decimals)
    clock = clock_of(rounded, np.zeros((1, len(rounded))))
    assert not clock.regular
    assert clock.lost == pytest.approx(2 / (LENGTH * rate))
    full = swing_of(true_times, true_times).frequency.value
    assert swing_of(rounded, true_times).frequency.value == pytest.approx(full, rel=2e-4)


@pytest.mark.parametrize("rate", [60, 120, 144, 240])
def test_a_fast_film_in_whole_milliseconds_misses_no_picture(rate: int) -> None:
    """Its steps are uneven (8, 8, 9 ms): 4 % were called missing. Two that are missing are counted."""
    times = np.round(np.arange(int(LENGTH * rate)) / rate, 3)
    assert clock_of(times, np.zeros((1, len(times)))).lost == 0.0
    fewer = np.delete(times, [50, 51])
    assert clock_of(fewer, np.zeros((1, len(fewer)))).lost == pytest.approx(2 / len(times))


def test_a_clock_that_drifts_away_is_not_even() -> None:
    """Steps that are each within 1 % of the usual one, three seconds of each: seen as uneven."""
    steps = np.repeat([0.0101, 0.0099], 300)
    clock = clock_of(np.concatenate([[0.0], np.cumsum(steps)]), np.zeros((1, 601)))
    assert clock.jitter < 0.02
    assert not clock.regular


def test_times_in_full_keep_their_rate_to_the_last_digit() -> None:
    """What was kept of such recordings is replayed as it was."""
    times = np.arange(500) / 120.0
    assert clock_of(times, np.zeros((1, 500))).rate == 1.0 / float(np.median(np.diff(times)))


# Damped frequency [Hz] and damping ratio of the sections that were drawn: tests/simulated_motion/examples.py.
SIMULATED = {"01-knock-in-the-wind": (5.379213283, 0.029996340), "04-growing": (5.424941902, -0.036166297)}


@pytest.mark.parametrize("name", SIMULATED)
def test_the_sample_recordings_hold_what_they_were_made_from(name: str) -> None:
    """Their times have four decimals: by the median step both frequencies lay outside their intervals."""
    found = judge(read_recording((ROOT / "examples" / "motion" / f"{name}.csv").read_bytes()))
    for interval, truth in zip((found.frequency, found.damping_ratio), SIMULATED[name], strict=True):
        assert interval is not None
        assert interval.low is not None
        assert interval.high is not None
        assert interval.low < truth < interval.high
