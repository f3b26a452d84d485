"""Whoever has the file in hand may do anything to it; each of these is found and named."""

from __future__ import annotations

import json
import shutil
import sqlite3
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from hingeline_app.records.attachments import attachment_path, attachments_there
from hingeline_app.records.chain import ORIGIN, Link, link_digest
from hingeline_app.records.giving_heads import head_of, heads_file
from hingeline_app.records.heads import SignedHead, read_code, sign_head
from hingeline_app.records.journal import append_lines
from hingeline_app.records.looking import Findings, look_at_the_records
from hingeline_app.records.looking.look import Places, workshops
from hingeline_app.records.looking.rows_as_noted import _same_text
from hingeline_app.records.other_database import other_database
from hingeline_app.settings.databases import FILE_NAME, sqlite_file
from tests.hingeline_app.records.damaged_records import Damage, found, kinds, look


@pytest.fixture(autouse=True)
def any_database(django_db_blocker: Any) -> Iterator[None]:
    """These tests open files of their own."""
    with django_db_blocker.unblock():
        yield


@pytest.fixture
def damage(folder: Path) -> Damage:
    return Damage(folder)


def head_before(folder: Path, key: Ed25519PrivateKey | None = None) -> SignedHead:
    with other_database(sqlite_file(folder)) as alias:
        (workshop,) = workshops(alias)
        head = head_of(workshop, "records", datetime(2027, 3, 12, tzinfo=UTC), alias)
    assert head is not None
    return sign_head(head, key or Ed25519PrivateKey.generate())


def test_untouched_records_are_whole(folder: Path) -> None:
    """Nothing is found where nothing was done, and each chain is whole since its first entry."""
    outcome = look(folder)
    assert outcome.findings == ()
    assert outcome.may_start
    assert outcome.may_sign
    assert [(state.chain, state.entries, state.whole_since_position) for state in outcome.chains] == [
        ("records", 12, 1),
        ("security", 2, 1),
    ]


@pytest.mark.fault("F27")
def test_an_entry_that_was_changed_is_named(damage: Damage) -> None:
    """The chain breaks at the entry, the journal differs there, and it is whole again only after it."""
    damage.without_triggers(
        "UPDATE records_entry SET body = replace(body, 'Anna Berg', 'Anna Borg') WHERE position = 2"
    )
    outcome = look(damage.folder)
    assert ("chain", "records 2", "its text was changed after it was hashed") in spoken(outcome)
    assert {state.chain: state.whole_since_position for state in outcome.chains}["records"] == 3
    assert not outcome.may_sign
    assert outcome.may_start


def spoken(outcome: Findings) -> list[tuple[str, str, str]]:
    return [(each.what, each.where, each.says) for each in outcome.findings]


@pytest.mark.fault("F27")
@pytest.mark.parametrize(
    "command",
    [
        "UPDATE records_entry SET kind = 'release withdrawn' WHERE position = 5 AND chain = 'records'",
        "UPDATE records_entry SET command_key = 'another' WHERE position = 7 AND chain = 'records'",
        "UPDATE records_entry SET command_digest = 'another' WHERE position = 7 AND chain = 'records'",
    ],
)
def test_a_column_beside_the_text_counts_too(damage: Damage, command: str) -> None:
    """What a page searches by cannot be changed behind the hashed text."""
    damage.without_triggers(command)
    assert "chain" in kinds(found(damage.folder))


@pytest.mark.fault("F27")
def test_an_entry_that_was_deleted_is_named(damage: Damage) -> None:
    damage.without_triggers("DELETE FROM records_entry WHERE position = 6 AND chain = 'records'")
    assert ("chain", "records 7", "position 6 was expected: entries were taken out, put in or moved") in spoken(
        look(damage.folder)
    )


@pytest.mark.fault("F27")
def test_an_entry_that_was_put_in_is_named(damage: Damage) -> None:
    """A second entry after the last but one is refused as a fork; one that follows nothing is named."""
    last = damage.links()[-1]
    body = last.body.replace(b'"position":12', b'"position":13')
    fork = (13, last.previous, link_digest(last.previous, body), body.decode())
    with pytest.raises(sqlite3.IntegrityError, match="append-only"), damage.database() as connection:
        connection.execute(INSERT, fork)
    loose = (13, "f" * 64, link_digest("f" * 64, body), body.decode())
    with damage.database() as connection:
        connection.execute(INSERT, loose)
    assert ("chain", "records 13", "it does not follow the entry before it") in spoken(look(damage.folder))


