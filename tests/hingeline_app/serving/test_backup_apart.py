"""The hourly backup of a server is made in a process of its own, which says how it went and ends with the server."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from django.conf import settings

from hingeline_app.records.backing_up import schedule
from hingeline_app.records.backing_up.manifest import backups_in, name_of
from hingeline_app.serving import backup_apart, beside
from hingeline_app.settings.databases import FILE_NAME
from tests.hingeline_app.records.own_folder import hingeline_json, surroundings

NOON = datetime(2027, 3, 12, 12, 0, tzinfo=UTC)
Making = Callable[[], tuple[bool, list[str]]]


@pytest.fixture
def making(folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Making:
    """Make a backup of this folder's records as the server does."""
    for name in ("HINGELINE_DATABASE", "DJANGO_SETTINGS_MODULE"):
        monkeypatch.delenv(name, raising=False)
    for name, value in surroundings(folder).items():
        monkeypatch.setenv(name, value)

    def make() -> tuple[bool, list[str]]:
        said: list[str] = []
        return backup_apart.made_apart(tmp_path / "stick", NOON, said.append), said

    return make


@pytest.mark.slow
def test_it_is_made_tried_and_told_without_opening_the_records_here(
    making: Making, folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The backup restores; this process opens no database for it: what was read is gone with the other.

    A file beside which the server was started is no module of the other process, whatever its name.
    """
    (tmp_path / "sqlite3.py").write_text("raise SystemExit('taken from where the server was started')")

    def opened(*_arguments: object, **_named: object) -> None:
        raise AssertionError("opened in the process of the pages")

    with monkeypatch.context() as here:
        here.setattr(sqlite3, "connect", opened)
        here.chdir(tmp_path)
        made, said = making()
    assert (made, said) == (True, [f"backed up and restored as a trial: {name_of(NOON)}, 14 entries"])
    (backup,) = backups_in(tmp_path / "stick")
    hingeline_json("restore", backup, "--to", tmp_path / "again", folder=folder)


@pytest.mark.slow
def test_records_that_do_not_hold_are_told_as_no_backup(making: Making, folder: Path, tmp_path: Path) -> None:
    with closing(sqlite3.connect(folder / FILE_NAME)) as connection, connection:
        connection.execute("UPDATE records_person SET name = 'Anna Borg' WHERE name = 'Anna Berg'")
    made, said = making()
    assert not made
    assert len(said) == 1
    assert said[0].startswith("NO BACKUP was made at 2027-03-12T12:00+00:00: No backup: in the copy, row person")
    assert backups_in(tmp_path / "stick") == []


def test_a_process_that_dies_without_a_word_is_told(making: Making, monkeypatch: pytest.MonkeyPatch) -> None:
    """Killed for want of memory, for example: no backup, with the number that the system gives."""
    monkeypatch.setattr(backup_apart, "START", "import os; os.kill(os.getpid(), 9)")
    made, said = making()
    assert (made, said) == (False, ["NO BACKUP was made at 2027-03-12T12:00+00:00: its process ended with -9"])


def test_it_ends_when_the_pages_end() -> None:
    """With the other end of its pipe gone it ends by itself, in whatever it is."""
    waiting = "import threading; from hingeline_app.serving import backup_apart; "
    waiting += "threading.Thread(target=backup_apart._end_with_the_pages).start(); threading.Event().wait(60)"
    command = [sys.executable, "-c", f"import sys; sys.path.insert(0, {str(backup_apart.SOURCE)!r}); {waiting}"]
    assert subprocess.run(command, stdin=subprocess.DEVNULL, timeout=50, check=False).returncode == 1


def test_the_server_makes_its_backups_that_way(making: Making, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The thread beside the pages hands the making over: a folder it may write to is all that it needs itself."""
    asked: list[object] = []
    monkeypatch.setattr(settings, "DATA_FOLDER", str(folder))
    monkeypatch.setattr(settings, "BACKUP_FOLDER", str(folder / "backups"))
    monkeypatch.setattr(schedule, "keep_backing_up", lambda *_folder, made, **_rest: asked.append(made))
    beside.back_up_by_the_clock()
    assert asked == [backup_apart.made_apart]
