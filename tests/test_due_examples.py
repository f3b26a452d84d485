"""Each example of what is due runs, and shows what its heading says."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from hingeline_app.cli.main import main
from tests.doors.checkouts import ROOT

EXAMPLES = sorted((ROOT / "examples" / "due").glob("*.toml"))


def states(number: int, capsys: pytest.CaptureFixture[str], *more: str) -> dict[str, Any]:
    """Ask about the example of that number; the tasks by name."""
    assert main(["due", str(EXAMPLES[number - 1]), "--json", *more]) == 0
    return {task["name"]: task for task in json.loads(capsys.readouterr().out)["tasks"]}


def test_examples_are_numbered_without_a_gap() -> None:
    """The examples are numbered from 01 on."""
    assert [path.name[:2] for path in EXAMPLES] == [f"{number:02d}" for number in range(1, len(EXAMPLES) + 1)]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_opens_with_prose_and_its_command(path: Path) -> None:
    """Each file names the example, the invented aeroplane, the workshop, and the command that runs it."""
    heading = path.read_text("utf-8").split("\nformat", 1)[0]
    assert heading.startswith(f"# Due example {int(path.name[:2])}: ")
    assert "Merle T2" in heading
    assert "invented" in heading
    assert re.search(rf"^#     \./hingeline due examples/due/{re.escape(path.name)}( --|$)", heading, re.M)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_source_of_an_example_says_that_it_is_invented(path: Path) -> None:
    """No directive, manual or programme that exists is named."""
    references = re.findall(r'^reference = "(.*)"', path.read_text("utf-8"), re.M)
    assert references
    assert all(reference.endswith("(invented)") for reference in references)


def test_01_seven_tasks_seven_rules(capsys: pytest.CaptureFixture[str]) -> None:
    """The part's directive is overdue by 2.2 h whatever the tolerance; the late inspection is inside its own."""
    found = states(1, capsys)
    arm = found["arm crack check"]
    assert (arm["state"], arm["remaining"]["hours"], arm["due_at"]["hours_on_meter"]) == ("overdue", -2.2, 610.8)
    assert "a directive is not extended" in arm["because"]
    assert (found["100 h inspection"]["state"], found["100 h inspection"]["due_at"]["hours"]) == ("due", 1405.0)
    assert found["annual inspection"]["due_date"] == "2027-04-17"
    assert found["elevator hinge pins"]["binding"] == "landings"
    assert found["control surfaces after a hard landing"]["binding"] == "event"
    assert found["tab cable replacement"]["state"] == "not applicable"
    assert found["elevator tab rod, look for wear"]["state"] == "closed"


def test_02_lost_history_shelf_and_a_start(capsys: pytest.CaptureFixture[str]) -> None:
    """A lost history is unknown; on the shelf the calendar runs; later of two, but not after the last day of 2027."""
    found = states(2, capsys)
    assert found["arm crack check"]["state"] == "unknown"
    spare = found["arm protection, look for damage"]
    assert (spare["aircraft"], spare["due_date"], spare["binding"]) == ("", "2027-04-30", "date")
    bolts = found["tailplane root bolts"]
    assert (bolts["due_at"]["hours"], bolts["due_date"], bolts["binding"]) == (1520.6, "2027-12-31", "date")
    assert found["hinge play"]["window"] == {
        "from": {"hours": 1487.5, "landings": None, "date": None},
        "to": {"hours": 1492.5, "landings": None, "date": None},
    }


def test_02_asked_about_a_later_day_the_counters_are_old(capsys: pytest.CaptureFixture[str]) -> None:
    """With --on the date moves on and the counters do not: the spare arm is overdue, and the notes say how old."""
    found = states(2, capsys, "--on", "2027-05-01")
    assert found["arm protection, look for damage"]["state"] == "overdue"
    assert any("12 Mar 2027, 50 days before" in note for note in found["hinge play"]["notes"])
