"""Lists, arrays and numbers of a numerical library weigh as plain ones do."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from hingeline.balance import Support, Surface, Weighing, weigh
from hingeline.plain_numbers import plainly

PLAIN = Weighing(Surface("rudder"), (Support(arm=0.25, readings=(0.5, 0.75)),))


@pytest.mark.parametrize("readings", [[0.5, 0.75], np.array([0.5, 0.75]), np.array([0.5, 0.75], dtype=np.float32)])
@pytest.mark.parametrize("arm", [0.25, np.float32(0.25), np.array(0.25)])
def test_arrays_weigh_as_the_same_floats(readings: Any, arm: Any) -> None:
    """Readings as a list or an array, an arm as a number of numpy or an array of none: one moment and one ±."""
    given = weigh(Weighing(Surface("rudder"), (Support(arm=arm, readings=readings),)))

    assert given.static_moment == weigh(PLAIN).static_moment


def test_a_plain_record_stays_itself() -> None:
    """Nothing is made anew where nothing has to be: numbers that remember their typed text keep it."""
    assert plainly(PLAIN) is PLAIN
