"""Run as a program: make a workshop in a folder of its own, through the real write door.

fill_workshop.py FOLDER ENTRIES
"""

from __future__ import annotations

import sys
from pathlib import Path

from hingeline_app.records.opening import open_records


def main(folder: Path, entries: int) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    open_records(folder, must_exist=False)
    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    fill(folder, entries)


def fill(folder: Path, entries: int) -> None:
    from hingeline_app.records.attachments import keep_attachment
    from hingeline_app.records.models import Account, Person, Tablet, Workshop
    from hingeline_app.records.write_door import Actor, Command, write_door

    workshop = Workshop(name="Fenholt")
    with write_door(Actor(workshop), "workshop set up") as entry:
        entry.keep(workshop)
    anna = Person(workshop=workshop, name="Anna Berg", initials="AB", licence_number="F-1201")
    with write_door(Actor(workshop), "person added") as entry:
        entry.keep(anna)
    account = Account(person=anna, sign_in_name="anna")
    account.set_password("a long sentence of hers")
    with write_door(Actor(workshop, anna), "account added", chain="security") as entry:
        entry.keep(account)
    with write_door(Actor(workshop, anna), "tablet enrolled") as entry:
        entry.keep(Tablet(workshop=workshop, name="bench", token_digest="ab" * 32, enrolled_by=anna))
    photo = keep_attachment(folder, [b"a photograph of the arm"])
    with write_door(Actor(workshop, anna), "photograph taken") as entry:
        entry.attachments.append(photo)
    person = Person(workshop=workshop, name="Bo Lind", initials="BL")
    for number in range(entries - 4):
        person.initials = f"B{number % 100}"
        command = Command(f"key {number}", {"initials": person.initials})
        with write_door(Actor(workshop, anna, account), "initials changed", command=command) as entry:
            entry.keep(person)
    with write_door(Actor(workshop, anna), "signed out", chain="security"):
        pass


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