INSERT = (
    "INSERT INTO records_entry (workshop_id, chain, position, previous, digest, body, kind, command_digest) "
    "SELECT workshop_id, chain, ?, ?, ?, ?, kind, '' FROM records_entry WHERE chain = 'records' AND position = 12"
)


@pytest.mark.fault("F27")
def test_entries_that_changed_places_are_named(damage: Damage) -> None:
    damage.without_triggers(
        "UPDATE records_entry SET position = 99 WHERE position = 6 AND chain = 'records'",
        "UPDATE records_entry SET position = 6 WHERE position = 7 AND chain = 'records'",
        "UPDATE records_entry SET position = 7 WHERE position = 99 AND chain = 'records'",
    )
    assert {"records 6", "records 7"} <= {each.where for each in found(damage.folder) if each.what == "chain"}


def cut_tail(damage: Damage, *, journal_too: bool = False) -> None:
    damage.without_triggers("DELETE FROM records_entry WHERE position > 9 AND chain = 'records'")
    with damage.database() as connection:
        noted = json.loads(damage.links()[-1].body)["rows"][0]["values"]["initials"]
        connection.execute("UPDATE records_person SET initials = ? WHERE name = 'Bo Lind'", [noted])
    if journal_too:
        damage.journal.write_bytes(b"".join(damage.journal.read_bytes().splitlines(keepends=True)[:9]))


@pytest.mark.fault("F28")
def test_a_tail_that_was_cut_off_is_found_against_the_journal(damage: Damage) -> None:
    cut_tail(damage)
    outcome = look(damage.folder)
    assert any(each.what == "journal" and "ahead by 3 entries" in each.says for each in outcome.findings)
    assert not outcome.may_sign


@pytest.mark.fault("F28")
def test_a_tail_cut_off_everywhere_is_found_against_the_other_chain(damage: Damage) -> None:
    """The security chain's last entry names an entry that is gone."""
    cut_tail(damage, journal_too=True)
    assert kinds(found(damage.folder)) == {"other chain"}


@pytest.mark.fault("F28")
def test_a_tail_cut_off_both_chains_is_found_against_a_head_from_outside(damage: Damage) -> None:
    """Without a head from outside it cannot be proved; with one, short or full, it is named."""
    head = head_before(damage.folder)
    cut_tail(damage, journal_too=True)
    damage.without_triggers("DELETE FROM records_entry WHERE position > 1 AND chain = 'security'")
    security = next((damage.folder / "journal").glob("*.security.jsonl"))
    security.write_bytes(security.read_bytes().splitlines(keepends=True)[0])
    assert found(damage.folder) == []
    for outside in (head, read_code(head.head.short)):
        assert any(each.what == "head" and "tail was cut off" in each.says for each in found(damage.folder, outside))


def recompute(damage: Damage) -> None:
    """Change entry 2 and work out every digest after it, in the database and in the journal."""
    previous, new = ORIGIN, []
    for link in damage.links():
        body = link.body.replace(b"Anna Berg", b"Anna Borg")
        new.append(Link(link.position, previous, link_digest(previous, body), body))
        previous = new[-1].digest
    damage.without_triggers(
        "UPDATE records_entry SET previous = 'x' || id, digest = 'x' || id WHERE chain = 'records'",
        *(
            f"UPDATE records_entry SET previous = '{link.previous}', digest = '{link.digest}', "
            f"body = '{link.body.decode()}' WHERE position = {link.position} AND chain = 'records'"
            for link in new
        ),
        "UPDATE records_person SET name = 'Anna Borg' WHERE name = 'Anna Berg'",
    )
    path = damage.journal
    path.unlink()
    append_lines(path, new)


@pytest.mark.fault("F28")
def test_a_chain_worked_out_anew_is_found_against_a_head(damage: Damage) -> None:
    """Every digest agrees with its text; the head that was given away, and the other chain, do not."""
    head = head_before(damage.folder)
    recompute(damage)
    assert kinds(found(damage.folder)) == {"other chain"}
    assert ("head", head.head.short, ANOTHER) in spoken(look(damage.folder, head))
    assert "head" in kinds(found(damage.folder, read_code(head.head.short)))


ANOTHER = "the chain has another entry there: it was worked out anew after the head was given"


