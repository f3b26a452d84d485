"""Numbers of a model by their dotted names."""

from __future__ import annotations

import re

import pytest

from hingeline.errors import InputRefused
from hingeline.flutter.dotted import fields_of, must_be_positive, value_of, with_value
from hingeline.flutter.model import (
    Aileron,
    AileronWeight,
    Air,
    FlutterTask,
    MeasuredMode,
    Modes,
    ModeStrip,
    Section,
    Tailplane,
    TailplaneWeight,
    Wing,
)

AIR, SPEEDS = Air(density=1.225), (2.0, 100.0)
TASKS = {
    "section": FlutterTask(AIR, SPEEDS, section=Section(("plunge", "pitch"), 0.3, -0.4, 12.0, pitch_inertia=0.3)),
    "tailplane": FlutterTask(
        AIR,
        SPEEDS,
        tailplane=Tailplane(
            2.9, 0.74, 0.25, 0.42, 10.5, 0.62, 25.0, 8.0, 3200.0, weights=(TailplaneWeight(1.0, 0.3, 9.0),)
        ),
    ),
    "wing": FlutterTask(
        AIR,
        SPEEDS,
        wing=Wing(
            6.0,
            0.9,
            -0.34,
            33.0,
            0.18,
            7.8,
            9.6e6,
            1e6,
            aileron=Aileron(
                4.5, 6.0, 0.5, 8.0, 1.2, 0.26, weights=(AileronWeight(1.0, 0.2, 4.6), AileronWeight(2.0, 0.2, 5.0))
            ),
        ),
        damping_ratios=(0.01,) * 9,
    ),
    "modes": FlutterTask(
        AIR,
        SPEEDS,
        modes=Modes(
            (MeasuredMode(27.0, 8.6), MeasuredMode(2.6, 24.0)),
            (ModeStrip(0.56, 0.4, -0.5, 0.3, (0.9, 0.1), (0.3, 0.0), surface_inertia=0.03),),
        ),
        structural_damping=(0.01, 0.02, 0.03),
    ),
}


@pytest.mark.parametrize("name", TASKS)
def test_every_number_can_be_changed_by_its_name_and_nothing_else_moves(name: str) -> None:
    """Each field, set to another value, reads back as that, and all others stay."""
    task = TASKS[name]
    before = fields_of(task)

    for field, value in before.items():
        after = fields_of(with_value(task, field, value + 0.125))
        assert after[field] == value + 0.125
        assert {other: after[other] for other in before if other != field} == {
            other: before[other] for other in before if other != field
        }


def test_names_are_those_of_the_file() -> None:
    """Lists are named by one of them, as a file names them, and a single g has no number."""
    assert {"air.density", "section.pitch_inertia", "structural_damping"} <= set(fields_of(TASKS["section"]))
    assert value_of(TASKS["tailplane"], "tailplane.weight[0].arm_frequency") == 9.0
    assert value_of(TASKS["wing"], "wing.aileron.from") == 4.5
    assert value_of(TASKS["wing"], "wing.aileron.weight[1].mass") == 2.0
    assert value_of(TASKS["wing"], "damping_ratios[8]") == 0.01
    assert value_of(TASKS["modes"], "modes.mode[1].frequency") == 24.0
    assert value_of(TASKS["modes"], "modes.strip[0].plunge[1]") == 0.1
    assert value_of(TASKS["modes"], "structural_damping[2]") == 0.03


def test_what_is_not_a_number_of_the_model_is_not_named() -> None:
    """Speeds to search, words, numbers of shapes and fields left out have no place in it."""
    names = " ".join(name for task in TASKS.values() for name in fields_of(task))

    assert not re.search(r"speeds|freedoms|locked|horn|bending_modes|circuit_frequency", names)


@pytest.mark.parametrize("name", ["section.mess", "mass", "section", "section.freedoms", ""])
def test_an_unknown_name_is_refused(name: str) -> None:
    """The message names what there is."""
    with pytest.raises(InputRefused, match=r"by its dotted name.*It has air\.density, section\.semichord"):
        with_value(TASKS["section"], name, 1.0)


@pytest.mark.parametrize(
    ("task", "field", "positive"),
    [
        ("section", "air.density", True),
        ("section", "section.mass", True),
        ("section", "section.pitch_inertia", True),
        ("section", "section.elastic_axis", False),
        ("section", "section.pitch_static_moment", False),
        ("tailplane", "tailplane.circuit_stiffness", True),
        ("tailplane", "tailplane.weight[0].arm", True),
        ("wing", "wing.static_offset", False),
        ("wing", "wing.aileron.static_moment", False),
        ("wing", "wing.aileron.weight[1].mass", True),
        ("modes", "modes.strip[0].plunge[1]", False),
        ("modes", "modes.mode[0].frequency", True),
        ("modes", "structural_damping[1]", True),
    ],
)
def test_it_is_known_which_numbers_can_be_negative(task: str, field: str, positive: bool) -> None:
    """Masses, inertias, stiffnesses and lengths cannot; static moments and places can."""
    assert must_be_positive(TASKS[task], field) is positive
