"""What a file of another workshop may bring in: rows of its aircraft, and nothing that changes what is here.

The chain of a file shows that it was not changed since it was made, not who made it. So no account, passkey, right or
tablet comes in, a row that is here already stays as it is, and nothing new hangs on a job or an aircraft of ours.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from django.db import models

from hingeline.errors import InputRefused
from hingeline_app.records.aircraft_rows import carried_tables, foreign_keys
from hingeline_app.records.models import Task, Workshop
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.models.plain import PlainField
from hingeline_app.records.queries.visible import BELONGS
from hingeline_app.records.rows import Note

Key = tuple[str, str]
Notes = Mapping[Key, Note]
# So many rows are asked for at once.
AT_ONCE = 500


def here_already(workshop: Workshop, notes: Notes, file: str) -> frozenset[Key]:
    """Name the rows of a file that are here already.

    Raises
    ------
    InputRefused
        The file brings what the records of an aircraft do not hold, or adds to what is this workshop's own.
    """
    tables = {str(table._meta.model_name): table for table in carried_tables()}
    for (table, _identifier), note in notes.items():
        if table not in tables or not _reads(tables[table], note, notes):
            raise InputRefused.of("FILE", file, "the records of one aircraft", "Have the aircraft exported again.")
    here = frozenset(key for name, table in tables.items() for key in _here(name, table, workshop, notes, file))
    new = {key: note for key, note in notes.items() if key not in here}
    named = {each for (table, _identifier), note in new.items() for each in _named(tables[table], note)}
    if any(_is_ours_alone(tables, each) for each in named & here):
        raise _is_here(file)
    return here


def _reads(table: type[KeptRow], note: Note, notes: Notes) -> bool:
    """Whether a note has the shape of its table's rows, and all that it names is in the file too."""
    values = note.get("values")
    if not isinstance(values, Mapping):
        return False
    named = all(each in notes for each in _named(table, note))
    return named and all(_is_of_its_kind(each, values) for each in table._meta.concrete_fields)


def _is_of_its_kind(field: models.Field[Any, Any], values: Mapping[str, Any]) -> bool:
    """Whether plain data is the table or the list that its pages read."""
    if not isinstance(field, PlainField) or field.default not in (dict, list) or field.attname not in values:
        return True
    return isinstance(values[field.attname], field.default)


def _named(table: type[KeptRow], note: Note) -> Iterator[Key]:
    """Name the rows that a note names; its workshop becomes this one."""
    for field in foreign_keys(table):
        value, target = note["values"].get(field.attname), field.remote_field.model
        if value is not None and target is not Workshop:
            yield str(target._meta.model_name), str(value)


def _here(name: str, table: type[KeptRow], workshop: Workshop, notes: Notes, file: str) -> Iterator[Key]:
    wanted = [identifier for each, identifier in notes if each == name]
    for begin in range(0, len(wanted), AT_ONCE):
        rows = table._base_manager.filter(pk__in=wanted[begin : begin + AT_ONCE])
        if rows.exclude(**{BELONGS[table].workshop: workshop.pk}).exists():
            raise _is_here(file)
        yield from ((name, str(identifier)) for identifier in rows.values_list("pk", flat=True))


def _is_ours_alone(tables: Mapping[str, type[KeptRow]], key: Key) -> bool:
    """Whether a row that is here is an aircraft's: a person, a scale, a document or a part is met again with the next.

    What is looked at on a part goes with it from one aircraft to the other.
    """
    table = tables[key[0]]
    if table is Task:
        return Task.objects.filter(pk=key[1], aircraft__isnull=False).exists()
    return BELONGS[table].owner is not None


def _is_here(file: str) -> InputRefused:
    remedy = "It is here already: nothing was taken in."
    return InputRefused.of("FILE", file, "an aircraft that is not here yet", remedy)
