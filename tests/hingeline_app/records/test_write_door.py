"""The write door: one entry, one receipt, nothing half."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.db import DatabaseError, connection, transaction

from hingeline_app.records import giving_heads, locking
from hingeline_app.records.chain import Link, breaks
from hingeline_app.records.giving_heads import give_head, heads_file, heads_given
from hingeline_app.records.journal import append_bytes, journal_file, read_lines
from hingeline_app.records.models import Entry, Person, Workshop
from hingeline_app.records.models.kept import NotThroughTheDoor
from hingeline_app.records.triggers import missing_triggers
from hingeline_app.records.write_door import Actor, AlreadyDone, Command, OtherBody, write_door

pytestmark = pytest.mark.django_db


@pytest.fixture
def actor(tmp_path: Path, settings: Any) -> Actor:
    settings.JOURNAL_FOLDER = tmp_path / "journal"
    workshop = Workshop(name="Fenholt")
    with write_door(Actor(workshop), "workshop set up") as entry:
        entry.keep(workshop)
    return Actor(workshop)


def links(workshop: Workshop) -> list[Link]:
    stored = Entry.objects.filter(workshop=workshop, chain="records")
    return [Link(each.position, each.previous, each.digest, each.body.encode()) for each in stored]


def add_person(actor: Actor, name: str, command: Command | None = None) -> Any:
    with write_door(actor, "person added", command=command) as entry:
        entry.keep(Person(workshop=actor.workshop, name=name, initials="AB"))
    return entry.receipt


def added(actor: Actor, name: str) -> Person:
    add_person(actor, name)
    return Person.objects.get(name=name)


def test_a_head_given_after_a_power_cut_stands_on_a_line_of_its_own(actor: Actor) -> None:
    """What was left of a line was never given away: the next head is not written onto it, and both stay readable."""
    add_person(actor, "Anna Berg")
    first = give_head(actor.workshop.pk)
    assert first is not None
    with heads_file(actor.workshop.pk).open("a") as file:
        file.write(first.code[:40])
    add_person(actor, "Bo Lind")
    second = give_head(actor.workshop.pk)
    assert list(heads_given(actor.workshop.pk)) == [first, second]


def test_heads_given_at_once_are_all_noted(actor: Actor, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever notes a head has the right to write: the end of the list cannot move between look and write."""
    add_person(actor, "Anna Berg")
    held: list[bool] = []

    def noted(path: Path, data: bytes, ends_at: int) -> None:
        held.append(locking._in_this_process.locked())
        append_bytes(path, data, ends_at)

    monkeypatch.setattr(giving_heads, "append_bytes", noted)
    assert give_head(actor.workshop.pk) is not None
    assert held == [True]


def add_and_stop(actor: Actor) -> None:
    with write_door(actor, "person added") as entry:
        entry.keep(Person(workshop=actor.workshop, name="Nobody", initials="NN"))
        raise RuntimeError("stop")


def test_an_entry_notes_the_row_it_kept(actor: Actor) -> None:
    add_person(actor, "Anna Berg")
    note = json.loads(links(actor.workshop)[-1].body)["rows"][0]
    assert note["table"] == "person"
    assert note["values"]["name"] == "Anna Berg"


def test_the_chain_holds_and_the_journal_has_the_same_lines(actor: Actor) -> None:
    for name in ("Anna Berg", "Bo Lind", "Cy Vale"):
        add_person(actor, name)
    stored = links(actor.workshop)
    assert len(stored) == 4
    assert list(breaks(stored)) == []
    assert list(read_lines(journal_file(Path(settings.JOURNAL_FOLDER), str(actor.workshop.pk), "records"))) == stored


def test_what_raises_inside_leaves_nothing(actor: Actor) -> None:
    with pytest.raises(RuntimeError, match="stop"):
        add_and_stop(actor)
    assert not Person.objects.filter(name="Nobody").exists()
    assert len(links(actor.workshop)) == 1


def test_no_row_is_saved_or_deleted_beside_the_door(actor: Actor) -> None:
    with pytest.raises(NotThroughTheDoor):
        Person(workshop=actor.workshop, name="Beside", initials="BE").save()
    with pytest.raises(NotThroughTheDoor):
        actor.workshop.delete()


@pytest.mark.fault("F14")
def test_the_same_command_twice_is_one_entry(actor: Actor) -> None:
    command = Command("k1", {"name": "Anna Berg"})
    first = add_person(actor, "Anna Berg", command)
    with pytest.raises(AlreadyDone) as again:
        add_person(actor, "Anna Berg", command)
    assert again.value.receipt.digest == first.digest
    assert Person.objects.filter(name="Anna Berg").count() == 1


@pytest.mark.fault("F15")
def test_a_key_with_another_body_is_refused(actor: Actor) -> None:
    add_person(actor, "Anna Berg", Command("k1", {"name": "Anna Berg"}))
    with pytest.raises(OtherBody):
        add_person(actor, "Bo Lind", Command("k1", {"name": "Bo Lind"}))


@pytest.mark.fault("F15")
def test_a_key_that_another_person_used_is_refused(actor: Actor) -> None:
    """The same key and the same words from somebody else are not told as kept: the entry is not theirs."""
    command = Command("k1", {"name": "Anna Berg"})
    first, other = (added(actor, name) for name in ("Bo Lind", "Cy Vale"))
    add_person(Actor(actor.workshop, first), "Anna Berg", command)
    with pytest.raises(OtherBody):
        add_person(Actor(actor.workshop, other), "Anna Berg", command)
    with pytest.raises(AlreadyDone):
        add_person(Actor(actor.workshop, first), "Anna Berg", command)


@pytest.mark.fault("F30")
@pytest.mark.parametrize(
    "forbidden",
    [
        "UPDATE records_entry SET kind = 'x'",
        "DELETE FROM records_entry",
        "INSERT OR REPLACE INTO records_entry SELECT * FROM records_entry",
    ],
)
def test_the_database_refuses_to_change_the_ledger(actor: Actor, forbidden: str) -> None:
    if connection.vendor != "sqlite":
        forbidden = forbidden.replace(
            "INSERT OR REPLACE INTO records_entry SELECT * FROM records_entry", "TRUNCATE records_entry"
        )
    with pytest.raises(DatabaseError, match="append-only"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(forbidden)
    assert len(links(actor.workshop)) == 1


def test_the_triggers_are_as_they_should_be() -> None:
    assert missing_triggers(connection) == []
