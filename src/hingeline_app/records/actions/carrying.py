"""One aircraft with all its records, out of one workshop and into another.

The file holds the workshop's chain with the text of what concerns this aircraft alone; the
rest stands as digests, so that the entries are proved to be that workshop's own, in their
places. In the other workshop they come in by one new entry that names where they came from.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import UUID

from django.conf import settings
from django.core.exceptions import ValidationError
from django.db import DataError, IntegrityError, models

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import acting, require, signed_in
from hingeline_app.records.aircraft_rows import attached, foreign_keys, parted, rows_of_aircraft
from hingeline_app.records.attachments import keep_attachment
from hingeline_app.records.brought_in import here_already
from hingeline_app.records.chain import Link
from hingeline_app.records.dates import today
from hingeline_app.records.exporting import save_ledger
from hingeline_app.records.ledger_file import Ledger, OpenLedger
from hingeline_app.records.looking.rows_as_noted import kept_tables
from hingeline_app.records.looking.signed_texts import faults_of
from hingeline_app.records.models import (
    Aircraft,
    Job,
    Person,
    ShakeRecording,
    ShakeSeries,
    Signature,
    WorkOrder,
    Workshop,
)
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.numbering import next_number
from hingeline_app.records.queries.pieces import INSTEAD_OF, INSTEAD_OF_ELSEWHERE
from hingeline_app.records.queries.visible import found
from hingeline_app.records.rebuilding import row_of
from hingeline_app.records.roles import Act
from hingeline_app.records.rows import Note
from hingeline_app.records.scales_met_again import with_newer_certificates
from hingeline_app.records.second_place import links_after
from hingeline_app.records.write_door import Actor

Key = tuple[str, str]
Numbered = Job | WorkOrder | ShakeRecording | ShakeSeries
# Raised by what was not written by this program: of no such column, of another kind, brackets within brackets.
NOT_OURS = (
    ValidationError, DataError, IntegrityError, ArithmeticError, LookupError, TypeError, ValueError, AttributeError,
    RecursionError,
)  # fmt: skip
# What must be one of its kind in a workshop, and is told apart by where it came from.
LONGEST = 60
NAMED = {"scale": "name", "stand": "name", "approveddocument": "number"}


def export_aircraft(actor: Actor, aircraft: UUID, to: Path) -> Ledger:
    """Write one aircraft with all its records to a file.

    Raises
    ------
    NotAllowed, Nowhere
        The actor may not export; there is no such aircraft.
    InputRefused
        The file exists already, or an attached file is missing.
    """
    require(actor, Act.EXPORT)
    kept = found(signed_in(actor), Aircraft, aircraft)
    rows = rows_of_aircraft(kept)
    chain, apart = parted(links_after(actor.workshop.pk, "records", 0), rows)
    about = {
        "aircraft": str(kept.pk),
        "workshop": actor.workshop.name,
        "at": datetime.now(UTC).isoformat(timespec="seconds"),
        "rows_apart": apart,
    }
    ledger = Ledger(str(actor.workshop.pk), {"records": chain}, attached(rows), about)
    save_ledger(ledger, to)
    return ledger


def import_aircraft(actor: Actor, file: Path) -> Aircraft:
    """Take an aircraft with all its records in.

    People of the other workshop come with it as people who have left: they hold no role here. One whose
    licence number is known here is the same person. What is here already, since it came with another aircraft, stays
    as it is, but that a scale of that workshop gets the certificates that it was given since.

    Raises
    ------
    NotAllowed
        The actor may not.
    InputRefused
        The file does not hold, is of no aircraft, or the aircraft is here already.
    """
    with OpenLedger(file) as opened, acting(actor, Act.EXPORT, "aircraft imported") as entry, _in_words(file):
        ledger = opened.ledger
        notes = _notes(ledger)
        here = here_already(actor.workshop, notes, file.name)
        coming = {key: note for key, note in notes.items() if key not in here}
        met_again = {key: note for key, note in notes.items() if key in here}
        identifier = _refuse_what_is_no_aircraft(ledger, coming, file)
        for digest in ledger.attachments:
            entry.attachments.append(keep_attachment(Path(settings.DATA_FOLDER), opened.attachment(digest)))
        head = ledger.chains["records"][-1].digest
        entry.says |= {"from": ledger.workshop, "name": str(ledger.about.get("workshop", "")), "head": head}
        for scale in with_newer_certificates(actor.workshop.pk, ledger.workshop, met_again):
            entry.keep(scale)
        for row in _rows(actor.workshop, ledger, coming):
            entry.keep(row)
            _refuse_no_signature(row, file)
    return Aircraft.objects.get(pk=identifier)


@contextmanager
def _in_words(file: Path) -> Iterator[None]:
    """Refuse rows whose values are none for their columns: they were not written by this program."""
    try:
        yield
    except InputRefused:
        raise
    except NOT_OURS as fault:
        remedy = "Have the aircraft exported again."
        raise InputRefused.of("FILE", file.name, "the records of one aircraft", remedy) from fault


def _notes(ledger: Ledger) -> dict[Key, Note]:
    """Give the last note of each row; what stood apart comes from entries that told of others too."""
    texts = [json.loads(link.body) for link in ledger.chains.get("records", ()) if isinstance(link, Link)]
    noted = {(note["table"], note["identifier"]): note for text in texts for note in text["rows"]}
    apart = {(note["table"], note["identifier"]): note for note in ledger.about.get("rows_apart", ())}
    return apart | noted


def _refuse_what_is_no_aircraft(ledger: Ledger, coming: Mapping[Key, Note], file: Path) -> UUID:
    named = str(ledger.about.get("aircraft", ""))
    marks = [note["values"]["registration"] for key, note in coming.items() if key[0] == "aircraft"]
    if Aircraft.objects.filter(models.Q(pk=UUID(named)) | models.Q(registration__in=marks)).exists():
        remedy = "It is here already: nothing was taken in."
        raise InputRefused.of("FILE", file.name, "an aircraft that is not here yet", remedy)
    if ("aircraft", named) not in coming:
        raise InputRefused.of("FILE", file.name, "the records of one aircraft", "Have the aircraft exported again.")
    return UUID(named)


def _refuse_no_signature(row: KeptRow, file: Path) -> None:
    """Refuse a signature that the next look at the records would name: nothing were signed or backed up any more."""
    if isinstance(row, Signature) and faults_of(row):
        raise InputRefused.of("FILE", file.name, "the records of one aircraft", "Have the aircraft exported again.")


def _rows(workshop: Workshop, ledger: Ledger, notes: Mapping[Key, Note]) -> Iterator[KeptRow]:
    """Make the rows anew for this workshop, each after those that it names."""
    people, numbers = _known_people(workshop, notes), dict[int, int]()
    for table in _in_order():
        ours = [row_of(table, note) for key, note in sorted(notes.items()) if key[0] == table._meta.model_name]
        for row in sorted(ours, key=_in_turn):
            if str(row.pk) not in people:
                was = row.number if isinstance(row, Job) else None
                moved = _moved_in(row, workshop, ledger, people)
                if isinstance(moved, Job) and was is not None:
                    numbers[was] = moved.number
                    moved.details = _numbered_here(moved.details, numbers, _origin(ledger))
                yield moved


def _known_people(workshop: Workshop, notes: Mapping[Key, Note]) -> dict[str, Person]:
    """Find those who are known here by their licence number: they are the same persons."""
    here = {each.licence_number: each for each in Person.objects.filter(workshop=workshop) if each.licence_number}
    numbers = {key[1]: note["values"]["licence_number"] for key, note in notes.items() if key[0] == "person"}
    return {identifier: here[number] for identifier, number in numbers.items() if number in here}


def _in_order() -> list[type[KeptRow]]:
    """Give the tables so that each stands after those that its rows name."""
    left, ordered = kept_tables(), list[type[KeptRow]]()
    while left:
        ready = [table for table in left if not _names_of(table) & set(left)]
        ordered += ready
        left = [table for table in left if table not in ready]
    return ordered


def _names_of(table: type[KeptRow]) -> set[Any]:
    return {field.remote_field.model for field in foreign_keys(table)} - {table}


def _in_turn(row: KeptRow) -> Any:
    """Sort issues the latest first, which the one before it names; what has a number as it was numbered there."""
    if isinstance(row, Numbered):
        return row.number
    issued = getattr(row, "issued_on", None)
    return -issued.toordinal() if issued else 0


def _moved_in(row: KeptRow, workshop: Workshop, ledger: Ledger, people: Mapping[str, Person]) -> KeptRow:
    for field in foreign_keys(type(row)):
        if field.remote_field.model is Workshop:
            setattr(row, field.attname, workshop.pk)
        elif field.remote_field.model is Person and str(getattr(row, field.attname)) in people:
            setattr(row, field.attname, people[str(getattr(row, field.attname))].pk)
    origin = _origin(ledger)
    if isinstance(row, Aircraft):
        row.came_from = f"{ledger.workshop} {origin}"[:200]
    elif isinstance(row, Person):
        row.left_on = row.left_on or today(workshop)
    elif isinstance(row, Numbered):
        row.number = next_number(type(row), workshop=workshop)
    if isinstance(row, Job):
        row.worked_on_by = sorted(str(people[each].pk) if each in people else each for each in row.worked_on_by)
    name = NAMED.get(str(row._meta.model_name))
    if name is not None:
        setattr(row, name, free_name(row, name, workshop, origin))
    return row


def _numbered_here(details: Mapping[str, Any], numbers: Mapping[int, int], origin: str) -> dict[str, Any]:
    """Name the job that one was opened instead of by its number here; of one that stayed there, in words."""
    was = details.get(INSTEAD_OF)
    if was is None:
        return dict(details)
    left = {name: value for name, value in details.items() if name != INSTEAD_OF}
    return left | ({INSTEAD_OF: numbers[was]} if was in numbers else {INSTEAD_OF_ELSEWHERE: f"{was}, {origin}"})


def _origin(ledger: Ledger) -> str:
    return str(ledger.about.get("workshop", "elsewhere"))


def free_name(row: KeptRow, name: str, workshop: Workshop, origin: str) -> str:
    """Give what a row is called, with the workshop that it came from where another row of here is called so."""
    given: str = getattr(row, name)
    told, times = given, 0
    while type(row)._default_manager.filter(**{"workshop": workshop, name: told}).exists():
        times += 1
        # It is the workshop that tells them apart, and a number where two are called alike: a long name is cut for it.
        where = f" ({origin[:40]}{f' {times}' if times > 1 else ''})"
        told = f"{given[: LONGEST - len(where)].rstrip()}{where}"
    return told
