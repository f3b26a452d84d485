"""Each arm example is read, runs, and shows what its heading says."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from hingeline.arm import ArmTask, examine
from hingeline_app.files.arm_file import read_arm
from tests.doors.checkouts import ROOT

FOLDER = ROOT / "examples" / "arm"
EXAMPLES = sorted(FOLDER.glob("*.toml"))


def example(number: int) -> ArmTask:
    """Read the example of that number."""
    return read_arm(EXAMPLES[number - 1].read_bytes())


def test_examples_are_numbered_without_a_gap() -> None:
    """The examples are numbered from 01 on."""
    assert [path.name[:2] for path in EXAMPLES] == [f"{number:02d}" for number in range(1, len(EXAMPLES) + 1)]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_opens_with_prose_and_its_command(path: Path) -> None:
    """Each file begins with a comment that names the example, the invented aeroplane and the command that runs it."""
    heading = path.read_text("utf-8").split("\nformat", 1)[0]
    assert heading.startswith(f"# Arm example {int(path.name[:2])}: ")
    assert "Merle T2" in heading
    assert "invented" in heading
    assert re.search(rf"^#     \./hingeline arm examples/arm/{re.escape(path.name)}( --|$)", heading, re.M)


def test_a_fifth_of_a_millimetre_costs_a_sixth_of_the_strength() -> None:
    """Example 1: 221 MPa as new, 260 with the loss; a tenth of the frequency is gone; the interval stays."""
    found = examine(example(1))
    assert found.loads[0].sound_stress == pytest.approx(221.1e6, abs=0.05e6)
    assert found.loads[0].stress.value == pytest.approx(260.3e6, abs=0.05e6)
    assert found.natural_frequency.ratio_to_sound == pytest.approx(0.905, abs=5e-3)
    assert found.crack is not None
    assert found.crack.interval_shown == pytest.approx(360000.0)


def test_growth_round_the_tube_takes_less_than_approved() -> None:
    """Example 2: 222 h of growth stand against 300 h approved; a rigid root would be faster by a third."""
    task = example(2)
    found = examine(task)
    assert found.crack is not None
    assert found.crack.interval_shown == pytest.approx(222.5 * 3600.0, rel=1e-3)
    assert found.crack.shorter_than_approved is True
    rigid = examine(replace(task, root=replace(task.root, stiffness=None)))
    assert rigid.natural_frequency.value / found.natural_frequency.value == pytest.approx(1.49, abs=0.01)


def test_landing_does_most_of_the_harm() -> None:
    """Example 3: four landings an hour use up more than ninety thousand turns of the engine."""
    found = examine(example(3)).stress_life
    assert found is not None
    landing, gusts, engine = (load.used_per_hour / found.used_per_hour for load in found.loads)
    assert landing > 0.9 > gusts > engine
