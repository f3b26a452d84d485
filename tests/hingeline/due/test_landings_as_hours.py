"""What holds of hours holds of landings: the table of cases, with every hour written as ten landings."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from hingeline.due import TaskState
from tests.hingeline.due.test_cases import BESIDE, CASES, plain, stated

TEN = Decimal(10)
# Of a counter that has a meter, of events that only hours can tell apart, and of both counters at once.
APART = ("meter_changes", "hours_before_meter", "landings")


def in_hours_alone(case: dict[str, Any]) -> bool:
    """Whether a case speaks of hours, and of nothing that landings do not have."""
    text = str(case["task"])
    return "hours" in text and "landings" not in text and "event" not in text and not set(APART) & set(case)


def tenfold(value: Any) -> Any:
    """Give hours as landings."""
    return [tenfold(each) for each in value] if isinstance(value, list) else int(Decimal(str(value)) * TEN)


def renamed(table: Any) -> Any:
    """Write a table of a task in landings."""
    if isinstance(table, list):
        return [renamed(each) for each in table]
    if not isinstance(table, dict):
        return table
    return {
        name.replace("hours", "landings"): tenfold(value) if "hours" in name else renamed(value)
        for name, value in table.items()
    }


def beside(table: dict[str, Any], **names: str) -> dict[str, Any]:
    """Add landings to a table that keeps its hours too."""
    return table | {names[name]: tenfold(value) for name, value in table.items() if name in names}


def in_landings(case: dict[str, Any]) -> dict[str, Any]:
    """Write a case in landings; counters and parts keep their hours beside them."""
    found = {**case, "landings": tenfold(case.get("hours", 1000.0)), "task": renamed(case["task"])}
    if "readings" in case:
        found["readings"] = [beside(each, hours="landings") for each in case["readings"]]
    if "part" in case:
        part = beside(case["part"], hours_when_new_fitted="landings_when_new_fitted")
        fitted = [beside(each, **{"from": "from_landings", "to": "to_landings"}) for each in part["fitted"]]
        found["part"] = part | {"fitted": fitted}
    return found


def told(state: TaskState) -> dict[str, Any]:
    """Give what a case may expect, its numbers in landings."""
    window = state.window
    return {
        "state": state.state,
        "binding": state.binding,
        "due_landings": state.due_at.landings,
        "due_date": plain(state.due_date),
        "aircraft_landings": state.due_at.aircraft_landings,
        "left_landings": state.remaining.landings,
        "left_days": state.remaining.days,
        "window_landings": [window.from_.landings, window.to.landings],
        "window_date": plain([window.from_.date, window.to.date]),
    }


def expected(case: dict[str, Any]) -> dict[str, Any]:
    """Turn what is expected in hours."""
    kept = {name: value for name, value in case["expect"].items() if name not in (*BESIDE, "on_meter")}
    turned = {
        name.replace("hours", "landings"): tenfold(kept[name]) if "hours" in name else kept[name] for name in kept
    }
    return turned | ({"binding": "landings"} if turned.get("binding") == "hours" else {})


@pytest.mark.parametrize("case", list(filter(in_hours_alone, CASES)), ids=lambda case: case["name"])
def test_a_case_in_hours_comes_out_alike_in_landings(case: dict[str, Any]) -> None:
    """State, what binds, due point, window and what is left are ten landings for each hour."""
    found, wanted = told(stated(in_landings(case))), expected(case)
    assert {name: found[name] for name in wanted} == wanted


def test_most_cases_are_asked_in_landings_too() -> None:
    """The turning leaves out few, so that no rule is tried in hours alone."""
    assert sum(map(in_hours_alone, CASES)) > 40
