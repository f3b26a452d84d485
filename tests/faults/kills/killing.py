"""Run as a program: fork a writer, kill it in the middle, again and again. What was acknowledged is printed.

killing.py KILLS SEED
"""

from __future__ import annotations

import os
import random
import signal
import sys
import time
from pathlib import Path

LONGEST = 0.3


def save_for_ever(acknowledge: int, number: int) -> None:
    """Save through the write door, and acknowledge each save, until killed or the database is gone."""
    from hingeline_app.records.models import Person, Workshop
    from hingeline_app.records.write_door import Actor, write_door

    workshop = Workshop.objects.get()
    person = Person.objects.get(name="Bo Lind")
    while True:
        number += 1
        person.initials = f"K{number % 10000}"
        with write_door(Actor(workshop), "initials changed") as entry:
            entry.keep(person)
        os.write(acknowledge, f"{entry.receipt.position} {entry.receipt.digest}\n".encode())


def kill_one(draw: random.Random, acknowledge: int, number: int) -> None:
    """Let one writer work for a moment."""
    writer = os.fork()
    if not writer:
        try:
            save_for_ever(acknowledge, number * 1000)
        finally:
            os._exit(1)
    time.sleep(draw.uniform(0.02, LONGEST))
    os.kill(writer, signal.SIGKILL)
    os.waitpid(writer, 0)


def main(kills: int, seed: int) -> None:
    from hingeline_app.records.opening import open_records

    open_records()
    import hingeline_app.records.write_door  # noqa: F401  loaded once, before anything is forked

    draw = random.Random(seed)
    for number in range(kills):
        kill_one(draw, sys.stdout.fileno(), number)


if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[3]))
    main(int(sys.argv[1]), int(sys.argv[2]))