def test_a_head_that_was_given_is_looked_at_without_being_asked(damage: Damage) -> None:
    """The list of given heads lies beside the journal; each is compared at every look."""
    head = head_before(damage.folder)
    path = heads_file(workshop_of(damage), damage.folder / "journal")
    path.write_text(head.code + "\n")
    assert kinds(found(damage.folder)) == {"head"}  # the key is not kept here: said, and stops nothing
    assert look(damage.folder).may_sign
    recompute(damage)
    assert not look(damage.folder).may_sign


def workshop_of(damage: Damage) -> Any:
    with other_database(sqlite_file(damage.folder)) as alias:
        return workshops(alias)[0]


@pytest.mark.slow
@pytest.mark.fault("F28", "F29")
def test_an_older_backup_put_back_is_found_against_the_journal(folder: Path, tmp_path: Path) -> None:
    """The database of three entries ago stands under today's journal."""
    from tests.hingeline_app.records.own_folder import run

    kept = tmp_path / "older.sqlite3"
    shutil.copyfile(folder / FILE_NAME, kept)
    run("-c", ADD_ONE, folder=folder)
    assert found(folder) == []
    shutil.copyfile(kept, folder / FILE_NAME)
    outcome = look(folder)
    assert [(each.what, each.stops) for each in outcome.findings] == [("journal", "signing")]
    assert "ahead by 1 entries" in outcome.findings[0].says
    assert "OlderCopy" in run("-c", ADD_ONE, folder=folder, status=1).stderr


ADD_ONE = """
from hingeline_app.records.opening import open_records
open_records()
from hingeline_app.records.models import Person, Workshop
from hingeline_app.records.write_door import Actor, write_door
workshop = Workshop.objects.get()
with write_door(Actor(workshop), "person added") as entry:
    entry.keep(Person(workshop=workshop, name="Cy Vale", initials="CV"))
"""


@pytest.mark.fault("F30")
@pytest.mark.parametrize(
    "command",
    [
        "INSERT OR REPLACE INTO records_entry SELECT * FROM records_entry WHERE position = 5",
        "REPLACE INTO records_entry (id, workshop_id, chain, position, previous, digest, body, kind, command_digest)"
        " SELECT id, workshop_id, chain, position, previous, digest, 'x', kind, command_digest FROM records_entry"
        " WHERE position = 5",
        "UPDATE records_entry SET body = 'x'",
        "DELETE FROM records_entry",
    ],
)
def test_the_file_itself_refuses(damage: Damage, command: str) -> None:
    """A program that knows nothing of our settings is refused by the triggers in the file."""
    with pytest.raises(sqlite3.IntegrityError, match="append-only"), damage.database() as connection:
        connection.execute(command)


@pytest.mark.fault("F30")
def test_a_trigger_that_was_dropped_is_named(damage: Damage) -> None:
    with damage.database() as connection:
        connection.execute("DROP TRIGGER entry_no_update")
    assert {(each.what, each.where) for each in found(damage.folder)} == {
        ("trigger", "entry_no_update"),
        ("schema", "entry_no_update"),
    }


@pytest.mark.fault("F30")
@pytest.mark.parametrize(
    ("command", "named"),
    [
        ("CREATE TRIGGER quiet AFTER INSERT ON records_person BEGIN SELECT 1; END", "quiet"),
        ("CREATE TABLE hidden (x)", "hidden"),
        ("DROP INDEX records_entry_kind_4711", "records_entry_kind"),
    ],
)
def test_what_was_put_into_the_schema_or_taken_out_is_named(damage: Damage, command: str, named: str) -> None:
    with damage.database() as connection:
        if "4711" in command:
            name = connection.execute("SELECT name FROM sqlite_master WHERE name LIKE 'records_entry_kind%'").fetchone()
            command = f"DROP INDEX {name[0]}"
        connection.execute(command)
    (finding,) = (each for each in found(damage.folder) if each.what == "schema")
    assert finding.where.startswith(named)


@pytest.mark.fault("F30")
def test_a_schema_written_over_is_named(damage: Damage) -> None:
    """``writable_schema`` takes a rule out of a table without any command that changes a table."""
    with damage.database() as connection:
        connection.execute("PRAGMA writable_schema = ON")
        changed = connection.execute(
            "UPDATE sqlite_master SET sql = replace(sql, 'position\" >= 0', 'position\" >= -9') "
            "WHERE name = 'records_entry' AND sql LIKE '%position\" >= 0%'"
        )
        assert changed.rowcount == 1
    assert ("schema", "records_entry") in {(each.what, each.where) for each in found(damage.folder)}


