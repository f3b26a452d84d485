"""A time that lies far off: the samples that belong together are read, and a gap is told; a day is not filled up."""

from __future__ import annotations

import numpy as np
import pytest

from hingeline.errors import InputRefused
from hingeline.motion import MotionResult, judge, recording_of
from hingeline.motion.regular import EMPTY_STEPS, together

TIMES = np.arange(0.0, 8.0, 0.02)
SWING = 0.02 * np.exp(-0.35 * TIMES) * np.sin(2.0 * np.pi * 3.0 * TIMES)
LONG_AGO = -80_000.0


def judged(times: np.ndarray, values: np.ndarray = SWING) -> MotionResult:
    noise = 1e-4 * np.random.default_rng(2).standard_normal(len(times))
    return judge(recording_of(times, {"surface": values + noise}))


@pytest.mark.parametrize("mistyped", [LONG_AGO, 85_000.0])
def test_one_mistyped_time_makes_no_day_of_eight_seconds(mistyped: float) -> None:
    """3 Hz are read from the rest; nearly all is missing then, which is said, and no verdict is given."""
    times = TIMES.copy()
    times[0 if mistyped < 0.0 else -1] = mistyped
    found, whole = judged(times), judged(TIMES)
    assert (found.statement, whole.statement) == ("cannot tell", "dying out")
    assert found.frequency is not None
    assert found.frequency.value == pytest.approx(3.0, rel=1e-3)
    assert 0.0 <= found.stretch.from_ < found.stretch.to <= 8.0
    assert any("longest gap" in note for note in found.notes)
    assert not any("longest gap" in note for note in whole.notes)


def test_a_gap_without_any_known_value_beside_it_is_no_fault() -> None:
    """Far off and lost as well: all that is known stands in one piece."""
    times, values = TIMES.copy(), SWING.copy()
    times[:40], values[:40] = LONG_AGO + TIMES[:40], np.nan
    found = judged(times, values)
    assert found.frequency is not None
    assert found.frequency.value == pytest.approx(3.0, rel=1e-3)


def test_pairs_far_from_each_other_are_no_recording() -> None:
    """Eighty samples, a tenth of a millisecond apart by twos, a thousand seconds from two to two."""
    pairs = np.array([1_000.0 * (number // 2) + 1e-4 * (number % 2) for number in range(80)])
    with pytest.raises(InputRefused, match="2 different ones"):
        judged(pairs, SWING[:80])


def test_what_an_even_clock_holds_is_kept_whole() -> None:
    """A pause of as many empty steps as are allowed beside both parts; a tenth more, and the larger part is kept."""
    first, second = np.arange(100.0), np.arange(60.0)
    for pause, kept in ((EMPTY_STEPS, slice(0, 160)), (1.1 * EMPTY_STEPS, slice(0, 100))):
        assert together(np.concatenate([first, 100.0 + pause + second])) == kept
    assert together(np.concatenate([second, 100.0 + 1.1 * EMPTY_STEPS + first])) == slice(60, 160)
