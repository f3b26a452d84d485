"""The journal: brought up to the database before anything new, never written on top of an older copy."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from django.db import OperationalError

from hingeline_app.records import second_place, write_door
from hingeline_app.records.chain import Link, link_digest
from hingeline_app.records.disk import NotAcknowledged, in_plain_words
from hingeline_app.records.journal import JournalDamaged, append_lines, line_of, read_lines, tail_of
from hingeline_app.records.locking import Busy
from hingeline_app.records.models import Entry, Person, Workshop
from hingeline_app.records.second_place import OlderCopy, catch_up, journal_of, links_after
from hingeline_app.records.write_door import Actor, AlreadyDone, Command

pytestmark = pytest.mark.django_db


@pytest.fixture
def actor(tmp_path: Path, settings: Any) -> Actor:
    settings.JOURNAL_FOLDER = tmp_path / "journal"
    workshop = Workshop(name="Fenholt")
    with write_door.write_door(Actor(workshop), "workshop set up") as entry:
        entry.keep(workshop)
    return Actor(workshop)


def journal(actor: Actor) -> Path:
    return journal_of(actor.workshop.pk, "records")


def add(actor: Actor, name: str, key: str | None = None) -> Any:
    command = Command(key, {"name": name}) if key else None
    with write_door.write_door(actor, "person added", command=command) as entry:
        entry.keep(Person(workshop=actor.workshop, name=name, initials="AB"))
    return entry.receipt


def both_places(actor: Actor) -> tuple[list[Any], list[Any]]:
    return list(read_lines(journal(actor))), links_after(actor.workshop.pk, "records", 0)


def test_lines_that_a_power_cut_kept_from_the_journal_are_written_before_the_next(actor: Actor) -> None:
    """Two entries that reached only the database stand in the journal after the next save."""
    whole = journal(actor).read_bytes()
    add(actor, "Anna Berg")
    add(actor, "Bo Lind")
    journal(actor).write_bytes(whole)
    add(actor, "Cy Vale")
    lines, stored = both_places(actor)
    assert lines == stored
    assert len(stored) == 4


@pytest.mark.parametrize("torn", [b'{"position":', b"\0" * 700, b'{"position":9}\n', b"\0" * 600 + b'"}\n'])
def test_a_torn_last_line_is_taken_off(actor: Actor, torn: bytes) -> None:
    """What a power cut leaves of a line, zeros and a lone line end included, does not stay in the journal."""
    with journal(actor).open("ab") as file:
        file.write(torn)
    add(actor, "Anna Berg")
    lines, stored = both_places(actor)
    assert lines == stored


@pytest.mark.fault("F29")
def test_nothing_is_written_on_top_of_an_older_copy(actor: Actor) -> None:
    """A journal that knows an entry more than the database refuses every save, and says what to do."""
    with pytest.raises(OlderCopy, match="ledger rebuild"):
        save_after_a_further_line(actor, 2)
    assert not Person.objects.filter(name="Bo Lind").exists()


def save_after_a_further_line(actor: Actor, position: int) -> None:
    """Put a line of a further entry into the journal, then try to save."""
    previous = links_after(actor.workshop.pk, "records", 0)[-1].digest
    body = json.dumps({"position": position}).encode()
    append_lines(journal(actor), [Link(position, previous, link_digest(previous, body), body)])
    add(actor, "Bo Lind")


@pytest.mark.fault("F29")
def test_another_database_under_the_same_journal_is_refused(actor: Actor) -> None:
    """The last line of the journal stands at a known position with another digest: refused."""
    first = next(read_lines(journal(actor)))
    body = first.body.replace(b"Fenholt", b"Femholt")
    journal(actor).write_bytes(line_of(Link(1, first.previous, link_digest(first.previous, body), body)))
    with pytest.raises(OlderCopy, match="has another entry there"):
        add(actor, "Anna Berg")


def test_a_damaged_line_in_the_middle_is_named(actor: Actor) -> None:
    """A line that is not the last and does not hold stops the reading, with its number."""
    add(actor, "Anna Berg")
    add(actor, "Bo Lind")
    journal(actor).write_bytes(journal(actor).read_bytes().replace(b"Anna Berg", b"Anna Borg"))
    with pytest.raises(JournalDamaged, match="line 2"):
        list(read_lines(journal(actor)))


def test_a_long_last_line_is_found(actor: Actor) -> None:
    """The end of a journal is found although its last line is longer than the first look."""
    with write_door.write_door(actor, "noted", {"text": "x" * 300_000}):
        pass
    assert tail_of(journal(actor)).link == links_after(actor.workshop.pk, "records", 0)[-1]
    assert catch_up(actor.workshop.pk, "records") == 0


@pytest.mark.fault("F13", "F44")
def test_a_journal_that_cannot_be_written_gives_no_receipt(actor: Actor, monkeypatch: pytest.MonkeyPatch) -> None:
    """The save is not acknowledged; sent again with the same key, it is one entry, in both places."""
    with monkeypatch.context() as patch:
        patch.setattr(write_door, "append_lines", full_disk)
        with pytest.raises(NotAcknowledged, match="No space left"):
            add(actor, "Anna Berg", "k1")
    with pytest.raises(AlreadyDone):
        add(actor, "Anna Berg", "k1")
    assert Person.objects.filter(name="Anna Berg").count() == 1
    lines, stored = both_places(actor)
    assert lines == stored


def full_disk(*_: Any) -> None:
    raise OSError(28, "No space left on device")


@pytest.mark.parametrize(
    ("said", "means"),
    [
        ("database is locked", Busy),
        ("database or disk is full", NotAcknowledged),
        ("disk I/O error", NotAcknowledged),
        ("attempt to write a readonly database", NotAcknowledged),
        ("unable to open database file", NotAcknowledged),
        ("no such column", OperationalError),
    ],
)
def test_what_the_database_says_is_told_apart(said: str, means: type[Exception]) -> None:
    with pytest.raises(means), in_plain_words():
        raise OperationalError(said)


@pytest.mark.fault("F07")
def test_an_entry_that_a_clock_moved_back_is_flagged(actor: Actor, monkeypatch: pytest.MonkeyPatch) -> None:
    """An entry dated before the one it follows says so; its position orders it."""
    monkeypatch.setattr(write_door, "now_as_text", lambda: "1970-01-01T00:00:00.000Z")
    add(actor, "Anna Berg")
    first, second = (json.loads(each.body) for each in Entry.objects.order_by("position"))
    assert second["clock_moved_back_from"] == first["at"]
    assert "clock_moved_back_from" not in first


def test_each_chain_names_how_far_the_other_was(actor: Actor) -> None:
    """An entry of one chain holds position and digest of the other's last."""
    with write_door.write_door(actor, "signed in", chain="security") as entry:
        pass
    receipt = add(actor, "Anna Berg")
    body = json.loads(Entry.objects.get(digest=receipt.digest).body)
    assert body["beside"] == {"chain": "security", "position": 1, "digest": entry.receipt.digest}


def test_catching_up_uses_no_more_than_what_is_missing(actor: Actor) -> None:
    """Where nothing is missing, nothing is written."""
    before = journal(actor).stat().st_mtime_ns
    assert second_place.catch_up(actor.workshop.pk, "records") == 0
    assert journal(actor).stat().st_mtime_ns == before
