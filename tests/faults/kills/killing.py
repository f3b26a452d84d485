"""Run as a program: fork a writer, kill it in the middle, again and again. What was acknowledged is printed.

killing.py KILLS SEED
"""

from __future__ import annotations

import os
import random
import select
import signal
import sys
import time
from pathlib import Path

LONGEST, STARTS_WITHIN = 0.3, 30.0


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
    """Let one writer work: three of four until some moment after its first save, whatever else the machine does.

    What it acknowledged lies in a pipe when it is dead, and is passed on.
    """
    listens, tells = os.pipe()
    writer = os.fork()
    if not writer:
        try:
            save_for_ever(tells, number * 1000)
        finally:
            os._exit(1)
    os.close(tells)
    if number % 4:
        select.select([listens], [], [], STARTS_WITHIN)
    time.sleep(draw.uniform(0.0, LONGEST))
    os.kill(writer, signal.SIGKILL)
    os.waitpid(writer, 0)
    while said := os.read(listens, 1 << 16):
        os.write(acknowledge, said)
    os.close(listens)


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
