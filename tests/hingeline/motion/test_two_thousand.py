"""Simulated recordings of nineteen kinds, on a seed that no rule was chosen on: what may never be said, and rates.

Source of the targets: our own requirement. Everything is simulated; no real recording was available.
"""

from __future__ import annotations

import pytest

from tests.simulated_motion import tally
from tests.simulated_motion.tally import Judged

pytestmark = pytest.mark.slow
DECAYS, OF_DECAYS = 200, 20_281_128
"""Of each kind that dies out, and their seed: a quarter of the other records has too few of them to tell."""


@pytest.fixture(
    scope="module",
    params=[tally.QUARTER, pytest.param(tally.WHOLE, marks=pytest.mark.campaign)],
    ids=["a quarter", "all"],
)
def records(request: pytest.FixtureRequest) -> list[Judged]:
    """Judge the records of every kind once."""
    return tally.judge_kinds(tally.KINDS, request.param)


def test_nothing_self_excited_is_called_dying_out(records: list[Judged]) -> None:
    """Of flutter growth, limit cycles and bursts none is called dying out, at any level of noise."""
    among = [each for each in records if each.kind in tally.SELF_EXCITED]

    assert len(among) > 6 * 20
    assert [each for each in among if each.statement == "dying out"] == []


def test_clean_self_excited_motions_are_recognised(records: list[Judged]) -> None:
    """Growth and limit cycles in nearly calm air: at least 83 % above three times the noise."""
    right, heard = tally.share(records, tally.CLEAN, tally.FED)

    assert heard > 60
    assert right / heard >= 0.83


def test_hard_self_excited_motions_are_recognised(records: list[Judged]) -> None:
    """Limit cycles in strong turbulence, two channels, 20 s: at least 60 %."""
    right, heard = tally.share(records, tally.HARD, tally.FED)

    assert heard > 40
    assert right / heard >= 0.60


def test_decays_are_called_dying_out() -> None:
    """Free decays and knocks above three times the noise: at least 91 %, of six hundred on a seed of their own.

    A quarter of the records above has 77 of them: there 69 were right (90 %), which is no other number than 91 %.
    The seed was taken before its records were judged; 507 of 552 came out right (92 %), since decision 213 it is 503
    (91 %). The rest is called "cannot tell", mostly because the level of the motion changes within a short record; two
    were called growing.
    """
    records = tally.judge_kinds(tally.DYING, DECAYS, OF_DECAYS)
    right, heard = tally.share(records, tally.DYING, ("dying out",))

    assert heard > 500
    assert right / heard >= 0.91


def test_the_rule_of_zero_amplitude_accuses_no_linear_motion(records: list[Judged]) -> None:
    """Of linear sections that are shaken or driven, none is called sustained by the new rule."""
    linear = (*tally.LINEAR_RANDOM, *tally.DRIVEN)

    assert tally.by_the_new_rule(records, tally.HARD) > 10
    assert tally.by_the_new_rule(records, linear) == 0


def test_nothing_moves_says_nothing(records: list[Judged]) -> None:
    """Noise alone is always "cannot tell"."""
    assert {each.statement for each in records if each.kind == "nothing moves"} == {"cannot tell"}


@pytest.mark.parametrize("statement", ["dying out", "growing", "sustained"])
def test_intervals_hold_the_truth_in_about_95_of_100(records: list[Judged], statement: str) -> None:
    """Of the intervals that are stated 92 to 98 % hold the truth; of a quarter, as far as so few can tell."""
    held, stated = tally.coverage(records, (statement,))
    few = 2.0 * (0.95 * 0.05 / stated) ** 0.5 if len(records) < 1000 else 0.0

    assert stated > 30
    assert 0.92 - few <= held / stated <= 0.98 + few