@pytest.mark.fault("F27")
def test_bytes_changed_in_the_file_are_named(damage: Damage) -> None:
    """A hex edit leaves a database that its own check calls sound; the chain names the entry."""
    path = damage.folder / FILE_NAME
    changed = path.read_bytes().replace(b'"kind":"photograph taken"', b'"kind":"photograph faked"')
    assert changed != path.read_bytes()
    path.write_bytes(changed)
    with damage.database() as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert ("chain", "records 4") in {(each.what, each.where) for each in found(damage.folder)}


@pytest.mark.fault("F27")
@pytest.mark.parametrize(
    ("command", "says"),
    [
        ("UPDATE records_person SET licence_number = 'F-9999' WHERE name = 'Anna Berg'", "licence_number is"),
        ("UPDATE records_account SET pin = 'pbkdf2$1'", "pin is"),
        ("DELETE FROM records_tablet", "taken out"),
        (
            "INSERT INTO records_workshop SELECT '00000000000000000000000000000001', 'Other', '', '', "
            "'9.80665 m/s^2', 'UTC', 'en'",
            "put in beside the ledger",
        ),
    ],
)
def test_a_row_changed_beside_the_ledger_is_named(damage: Damage, command: str, says: str) -> None:
    """The ledger does not know of it: the row is named, with what the ledger last noted."""
    with damage.database() as connection:
        connection.execute(command)
    findings = found(damage.folder)
    assert kinds(findings) == {"row"}
    assert says in findings[0].says
    assert not look(damage.folder).may_sign


def test_a_row_is_compared_by_how_its_note_is_spelled() -> None:
    """True put in place of 1, or text of 1, is a change; the order of names is none."""
    assert _same_text({"a": 1, "b": 2}, {"b": 2, "a": 1})
    assert not any(_same_text({"a": 1}, {"a": other}) for other in (True, "1", None, [1]))


def test_a_secret_that_was_set_is_not_told(damage: Damage) -> None:
    """A finding about a secret says that it is set, and never what it is."""
    with damage.database() as connection:
        connection.execute("UPDATE records_account SET pin = 'pbkdf2$1'")
    (finding,) = found(damage.folder)
    assert "pbkdf2" not in finding.says


@pytest.mark.parametrize("gone", [True, False])
def test_an_attached_file_that_is_gone_or_changed_is_named(damage: Damage, gone: bool) -> None:
    (digest,) = attachments_there(damage.folder)
    path = attachment_path(damage.folder, digest)
    path.write_bytes(b"another picture")
    if gone:
        path.unlink()
    (finding,) = found(damage.folder)
    assert (finding.what, finding.where) == ("attachment", "records 4")
    assert ("is missing" if gone else "was changed") in finding.says


def test_a_line_of_the_journal_that_was_changed_is_named(damage: Damage) -> None:
    damage.journal.write_bytes(damage.journal.read_bytes().replace(b"Anna Berg", b"Anna Borg", 1))
    (finding,) = found(damage.folder)
    assert finding.what == "journal"
    assert "line 2" in finding.says


def test_lines_that_the_journal_lacks_stop_nothing(damage: Damage) -> None:
    """After a power cut the database may be ahead by an entry that was never acknowledged."""
    damage.journal.write_bytes(b"".join(damage.journal.read_bytes().splitlines(keepends=True)[:-1]))
    outcome = look(damage.folder)
    assert "ahead by 1 entries" in outcome.findings[0].says
    assert outcome.may_sign


@pytest.mark.fault("F07")
def test_a_clock_behind_the_last_entry_stops_signing(folder: Path) -> None:
    with other_database(sqlite_file(folder)) as alias:
        outcome = look_at_the_records(Places(alias), now=datetime(1970, 1, 1, tzinfo=UTC))
    assert kinds(list(outcome.findings)) == {"clock"}
    assert not outcome.may_sign


def test_damage_to_an_entry_never_stops_the_look(damage: Damage) -> None:
    """An entry that is no JSON any more, or lacks its parts, is named like any other."""
    damage.without_triggers(
        "UPDATE records_entry SET body = 'x' WHERE position = 3 AND chain = 'records'",
        """UPDATE records_entry SET body = '{"rows": [1], "beside": 4, "attachments": ["x"]}' WHERE position = 5""",
    )
    assert {"records 3", "records 5"} <= {each.where for each in found(damage.folder) if each.what == "chain"}
