"""Every rule, every boundary day, leap day, ends of months, both orders of events: the table beside this file."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from hingeline.due import TaskState, what_is_due
from hingeline_app.files.due_file import DueFile, as_question

CASES = tomllib.loads(Path(__file__).with_name("cases.toml").read_text("utf-8"))["case"]
OF_AIRCRAFT = ("landings", "counted_on", "meter_changes", "readings", "hours_before_meter")

# What is expected beside the numbers: of the reason, of the notes, and what they must not say.
BESIDE = ("says", "notes", "unsaid")


def stated(case: dict[str, Any]) -> TaskState:
    """Ask about the one task of a case, as a file would."""
    aircraft = {"name": "T2-03", "hours": case.get("hours", 1000.0)}
    aircraft |= {name: case[name] for name in OF_AIRCRAFT if name in case}
    task = {"name": "check", "source": "programme", **case["task"]}
    task |= {} if "part" in task else {"aircraft": "T2-03"}
    if case.get("no_source"):
        del task["source"]
    document = {
        "format": "hingeline/due/1",
        "on": case.get("on", "2027-03-12"),
        "aircraft": [aircraft],
        "part": [case["part"]] if "part" in case else [],
        "task": [task],
    }
    question = as_question(DueFile.model_validate(document))
    return what_is_due(question.aircraft, question.parts, question.tasks, question.on).tasks[0]


def told(state: TaskState) -> dict[str, Any]:
    """Give what a case may expect, as it is written there."""
    window = state.window
    found = {
        "state": state.state,
        "binding": state.binding,
        "due_hours": state.due_at.hours,
        "due_landings": state.due_at.landings,
        "due_date": state.due_date,
        "aircraft_hours": state.due_at.aircraft_hours,
        "on_meter": state.due_at.hours_on_meter,
        "left_hours": state.remaining.hours,
        "left_landings": state.remaining.landings,
        "left_days": state.remaining.days,
        "window_hours": [window.from_.hours, window.to.hours],
        "window_landings": [window.from_.landings, window.to.landings],
        "window_date": [window.from_.date, window.to.date],
    }
    return {name: plain(value) for name, value in found.items()}


def plain(value: Any) -> Any:
    """Write decimals and dates as a file does."""
    if isinstance(value, list):
        return [plain(item) for item in value]
    return float(value) if hasattr(value, "as_tuple") else value.isoformat() if hasattr(value, "isoformat") else value


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_a_case_comes_out_as_worked_by_hand(case: dict[str, Any]) -> None:
    """State, what binds, the due point and what is left are what the case says, to the last digit."""
    state = stated(case)
    expected = {name: value for name, value in case["expect"].items() if name not in BESIDE}
    assert {name: told(state)[name] for name in expected} == expected
    assert case["expect"].get("says", "") in state.because
    assert case["expect"].get("notes", "") in " ".join(state.notes)
    assert "unsaid" not in case["expect"] or case["expect"]["unsaid"] not in " ".join(state.notes)


def test_every_state_stands_in_the_table() -> None:
    """The table has cases of all six states, so that none is left untried."""
    states = {case["expect"]["state"] for case in CASES}
    assert states == {"overdue", "due", "coming", "unknown", "not applicable", "closed"}


def test_names_are_unique() -> None:
    """No two cases claim the same."""
    assert len({case["name"] for case in CASES}) == len(CASES)
