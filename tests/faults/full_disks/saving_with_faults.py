"""Run as a program, with failing.c loaded: let each step of a save fail in turn, and tell what came of it.

saving_with_faults.py ERROR GOES_ON
"""

from __future__ import annotations

import ctypes
import json
import sys
from typing import Any

MOST = 400


def main(error: int, goes_on: int) -> None:
    from hingeline_app.records.opening import open_records

    open_records()
    from hingeline_app.records.models import Person, Workshop

    workshop, person = Workshop.objects.get(), Person.objects.get(name="Bo Lind")
    shim = ctypes.CDLL(None)
    told = []
    for step in range(1, MOST):
        person.initials = f"N{step}"
        shim.fail_at(step, error, goes_on)
        said = save(workshop, person)
        reached = shim.still_waiting() == (1 if goes_on else 0)
        shim.fail_at(0, 0, 0)
        told.append({"step": step, "said": said, "readable": readable(), "again": save(workshop, person)})
        if not reached:
            break
    print(json.dumps(told))


def save(workshop: Any, person: Any) -> str:
    """Save, and name how it ended."""
    from hingeline_app.records.write_door import Actor, Command, write_door

    command = Command(f"with faults {person.initials}", {"initials": person.initials})
    try:
        with write_door(Actor(workshop), "initials changed", command=command) as entry:
            entry.keep(person)
    except Exception as fault:
        return f"{type(fault).__name__}: {fault}"
    return "saved" if entry.receipt else "no receipt"


def readable() -> bool:
    from hingeline_app.records.models import Person

    return bool(Person.objects.get(name="Bo Lind").initials)


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]))
