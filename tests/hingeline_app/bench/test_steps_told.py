"""What was entered at the steps, as a sheet prints it: each number with its name, in the reader's language."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from hingeline_app.bench.on_paper.steps_told import steps_told
from hingeline_app.report.job_view import _entered
from hingeline_app.said import reading_in, say

PLACE = {
    "name": "middle", "arm": "7.09 in", "side": "aft", "present_mass": "600 g", "largest_mass": "1.8 lb",
    "smallest_mass": "500 g", "smallest_step": "5 g", "fixed_mass": "7 g", "spanwise": "1310 mm",
}  # fmt: skip


def told(**correct: Any) -> dict[str, str]:
    job: Any = SimpleNamespace(details={"correct": correct}, surface_name="Elevator, left half")
    return {line.what: line.said for line in steps_told(job)}


def test_each_mass_of_a_place_has_its_name() -> None:
    """Which mass is there and which is the most that is allowed cannot be mixed up; a place of two numbers has two."""
    said = told(place=[PLACE])
    assert said["place"] == "middle"
    for each in ("7.09 in, aft", "there now 600 g", "Most in all 1.8 lb", "Least, if any 500 g", "Smallest step 5 g"):
        assert each in said["at this place"]
    assert "Bracket and screws 7 g" in said["at this place"]
    assert "along the span 1310 mm" in said["at this place"]
    few = told(place=[{"name": "Nose", "arm": "180 mm"}])
    assert few["at this place"] == "Arm from the hinge line 180 mm, forward", "a row without a side is forward"


@pytest.mark.parametrize(("language", "aft", "there", "middle"), [
    ("de", "7.09 in, hinten", "Masse dort jetzt 600 g", "Mitte"),
    ("fr", "7.09 in, en arrière", "Masse présente 600 g", "milieu"),
])  # fmt: skip
def test_a_place_and_an_aim_of_the_list_are_said_in_the_readers_language(
    language: str, aft: str, there: str, middle: str
) -> None:
    """The name of the place and an aim that was typed stay as they were typed."""
    said = told(place=[PLACE], plan={"target": "middle"})
    with reading_in(language):
        at = say(_entered("at this place", said["at this place"]))
        assert say(_entered("chosen aim", said["chosen aim"])) == middle
        assert say(_entered("place", said["place"])) == "middle"
        assert say(_entered("aim", told(plan={"target": "1.85 N m"})["aim"])) == "1.85 N m"
    assert aft in at
    assert there in at
    assert not any(word in at for word in ("aft", "there", "Most", "Least", "step", "Bracket", "span "))
