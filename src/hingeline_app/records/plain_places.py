"""A place inside plain data by its dotted name, such as ``support.0.arm``: read there, or put there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from hingeline.errors import InputRefused

DEEPEST, LONGEST_LIST = 8, 100
LONGEST_STEP = 60


def value_at(data: Any, place: str) -> Any:
    """Give what stands at a place; None where there is nothing."""
    for step in _steps(place):
        data = _inside(data, step)
    return data


def with_value(data: Mapping[str, Any], place: str, value: Any) -> dict[str, Any]:
    """Give the data with a value at a place; tables and lists on the way are made.

    Raises
    ------
    InputRefused
        The place is no dotted name, is too deep, leaves a gap in a list, or lies inside what stands there already:
        a text, a list instead of a table.
    """
    put: dict[str, Any] = _put(data, _steps(place), value, place)
    return put


def _steps(place: str) -> list[str]:
    steps = place.split(".")
    if not all(map(_is_step, steps)) or len(steps) > DEEPEST:
        raise InputRefused.of("place", place, "a dotted name, such as support.0.arm", "Load the page again.")
    return steps


def _is_step(step: str) -> bool:
    return len(step) <= LONGEST_STEP and step.replace("_", "a").replace(" ", "a").isalnum()


def _inside(data: Any, step: str) -> Any:
    if isinstance(data, Mapping):
        return data.get(step)
    if isinstance(data, list) and step.isdecimal() and int(step) < len(data):
        return data[int(step)]
    return None


def _put(data: Any, steps: Sequence[str], value: Any, place: str) -> Any:
    if not steps:
        return value
    step, rest = steps[0], steps[1:]
    if step.isdecimal() and (data is None or isinstance(data, list)):
        return _put_in_list(data or [], int(step), rest, value, place)
    if not step.isdecimal() and (data is None or isinstance(data, Mapping)):
        table = dict(data or {})
        return table | {step: _put(table.get(step), rest, value, place)}
    # What is not seen by its own place is never written over.
    raise InputRefused.of("place", place, "a place that is free", "Load the page again.")


def _put_in_list(data: list[Any], number: int, rest: Sequence[str], value: Any, place: str) -> list[Any]:
    if number > len(data) or number >= LONGEST_LIST:
        raise InputRefused.of("place", place, f"a row up to {min(len(data), LONGEST_LIST)}", "Load the page again.")
    before = data[number] if number < len(data) else None
    return [*data[:number], _put(before, rest, value, place), *data[number + 1 :]]
