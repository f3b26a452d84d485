"""The rig: compile the recorder, record a run of saves, cut the power at random moments, judge."""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.faults.power_cuts.disk import WRITE, Disk, Event, read_trace
from tests.faults.power_cuts.judge import Verdict, judge
from tests.faults.power_cuts.saving import ACKNOWLEDGED
from tests.hingeline_app.records.own_folder import surroundings

HERE = Path(__file__).parent
SETTINGS = "tests.faults.power_cuts.settings_with_mode"


@dataclass(frozen=True)
class Run:
    """A recorded run of saves: the folder before it, and all that was done to it."""

    before: Path
    events: list[Event]

    def cut(
        self, times: int, folder: Path, lies: Callable[[str], bool] = lambda _: False, seed: int = 1
    ) -> Iterator[Verdict]:
        """Cut the power at so many random moments, and judge each."""
        draw, disk = random.Random(seed), Disk(self.before, lies)
        moments = sorted(draw.randrange(len(self.events)) for _ in range(times))
        acknowledged: dict[int, str] = {}
        for number, event in enumerate(self.events):
            disk.follow(event)
            acknowledged |= acknowledged_by(event)
            while moments and moments[0] == number:
                moments.pop(0)
                yield judge(disk.cut(draw), acknowledged, folder)


def acknowledged_by(event: Event) -> dict[int, str]:
    """Read an acknowledgement, where the event is one."""
    if event.kind != WRITE or event.path != ACKNOWLEDGED:
        return {}
    position, digest = event.data.decode().split()
    return {int(position): digest}


def compile_recorder(to: Path) -> Path:
    """Compile the recorder."""
    library = to / "recorder.so"
    words = ["cc", "-O2", "-Wall", "-Werror", "-shared", "-fPIC", "-o", library, HERE / "recorder.c", "-ldl"]
    subprocess.run(list(map(os.fspath, words)), check=True, capture_output=True, text=True)
    return library


def record(filled: Path, mode: str, saves: int, recorder: Path, to: Path) -> Run:
    """Save so many times on a copy of a workshop, and record what was done to its files."""
    before, folder = Path(shutil.copytree(filled, to / "before")), Path(shutil.copytree(filled, to / "records"))
    trace = to / "trace"
    done = subprocess.run(
        [sys.executable, os.fspath(HERE / "saving.py"), os.fspath(folder), str(saves)],
        env=surroundings(folder)
        | {
            "DJANGO_SETTINGS_MODULE": SETTINGS,
            "CUTS_MODE": mode,
            "CUTS_FOLDER": os.fspath(folder),
            "CUTS_TRACE": os.fspath(trace),
            "LD_PRELOAD": os.fspath(recorder),
        },
        capture_output=True,
        text=True,
        timeout=600,
    )
    assert done.returncode == 0, done.stderr
    return Run(before, list(read_trace(trace, folder)))
