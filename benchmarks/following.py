"""Following marks through a video against decoding it and nothing else, in one run.

Run ``python benchmarks/following.py [rounds]`` from the checkout, with the environment that ``./check`` makes. It
renders two clips of 1920 by 1080 with four dots and four printed markers, at a telephone's bit rate, then times in
turn: decoding alone (light values viewed, nothing done with them), and decoding with following. Prints the median of
the ratios of pairs timed one after the other. Wanted: at most 1.5 for dots and 3 for markers; aimed at: 1.3 and 2.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path[:0] = [str(ROOT), str(ROOT / "src")]

import cv2  # noqa: E402

from hingeline_app.recordings.decoding import opened, pictures  # noqa: E402
from hingeline_app.recordings.follow import follow  # noqa: E402
from hingeline_app.recordings.following import Run  # noqa: E402
from hingeline_app.recordings.limits import Limits  # noqa: E402
from tests.hingeline_app.recordings.marked import marks_of  # noqa: E402
from tests.hingeline_app.recordings.rendered import Scene, rendered  # noqa: E402

CLIPS = {
    "four dots": Scene(1920, 1080, 120.0, 2.0, noise=4.0, crf=20, shake_pixels=3.0, shake_degrees=0.2),
    "four markers": Scene(
        1920, 1080, 120.0, 2.0, noise=4.0, crf=20, kind="marker", shake_pixels=3.0, shake_degrees=0.2
    ),
}


def decode(path: Path) -> int:
    """Decode, and look at nothing."""
    with path.open("rb") as file:
        return sum(1 for _ in pictures(opened(file, "mov", Limits())))


def decode_and_follow(path: Path, scene: Scene) -> int:
    """Decode and follow, in this process."""
    seen: list[int] = []
    with path.open("rb") as file:
        marks = [
            {"name": mark.name, "kind": mark.kind, "at": mark.at, "number": mark.number, "size": mark.size}
            for mark in marks_of(scene).marks
        ]
        run = Run(opened(file, "mov", Limits()), marks, lambda message: seen.append(len(message["ticks"])))
        run.begin()
        run.follow(None, [])
    return sum(seen)


def seconds(run: Callable[[], object]) -> tuple[float, float]:
    """Time one call: by the clock, and of the processors, which does not ask how busy the machine is otherwise."""
    start, work = time.perf_counter(), time.process_time()
    run()
    return time.perf_counter() - start, time.process_time() - work


def main() -> None:
    """Print ratios."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 7
    cv2.setNumThreads(1)
    print(f"{os.cpu_count()} processors, median of {rounds} pairs")
    for name, scene in CLIPS.items():
        with tempfile.TemporaryDirectory() as folder:
            path = rendered(Path(folder) / "clip.mp4", scene)
            count = len(scene.true_times)
            rate = path.stat().st_size * 8 / scene.seconds / 1e6
            assert decode(path) == decode_and_follow(path, scene) == count
            pairs = [
                (seconds(lambda: decode(path)), seconds(lambda: decode_and_follow(path, scene)))  # noqa: B023
                for _ in range(rounds)
            ]
            clock, work = (statistics.median(b[part] / a[part] for a, b in pairs) for part in (0, 1))
            alone, followed = (count / statistics.median(pair[run][0] for pair in pairs) for run in (0, 1))
            whole = [seconds(lambda: follow(path, marks_of(scene)))[0] for _ in range(rounds)]  # noqa: B023
            print(f"{name}, {rate:.1f} Mbit/s: ratio {clock:.2f} by the clock, {work:.2f} of processor time")
            print(
                f"  pictures a second: {alone:.0f} decoded, {followed:.0f} followed, "
                f"{count / statistics.median(whole):.0f} from file to tracks in a process of their own"
            )


if __name__ == "__main__":
    main()
