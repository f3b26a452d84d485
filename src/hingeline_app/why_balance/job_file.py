"""A state as a file for ``hingeline flutter``: whoever wants to check a number of the page runs it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from decimal import Decimal
from typing import Any, get_args, get_type_hints

from hingeline.fields import Unit
from hingeline.flutter import FlutterTask
from hingeline_app.why_balance.state import State

FORMAT = "hingeline/flutter/1"
# How a file names what a record names otherwise.
WRITTEN = {"from_root": "from", "place": "in", "weights": "weight"}
PER_CENT = "%"
OF_THE_CHORD = {("tailplane", "hinge_line"), ("tailplane", "centre_of_gravity")}


def job_file(state: State) -> str:
    """Write the state's model as TOML.

    Parameters
    ----------
    state : State

    Returns
    -------
    str
        That the flutter command reads; every number with all its digits, in SI.
    """
    task = state.surface.model(state.settings)
    name = task.name.replace("\\", "\\\\").replace('"', '\\"')
    head = [f'format = "{FORMAT}"', f'name = "{name}"']
    return "\n".join([*head, *_simple(task), *_tables(task), *_scatter(task)]) + "\n"


def _scatter(task: FlutterTask) -> Iterator[str]:
    if task.scatter:
        yield from ("", "[scatter]")
        yield from (f'"{each.field}" = {each.relative!r}' for each in task.scatter)


def _simple(task: FlutterTask) -> Iterator[str]:
    """Write what stands before any table."""
    air = task.air
    known = {"density": (air.density, "kg/m^3"), "altitude": (air.altitude, "m")}
    inside = ", ".join(f'{name} = "{value!r} {unit}"' for name, (value, unit) in known.items() if value is not None)
    yield f"air = {{{inside}}}"
    yield f"speeds = [{', '.join(f'{speed!r} m/s'.join(chr(34) * 2) for speed in task.speeds)}]"
    damping = task.structural_damping
    yield f"structural_damping = {damping[0]!r}" if len(damping) == 1 else f"structural_damping = {list(damping)!r}"
    if task.damping_ratios:
        yield f"damping_ratios = {list(task.damping_ratios)!r}"
    if task.wake != "theodorsen":
        yield f'wake = "{task.wake}"'
    if task.lift_slope_factor != 1.0:
        yield f"lift_slope_factor = {task.lift_slope_factor!r}"
        yield f'lift_slope_source = "{task.lift_slope_source}"'


def _tables(task: FlutterTask) -> Iterator[str]:
    for name in ("section", "tailplane", "wing", "free_play"):
        record = getattr(task, name)
        if record is not None:
            yield from _table(name, record)


def _table(path: str, record: Any, *, one_of_many: bool = False) -> Iterator[str]:
    """Write one record as a table, then the tables inside it."""
    hints, inside = get_type_hints(type(record), include_extras=True), []
    yield from ("", f"[[{path}]]" if one_of_many else f"[{path}]")
    for each in fields(record):
        value, name = getattr(record, each.name), WRITTEN.get(each.name, each.name)
        if value is None or value == ():
            continue
        if is_dataclass(value) or (isinstance(value, tuple) and is_dataclass(value[0])):
            inside.append((name, value))
        else:
            unit = PER_CENT if (path, name) in OF_THE_CHORD else unit_of(hints[each.name])
            yield f"{name} = {_written(value, unit)}"
    for name, value in inside:
        for one in value if isinstance(value, tuple) else (value,):
            yield from _table(f"{path}.{name}", one, one_of_many=isinstance(value, tuple))


def _written(value: Any, unit: str | None) -> str:
    if unit == PER_CENT:
        return f'"{Decimal(repr(value)).scaleb(2):f} %"'
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, tuple):
        return f"[{', '.join(_written(one, unit) for one in value)}]"
    return repr(value) if unit is None else f'"{value!r} {unit}"'


def unit_of(hint: Any) -> str | None:
    """Find the unit that a field is marked with, however deep; none for a pure number."""
    for part in get_args(hint):
        if isinstance(part, Unit):
            return str(part.symbol)
        found = unit_of(part)
        if found is not None:
            return found
    return None
