"""Lists, arrays and numbers of a numerical library weigh as plain ones do."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from hingeline.balance import Limits, Stated, Support, Surface, Weighing, plan_weighing, weigh
from hingeline.balance.simulate import simulate
from hingeline.plain_numbers import plainly

PLAIN = Weighing(Surface("rudder"), (Support(arm=0.25, readings=(0.5, 0.75)),))


@pytest.mark.parametrize("readings", [[0.5, 0.75], np.array([0.5, 0.75]), np.array([0.5, 0.75], dtype=np.float32)])
@pytest.mark.parametrize("arm", [0.25, np.float32(0.25), np.array(0.25)])
def test_arrays_weigh_as_the_same_floats(readings: Any, arm: Any) -> None:
    """Readings as a list or an array, an arm as a number of numpy or an array of none: one moment and one ±."""
    given = weigh(Weighing(Surface("rudder"), (Support(arm=arm, readings=readings),)))

    assert given.static_moment == weigh(PLAIN).static_moment


def test_arrays_are_planned_and_drawn_as_the_same_floats() -> None:
    """The doors beside weigh, before the work and by draws, take the readings alike."""
    stated = Stated(0.001, "m")
    plain, given = (
        Weighing(
            Surface("rudder"), (Support(arm=0.25, readings=each, arm_uncertainty=stated),), limits=Limits(0.0, 2.1)
        )
        for each in ((0.5, 0.75), np.array([0.5, 0.75]))
    )

    assert plan_weighing(given).reading_window == plan_weighing(plain).reading_window
    assert simulate(given, draws=2_000) == simulate(plain, draws=2_000)


def test_a_plain_record_stays_itself() -> None:
    """Nothing is made anew where nothing has to be: numbers that remember their typed text keep it."""
    assert plainly(PLAIN) is PLAIN
