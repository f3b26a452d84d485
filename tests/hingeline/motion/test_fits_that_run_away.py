"""One wrong sample or time in a recording: no number beside a statement says the opposite, and none is nonsense."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hingeline.motion import OnsetTask, Recording, RecordingAt, judge, onset_of, trace_of
from tests.faults.fuzzing.rooms import recordings

PLUNGE, PITCH = 0, 1


def with_time(recording: Recording, index: int, time: float) -> Recording:
    """Mistype one time."""
    times = list(recording.times)
    times[index] = time
    return replace(recording, times=tuple(times))


def with_value(recording: Recording, channel: int, index: int, value: float) -> Recording:
    """Mistype one value."""
    channels = list(recording.channels)
    values = list(channels[channel].values)
    values[index] = value
    channels[channel] = replace(channels[channel], values=tuple(values))
    return replace(recording, channels=tuple(channels))


def test_a_slipped_point_in_one_value_is_no_decay() -> None:
    """The first plunge a thousand times too large: it was called dying out, at -137 Hz and with nought in its damping.

    The recording of the examples is of a steady shaking.
    """
    spoiled = with_value(recordings()[1], PLUNGE, 0, 0.19)
    found = judge(spoiled)
    assert found.statement == "cannot tell"
    assert found.frequency is not None
    assert found.frequency.value > 0.0
    assert found.cycles > 0.0
    assert found.damping_ratio is None
    assert found.ground == "the level changes"


@pytest.mark.parametrize(
    ("piece", "slipped"),
    [
        (102, [(PLUNGE, 3, 0.3), (PLUNGE, 39, 1e-9), (PITCH, 13, -5.916666164260778)]),
        (3, [(PLUNGE, 12, 1e-300), (PITCH, 3, -1.0)]),
    ],
)
def test_slipped_points_are_no_decay_however_surely_their_burst_is_fitted(
    piece: int, slipped: list[tuple[int, int, float]]
) -> None:
    """Two or three wrong values in a piece of a steady shaking: a fit went through their burst, on the wrong side.

    They were called dying out with a growth rate above nought: 3757 1/s told to eight digits at 60 ± 47,754 Hz, and
    6.8 ± 5.8 1/s.
    """
    spoiled = recordings()[piece]
    for channel, index, value in slipped:
        spoiled = with_value(spoiled, channel, index, value)
    found = judge(spoiled)
    assert found.statement == "cannot tell"
    assert found.ground == "the level changes"
    assert found.growth_rate is None
    assert found.damping_ratio is None
    assert found.frequency is not None
    assert (found.frequency.low, found.frequency.high) == (None, None)


def test_picture_and_series_say_of_a_withdrawn_decay_what_its_own_answer_says() -> None:
    """The picture marked another stretch than the numbers came from; a series listed it as dying out, at its weight."""
    spoiled = with_value(recordings()[1], PLUNGE, 0, 0.19)
    alone, drawn = judge(spoiled), trace_of(spoiled)
    assert (drawn.start, drawn.stop) == (alone.stretch.from_, alone.stretch.to)
    (point,) = onset_of(OnsetTask((RecordingAt(0.4, spoiled),), against="weight")).points
    assert point.statement == "cannot tell"
    assert [each.statement for each in point.seen] == ["cannot tell"]


def test_growth_that_is_seen_keeps_its_statement_without_a_rate_that_says_the_opposite() -> None:
    """One time of 120 set to the start: it grows along a line, and the fit comes to rest where none is. None is given.

    Of a like one, the fitted rate was -2.4 ± 15 1/s.
    """
    found = judge(with_time(recordings()[4], 20, -1e-12))
    assert found.statement == "growing"
    assert found.growth_rate is None
    assert found.damping_ratio is None
    assert found.frequency is not None
    assert found.frequency.value > 0.0


@pytest.mark.parametrize("apart", [5e-324, 1e-300, 1e-12])
def test_two_samples_at_next_to_one_time_are_one(apart: float) -> None:
    """Their slope has no number; the library stopped without a sentence."""
    recording = recordings()[0]
    near, same = (judge(with_time(recording, 35, time)) for time in (recording.times[34] + apart, recording.times[34]))
    first = with_time(recording, 35, recording.times[0] + apart)
    assert judge(first).statement == judge(with_time(recording, 35, recording.times[0])).statement
    assert (near.statement, near.frequency) == (same.statement, same.frequency)
