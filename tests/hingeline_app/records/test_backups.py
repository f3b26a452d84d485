"""A backup is opened and checked before it counts, and restored as a trial; what was changed in it is refused."""

from __future__ import annotations

import errno
import json
import os
import shutil
import sqlite3
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from django.db import OperationalError

from hingeline.errors import HingelineError, InputRefused
from hingeline_app.records.backing_up import make, manifest, restore, schedule
from hingeline_app.records.backing_up.manifest import backups_in, name_of, time_of
from hingeline_app.records.backing_up.restore import NotTried, restore_backup, try_to_restore
from hingeline_app.records.backing_up.retention import thin_out, to_keep
from hingeline_app.records.looking.findings import Findings
from hingeline_app.settings.databases import FILE_NAME
from tests.browser.demonstration import copied
from tests.hingeline_app.records.own_folder import hingeline_json, make_workshop, run

NOON = datetime(2027, 3, 12, 12, 0, tzinfo=UTC)


@pytest.fixture(autouse=True)
def any_database(django_db_blocker: Any) -> Iterator[None]:
    """These tests open files of their own."""
    with django_db_blocker.unblock():
        yield


@pytest.fixture(scope="module")
def made(filled: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A backup that nobody writes to, with what lies beside it."""
    stick = tmp_path_factory.mktemp("stick")
    copy = Path(shutil.copytree(filled, stick / "source"))
    hingeline_json("ledger", "head", folder=copy)
    told = hingeline_json("backup", "--to", stick / "backups", folder=copy)
    assert told["entries"] == 14
    assert told["look"]["whole"]
    return stick / "backups"


@pytest.fixture
def stick(made: Path, tmp_path: Path) -> Path:
    """A copy of it that a test may damage."""
    return Path(shutil.copytree(made, tmp_path / "stick"))


def the_backup(stick: Path) -> Path:
    (backup,) = backups_in(stick)
    return backup


def test_heads_are_copied_before_the_entries_that_they_are_of(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A head given while the database is copied is of an entry that the copy may lack: it stays out of the backup."""
    order: list[str] = []

    class Stop(Exception):
        """Enough was seen."""

    def stop(_part: Path) -> None:
        order.append("entries")
        raise Stop

    monkeypatch.setattr(make, "_copy_heads", lambda _part: order.append("heads"))
    monkeypatch.setattr(make, "_copy_database", stop)
    with pytest.raises(Stop):
        make.back_up(tmp_path / "backups", NOON)
    assert order == ["heads", "entries"]


@pytest.mark.slow
@pytest.mark.fault("F31")
def test_a_restored_backup_is_the_workshop_again(stick: Path, tmp_path: Path) -> None:
    """Chains, rows, attachments, keys, heads and journal are there; a save works; the heads are the same."""
    to = tmp_path / "again"
    told = hingeline_json("restore", the_backup(stick), "--to", to, folder=tmp_path / "nowhere")
    look = hingeline_json("ledger", "verify", folder=to)
    assert look["findings"] == []
    assert [each["head"] for each in look["chains"]] == [each["head"] for each in told["look"]["chains"]]
    assert look["chains"][0]["proved_by_head_up_to"] == 12
    run("-c", ADD_ONE, folder=to)
    assert hingeline_json("ledger", "verify", folder=to)["findings"] == []


SHEETS = """
import hashlib, json
from datetime import UTC, datetime
from hingeline_app.records.opening import open_records
open_records()
from hingeline_app.bench.on_paper.record_of import record_of
from hingeline_app.records.models import Job, Person
from hingeline_app.records.queries.job_record import printed_part
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.report import make_job_worksheet
viewer, at = Person.objects.get(name="Mara Tarrow"), datetime(2027, 3, 12, 12, 0, tzinfo=UTC)
sheets = {}
for number in Job.objects.filter(results__isnull=False).order_by("number").distinct().values_list("number", flat=True):
    record = record_of(job_of(viewer, number), printed_part(viewer, number))
    sheets[number] = hashlib.sha256(make_job_worksheet([record], at, "1.0")).hexdigest()
print(json.dumps(sheets))
"""


@pytest.mark.fault("F31")
@pytest.mark.slow
def test_a_restored_workshop_prints_the_same_sheets(tmp_path: Path) -> None:
    """The worksheet of each job that was weighed, printed for one moment, is the same bytes before and after."""
    copied(tmp_path / "records")
    hingeline_json("backup", "--to", tmp_path / "stick", folder=tmp_path / "records")
    hingeline_json("restore", the_backup(tmp_path / "stick"), "--to", tmp_path / "again", folder=tmp_path / "nowhere")
    before, after = (json.loads(run("-c", SHEETS, folder=tmp_path / each).stdout) for each in ("records", "again"))
    assert before == after
    assert len(before) > 1


ADD_ONE = """
from hingeline_app.records.opening import open_records
open_records()
from hingeline_app.records.models import Workshop
from hingeline_app.records.write_door import Actor, write_door
with write_door(Actor(Workshop.objects.get()), "noted"):
    pass
"""


@pytest.mark.fault("F31")
@pytest.mark.campaign
def test_thousands_of_entries_are_restored_within_a_minute(
    tmp_path: Path, record_property: Callable[[str, object], None]
) -> None:
    """5,000 entries, backed up and restored into another folder with every check: whole, and in less than a minute."""
    entries = 5_000
    folder = make_workshop(tmp_path / "records", entries)
    hingeline_json("backup", "--to", tmp_path / "stick", folder=folder)
    began = time.monotonic()
    hingeline_json("restore", the_backup(tmp_path / "stick"), "--to", tmp_path / "again", folder=tmp_path / "nowhere")
    took = time.monotonic() - began
    assert hingeline_json("ledger", "verify", folder=tmp_path / "again")["findings"] == []
    assert took < 60
    record_property("figure", f"{entries} entries restored into another folder, all checks, in {took:.1f} s")


@pytest.mark.slow
@pytest.mark.parametrize("name", [FILE_NAME, "keys/heads.key", "manifest.json"])
def test_a_file_that_was_changed_is_refused(name: str, stick: Path, tmp_path: Path) -> None:
    """One byte of any file: nothing is restored, and no folder is left."""
    path = the_backup(stick) / name
    path.write_bytes(path.read_bytes().replace(b'"head": "', b'"head": "0', 1) + b" ")
    with pytest.raises(InputRefused):
        restore_backup(the_backup(stick), tmp_path / "again")
    assert list(tmp_path.glob("again*")) == []


def test_an_attachment_that_is_missing_or_changed_is_refused(stick: Path, tmp_path: Path) -> None:
    (attached,) = (stick / "attachments").glob("??/*")
    attached.write_bytes(b"another picture")
    with pytest.raises(HingelineError, match="was changed"):
        restore_backup(the_backup(stick), tmp_path / "again")
    attached.unlink()
    with pytest.raises(InputRefused, match="beside the backup"):
        restore_backup(the_backup(stick), tmp_path / "again")


def test_nothing_is_restored_over_a_folder_in_use(stick: Path, tmp_path: Path) -> None:
    (tmp_path / "again").mkdir()
    (tmp_path / "again" / "mine").touch()
    with pytest.raises(InputRefused, match="empty"):
        restore_backup(the_backup(stick), tmp_path / "again")
    assert (tmp_path / "again" / "mine").exists()


def test_a_row_changed_in_backup_and_manifest_is_refused(stick: Path, tmp_path: Path) -> None:
    """Whoever also mends the manifest's digest is found by the ledger."""
    backup = the_backup(stick)
    with closing(sqlite3.connect(backup / FILE_NAME)) as connection, connection:
        connection.execute("UPDATE records_person SET licence_number = 'F-9999' WHERE name = 'Anna Berg'")
    listed = json.loads((backup / "manifest.json").read_text())
    listed["files"] = manifest.digests_in(backup)
    (backup / "manifest.json").write_text(json.dumps(listed))
    with pytest.raises(HingelineError, match="licence_number"):
        restore_backup(backup, tmp_path / "again")


@pytest.mark.slow
@pytest.mark.fault("F33")
@pytest.mark.parametrize(
    "damage",
    [
        "UPDATE records_person SET name = 'Anna Borg' WHERE name = 'Anna Berg'",
        "DROP TRIGGER entry_no_update",
    ],
)
def test_damaged_records_make_no_backup(damage: str, folder: Path, tmp_path: Path) -> None:
    """Status 1, a sentence that names it, the earlier backups as they were, no half one left."""
    with closing(sqlite3.connect(folder / FILE_NAME)) as connection, connection:
        connection.execute(damage)
    done = run("-m", "hingeline_app", "backup", "--to", tmp_path / "stick", folder=folder, status=1)
    assert "No backup" in done.stderr
    assert list((tmp_path / "stick").glob("hingeline-*")) == []


@pytest.mark.fault("F32")
@pytest.mark.slow
def test_a_backup_while_others_write_is_one_moment(folder: Path, tmp_path: Path) -> None:
    """While a program saves and is killed: the copy opens, is whole, and ends with an entry that the ledger has.

    A program that is killed between its commit and its word leaves an entry that nobody was told of; it is kept.
    """
    from tests.faults.kills.test_kills import acknowledged

    said: list[str] = []
    killing = Path(__file__).parents[2] / "faults" / "kills" / "killing.py"
    writer = threading.Thread(target=lambda: said.append(run(killing, "12", "7", folder=folder).stdout))
    writer.start()
    told = [hingeline_json("backup", "--to", tmp_path / f"stick {number}", folder=folder) for number in range(3)]
    writer.join()
    with closing(sqlite3.connect(f"file:{folder / 'records.sqlite3'}?mode=ro", uri=True)) as ledger:
        kept = {digest for (digest,) in ledger.execute("select digest from records_entry")}
    assert set(acknowledged(said[0]).values()) <= kept
    assert [look["look"]["findings"] for look in told] == [[]] * 3
    assert [head for look in told if (head := look["look"]["chains"][0]["head"]) not in kept] == []


# ------------------------------------------------------------------ which are kept, and when the next is due


def test_the_newest_of_hours_days_and_months_are_kept() -> None:
    """Of two years of hourly backups 24 hours, 30 days and 12 months are left, the newest of each."""
    times = [NOON - timedelta(hours=hour) for hour in range(2 * 365 * 24)]
    kept = to_keep(times)
    assert set(times[:24]) <= kept
    assert {at.date() for at in kept} >= {(NOON - timedelta(days=day)).date() for day in range(30)}
    assert len({(at.year, at.month) for at in kept}) == 12
    assert len(kept) <= 24 + 30 + 12
    assert to_keep(kept) == kept


def test_a_name_tells_its_moment() -> None:
    assert time_of(name_of(NOON)) == NOON
    assert time_of("hingeline-yesterday") is None
    assert time_of(f"{name_of(NOON)}.part") is None


@pytest.mark.fault("F33")
def test_the_loop_backs_up_when_due_and_tries_again_after_a_failure(tmp_path: Path) -> None:
    """Hourly by a clock that is given; one that fails is told, and tried again after five minutes, not at once."""
    minutes, made_at, said = iter(range(0, 200, 5)), [], []

    def backup(folder: Path, at: datetime, say: Any) -> bool:
        made_at.append((at - NOON).seconds // 60)
        if len(made_at) == 2:
            say("NO BACKUP")
            return False
        (folder / name_of(at)).mkdir(parents=True)
        (folder / name_of(at) / "manifest.json").touch()
        return True

    now = {"minute": 0}

    def stopped(_seconds: float) -> bool:
        now["minute"] = next(minutes, -1)
        return now["minute"] < 0

    schedule.keep_backing_up(
        tmp_path, now=lambda: NOON + timedelta(minutes=now["minute"]), stopped=stopped, say=said.append, made=backup
    )
    assert made_at == [0, 60, 65, 125, 185]
    assert said == ["NO BACKUP"]


def test_what_a_killed_program_left_half_copied_goes_after_a_day(tmp_path: Path) -> None:
    """One of yesterday is taken away; one that may still be written, and every finished one, stays."""
    for name in ("hingeline-20270310T120000Z.part", "hingeline-20270312T110000Z.part", name_of(NOON), "mine.part"):
        (tmp_path / name).mkdir()
    (tmp_path / name_of(NOON) / "manifest.json").touch()
    assert [path.name for path in thin_out(tmp_path, NOON)] == ["hingeline-20270310T120000Z.part"]
    assert len(list(tmp_path.iterdir())) == 3


def test_a_backup_that_fails_its_trial_is_none(stick: Path) -> None:
    """It does not count as the last one: one is late, the next try comes soon, and it lies there as half made."""
    backup = the_backup(stick)
    (backup / "keys" / "heads.key").write_text("another")
    with pytest.raises(InputRefused):
        try_to_restore(backup)
    assert backups_in(stick) == []
    assert (stick / f"{backup.name}.part").is_dir()
    assert schedule.state_of_backups(stick, NOON).is_late


@pytest.mark.parametrize(
    "fault",
    [
        OSError(errno.ENOSPC, os.strerror(errno.ENOSPC)),
        OSError(errno.EDQUOT, os.strerror(errno.EDQUOT)),
        shutil.Error([("a", "b", f"[Errno 28] {os.strerror(errno.ENOSPC)}: 'b'")]),
        OperationalError("database or disk is full"),
    ],
    ids=["no space", "quota", "a folder", "the database"],
)
def test_a_trial_that_finds_no_room_says_so_and_leaves_the_backup_as_it_was(
    stick: Path, monkeypatch: pytest.MonkeyPatch, fault: Exception
) -> None:
    """It says nothing of the backup: it counts, told as not tried, and none of the older ones is taken away."""
    backup = the_backup(stick)

    def full(*_arguments: Any) -> None:
        raise fault

    monkeypatch.setattr(restore, "_restored", full)
    with pytest.raises(NotTried, match="room for the records"):
        try_to_restore(backup)
    assert backups_in(stick) == [backup]
    made = make.Backup(backup, NOON, 14, Findings("", {}))
    monkeypatch.setattr(schedule, "back_up", lambda *_arguments: made)
    monkeypatch.setattr(schedule, "thin_out", lambda *_arguments: pytest.fail("an older one was taken away"))
    said: list[str] = []
    assert schedule.made_here(stick, NOON, said.append)
    assert said[0].startswith(f"backed up, but not restored as a trial: {backup.name}, 14 entries: TMPDIR")
    assert "The backup is kept" in said[0]


def test_a_trial_without_a_folder_for_a_while_is_none(stick: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine whose temporary folder is gone or read only."""

    def nowhere(*_arguments: Any, **_named: Any) -> None:
        raise FileNotFoundError(errno.ENOENT, "No usable temporary directory found")

    monkeypatch.setattr(restore.tempfile, "TemporaryDirectory", nowhere)
    with pytest.raises(NotTried):
        try_to_restore(the_backup(stick))
    assert backups_in(stick) == [the_backup(stick)]


def test_a_late_backup_is_said(tmp_path: Path) -> None:
    """None at all is late; one of an hour ago is not; one of three hours ago is."""
    assert schedule.state_of_backups(tmp_path, NOON).is_late
    (tmp_path / name_of(NOON)).mkdir()
    (tmp_path / name_of(NOON) / "manifest.json").touch()
    assert not schedule.state_of_backups(tmp_path, NOON + timedelta(hours=1)).is_late
    assert schedule.state_of_backups(tmp_path, NOON + timedelta(hours=3)).is_late
