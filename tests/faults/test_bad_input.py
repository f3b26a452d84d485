"""Bad input is refused: exit status 2, the field, what stood there, what was expected, how to mend it."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from hingeline_app.cli.output import visible
from tests.doors.checkouts import ROOT
from tests.faults.bad_input import LIMIT_ROWS, WEIGHING, Case
from tests.faults.good_files import EXAMPLE, LIMITS, TWO_SCALES, WEIGHINGS, changed
from tests.faults.running import Runner, refused

CASES = [("weigh", name) for name in WEIGHING] + [("limits", name) for name in LIMIT_ROWS]
# What may be shown instead of what was typed: where nothing was, or where two places do not go together.
SAID = re.compile(
    r"missing|none|empty|none of them|limit and standard|beside rising and falling|beside lower or upper"
    r"|mass beside force|kg, g|g, kg|\d supports|.* … .*|-?inf, or beyond 1e308|a level too many"
    r"|brackets within brackets|.*…",
    re.DOTALL,
)


# A fault that makes a second one.
ALSO = {"tables within tables": ["a"]}


def case_of(command: str, name: str) -> Case:
    """Look one case up."""
    return (WEIGHING if command == "weigh" else LIMIT_ROWS)[name]


@pytest.mark.parametrize("name", WEIGHINGS)
def test_the_good_weighings_are_accepted(name: str, runner: Runner) -> None:
    """The files that are spoiled below are good: without an edit each gives a finite result."""
    answer = runner.on(WEIGHINGS[name], "weigh", "--json")
    assert answer.status == 0, answer.err
    assert answer.document["format"] == "hingeline/weighing-result/1"


def test_the_good_rows_are_accepted(runner: Runner) -> None:
    """The file of limit rows that is spoiled below is good."""
    answer = runner.on(LIMITS, "limits", "--json")
    assert answer.status == 0, answer.err
    assert len(answer.document["rows"]) == 2


def test_enough_kinds_are_tried() -> None:
    """At least sixty kinds of bad weighings are tried, and fifteen of bad limit rows."""
    assert len(WEIGHING) >= 60
    assert len(LIMIT_ROWS) >= 15


@pytest.mark.parametrize(("command", "name"), CASES)
def test_bad_input_is_refused_with_field_expectation_and_remedy(command: str, name: str, runner: Runner) -> None:
    """The fault is the only one, names its field, shows what was typed, and says how to mend it."""
    case = case_of(command, name)
    text = changed(case.good, case.old, case.new)
    errors = refused(runner.on(text, command, "--json"))
    assert [error["field"] for error in errors if error["field"] != case.field] == ALSO.get(name, [])
    (error,) = (error for error in errors if error["field"] == case.field)
    assert case.word in error["expected"] + " " + error["remedy"]
    shown = visible(error["value"].replace("\n", "\\n"))
    # A table that stands over several lines is shown on one.
    parts = re.findall(r'\w+ = "[^"]*"', shown) if shown.startswith("{") else [shown]
    assert SAID.fullmatch(shown) or (parts and all(part in visible(text) for part in parts)), shown


@pytest.mark.parametrize(("command", "name"), CASES)
def test_the_page_of_a_refusal_says_the_same(command: str, name: str, runner: Runner) -> None:
    """Without --json standard output is empty, and standard error names field, expectation and remedy."""
    case = case_of(command, name)
    text = changed(case.good, case.old, case.new)
    answer, document = runner.on(text, command), runner.on(text, command, "--json").errors
    assert answer.status == 2
    assert answer.out == ""
    for error in document:
        for key in ("field", "expected", "remedy"):
            assert error[key] in answer.err
    assert all(character.isprintable() or character in "\n\u00a0" for character in answer.err)
    assert len(answer.err.splitlines()) == 1 + 3 * len(document)


def test_structure_and_quantities_are_reported_in_one_go(runner: Runner) -> None:
    """A wrong word, an unknown key, a missing field, two bad quantities and a number that is none: all at once."""
    text = EXAMPLE
    for old, new in (
        ('side = "aft"', 'side = "after"'),
        ("tare =", "tear ="),
        ('name = "Elevator, left half"\n', ""),
        ('arm = "255 mm"', 'arm = "255"'),
        ('"845 g", "840 g"]', '"nan g", "840 g"]'),
        ("k = 2}", "k = inf}"),
    ):
        text = changed(text, old, new)
    found = {error["field"] for error in refused(runner.on(text, "weigh", "--json"))}
    expected = {"support[0].side", "support[0].tear", "surface.name", "support[0].arm", "support[0].readings[3]"}
    assert found == expected | {"uncertainty.calibration.k"}


def test_what_only_the_weighing_shows_is_reported_in_one_go(runner: Runner) -> None:
    """An arm beyond the trailing edge, a tare above the readings and swapped limits: all at once."""
    text = changed(EXAMPLE, 'arm = "255 mm"', 'arm = "2550 mm"')
    text = changed(text, 'tare = "0 g"', 'tare = "2 kg"')
    text = changed(text, 'lower = "0.00 N m"', 'lower = "3 N m"')
    found = {error["field"] for error in refused(runner.on(text, "weigh", "--json"))}
    assert found == {"support[0].arm", "support[0].tare", "limits.lower"}


def test_mixed_units_are_reported_with_the_weighing_s_other_faults(runner: Runner) -> None:
    """Readings in two units and swapped limits: both at once."""
    text = changed(EXAMPLE, '["840 g"', '["0.840 kg"')
    text = changed(text, 'lower = "0.00 N m"', 'lower = "3 N m"')
    found = {error["field"] for error in refused(runner.on(text, "weigh", "--json"))}
    assert found == {"support[0].readings", "limits.lower"}


def test_every_bad_number_of_the_raw_text_is_named_by_its_line(runner: Runner) -> None:
    """Numbers that TOML's own reader lets pass are named by line, also inside lists that run over lines."""
    text = changed(TWO_SCALES, "coverage = 0.99", "coverage = 1_0\nk = 0x2")
    text = changed(text, '["0.410 kg"]', "[\n1_000.5,\n0b1]")
    found = [error["field"] for error in refused(runner.on(text, "weigh", "--json"))]
    assert [field for field in found if field.startswith("line")] == ["line 16", "line 17", "line 23", "line 24"]


