"""Run as a program: save in children that may have a little more memory than they use, and tell how each ended."""

from __future__ import annotations

import json
import os
import resource
import sys
from pathlib import Path

STEP = 256 * 1024
# Each that is committed and not yet told of leaves more to catch up for the next: even steps would never reach it.
SIZES = [0, *(STEP << power for power in range(10))]


def used() -> int:
    """Give the size of this process."""
    return int(Path("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()


def save_with(more: int) -> int:
    """Save in a child that may grow by so many bytes; give its exit status."""
    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    try:
        save(f"M{more // STEP}", used() + more)
    except BaseException:
        os._exit(3)
    os._exit(0)


def save(initials: str, most: int) -> None:
    from hingeline_app.records.models import Person, Workshop
    from hingeline_app.records.write_door import Actor, write_door

    person = Person.objects.get(name="Bo Lind")
    workshop = Workshop.objects.get()
    person.initials = initials
    resource.setrlimit(resource.RLIMIT_AS, (most, most))
    with write_door(Actor(workshop), "noted", {"text": "x" * 400_000}) as entry:
        entry.keep(person)


def main() -> None:
    from hingeline_app.records.opening import open_records

    open_records()
    import hingeline_app.records.write_door  # noqa: F401  loaded once, before anything is forked

    print(json.dumps([save_with(size) for size in SIZES]))


if __name__ == "__main__":
    sys.exit(main())
