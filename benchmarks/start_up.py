"""How long a command takes from the door: help and a first weighing, beside the floor.

    python benchmarks/start_up.py

Whole processes, warm, in turn; medians of ten, as ratios to a Python that does
nothing. Aims: 0.25 s for help, 0.6 s for a weighing. It reports; nothing fails.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
RUNS = 10
EXAMPLE = str(ROOT / "examples" / "01-elevator-left-half.toml")
DOOR = str(ROOT / "hingeline")

COMMANDS = {
    "python that does nothing": [sys.executable, "-c", "pass"],
    "hingeline --help": [DOOR, "--help"],
    "hingeline weigh": [DOOR, "weigh", EXAMPLE],
    "hingeline weigh --json": [DOOR, "weigh", EXAMPLE, "--json"],
    "hingeline weigh --pdf": [DOOR, "weigh", EXAMPLE, "--pdf", str(Path(tempfile.gettempdir()) / "start-up.pdf")],
}
AIMS = {"hingeline --help": 0.25, "hingeline weigh": 0.6, "hingeline weigh --json": 0.6}


def main() -> None:
    """Time every command in turn, and print medians and ratios."""
    seconds: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for run in range(RUNS + 1):
        for name, command in COMMANDS.items():
            taken = once(command)
            if run:  # the first warms the disk's cache
                seconds[name].append(taken)
    floor = statistics.median(seconds["python that does nothing"])
    print(f"{'command':<28} {'median':>9} {'least':>9} {'most':>9} {'floor x':>8}  aim")
    for name, each in seconds.items():
        median = statistics.median(each)
        aim = f"{AIMS[name]:.2f} s" if name in AIMS else ""
        times = f"{1000 * median:6.0f} ms {1000 * min(each):6.0f} ms {1000 * max(each):6.0f} ms"
        print(f"{name:<28} {times} {median / floor:8.1f}  {aim}")


def once(command: list[str]) -> float:
    """Time one whole process."""
    started = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    return time.perf_counter() - started


if __name__ == "__main__":
    main()
