"""The side of the hinge line that a place lies on: two words, and no third that would turn a sign."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hingeline.balance import Limits
from hingeline.balance.ballast import BallastTask, Place, predict_change
from hingeline.errors import InputRefused
from hingeline.surface import aft
from hingeline.uncertainty import Measured

AFT = Place("Filler", 0.18, "aft")


def test_aft_is_positive_and_forward_negative() -> None:
    """X is positive aft of the hinge line."""
    assert (aft("aft"), aft("forward")) == (1, -1)


@pytest.mark.parametrize("side", ["Aft", "fore", ""])
def test_another_word_for_the_side_is_refused_and_turns_no_sign(side: str) -> None:
    """The word "Aft" was taken for forward: mass that makes a surface more tail-heavy was to make it less so."""
    task = BallastTask(Measured(2.0, 0.022), Limits(0.0, 2.1), (replace(AFT, side=side),))  # type: ignore[arg-type]
    with pytest.raises(InputRefused, match="aft or forward"):
        predict_change(task, [0.01])
