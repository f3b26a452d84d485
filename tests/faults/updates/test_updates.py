"""A newer program changes the tables: after a checked backup, all steps or none, whenever it is killed."""

from __future__ import annotations

import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest

from hingeline_app.records.backing_up.manifest import backups_in
from hingeline_app.settings.databases import FILE_NAME
from tests.hingeline_app.records.own_folder import hingeline_json, run, surroundings

LATER = {"DJANGO_SETTINGS_MODULE": "tests.faults.updates.settings_of_a_later_program"}
UPDATE = """
from datetime import UTC, datetime
from hingeline_app.records.opening import open_records
open_records()
from hingeline_app.records.updating import bring_up_to_date
print("ready", flush=True)
update = bring_up_to_date(datetime.now(UTC))
print(*update.steps, flush=True)
"""
ROWS = "SELECT count(*) FROM records_trial"
IS_THERE = "SELECT count(*) FROM sqlite_master WHERE name = 'records_trial'"


def asked(folder: Path, question: str) -> int:
    with closing(sqlite3.connect(folder / FILE_NAME)) as connection:
        return int(connection.execute(question).fetchone()[0])


@pytest.mark.fault("F35")
@pytest.mark.slow
def test_an_update_is_taken_after_a_backup(folder: Path, tmp_path: Path) -> None:
    """The step is taken, the records are whole, every ledger says so, and the backup before it restores."""
    assert run("-c", UPDATE, folder=folder, **LATER).stdout.split() == ["ready", "records.zzzz_a_trial"]
    assert asked(folder, ROWS) == 20000
    look = hingeline_json("ledger", "verify", folder=folder, **LATER)
    assert look["findings"] == []
    assert look["chains"][0]["entries"] == 13
    (backup,) = backups_in(folder / "before-updates")
    hingeline_json("restore", backup, "--to", tmp_path / "before", folder=tmp_path / "nowhere")
    assert hingeline_json("ledger", "verify", folder=tmp_path / "before")["chains"][0]["entries"] == 12
    assert run("-c", UPDATE, folder=folder, **LATER).stdout.split() == ["ready"]


@pytest.mark.fault("F35")
@pytest.mark.slow
def test_an_older_program_changes_nothing(folder: Path) -> None:
    """It refuses newer records, and names the version that wrote them."""
    run("-c", UPDATE, folder=folder, **LATER)
    before = (folder / FILE_NAME).read_bytes()
    assert (
        "ProgramTooOld: The records were last written by Hingeline" in run("-c", UPDATE, folder=folder, status=1).stderr
    )
    look = hingeline_json("ledger", "verify", folder=folder)
    assert [each["what"] for each in look["findings"]] == ["program"]
    assert not look["may_start"]
    assert (folder / FILE_NAME).read_bytes() == before


@pytest.mark.fault("F35")
@pytest.mark.slow
def test_a_kill_leaves_the_old_or_the_new(filled: Path, tmp_path: Path) -> None:
    """Killed at 20 moments: the new table is whole or not there, nothing kept is gone, the next start goes through."""
    draw, outcomes = random.Random(5), []
    for number in range(20):
        folder = Path(shutil.copytree(filled, tmp_path / str(number)))
        kill_in_the_middle(folder, draw.uniform(0.0, 0.9))
        outcomes.append(asked(folder, IS_THERE) and asked(folder, ROWS))
        assert asked(folder, "SELECT count(*) FROM records_entry") >= 14
        with closing(sqlite3.connect(folder / FILE_NAME)) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    assert set(outcomes) <= {0, 20000}
    assert 0 in outcomes
    run("-c", UPDATE, folder=tmp_path / "0", **LATER)
    assert hingeline_json("ledger", "verify", folder=tmp_path / "0", **LATER)["findings"] == []


def kill_in_the_middle(folder: Path, after: float) -> None:
    with subprocess.Popen(
        [sys.executable, "-c", UPDATE], env=surroundings(folder, **LATER), stdout=subprocess.PIPE, text=True
    ) as program:
        assert program.stdout is not None
        assert program.stdout.readline() == "ready\n"
        time.sleep(after)
        program.send_signal(signal.SIGKILL)


@pytest.mark.fault("F35")
@pytest.mark.slow
@pytest.mark.parametrize("words", [["ledger", "verify"], ["move", "--to", "postgresql://nobody@127.0.0.1:1/nothing"]])
def test_a_command_of_a_newer_program_refuses_records_that_were_not_brought_up(words: list[str], folder: Path) -> None:
    """In words, with what brings them up; nothing is changed. What needs no row, as a head does, is still given."""
    before = (folder / FILE_NAME).read_bytes()
    refused = run("-m", "hingeline_app", *words, folder=folder, status=2, **LATER).stderr
    assert "records that were brought up to this program" in refused
    assert "hingeline serve --data" in refused
    assert (folder / FILE_NAME).read_bytes() == before
    assert hingeline_json("ledger", "head", folder=folder, **LATER)
