"""Ten thousand scattered onset speeds, and one sweep of roots by speed: ours, a plain script, and the floor.

Run ``python benchmarks/flutter.py [rounds]`` with one thread of linear algebra (OPENBLAS_NUM_THREADS=1). Everything is
timed in this one run, in turn; the plain script on a few samples, and scaled up. Prints medians and ratios.

The plain script is what one writes in an afternoon: p-k, a 6 x 6 eigenproblem at each step, C(k) by Hankel functions of
an outside package where there is one, by ours where not, and the nearest root followed from speed to speed.
"""

from __future__ import annotations

import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace

import numpy as np

from hingeline.flutter.build import build_system
from hingeline.flutter.model import Air, FlutterTask, ScatteredField, Section
from hingeline.flutter.onsets import onsets_of
from hingeline.flutter.roots import roots_by_speed
from hingeline.flutter.scatter import Chunk, draws, scatter_onsets
from hingeline.flutter.stacks import changed
from hingeline.flutter.system import AeroelasticSystem, whole_mass
from hingeline.flutter.wake import theodorsen

try:
    from scipy.special import hankel2
except ImportError:
    hankel2 = None

SAMPLES, FEW = 10_000, 8
SPEEDS = np.linspace(0.5, 30.0, 60)
# Conner, Tang, Dowell & Virgin (1997), for one metre of span; from memory.
RIG = Section(
    ("plunge", "pitch", "surface"), 0.127, -0.5, 1.558, hinge_line=0.5, plunging_mass=3.3843,
    pitch_static_moment=0.08587, surface_static_moment=0.00395, pitch_inertia=0.01347, surface_inertia=0.0003264,
    plunge_stiffness=2818.8, pitch_stiffness=37.3, surface_stiffness=3.9,
)  # fmt: skip
NAMES = (
    "mass", "plunging_mass", "pitch_static_moment", "surface_static_moment", "pitch_inertia", "surface_inertia",
    "plunge_stiffness", "pitch_stiffness", "surface_stiffness",
)  # fmt: skip
TASK = FlutterTask(
    Air(density=1.225), (0.5, 30.0), section=RIG,
    scatter=tuple(ScatteredField(f"section.{name}", relative=0.05) for name in NAMES),
)  # fmt: skip
FIELDS = [one.field for one in TASK.scatter]


def lag(k: float) -> complex:
    """Give C(k) for one k."""
    if hankel2 is None:
        return complex(theodorsen(1j * k))
    first, zeroth = hankel2(1, k), hankel2(0, k)
    return complex(first / (first + 1j * zeroth))


def plain_sweep(system: AeroelasticSystem) -> list[list[complex]]:
    """Follow three modes over the speeds by p-k."""
    (group,) = system.wakes
    mass = whole_mass(system)
    inverse = np.linalg.inv(mass)
    still = np.sqrt(np.sort(np.linalg.eigvals(inverse @ system.stiffness).real))
    modes = [[1j * omega] for omega in still]
    for speed in SPEEDS:
        for mode in modes:
            root = mode[-1]
            for _ in range(20):
                delay = lag(max(abs(root.imag) * group.semichord / speed, 1e-4))
                damping = speed * (system.air_damping + delay * group.damping)
                stiffness = system.stiffness + speed**2 * (system.air_stiffness + delay * group.stiffness)
                state = np.block([[np.zeros((3, 3)), np.eye(3)], [-inverse @ stiffness, -inverse @ damping]])
                values = np.linalg.eig(state)[0]
                values = values[values.imag > 0]
                found = values[np.argmin(np.abs(values - root))]
                done = abs(found - root) < 1e-6 * abs(found)
                root = complex(found)
                if done:
                    break
            mode.append(root)
    return modes


def plain_onset(system: AeroelasticSystem) -> float:
    """Give the lowest speed at which a followed mode starts to grow, between two speeds by a straight line."""
    lowest = np.inf
    for mode in plain_sweep(system):
        growth = np.array([root.real for root in mode[1:]])
        (up,) = np.nonzero((growth[:-1] < 0) & (growth[1:] >= 0))
        if len(up):
            index = up[0]
            part = growth[index] / (growth[index] - growth[index + 1])
            lowest = min(lowest, float(SPEEDS[index] + part * (SPEEDS[index + 1] - SPEEDS[index])))
    return lowest


def floor_of(number: int) -> Callable[[], object]:
    """Give nothing but the eigenvalues that the plain script needs, all stacked in one call."""
    matrices = np.random.default_rng(0).standard_normal((number, 6, 6))
    return lambda: np.linalg.eigvals(matrices)


def seconds(run: Callable[[], object]) -> float:
    """Time one call."""
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


def line(words: str, value: float, against: float | None = None) -> None:
    """Print one result."""
    ratio = "" if against is None else f"   plain over this: {against / value:,.1f}"
    print(f"{words:<58}{value * 1e3:12,.2f} ms{ratio}")


def main() -> None:
    """Print medians and ratios."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    first = seconds(lambda: scatter_onsets(TASK, 10))
    values, _ = draws(TASK, Chunk(0, 1000, 0))
    few = [build_system(changed(TASK, FIELDS, row)) for row in values[:FEW]]
    ours, solve, plain, sweep, floor = [], [], [], [], []
    nominal = build_system(TASK)
    eigenvalues = floor_of(615)
    for _ in range(rounds):
        ours.append(seconds(lambda: scatter_onsets(TASK, SAMPLES)))
        solve.append(10 * seconds(lambda: onsets_of(TASK, FIELDS, values)))
        plain.append(seconds(lambda: [plain_onset(system) for system in few]) / FEW)
        sweep.append(seconds(lambda: roots_by_speed(nominal, SPEEDS.tolist(), theodorsen)))
        floor.append(seconds(eigenvalues))
    ours_at, solve_at, one, sweep_at, floor_at = map(statistics.median, (ours, solve, plain, sweep, floor))
    print(f"{SAMPLES:,} samples of a strip, 60 speeds, NumPy {np.__version__}, C by "
          f"{'Hankel functions' if hankel2 else 'ours'} in the plain script, rounds {rounds}")  # fmt: skip
    line("first call, ten samples", first)
    line(f"plain script, {SAMPLES:,} onsets (from {FEW})", one * SAMPLES)
    line(f"its floor: the eigenvalues alone, {SAMPLES:,} times 615", floor_at * SAMPLES, one * SAMPLES)
    line(f"ours, {SAMPLES:,} onsets, matrices to speeds", solve_at, one * SAMPLES)
    line(f"ours, {SAMPLES:,} onsets with draws, checks and quantiles", ours_at, one * SAMPLES)
    line("plain script, one sweep", one)
    line("ours, one sweep, complex roots proved complete", sweep_at, one)
    found = onsets_of(TASK, FIELDS, values[:FEW]).speeds
    off = max(abs(plain_onset(system) - speed) / speed for system, speed in zip(few, found, strict=True))
    print(f"largest difference of the onsets on {FEW} samples: {off:.1e} (the plain one interpolates)")
    for freedoms, given in (("2", ("plunge", "pitch")), ("3", RIG.freedoms)):
        task = FlutterTask(TASK.air, TASK.speeds, section=replace(RIG, freedoms=given), scatter=TASK.scatter[:1])
        line(f"1,000 onsets, {freedoms} freedoms", seconds(lambda task=task: scatter_onsets(task, 1000)))
    for samples in (100, 1000, 10_000):
        line(f"{samples:,} onsets", seconds(lambda samples=samples: scatter_onsets(TASK, samples)))


if __name__ == "__main__":
    main()
