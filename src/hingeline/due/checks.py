"""What must hold before anything is counted. All faults are gathered; fields are named as in a due file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date as Date

from hingeline.due.counter_checks import aircraft_faults, part_faults, pasts_of
from hingeline.due.history_checks import history_faults
from hingeline.due.model import Aircraft, Part, Task
from hingeline.due.refusing import EARLIEST, LATEST, fault, near
from hingeline.due.task_checks import task_faults
from hingeline.errors import InputRefused, Refusal


def refuse_unusable(aircraft: Sequence[Aircraft], parts: Sequence[Part], tasks: Sequence[Task], on: Date) -> None:
    """Refuse what cannot be counted.

    Raises
    ------
    InputRefused
        With one refusal for every fault.
    """
    refusals = list(_faults(aircraft, parts, tasks, on))
    if refusals:
        raise InputRefused(refusals)


def _faults(aircraft: Sequence[Aircraft], parts: Sequence[Part], tasks: Sequence[Task], on: Date) -> Iterator[Refusal]:
    if not EARLIEST <= on <= LATEST:
        yield fault("on", on, f"a day from {EARLIEST} to {LATEST}", "Check the year.")
        return
    counters = [*aircraft_faults(aircraft, on), *part_faults(parts, aircraft)]
    yield from counters
    yield from _doubled("aircraft", (each.name for each in aircraft))
    yield from _doubled("part", (each.name for each in parts))
    yield from _doubled_tasks(tasks)
    yield from _owners(tasks, aircraft, parts)
    for index, task in enumerate(tasks):
        yield from task_faults(f"task[{index}]", task, on)
    # What is wrong with a counter would be told again at every task that it belongs to.
    if not counters:
        known = pasts_of(aircraft, parts, on)
        for index, task in enumerate(tasks):
            yield from history_faults(f"task[{index}]", task, known.get((task.aircraft, task.part)), on)


def _doubled(field: str, names: Iterable[str]) -> Iterator[Refusal]:
    seen: set[str] = set()
    for index, name in enumerate(names):
        if not name.strip():
            yield fault(f"{field}[{index}].name", name, "a name", "Give what the workshop calls it.")
        elif name in seen:
            yield fault(
                f"{field}[{index}].name", name, "each name once", "It stands twice: take one out, or rename it."
            )
        seen.add(name)


def _doubled_tasks(tasks: Sequence[Task]) -> Iterator[Refusal]:
    seen: set[tuple[str, str, str]] = set()
    for index, task in enumerate(tasks):
        key = task.aircraft, task.part, task.name
        if not task.name.strip():
            yield fault(f"task[{index}].name", task.name, "a name", "Give what the document calls it.")
        elif key in seen:
            whose = task.aircraft or task.part
            remedy = "It stands twice: take one out, or tell the two apart."
            yield fault(f"task[{index}].name", task.name, f"each name once for {whose}", remedy)
        seen.add(key)


def _owners(tasks: Sequence[Task], aircraft: Sequence[Aircraft], parts: Sequence[Part]) -> Iterator[Refusal]:
    flying, carried = {each.name for each in aircraft}, {each.name for each in parts}
    for index, task in enumerate(tasks):
        if bool(task.aircraft) == bool(task.part):
            given = f"{task.aircraft} and {task.part}" if task.aircraft else "neither"
            remedy = "A task belongs to one of them: write aircraft, or part."
            yield fault(f"task[{index}].aircraft", given, "an aircraft or a part", remedy)
        elif task.aircraft and task.aircraft not in flying:
            yield _unknown(f"task[{index}].aircraft", task.aircraft, "aircraft", flying)
        elif task.part and task.part not in carried:
            yield _unknown(f"task[{index}].part", task.part, "part", carried)


def _unknown(field: str, name: str, kind: str, known: Iterable[str]) -> Refusal:
    return fault(field, name, f"the name of an {kind}" if kind == "aircraft" else "the name of a part",
                 f"There is no [[{kind}]] of this name.{near(name, known)}")  # fmt: skip
