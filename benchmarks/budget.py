"""A budget by a million draws: our call against a plain NumPy script, in one run.

Run ``python benchmarks/budget.py [rounds]``. Prints the median of the ratios of pairs timed one
after the other, so that a machine that slows down in between does not count for or against us.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable

import numpy as np

from hingeline.uncertainty import Normal, Rectangular, Student, monte_carlo

DRAWS = 1_000_000
GRAVITY = 9.80665


def moment(reading, arm, friction, air, calibration):
    """Static moment of a surface that rests on a scale under its trailing edge."""
    return GRAVITY * (reading + friction + air + calibration) * arm


def ours() -> tuple[float, float]:
    """By the library."""
    inputs = [
        Student(0.842, 0.00122, 4),
        Rectangular(0.255, 0.002),
        Rectangular(0.0, 0.01),
        Rectangular(0.0, 0.001),
        Normal(0.0, 0.005),
    ]
    result = monte_carlo(moment, inputs, draws=DRAWS, seed=1)
    return result.low, result.high


def plain() -> tuple[float, float]:
    """As one would write it in a notebook: draw, evaluate, sort, two intervals."""
    rng = np.random.default_rng(1)
    reading = 0.842 + 0.00122 * rng.standard_t(4, DRAWS)
    arm = rng.uniform(0.253, 0.257, DRAWS)
    friction = rng.uniform(-0.01, 0.01, DRAWS)
    air = rng.uniform(-0.001, 0.001, DRAWS)
    calibration = rng.normal(0.0, 0.005, DRAWS)
    results = np.sort(moment(reading, arm, friction, air, calibration))
    results.mean(), results.std(ddof=1)
    span = int(0.95 * DRAWS)
    first = (DRAWS - span) // 2
    (results[span:] - results[:-span]).argmin()
    return results[first], results[first + span]


def seconds(run: Callable[[], object]) -> float:
    """Time one call."""
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


def main() -> None:
    """Print both medians and the ratio."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 7
    ours(), plain()
    pairs = [(seconds(ours), seconds(plain)) for _ in range(rounds)]
    ratio = statistics.median(mine / theirs for mine, theirs in pairs)
    print(f"draws {DRAWS:,}, rounds {rounds}, NumPy {np.__version__}")
    print(f"ours  {statistics.median(mine for mine, _ in pairs):.3f} s")
    print(f"plain {statistics.median(theirs for _, theirs in pairs):.3f} s")
    print(f"ratio {ratio:.2f} (aim: at most 1.3)")


if __name__ == "__main__":
    main()
