"""Run as a program: read a number, add one, save it, again and again; tell the longest wait and every refusal.

counting.py TIMES THREADS
"""

from __future__ import annotations

import json
import sys
import threading
import time
from pathlib import Path
from typing import Any


def count_on(times: int, found: dict[str, Any]) -> None:
    """Add one so many times, through the write door, as a page would."""
    from django.db import connection

    from hingeline_app.records.models import Person, Workshop
    from hingeline_app.records.write_door import Actor, write_door

    actor = Actor(Workshop.objects.get())
    for _ in range(times):
        started = time.monotonic()
        try:
            with write_door(actor, "counted") as entry:
                person = Person.objects.get(licence_number="counter")
                person.initials = str(int(person.initials) + 1)
                entry.keep(person)
        except Exception as fault:
            found["refused"].append(repr(fault))
        found["longest"] = max(found["longest"], time.monotonic() - started)
    connection.close()


def main(times: int, threads: int) -> None:
    from hingeline_app.records.opening import open_records

    open_records()
    found: dict[str, Any] = {"refused": [], "longest": 0.0}
    working = [threading.Thread(target=count_on, args=(times, found)) for _ in range(threads)]
    for each in working:
        each.start()
    for each in working:
        each.join()
    print(json.dumps(found))


if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[3]))
    main(int(sys.argv[1]), int(sys.argv[2]))
