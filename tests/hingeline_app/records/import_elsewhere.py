"""Run as a program: set another workshop up in a folder of its own, and take an exported aircraft in.

import_elsewhere.py FOLDER FILE      writes what came in as one JSON document
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from hingeline_app.records.opening import open_records


def main(folder: Path, file: Path) -> None:
    folder.mkdir(parents=True)
    open_records(folder, must_exist=False)
    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    print(json.dumps(taken_in(file)))


def taken_in(file: Path) -> dict[str, Any]:
    from hingeline_app.records.actions.carrying import import_aircraft
    from hingeline_app.records.actions.people import add_person
    from hingeline_app.records.actions.workshop import set_up_workshop
    from hingeline_app.records.aircraft_rows import rows_of_aircraft
    from hingeline_app.records.looking.look import Places, look_at_the_records
    from hingeline_app.records.looking.signed_texts import faults_of
    from hingeline_app.records.models import Entry, Person, Right, Signature
    from hingeline_app.records.rows import note_of
    from hingeline_app.records.write_door import Actor

    founded = set_up_workshop(
        "Elsewhere", person="Max Stone", initials="MS", sign_in_name="max", password="a gate in the far hedge"
    )
    actor = Actor(founded.workshop, founded.person, founded.account)
    # Bo Lind, the second inspector, is known here by the licence number.
    known = add_person(actor, "Bo Lind", "BL", licence_number="FH.66.3")
    aircraft = import_aircraft(actor, file)
    return {
        "rows": {"/".join(key): note_of(row) for key, row in rows_of_aircraft(aircraft).items()},
        "came_from": aircraft.came_from,
        "known": str(known.pk),
        "rights": Right.objects.count(),
        "here": list(Person.objects.filter(left_on__isnull=True).values_list("name", flat=True)),
        "faults": [faults_of(each) for each in Signature.objects.all()],
        "signers": [str(each.made_by_id) for each in Signature.objects.order_by("change")],
        "whole": look_at_the_records(Places.of_the_settings(read_attachments=True)).document()["whole"],
        "last": Entry.objects.order_by("-position").first().kind,
    }


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
