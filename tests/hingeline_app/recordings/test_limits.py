"""The operating system holds the decoder to its limits: memory, time, files, network; a crash stays with it."""

from __future__ import annotations

import base64
import json
import os
import signal
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest

from hingeline.errors import InputRefused
from hingeline_app.recordings import confined_child, messages
from hingeline_app.recordings.confined_child import SOURCE
from hingeline_app.recordings.follow import follow
from hingeline_app.recordings.limits import Limits
from tests.hingeline_app.recordings.marked import marks_of
from tests.hingeline_app.recordings.rendered import Scene, rendered

SMALL = Scene(width=320, height=184, rate=60.0, seconds=1.0, dot=0.016)
MARKS = marks_of(SMALL)
CONFINED = """
import sys, json, os
sys.path.insert(0, sys.argv[1])
from hingeline_app.recordings.confined import confine
cut_off = confine({"memory": 1 << 29, "cpu_seconds": int(sys.argv[2]), "open_files": 16})
"""


@pytest.fixture(scope="module")
def video(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a small video that can be followed."""
    return rendered(tmp_path_factory.mktemp("limits") / "video.mp4", SMALL)


def confined(code: str, cpu_seconds: int = 60) -> subprocess.CompletedProcess[str]:
    """Run a little program in a process that was confined.

    A machine that was just started takes over a second to give memory that nobody touched before: where
    the processor's time is not what is tried, there is plenty.
    """
    command = [sys.executable, "-I", "-B", "-c", CONFINED + code, str(SOURCE), str(cpu_seconds)]
    return subprocess.run(command, capture_output=True, text=True, timeout=300)


@pytest.mark.fault("F23")
def test_memory_is_limited_by_the_operating_system() -> None:
    """Half a gigabyte may be had, and a byte more may not."""
    assert confined("bytearray(1 << 28); print('had')").stdout == "had\n"
    assert "MemoryError" in confined("bytearray(1 << 29); print('had')").stderr


@pytest.mark.slow
@pytest.mark.fault("F23")
def test_processor_time_is_limited_by_the_operating_system() -> None:
    """A loop without end is ended after a second of work, by a signal that nothing can talk away."""
    assert confined("while True: pass", cpu_seconds=1).returncode in (-signal.SIGXCPU, -signal.SIGKILL)


def test_nothing_is_written_and_few_files_are_opened(tmp_path: Path) -> None:
    """No byte reaches a file, and no more than sixteen files are open at once."""
    done = confined(f"open({str(tmp_path / 'out')!r}, 'wb', buffering=0).write(b'x')")
    assert "File too large" in done.stderr
    assert (tmp_path / "out").read_bytes() == b""
    assert "Too many open files" in confined("[open(os.devnull) for _ in range(20)]").stderr


def test_there_is_no_network_where_the_kernel_allows_that() -> None:
    """Cut off, not even the machine itself can be reached; the process says whether it is cut off."""
    code = """
import socket
try:
    socket.create_connection(("127.0.0.1", 9), timeout=1)
    reached = "connected"
except OSError as fault:
    reached = fault.strerror
print(json.dumps([cut_off, reached]))
"""
    cut_off, reached = json.loads(confined(code).stdout)
    assert reached == ("Network is unreachable" if cut_off else "Connection refused")


@pytest.mark.slow
@pytest.mark.fault("F23")
def test_a_video_that_needs_too_much_memory_is_refused(tmp_path: Path) -> None:
    """What does not fit into its memory is refused in a sentence."""
    large = Scene(width=3840, height=2160, rate=30.0, seconds=0.3)
    path = rendered(tmp_path / "large.mp4", large)
    with pytest.raises(InputRefused, match="memory"):
        follow(path, marks_of(large), limits=Limits(memory=440 << 20))


@pytest.mark.slow
def test_a_large_picture_fits_into_the_ordinary_memory(tmp_path: Path) -> None:
    """3840 by 2160 pixels, the largest that telephones store, are followed within the ordinary limit."""
    large = Scene(width=3840, height=2160, rate=30.0, seconds=0.5, codec="libx265")
    found = follow(rendered(tmp_path / "large.mp4", large), marks_of(large))
    assert len(found.ticks) == 15


BEHAVIOUR = {
    "crashes": ("os.kill(os.getpid(), 11)", "crashes"),
    "leaves without a word": ("os._exit(0)", "ends the decoder"),
    "talks nonsense": ("os.write(1, b'nonsense\\n'); os._exit(0)", "astray"),
    "says what it may not": ('os.write(1, b\'{"say": "followed", "ticks": [NaN]}\\n\'); os._exit(0)', "astray"),
    "talks without end": ("[os.write(1, b'x' * 65536) for _ in iter(int, 1)]", "astray"),
    "loops": ("exec('while True: pass')", "longer than it may"),
    "is silent": ("import time; time.sleep(60)", "longer than it may"),
}


@pytest.mark.slow
@pytest.mark.fault("F23")
@pytest.mark.parametrize("name", BEHAVIOUR)
def test_whatever_the_process_does_the_caller_lives(name: str, video: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A decoder that was taken over, crashes, loops or is silent ends in a sentence, within its time."""
    behaviour, words = BEHAVIOUR[name]
    code = f"""
import os, sys
sys.path.insert(0, sys.argv[1])
from hingeline_app.recordings.confined import confine
confine({{"memory": 1 << 29, "cpu_seconds": 1, "open_files": 16}})
{behaviour}
"""
    monkeypatch.setattr(confined_child, "START", code)
    with pytest.raises(InputRefused, match=words):
        follow(video, MARKS, limits=Limits(silent_seconds=2.0 if name == "is silent" else 100.0))


def test_a_process_that_keeps_talking_is_ended_by_the_clock(video: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever says something all the time is no more let go on than whoever says nothing."""
    talks = 'import time\nwhile True: print(\'{"say": "confined"}\', flush=True); time.sleep(0.02)'
    monkeypatch.setattr(confined_child, "START", talks)
    task, limits = {"do": "follow"}, Limits(wall_seconds=1.0, silent_seconds=100.0)
    started = time.monotonic()
    with video.open("rb") as file, confined_child.Child(task, file.fileno(), limits) as child:
        for _ in child.lines():
            assert time.monotonic() - started < 60.0, "it is still listened to"
    assert child.ended is confined_child.Ended.LIMIT


@pytest.mark.parametrize("number", ["1" + "0" * 400, "-1", "1e10", "NaN", "Infinity", "true", '"1"'])
def test_a_number_that_may_not_be_said_is_strange(number: str) -> None:
    """Larger than any float, no number, or out of its bounds: no size of a picture."""
    jpeg = base64.b64encode(b"\xff\xd8\xff").decode()
    line = f'{{"say": "still", "jpeg": "{jpeg}", "width": {number}, "height": 1, "markers": []}}'
    with pytest.raises(messages.Strange):
        messages.still(messages.said(line.encode()))


def test_no_process_is_left_behind(video: Path) -> None:
    """Stopped, refused or done, the process is gone afterwards."""
    seen: set[int] = set()

    def children() -> set[int]:
        return set(map(int, Path(f"/proc/{os.getpid()}/task/{os.getpid()}/children").read_text().split()))

    before = children()  # a browser of other tests, for example
    follow(video, MARKS, lambda _: seen.update(children() - before))
    assert seen
    assert not [child for child in seen if Path(f"/proc/{child}").exists()]


def test_time_on_the_wall_is_limited(video: Path) -> None:
    """A run that takes too long by the clock is ended."""
    with pytest.raises(InputRefused, match="longer than it may"):
        follow(video, MARKS, limits=Limits(wall_seconds=0.0))


@pytest.mark.slow
def test_what_was_followed_until_a_limit_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Work that a limit of time ends is given back unfinished, and can be gone on with: a clock runs out on the way."""
    scene = replace(SMALL, seconds=4.0)
    path = rendered(tmp_path / "video.mp4", scene)
    seen: list[int] = []

    clock = SimpleNamespace(monotonic=lambda: 0.0 if len(seen) <= 3 else 1e9)
    with monkeypatch.context() as context:
        context.setattr(confined_child, "time", clock)
        part = follow(path, MARKS, lambda progress: seen.append(progress.followed))
    assert 0 < len(part.ticks) < 240
    assert not part.finished
    assert follow(path, MARKS, before=part).finished
