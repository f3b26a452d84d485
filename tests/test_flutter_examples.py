"""Each flutter example is read, runs, and shows what its heading says."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from hingeline.flutter.model import FlutterResult, FlutterTask
from hingeline.flutter.solve import analyse
from hingeline_app.files.flutter_file import read_flutter
from tests.doors.checkouts import ROOT

FOLDER = ROOT / "examples" / "flutter"
EXAMPLES = sorted(FOLDER.glob("*.toml"))


def example(number: int) -> FlutterTask:
    """Read the example of that number."""
    return read_flutter(EXAMPLES[number - 1].read_bytes())


def onset(result: FlutterResult) -> float:
    """Give the onset speed [m/s]."""
    assert result.flutter is not None
    return result.flutter.speed


def test_examples_are_numbered_without_a_gap() -> None:
    """The examples are numbered from 01 on."""
    assert [path.name[:2] for path in EXAMPLES] == [f"{number:02d}" for number in range(1, len(EXAMPLES) + 1)]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_opens_with_prose_and_its_command(path: Path) -> None:
    """Each file begins with a comment that names the example, the invented aeroplane and the command that runs it."""
    heading = path.read_text("utf-8").split("\nformat", 1)[0]

    assert heading.startswith(f"# Flutter example {int(path.name[:2])}: ")
    assert "Merle T2" in heading
    assert re.search(rf"^#     \./hingeline flutter examples/flutter/{re.escape(path.name)}( --|$)", heading, re.M)


def test_a_strip_has_its_speed_and_its_uncertain_numbers() -> None:
    """Example 1: 39.3 m/s; the weighed static moment is scattered beside the table's two."""
    task = example(1)

    assert onset(analyse(task)) == pytest.approx(39.33, abs=0.005)
    assert [one.field for one in task.scatter] == [
        "section.surface_static_moment", "section.surface_inertia", "section.surface_stiffness"
    ]  # fmt: skip


def test_a_free_tab_flutters_at_walking_pace_and_a_held_one_does_not() -> None:
    """Example 2: from 3.6 m/s with the rod off; none up to 150 m/s with a rod of 60 Hz."""
    task = example(2)
    assert task.section is not None
    held = replace(task, section=replace(task.section, tab_stiffness=63.955))

    assert onset(analyse(task)) == pytest.approx(3.644, abs=5e-4)
    assert analyse(held).flutter is None


def test_a_soft_arm_flutters_where_a_rigid_one_does_not() -> None:
    """Example 3: none up to 320 m/s on a rigid arm, 179 m/s at 20 Hz, 87 m/s at 10 Hz."""
    task = example(3)
    assert task.tailplane is not None
    (weight,) = task.tailplane.weights
    found = [
        analyse(replace(task, tailplane=replace(task.tailplane, weights=(replace(weight, arm_frequency=hertz),))))
        for hertz in (None, 20.0, 10.0)
    ]

    assert found[0].flutter is None
    assert onset(found[1]) == pytest.approx(179.3, abs=0.05)
    assert onset(found[2]) == pytest.approx(87.1, abs=0.05)


@pytest.mark.slow
def test_the_same_static_balance_further_out_is_faster() -> None:
    """Example 4: 94.5 m/s with the weight inboard, 140.7 m/s outboard, the static moment 0 in both."""
    task = example(4)
    assert task.wing is not None
    assert task.wing.aileron is not None
    aileron = task.wing.aileron
    (weight,) = aileron.weights
    outboard = replace(aileron, weights=(replace(weight, spanwise=5.95),))

    assert aileron.static_moment - weight.mass * weight.arm == pytest.approx(0.0, abs=1e-12)
    assert onset(analyse(task)) == pytest.approx(94.5, abs=0.05)
    assert onset(analyse(replace(task, wing=replace(task.wing, aileron=outboard)))) == pytest.approx(140.7, abs=0.05)


@pytest.mark.slow
def test_a_weight_at_the_tips_does_better_than_one_at_the_root() -> None:
    """Example 5: 70.4 m/s with the weight at the root, 134.7 m/s at the tips."""
    task = example(5)
    assert task.modes is not None
    (weight,) = task.modes.weights
    at_the_tips = replace(weight, axis_to_weight=-0.044, plunge=(0.91296, 1.0))

    assert onset(analyse(task)) == pytest.approx(70.4, abs=0.05)
    tips = replace(task, modes=replace(task.modes, weights=(at_the_tips,)))
    assert onset(analyse(tips)) == pytest.approx(134.7, abs=0.05)


@pytest.mark.slow
def test_without_slack_the_tailplane_flutters_far_above() -> None:
    """Example 6: the speed without slack is 55.7 m/s; the slack is half a degree to each side."""
    task = example(6)

    assert onset(analyse(task)) == pytest.approx(55.7, abs=0.05)
    assert task.free_play is not None
    assert task.free_play.half_gap == pytest.approx(0.0087266, abs=5e-8)
