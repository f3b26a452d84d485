"""One step more or less at a place: every amount that a press leads to can be chosen, and the next press goes on."""

from __future__ import annotations

from typing import Any

import pytest

from hingeline.balance import Limits
from hingeline.balance.ballast import BallastTask, Place, predict_change
from hingeline.document import to_document
from hingeline.uncertainty import Measured
from hingeline_app.bench.correcting.correction_shown import stepped

TOO_HEAVY = Place("arm", 0.18, "forward", present_mass=0.6, largest_mass=0.62, fixed_mass=0.05, smallest_step=0.005)
WITH_A_LEAST = Place("horn", 0.1, "forward", smallest_mass=0.05, largest_mass=0.1, fixed_mass=0.01, smallest_step=0.01)


def pressed(place: Place, ways: list[int]) -> list[str | None]:
    """Press one after the other from no change on, each answer worked out as the page does; where each leads to."""
    task = BallastTask(Measured(1.0, None), Limits(0.0, 2.1), (place,))
    document: dict[str, Any] = to_document(predict_change(task, [0.0]))
    led: list[str | None] = []
    for way in ways:
        after = stepped(document, 0, way)
        led.append(None if after is None else after[0])
        if after is not None:
            document = to_document(predict_change(task, [float(after[0].removesuffix(" g")) / 1e3]))
    return led


@pytest.mark.parametrize(
    ("place", "ways", "led"),
    [
        # 600 g and a bracket of 50 g where 620 g are allowed: 5 to 25 g off would leave too much; the way back is 0.
        (TOO_HEAVY, [1, -1, -1, 1, 1], [None, "-30 g", "-35 g", "-30 g", "0 g"]),
        # At least 50 g in all with a bracket of 10 g: 10 to 30 g cannot be chosen.
        (WITH_A_LEAST, [-1, 1, 1, -1, -1], [None, "40 g", "50 g", "40 g", "0 g"]),
        (WITH_A_LEAST, [1] * 7, ["40 g", "50 g", "60 g", "70 g", "80 g", "90 g", None]),
    ],
)
def test_a_step_passes_over_what_the_place_may_not_carry(place: Place, ways: list[int], led: list[str | None]) -> None:
    """Kept as it was pressed, such an amount was refused, and the page showed no button any more."""
    assert pressed(place, ways) == led
