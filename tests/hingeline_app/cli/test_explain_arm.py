"""``hingeline explain arm`` and the guide: every number of theirs is the program's."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from hingeline.arm import examine, vibration, wall
from hingeline.arm.growth import closed_form_cycles
from hingeline_app.cli.explain import explanation
from hingeline_app.cli.main import main
from hingeline_app.files.arm_file import read_arm
from tests.doors.checkouts import ROOT

EXAMPLE = ROOT / "examples" / "arm" / "01-elevator-arm-stripped.toml"


def test_the_lines_it_shows_are_lines_of_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    """What the page shows as said by the command is said by it, line by line and in that order."""
    (block,) = re.findall(r"```console\n(.*?)```", explanation("arm"), re.DOTALL)
    called, *shown = block.splitlines()
    assert called == "$ hingeline arm examples/arm/01-elevator-arm-stripped.toml"
    assert main(["arm", str(EXAMPLE)]) == 0
    said = iter(re.sub("[\u00a0\u202f]", " ", capsys.readouterr().out).splitlines())
    assert len(shown) == 3
    assert [line for line in shown if line not in said] == []


def test_the_costs_of_its_example_are_the_librarys() -> None:
    """13 % of the wall: 16 % of the modulus, 10 % of the frequency, from 221 to 260 MPa."""
    found = examine(read_arm(EXAMPLE.read_bytes()))
    assert found.section.part_of_wall_lost is not None
    costs = (
        f"{100 * found.section.part_of_wall_lost:.0f} %", f"{100 * (1 - found.section.ratio_to_sound):.0f} %",
        f"{100 * (1 - found.natural_frequency.ratio_to_sound):.0f} %",
        f"{found.loads[0].sound_stress / 1e6:.0f} to {found.loads[0].stress.value / 1e6:.0f} MPa",
    )  # fmt: skip
    assert costs == ("13 %", "16 %", "10 %", "221 to 260 MPa")
    text = " ".join(explanation("arm").split())
    assert all(cost in text for cost in costs)


def test_the_table_of_apparent_masses_is_the_librarys() -> None:
    """Each row of the page is what the equation gives."""
    rows = re.findall(r"^\| (\d\.\d\d) \| (−?[\d.]+) m", explanation("arm"), re.MULTILINE)
    assert len(rows) == 5
    for ratio, shown in rows:
        exact = 2.0 / 3.0 if ratio == "0.67" else float(ratio)
        assert f"{vibration.apparent_mass(exact, 0.0).real:.2f}".replace("-", "−") == shown


def test_the_small_end_matters_as_it_says() -> None:
    """Twice the start nearly halves the life, twice the end adds a sixth: m = 3, from 1 mm to 8 mm."""
    growth = {"constant": 6.9e-12, "exponent": 3.0, "factor": 1.12, "stress_range": 90e6}
    life = closed_form_cycles(1e-3, 8e-3, **growth)
    assert closed_form_cycles(2e-3, 8e-3, **growth) / life == pytest.approx(0.547, abs=5e-4)
    assert closed_form_cycles(1e-3, 16e-3, **growth) / life == pytest.approx(1.160, abs=5e-4)


def test_the_guide_s_numbers_are_the_librarys() -> None:
    """18 g and 236 g cm for 0.15 mm of a steel arm; half the stress, eight times the life at m = 3."""
    text = " ".join((ROOT / "docs" / "guide" / "arm.md").read_text("utf-8").split())
    grams = 1e3 * wall.ground_mass(19.05e-3, 0.260, 0.15e-3, 7833.0)
    assert f"{grams:.0f} g and {grams * 13.0:.0f} g cm" in text
    task = read_arm(EXAMPLE.read_bytes())
    assert task.crack is not None
    half = examine(replace(task, crack=replace(task.crack, stress_range=task.crack.stress_range / 2.0))).crack
    whole = examine(task).crack
    assert whole is not None
    assert half is not None
    assert half.cycles / whole.cycles == pytest.approx(8.0)
