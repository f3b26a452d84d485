"""A knock whose large swing dies out while a small one grows under it is not called dying out."""

from __future__ import annotations

import numpy as np
import pytest

from hingeline.motion import MotionResult, OnsetTask, Recording, RecordingAt, judge, onset_of, recording_of

KNOCK, SMALL = 5.6, 3.4
"""Frequencies [Hz]."""


def knocked(seed: int, end: float, rate: float = 0.45, length: float = 10.0) -> Recording:
    """Give a knock that dies out, with a small swing that ends at a part ``end`` of it and grows by ``rate``."""
    generator, times = np.random.default_rng(seed), np.arange(int(120.0 * length)) / 120.0
    large = np.exp(-1.2 * times) * np.cos(2.0 * np.pi * KNOCK * times)
    small = end * np.exp(rate * (times - length)) * np.cos(2.0 * np.pi * SMALL * times + generator.uniform(0.0, 6.0))
    noise = generator.standard_normal((2, len(times)))
    swing = 0.01 * (large + small)
    return recording_of(times, {"plunge": swing + 2e-5 * noise[0], "pitch": 2.0 * swing + 1e-4 * noise[1]})


def found(seed: int, end: float, rate: float = 0.45) -> MotionResult:
    """Judge one."""
    return judge(knocked(seed, end, rate))


@pytest.mark.parametrize("end", [0.03, 0.1])
def test_what_grows_under_a_knock_takes_the_dying_out_away(end: float) -> None:
    """A swing that rises by over 20 dB to 3 or 10 % of the knock: cannot tell, and treat it as self-excited."""
    for seed in range(2):
        result = found(seed, end)
        assert result.statement == "cannot tell"
        assert result.ground == "a swing grows under the decay"
        assert "Treat it as self-excited until that is excluded." in result.reasons


def test_the_frequency_and_the_rise_of_what_grows_are_the_evidence() -> None:
    """The row that decides names 3.4 Hz, which the dominant frequency of 5.6 Hz does not show."""
    rows = {each.measure: each for each in found(1, 0.1).evidence if each.role == "decides"}

    assert rows["frequency of the swing that grows under the decay"].value == pytest.approx(SMALL, abs=0.3)
    assert (rows["rise of a swing under the decay"].value or 0.0) > 12.0


def test_an_even_swing_that_goes_on_takes_it_away_too() -> None:
    """A swing of 2.5 % of the knock, at another frequency, that never falls: a drive or a limit cycle, said so."""
    result = found(4, 0.025, 0.0)

    assert (result.statement, result.ground) == ("cannot tell", "a swing goes on under the decay")
    rows = {each.measure: each.value for each in result.evidence if each.role == "decides"}
    assert rows["frequency of the even swing at the end"] == pytest.approx(SMALL, abs=0.2)
    assert rows["even swing at the end over the greatest"] == pytest.approx(2.5, rel=0.2)


@pytest.mark.parametrize(("end", "rate"), [(0.1, 0.45), (0.025, 0.0), (0.1, 0.0)])
def test_no_onset_is_read_from_a_series_in_which_a_knock_shows_it(end: float, rate: float) -> None:
    """One knock under which a swing grows, or goes on: no onset, whatever the others show; not said to be there.

    An even swing of a tenth of the knock was let through: of it, "the level changes" is said first.
    """
    task = OnsetTask((RecordingAt(20.0, knocked(4, end, rate)),))

    assert "the onset may be there already. Stop" in (onset_of(task).refused or "")


def test_a_motion_does_not_stop_below_a_weight_at_which_a_swing_grows_under_the_decay() -> None:
    """Growing without weight, dying out at 200 g, at 300 g a swing grows under it: it stops at 400, not at 200."""
    dying = knocked(1, 0.1 * np.exp(-4.5), -0.45)
    times = np.arange(1200) / 120.0
    noise = np.random.default_rng(1).standard_normal(1200)
    grows = recording_of(times, {"plunge": 1e-5 * np.exp(0.45 * times) * np.cos(21.0 * times) + 2e-5 * 0.1 * noise})
    series = [RecordingAt(0.0, grows), RecordingAt(0.2, dying), RecordingAt(0.3, knocked(4, 0.1))]

    assert onset_of(OnsetTask(tuple(series), "weight")).stops_between is None
    stops = onset_of(OnsetTask((*series, RecordingAt(0.4, dying)), "weight")).stops_between
    assert stops is not None
    assert (stops.low, stops.high) == (0.0, 0.4)


def test_a_small_swing_that_dies_as_well_leaves_the_statement() -> None:
    """The same two swings, both damped: dying out."""
    assert [found(seed, 0.1 * np.exp(-4.5), -0.45).statement for seed in range(2)] == ["dying out"] * 2


def test_the_rise_of_a_beat_is_told_as_what_may_be_one() -> None:
    """4.0 and 4.3 Hz, both damped, rise again after their least: nothing grows, and the words leave room for that."""
    times = np.arange(1200) / 120.0
    noise = np.random.default_rng(1).standard_normal((2, 1200))
    both = np.cos(2.0 * np.pi * 4.0 * times) + 0.9 * np.cos(2.0 * np.pi * 4.3 * times)
    swing = 0.01 * np.exp(-0.35 * times) * both
    result = judge(recording_of(times, {"plunge": swing + 2e-5 * noise[0], "pitch": 2.0 * swing + 1e-4 * noise[1]}))

    assert result.ground == "a swing grows under the decay"
    assert "two damped swings that beat" in result.reasons[0]
    assert "not all is damped" not in " ".join(result.reasons)
