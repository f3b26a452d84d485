"""Onset over several speeds: an interval that holds the truth, or a reason."""

from __future__ import annotations

import numpy as np
import pytest

from hingeline.errors import InputRefused
from hingeline.motion import OnsetResult, OnsetTask, RecordingAt, onset_of, recording_of
from tests.simulated_motion.knocks import Series, draw_series

HELD_BACK = 7_001


def answered(series: Series, keep: int = 6, speeds: int = 6) -> OnsetResult:
    """Give the answer to a series, or to a part of it."""
    slowest = sorted({each[0] for each in series.recordings})[:speeds]
    recordings = []
    for speed in slowest:
        here = [each for each in series.recordings if each[0] == speed][:keep]
        recordings += [
            RecordingAt(speed, recording_of(times, {"plunge": plunge, "pitch": pitch}))
            for _, times, plunge, pitch in here
        ]
    return onset_of(OnsetTask(tuple(recordings)))


@pytest.mark.slow
@pytest.mark.parametrize("stop", [0.7, 0.8, 0.9])
def test_the_interval_holds_the_onset_and_never_begins_above_it(stop: float) -> None:
    """Twelve simulated sections, six knocks at six speeds: nine in ten held, no lower end above the truth."""
    series = draw_series(HELD_BACK, 12, stop)
    found = [(each.onset, answered(each).onset_speed) for each in series]
    given = [(truth, onset) for truth, onset in found if onset is not None]

    assert len(given) >= 8
    assert all(onset.low <= truth for truth, onset in given)
    assert sum(onset.high is None or truth <= onset.high for truth, onset in given) >= 0.9 * len(given)


@pytest.fixture(scope="module")
def series() -> Series:
    """Draw one section."""
    return draw_series(HELD_BACK, 1, 0.9)[0]


@pytest.mark.slow
def test_few_speeds_or_knocks_are_refused_with_the_reason(series: Series) -> None:
    """Four speeds, or two knocks at a speed, give no onset."""
    for found in (answered(series, keep=3, speeds=4), answered(series, keep=2)):
        assert found.onset_speed is None
        assert found.refused is not None
        assert "needed" in found.refused


def test_a_recording_that_grows_ends_the_series(series: Series) -> None:
    """With one growing recording the onset is already there."""
    times = np.arange(600) / 120.0
    grown = 1e-4 * np.exp(1.2 * times) * np.sin(2.0 * np.pi * 4.0 * times)
    noise = 2e-5 * np.random.default_rng(6).standard_normal(600)
    task = OnsetTask((RecordingAt(20.0, recording_of(times, {"plunge": grown + noise})),))

    found = onset_of(task)

    assert found.points[0].statement == "growing"
    assert "already there" in (found.refused or "")


def test_against_weight_names_the_weights_between_which_it_stops() -> None:
    """Growing at 0 and 100 g, dying out at 200 g: between 100 and 200 g, seen and not extrapolated."""
    times = np.arange(720) / 120.0
    noise = 2e-5 * np.random.default_rng(7).standard_normal(720)
    grown = 1e-4 * np.exp(1.0 * times) * np.sin(2.0 * np.pi * 4.0 * times) + noise
    dying = 1e-2 * np.exp(-1.0 * times) * np.cos(2.0 * np.pi * 4.0 * times) + noise
    recordings = [
        RecordingAt(mass, recording_of(times, {"plunge": track}))
        for mass, track in ((0.0, grown), (0.1, grown), (0.2, dying))
    ]
    found = onset_of(OnsetTask(tuple(recordings), "weight"))

    assert found.onset_speed is None
    assert found.stops_between is not None
    assert (found.stops_between.low, found.stops_between.high) == (0.1, 0.2)


def test_no_recordings_are_refused() -> None:
    """A series needs at least one file."""
    with pytest.raises(InputRefused):
        onset_of(OnsetTask(()))


@pytest.mark.slow
def test_play_above_its_limits_and_another_mass_are_refused_with_the_reason(series: Series) -> None:
    """Six speeds and six knocks would give an interval; what is known of the surface rules it out, in words."""
    recordings = tuple(
        RecordingAt(speed, recording_of(times, {"plunge": plunge, "pitch": pitch}))
        for speed, times, plunge, pitch in series.recordings
    )
    loose = onset_of(OnsetTask(recordings, play="above its limits"))
    changed = onset_of(OnsetTask(recordings, rest="changed"))

    assert loose.onset_speed is changed.onset_speed is None
    assert "play" in (loose.refused or "")
    assert "fuel" in (changed.refused or "")
    assert onset_of(OnsetTask(recordings, rest="the same")).onset_speed is not None


def test_the_damping_of_each_recording_is_listed_with_its_interval() -> None:
    """Growing at no weight, dying out at one: damping ratios of both signs, each interval with the truth in it."""
    times = np.arange(720) / 120.0
    noise = 2e-5 * np.random.default_rng(8).standard_normal(720)
    swings = {0.0: (1e-4, 1.0), 0.2: (1e-2, -1.0)}
    task = OnsetTask(
        tuple(
            RecordingAt(
                mass, recording_of(times, {"plunge": size * np.exp(rate * times) * np.cos(8.0 * np.pi * times) + noise})
            )
            for mass, (size, rate) in swings.items()
        ),
        "weight",
    )
    for point, (_size, rate) in zip(onset_of(task).points, swings.values(), strict=True):
        (seen,) = point.seen
        assert seen.damping_ratio is not None
        assert seen.damping_ratio.low is not None
        assert seen.damping_ratio.high is not None
        assert seen.damping_ratio.low <= -rate / np.hypot(8.0 * np.pi, rate) <= seen.damping_ratio.high