@pytest.mark.parametrize("count", [49, 60])
def test_a_long_list_of_faults_is_cut_on_the_page_and_whole_in_json(count: int, runner: Runner) -> None:
    """The page shows fifty faults and counts the rest; the document holds all."""
    text = changed(EXAMPLE, "[surface]", "\n".join(f"x{number} = 1" for number in range(count)) + "\n[surface]")
    answer = runner.on(text, "weigh", "--json")
    assert len(answer.errors) == count
    assert answer.err.count("    expected ") == min(count, 50)
    assert ("and 10 more" in answer.err) == (count == 60)


@pytest.mark.parametrize("name", ["reading nan", "limits swapped", "quotes not closed", "key with an escape in it"])
def test_a_real_process_refuses_alike(name: str, tmp_path: Path) -> None:
    """A process of its own exits with 2, with one document on standard output and sentences on standard error."""
    case = WEIGHING[name]
    path = tmp_path / "job.toml"
    path.write_text(changed(case.good, case.old, case.new), encoding="utf-8")
    command = [sys.executable, "-m", "hingeline_app", "weigh", str(path), "--json"]
    environment = os.environ | {"PYTHONPATH": str(ROOT / "src")}
    done = subprocess.run(command, capture_output=True, text=True, env=environment, encoding="utf-8", timeout=60)
    assert done.returncode == 2
    assert case.field in [error["field"] for error in json.loads(done.stdout)["errors"]]
    assert done.stderr.startswith("Refused: 1 fault, nothing was computed.\n")
    assert "\x1b" not in done.stdout + done.stderr
