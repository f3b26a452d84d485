"""What ``hingeline motion FILE`` costs as a whole, against the least that any process with numpy costs.

Run ``python benchmarks/motion.py [rounds]`` from the checkout, with the environment that ``./check`` makes. It writes a
table of 20 s at 200 rows a second with two channels, then times in turn, each in a process of its own: numpy
loaded and nothing done, and the whole command (``--json``). Prints the median of the ratios of pairs timed one
after the other, by the processor's time. Wanted: at most 6 (measured: 4).
"""

from __future__ import annotations

import math
import os
import random
import resource
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
RATE, SECONDS = 200, 20
LEAST = ("-c", "import numpy")


def table() -> str:
    """Write a swing of two channels that dies out in noise."""
    chance = random.Random(1)
    lines = ["time_s,plunge_mm,pitch_deg"]
    for step in range(RATE * SECONDS):
        time = step / RATE
        size, angle = 12.0 * math.exp(-0.25 * time), 2.0 * math.pi * 5.3 * time
        plunge, pitch = size * math.cos(angle), 0.2 * size * math.cos(angle - 1.0)
        lines.append(f"{time:.3f},{plunge + chance.gauss(0.0, 0.1):.4f},{pitch + chance.gauss(0.0, 0.02):.5f}")
    return "\n".join(lines) + "\n"


def seconds(words: Sequence[str]) -> float:
    """Give the processor's time of one process, with everything that it starts [s]."""
    surroundings = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, *words], check=True, capture_output=True, env=surroundings)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    """Time pairs, and print the median of their ratios."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 7
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "swing.csv"
        path.write_text(table())
        command = ("-m", "hingeline_app", "motion", str(path), "--json")
        seconds(LEAST), seconds(command)
        pairs = [(seconds(LEAST), seconds(command)) for _ in range(rounds)]
    least, whole = (statistics.median(each) for each in zip(*pairs, strict=True))
    ratio = statistics.median(one / other for other, one in pairs)
    print(f"numpy alone {least:.2f} s, whole command {whole:.2f} s: {ratio:.2f} times, wanted at most 6")


if __name__ == "__main__":
    main()
