"""A number of a task by the dotted name that it has in a file: read it, change it.

``section.surface_static_moment``, ``tailplane.weight[0].arm``, ``wing.aileron.from``,
``modes.strip[2].plunge[0]``, ``air.density``, ``structural_damping``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from typing import Any

from hingeline.errors import InputRefused
from hingeline.flutter.model import FlutterTask
from hingeline.flutter.ranges import IN_A_FILE, RANGES

# What a task holds beside its structure and air: none of it is a number of the model.
_NOT_THE_MODEL = {"speeds", "scatter", "sources", "free_play", "name"}
_TO_RECORD = {written: name for name, written in IN_A_FILE.items()}
_STEP = re.compile(r"([a-z_]+)((?:\[\d+\])*)")


def fields_of(task: FlutterTask) -> dict[str, float]:
    """Give every number of the model by its dotted name.

    Parameters
    ----------
    task : FlutterTask

    Returns
    -------
    dict of str to float
        [SI]; fields that are left out are not in it.

    Examples
    --------
    >>> from hingeline.flutter.model import Air, Section
    >>> strip = Section(("plunge", "pitch"), 0.5, -0.2, 10.0, pitch_inertia=1.0)
    >>> fields_of(FlutterTask(Air(density=1.225), (1.0, 50.0), section=strip))["air.density"]
    1.225
    """
    return dict(_numbers("", task))


def _numbers(place: str, item: Any) -> Iterator[tuple[str, float]]:
    if isinstance(item, bool) or item is None or isinstance(item, str):
        return
    if isinstance(item, tuple):
        single = place == "structural_damping" and len(item) == 1
        for index, one in enumerate(item):
            yield from _numbers(place if single else f"{place}[{index}]", one)
    elif is_dataclass(item):
        for field in fields(item):
            if not (place == "" and field.name in _NOT_THE_MODEL):
                yield from _numbers(_below(place, field.name), getattr(item, field.name))
    elif isinstance(item, float):
        yield place, float(item)


def _below(place: str, name: str) -> str:
    return f"{place}.{IN_A_FILE.get(name, name)}" if place else name


def value_of(task: FlutterTask, field: str) -> float:
    """Give one number of the model [SI].

    Raises
    ------
    InputRefused
        There is no such number.
    """
    known = fields_of(task)
    if field not in known:
        raise InputRefused.of(field, field, "a number of this model, by its dotted name", f"It has {', '.join(known)}.")
    return known[field]


def with_value(task: FlutterTask, field: str, value: float) -> FlutterTask:
    """Give the same task with one number changed.

    Parameters
    ----------
    task : FlutterTask
    field : str
        Dotted name.
    value : float
        [SI]

    Returns
    -------
    FlutterTask

    Raises
    ------
    InputRefused
        There is no such number.
    """
    value_of(task, field)
    return with_known(task, field, value)


def with_known(task: FlutterTask, field: str, value: float) -> FlutterTask:
    """Give the same task with one number changed that it is known to have: :func:`fields_of` names it."""
    changed: FlutterTask = _changed(task, _steps(task, field), value)
    return changed


def _steps(task: FlutterTask, field: str) -> list[str | int]:
    """Take a dotted name apart into names of fields and places in tuples."""
    steps: list[str | int] = []
    for index, (name, places) in enumerate(_STEP.findall(field)):
        steps.append(name if index == 0 else _TO_RECORD.get(name, name))
        steps.extend(int(place) for place in re.findall(r"\d+", places))
    if field == "structural_damping":
        steps.append(0)
    return steps


def field_at(task: FlutterTask, field: str) -> tuple[Any, str]:
    """Give the record that holds a number of the model, and the name of its field there."""
    item: Any = task
    holder, name = item, ""
    for step in _steps(task, field):
        if isinstance(step, str):
            holder, name = item, step
        item = item[step] if isinstance(step, int) else getattr(item, step)
    return holder, name


def _changed(item: Any, steps: list[str | int], value: float) -> Any:
    if not steps:
        return value
    step, rest = steps[0], steps[1:]
    if isinstance(step, int):
        return (*item[:step], _changed(item[step], rest, value), *item[step + 1 :])
    return replace(item, **{step: _changed(getattr(item, step), rest, value)})


def must_be_positive(task: FlutterTask, field: str) -> bool:
    """Whether a number below zero would mean nothing: masses, inertias, stiffnesses, lengths, density.

    Parameters
    ----------
    task : FlutterTask
    field : str
        Dotted name.

    Returns
    -------
    bool
        False for static moments, for places on the chord and for an altitude.
    """
    record, name = field_at(task, field)
    allowed = RANGES.get(type(record), {}).get(name)
    return allowed.positive if allowed is not None else name != "altitude"
