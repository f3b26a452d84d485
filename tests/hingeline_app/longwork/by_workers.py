"""What a page does, done by a process of its own on a server's settings: videos and a study asked for, workers killed.

by_workers.py DATA VIDEO MARKS      writes one JSON document
"""

from __future__ import annotations

import json
import os
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path

from hingeline_app.records.opening import open_records

STRIP = Path(__file__).parents[3] / "examples" / "flutter" / "01-elevator-strip.toml"


def main(data: Path, video: Path, marks: Path) -> None:
    open_records(data)
    from django_tasks_db.models import DBTaskResult

    from hingeline.errors import InputRefused
    from hingeline_app.evidence import runs
    from hingeline_app.evidence.asked import Asked
    from hingeline_app.longwork.folder import ask, held
    from hingeline_app.longwork.queue import Workers
    from hingeline_app.studies import runs as studies
    from hingeline_app.studies.runs import Study

    way, asked = Workers(), Asked(captured_at=60.0, marks=marks.read_text())

    def start(key: str) -> None:
        runs.start(data, key, video, "long.mp4", asked, way)

    def wait(key: str, enough: Callable[[runs.Run], bool]) -> runs.Run:
        until = time.monotonic() + 120
        while time.monotonic() < until:
            run = runs.look(data, key, way)
            assert run is not None
            if enough(run):
                return run
            time.sleep(0.02)
        raise AssertionError((key, run))

    start("one")
    start("two")
    refused = ""
    try:
        start("one")
    except InputRefused as again:
        refused = str(again)
    wait("one", lambda run: run.followed > 0)
    (row,) = DBTaskResult.objects.filter(status="RUNNING", args_kwargs__args=["following/one"])
    os.kill(int(row.worker_ids[-1].partition("-")[0]), signal.SIGKILL)
    cut_off = runs.look(data, "one", way)
    assert cut_off is not None
    words = {key: wait(key, lambda run: not run.goes_on).word for key in ("one", "two")}
    study = Study("a-model", "strip.toml", 3000, 5)
    studies.start(data, study, STRIP.read_bytes(), way)
    while (far := studies.look(data, study, way)) is None or far.done == 0:
        time.sleep(0.02)
    (row,) = DBTaskResult.objects.filter(status="RUNNING")
    os.kill(int(row.worker_ids[-1].partition("-")[0]), signal.SIGKILL)
    while (far := studies.look(data, study, way)) is None or far.goes_on:
        time.sleep(0.02)
    words["study"] = far.word
    with held(bad := data / runs.FOLDER / "bad", "bad") as alive:
        # Its process falls over each time: it is not told which video.
        ask(bad, {"asked": {}})
        way.take_on(bad, alive.fileno())
    words["bad"] = wait("bad", lambda run: not run.goes_on).word
    start("three")
    wait("three", lambda run: run.followed > 0)
    runs.stop(data, "three")
    words["three"] = wait("three", lambda run: not run.goes_on).word
    # A worker says in its row how it ended a moment after the folder says it.
    while DBTaskResult.objects.exclude(status__in=("SUCCESSFUL", "FAILED")).exists():
        time.sleep(0.05)
    start("four")
    wait("four", lambda run: run.followed > 0)
    rows = {row.args_kwargs["args"][0]: (row.status, len(row.worker_ids)) for row in DBTaskResult.objects.all()}
    told = {"refused": refused, "cut_off": cut_off.word, "words": words, "rows": rows}
    print(json.dumps(told))


if __name__ == "__main__":
    main(*map(Path, sys.argv[1:]))
