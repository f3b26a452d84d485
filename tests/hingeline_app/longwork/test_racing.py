"""Two who take up one piece of work at the same moment: one gets it, with a server's rows and with a file's locks."""

from __future__ import annotations

import fcntl
import json
import os
import subprocess
import sys
import threading
from pathlib import Path
from typing import Any

import pytest

from hingeline.errors import InputRefused
from hingeline_app.longwork.folder import ALIVE, held, is_alive
from hingeline_app.longwork.inside import NO_TURN
from tests.doors.checkouts import ROOT
from tests.hingeline_app.longwork import claiming
from tests.private_postgresql import Server

ROWS, WORKERS = 60, 4


@pytest.mark.fault("F25")
@pytest.mark.slow
def test_workers_that_race_get_each_row_once_and_old_rows_go(postgresql: Server, tmp_path: Path) -> None:
    """Four workers take sixty rows from one PostgreSQL: each row once. Ended work leaves the queue after its days.

    What the process of a dead worker still has waits for it, and is not counted as tried: three tries give it up.
    While it waits, what came later is taken: it does not stand in front of the others. Seven such pieces keep no worker
    busy either: each goes to the end of the line, and is only glanced at when its turn comes again.
    Two workers whose clocks differ by a minute do not take it in turns: its while goes by the database's clock.
    What is done goes after 14 days and what failed after 60; what waits or is worked stays however old it is.
    """
    surroundings = os.environ | {"PYTHONPATH": str(ROOT / "src"), "HINGELINE_DATABASE": postgresql.create("racing")}
    surroundings.pop("DJANGO_SETTINGS_MODULE", None)
    done = subprocess.run(
        [sys.executable, claiming.__file__, str(tmp_path), str(ROWS), str(WORKERS)],
        capture_output=True, text=True, env=surroundings, timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert sorted(name for got in told["claimed"] for name in got) == sorted(f"piece-{each}" for each in range(ROWS))
    assert sum(bool(got) for got in told["claimed"]) > 1, "nobody raced"
    later = [f"later-{each}" for each in range(4)]
    assert told["held"] == {"status": "READY", "tries": 0, "between": later, "said": 1}
    _in_turn(told["many"])
    assert told["clocks"] == ["between", "nothing", "nothing", "nothing"]
    assert told["left"] == ["FAILED 59", "READY 99", "RUNNING 99", "SUCCESSFUL 13"]


def _in_turn(many: dict[str, Any]) -> None:
    """Say that held work waited for the others, cost time once only, was told once only, and comes back."""
    held = [f"held-{each}" for each in range(7)]
    assert many["order"] == [*held, "before", *held, "after-0", "after-1", "held-3"]
    assert many["said"] == len(held)
    assert many["none left"]
    assert many["first"] >= 7 * 0.2
    assert many["again"] < many["first"] / 2, "held work was waited for again"


ALONE = """
import sys, time
from pathlib import Path
from hingeline_app.longwork import inside
inside.LEFT_ALONE_SECONDS = 0.2
inside.work_inside(sys.argv[1], lambda _inside: time.sleep(600))
"""


@pytest.mark.fault("F25")
def test_a_process_that_does_not_hear_that_it_is_alone_ends(tmp_path: Path) -> None:
    """Its worker died and it is deep in a sum: it lets the folder go all the same, so that another goes on."""
    process = subprocess.Popen(
        [sys.executable, "-c", ALONE, str(tmp_path), NO_TURN], stdin=subprocess.PIPE,
        env=os.environ | {"PYTHONPATH": str(ROOT / "src")},
    )  # fmt: skip
    assert process.stdin is not None
    process.stdin.close()
    assert process.wait(60) == 1


@pytest.mark.fault("F25")
def test_threads_that_race_for_a_folder_get_it_once(tmp_path: Path) -> None:
    """With records in a file the lock of the work's folder decides: of six at once one begins, fifty times over."""
    for number in range(50):
        assert _raced(tmp_path / str(number)) == 1


def test_two_who_ask_at_once_do_not_take_each_other_for_who_works(tmp_path: Path) -> None:
    """While another asks, nobody works there; while somebody has the lock, somebody does."""
    (tmp_path / ALIVE).touch()
    with (tmp_path / ALIVE).open("r+") as asked:
        fcntl.flock(asked, fcntl.LOCK_SH | fcntl.LOCK_NB)
        assert not is_alive(tmp_path)
    with held(tmp_path, "a video", 0.0):
        assert is_alive(tmp_path)


def _raced(folder: Path, many: int = 6) -> int:
    line, over, got = threading.Barrier(many), threading.Barrier(many), []

    def begin() -> None:
        line.wait()
        try:
            with held(folder, "a video", 0.0):
                got.append(folder)
                over.wait()
        except InputRefused:
            over.wait()

    threads = [threading.Thread(target=begin) for _ in range(many)]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    return len(got)
