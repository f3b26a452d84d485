"""Run as a program: save through the real write door, and acknowledge each save in a file of the same folder.

saving.py FOLDER SAVES
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

ACKNOWLEDGED = "acknowledged"


def main(folder: Path, saves: int) -> None:
    import django

    django.setup()
    from hingeline_app.records.models import Person, Workshop
    from hingeline_app.records.write_door import Actor, write_door

    actor = Actor(Workshop.objects.get())
    person = Person.objects.get(name="Bo Lind")
    file = os.open(folder / ACKNOWLEDGED, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o600)
    for number in range(saves):
        person.initials = f"C{number}"
        with write_door(actor, "initials changed", {"remark": "x" * (number % 7 * 150)}) as entry:
            entry.keep(person)
        os.write(file, f"{entry.receipt.position} {entry.receipt.digest}\n".encode())


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
