"""A disk that is full, fails, or may not be written; a database that another program holds: told, and nothing half."""

from __future__ import annotations

import errno
import json
import os
import sqlite3
import subprocess
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from hingeline_app.settings.databases import FILE_NAME
from tests.hingeline_app.records.own_folder import hingeline_json, make_workshop, run

HERE = Path(__file__).parent
SETTINGS = "tests.faults.power_cuts.settings_with_mode"
MODES = ["delete EXTRA", "wal FULL"]


@pytest.fixture(scope="module")
def shim(tmp_path_factory: pytest.TempPathFactory) -> Path:
    library = tmp_path_factory.mktemp("failing") / "failing.so"
    words = ["cc", "-O2", "-Wall", "-Werror", "-shared", "-fPIC", "-o", library, HERE / "failing.c", "-ldl"]
    subprocess.run(list(map(os.fspath, words)), check=True, capture_output=True, text=True)
    return library


def save_with_faults(mode: str, error: int, goes_on: bool, folder: Path, shim: Path) -> list[dict[str, Any]]:
    """Let each step of a save fail, and look at the records afterwards: they are whole in any case."""
    more = {"CUTS_MODE": mode, "DJANGO_SETTINGS_MODULE": SETTINGS}
    make_workshop(folder, 6, **more)
    shimmed = {"LD_PRELOAD": os.fspath(shim), "FAIL_FOLDER": os.fspath(folder)}
    program = HERE / "saving_with_faults.py"
    told = json.loads(run(program, str(error), str(int(goes_on)), folder=folder, **more, **shimmed).stdout)
    assert hingeline_json("ledger", "verify", folder=folder, **more)["findings"] == []
    return list(told)


@pytest.mark.fault("F05", "F44")
@pytest.mark.slow
@pytest.mark.parametrize("error", [errno.ENOSPC, errno.EIO], ids=["full", "failing"])
@pytest.mark.parametrize("goes_on", [False, True], ids=["once", "from then on"])
@pytest.mark.parametrize("mode", MODES)
def test_each_step_of_a_save_may_fail(mode: str, goes_on: bool, error: int, tmp_path: Path, shim: Path) -> None:
    """The n-th write, sync, truncation or new file fails, for n = 1, 2, … until none does.

    The save is refused in our words, or was acknowledged because it was down in both places; what was there
    can be read; the same command sent again is kept once; the chain, the rows and the journal are whole.
    """
    told = save_with_faults(mode, error, goes_on, tmp_path / "records", shim)
    assert len(told) > 5
    assert told[-1]["said"] == "saved"
    assert {each["said"].partition(":")[0] for each in told} <= {"NotAcknowledged", "saved"}
    assert sum(each["said"].startswith("NotAcknowledged") for each in told) > 3
    assert all(each["readable"] for each in told)
    assert {each["again"].partition(":")[0] for each in told} <= {"saved", "AlreadyDone"}
    assert all(each["again"].startswith("AlreadyDone") for each in told if each["said"] == "saved")


@pytest.mark.fault("F06")
@pytest.mark.slow
def test_a_disk_that_may_not_be_written_is_told(tmp_path: Path, shim: Path) -> None:
    """From the first step on "read-only": each save is refused, reading goes on."""
    told = save_with_faults("delete EXTRA", errno.EROFS, True, tmp_path / "records", shim)
    assert told[0]["said"].startswith("NotAcknowledged")
    assert told[0]["readable"]


HELD = """
from django.conf import settings
from hingeline_app.records.opening import open_records
open_records()
settings.WRITE_LOCK_SECONDS = 0.5
settings.DATABASES["default"]["OPTIONS"]["timeout"] = 0.5
from hingeline_app.records.models import Entry, Workshop
from hingeline_app.records.write_door import Actor, write_door
workshop = Workshop.objects.get()
with write_door(Actor(workshop), "noted"):
    pass
"""


@pytest.mark.slow
@pytest.mark.fault("F11")
def test_a_database_that_another_program_holds_is_told(folder: Path) -> None:
    """A program that does not know our lock holds the file: the save is refused as busy, and nothing was written."""
    with closing(sqlite3.connect(folder / FILE_NAME, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        assert "Busy: another program holds the database" in run("-c", HELD, folder=folder, status=1).stderr
        other.execute("ROLLBACK")
    run("-c", HELD, folder=folder)
    assert hingeline_json("ledger", "verify", folder=folder)["findings"] == []


@pytest.mark.slow
@pytest.mark.fault("F11")
def test_a_writer_that_does_not_let_go_is_told(folder: Path) -> None:
    """Another of our own programs holds the lock for longer than is waited: busy, not an error of the database."""
    import fcntl

    with (folder / "write.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        assert "Busy: another save is still being written" in run("-c", HELD, folder=folder, status=1).stderr
    run("-c", HELD, folder=folder)


@pytest.mark.fault("F33")
@pytest.mark.slow
@pytest.mark.parametrize(
    "error", [pytest.param(errno.ENOSPC, id="full", marks=pytest.mark.campaign), pytest.param(errno.EIO, id="pulled")]
)
def test_a_medium_that_fails_in_the_middle_leaves_the_earlier_backups(
    error: int, folder: Path, tmp_path: Path, shim: Path
) -> None:
    """From the n-th step on nothing can be written there: told in words, no half backup, those of before restore."""
    stick = tmp_path / "stick"
    hingeline_json("backup", "--to", stick, folder=folder)
    before = {path.name for path in stick.glob("hingeline-*")}
    shimmed = {"LD_PRELOAD": os.fspath(shim), "FAIL_FOLDER": os.fspath(stick)}
    done = run(HERE / "backing_up_with_faults.py", stick, str(error), folder=folder, **shimmed)
    told = json.loads(done.stdout)
    assert len(told) > 5
    assert {each["said"].partition(":")[0] for each in told} == {"NotABackup", "made"}
    assert told[-1]["said"] == "made"
    assert all(set(each["there"]) == before for each in told[:-1])
    (first,) = before
    hingeline_json("restore", stick / first, "--to", tmp_path / "again", folder=tmp_path / "nowhere")


@pytest.mark.fault("F44")
@pytest.mark.slow
def test_a_save_that_gets_no_memory_leaves_nothing_half(folder: Path) -> None:
    """Children that may grow by 0, 256, 512 kB …, doubling, save: some cannot, what they leave is whole."""
    statuses = json.loads(run(HERE / "saving_with_little_memory.py", folder=folder).stdout)
    assert 0 in statuses
    assert set(statuses) - {0}
    assert hingeline_json("ledger", "verify", folder=folder)["findings"] == []
    run("-c", HELD, folder=folder)
