"""What is refused of a correction that comes as Python numbers."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest

from hingeline.balance import Limits, Stated, Surface
from hingeline.balance.ballast import BallastTask, Place, plan_ballast
from hingeline.errors import InputRefused
from hingeline.uncertainty import Measured

GOOD = Place("arm", 0.18, "forward", largest_mass=0.8, smallest_step=0.005)
TASK = BallastTask(Measured(2.106, 0.022), Limits(0.0, 2.1), (GOOD,))

PLACES: dict[str, tuple[dict[str, Any], str]] = {
    "arm without length": ({"arm": 0.0}, r"place\[0\]\.arm: .* between 1 mm and 10 m"),
    "arm below zero": ({"arm": -0.2}, r"place\[0\]\.arm: .* without a sign"),
    "arm not a number": ({"arm": math.nan}, r"place\[0\]\.arm"),
    "largest mass of nothing": ({"largest_mass": 0.0}, r"place\[0\]\.largest_mass: .* a mass above 0"),
    "smallest above largest": ({"smallest_mass": 0.9}, r"place\[0\]\.smallest_mass: .* Are they swapped"),
    "bracket heavier than all": ({"fixed_mass": 0.9}, r"place\[0\]\.fixed_mass: .* bracket and screws included"),
    "present below zero": ({"present_mass": -0.1}, r"place\[0\]\.present_mass: .* from 0 to 1000 kg"),
    "no step at all": ({"smallest_step": 0.0}, r"place\[0\]\.smallest_step: .* a step above"),
    "a million steps": ({"smallest_step": 2e-6}, r"place\[0\]\.smallest_step: .* steps in all"),
    "pieces and a step": ({"pieces": (0.1,)}, r"place\[0\]\.smallest_step: .* no step beside pieces"),
    "a piece of nothing": ({"pieces": (0.0,), "smallest_step": None}, r"place\[0\]\.pieces\[0\]"),
    "too many pieces": ({"pieces": (0.1,) * 201, "smallest_step": None}, r"place\[0\]\.pieces: .* at most 200"),
    "spanwise out of this world": ({"spanwise": 400.0}, r"place\[0\]\.spanwise"),
    "uncertainty below zero": ({"arm_uncertainty": Stated(-0.1, "m")}, r"place\[0\]\.arm_uncertainty"),
    "uncertainty of it all": ({"mass_uncertainty": Stated(1.0, "1")}, r"place\[0\]\.mass_uncertainty: .* 100 %"),
    "an arm's uncertainty as a mass": (
        {"arm_uncertainty": Stated(0.01, "kg")},
        r'place\[0\]\.arm_uncertainty: "0\.01 kg" is refused\. Expected an uncertainty in m',
    ),
    "a mass's uncertainty as a length": (
        {"mass_uncertainty": Stated(0.01, "m")},
        r'place\[0\]\.mass_uncertainty: "0\.01 m" is refused\. Expected an uncertainty in kg',
    ),
    "k of nothing": ({"arm_uncertainty": Stated(0.1, "m", "expanded", 0.0)}, r"place\[0\]\.arm_uncertainty\.k"),
    "degrees of nothing": (
        {"arm_uncertainty": Stated(0.1, "m", degrees_of_freedom=0.5)},
        r"place\[0\]\.arm_uncertainty\.degrees_of_freedom",
    ),
    "no name": ({"name": " "}, r"place\[0\]\.name: .* a name of its own"),
}

TASKS: dict[str, tuple[dict[str, Any], str]] = {
    "a surface lighter than its weights": (
        {
            "places": (replace(GOOD, present_mass=0.3), Place("tip", 0.2, present_mass=0.2)),
            "surface": Surface("rudder", mass=0.5),
        },
        r"surface\.mass: .* more than the weights present, 0\.5 kg",
    ),
    "weights whose sum is beyond any number": (
        {
            "places": (replace(GOOD, present_mass=1.7e308), Place("tip", 0.2, present_mass=1.7e308)),
            "surface": Surface("rudder", mass=0.5),
        },
        r"place\[1\]\.present_mass: .* from 0 to 1000 kg",
    ),
    "no place": ({"places": ()}, r"place: .* 1 to 20 places"),
    "two of one name": ({"places": (GOOD, GOOD)}, r"place\[1\]\.name: .* a name of its own"),
    "gravity of the moon": ({"local_gravity": 1.62}, r"local_gravity: .* between 9\.7 and 9\.9"),
    "moment beyond sense": ({"moment": Measured(1e5, 0.1)}, r"moment: .* less than 10000 N m"),
    "k beyond sense": ({"moment": Measured(2.0, 0.1, 2.0, 20.0)}, r"moment\.k"),
    "coverage of one": ({"coverage": 1.0}, r"coverage: .* 0\.5 and 0\.9999"),
    "guarded without U": (
        {"moment": Measured(2.0, None), "limits": Limits(0.0, 2.1, "guarded")},
        r"moment: .* a measured moment with its uncertainty",
    ),
    "limits swapped": ({"limits": Limits(2.1, 0.0)}, r"limits\.lower: .* Are they swapped"),
    "a limit not finite": ({"limits": Limits(0.0, math.inf)}, r"limits\.upper: .* a finite limit"),
    "middle of one side": ({"limits": Limits(None, 2.1), "target": "middle"}, r"target: .* no middle"),
    "nearest of no limits": ({"limits": Limits()}, r"target: .* where no limits are given"),
    "target outside": ({"target": "moment", "target_moment": 2.5}, r"target: .* inside the limits"),
    "target missing": ({"target": "moment"}, r"target: .* nearest, middle, or a moment"),
    "inertia of nothing": ({"inertia": 0.0}, r"inertia: .* more than 0"),
    "inertia less than its weights": (
        {"inertia": 0.001, "places": (replace(GOOD, present_mass=0.6),)},
        r"inertia: .* the weights present have alone",
    ),
    "a weight out of this world": ({"places": (replace(GOOD, arm=1e300),), "inertia": 0.042}, r"place\[0\]\.arm"),
    "a surface of nothing": ({"surface": Surface("Elevator", mass=5e-324)}, r"surface\.mass: .* above 0\.001"),
    "inertia below any": ({"inertia": 1e-300}, r"inertia: .* more than 0"),
    # Cauchy and Schwarz: (2.106 N m - U over 9.80665 m/s^2)^2 over 4.1 kg, nine tenths of it, is 0.0097 kg m^2.
    "inertia too small for its moment": (
        {"inertia": 0.009, "surface": Surface("Elevator", mass=4.1)},
        r"inertia: .* at least 0\.00\d+ kg m\^2, which this moment needs",
    ),
    # K^2 is at most I times 4.1 kg at 40 m squared: 16.6 kg m^2.
    "K too large for its inertia": (
        {
            "inertia": 0.042,
            "product_of_inertia": 16.7,
            "surface": Surface("Elevator", mass=4.1),
            "places": (replace(GOOD, spanwise=1.0),),
        },
        r"product_of_inertia: .* at most 16\.\d+ kg m\^2 in size",
    ),
    "K without a y": ({"product_of_inertia": 0.1}, r'place\[0\]\.spanwise: "missing" is refused'),
    "K not finite": (
        {"product_of_inertia": math.nan, "places": (replace(GOOD, spanwise=1.0),)},
        r"product_of_inertia",
    ),
    "surface of no mass": ({"surface": Surface("s", mass=0.0)}, r"surface\.mass"),
    "place behind the trailing edge": (
        {"surface": Surface("s", hinge_to_trailing_edge=0.2), "places": (replace(GOOD, side="aft", arm=0.3),)},
        r"place\[0\]\.arm: .* up to the trailing edge",
    ),
}


@pytest.mark.parametrize("name", PLACES)
def test_a_place_that_cannot_be_is_refused(name: str) -> None:
    """Each fault of a place is refused with its field and what was expected."""
    changes, words = PLACES[name]
    with pytest.raises(InputRefused, match=words):
        plan_ballast(replace(TASK, places=(replace(GOOD, **changes),)))


@pytest.mark.parametrize("name", TASKS)
def test_a_task_that_cannot_be_is_refused(name: str) -> None:
    """Each fault of the task is refused with its field and what was expected."""
    changes, words = TASKS[name]
    with pytest.raises(InputRefused, match=words):
        plan_ballast(replace(TASK, **changes))


def test_all_faults_come_in_one_go() -> None:
    """Three faults in three fields give three refusals."""
    with pytest.raises(InputRefused, match="is refused") as caught:
        plan_ballast(replace(TASK, local_gravity=1.0, coverage=2.0, places=(replace(GOOD, arm=-1.0),)))
    assert [each.field for each in caught.value.refusals] == ["local_gravity", "coverage", "place[0].arm"]


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        (replace(TASK, target="centre"), "target"),  # type: ignore[arg-type]
        (replace(TASK, limits=Limits(0.0, 2.1, rule="Simple")), "limits.rule"),  # type: ignore[arg-type]
    ],
)
def test_a_word_that_nothing_knows_is_refused(asked: BallastTask, field: str) -> None:
    """A target of another word was taken for the nearest end, and another rule for the guarded one."""
    with pytest.raises(InputRefused) as refused:
        plan_ballast(asked)
    assert [each.field for each in refused.value.refusals] == [field]
