"""Ten thousand scattered onset speeds, and one sweep of roots by speed: ours, a plain script, and the floor.

Run ``python benchmarks/flutter.py [rounds]`` with one thread of linear algebra (OPENBLAS_NUM_THREADS=1), and
NUMBA_CACHE_DIR naming a folder, if compiled loops are to be kept. Everything is timed in this one run, in turn; the
plain script on a few samples, and scaled up. Prints medians and ratios, how cost grows, and whole processes.

The plain script is what one writes in an afternoon: p-k, a 6 x 6 eigenproblem at each step, C(k) by Hankel functions of
an outside package where there is one, by ours where not, and the nearest root followed from speed to speed.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import numpy as np

from hingeline.flutter.build import build_system
from hingeline.flutter.model import Air, FlutterTask, ScatteredField, Section, Wing
from hingeline.flutter.onsets import onsets_of
from hingeline.flutter.roots import roots_by_speed
from hingeline.flutter.scatter import Chunk, draws, scatter_onsets
from hingeline.flutter.solve import analyse
from hingeline.flutter.stacks import changed
from hingeline.flutter.system import AeroelasticSystem, whole_mass
from hingeline.flutter.wake import theodorsen
from hingeline.flutter.which_way import CompiledLoops, compiled_loops

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
NOMINAL = build_system(TASK)
ROOT = Path(__file__).resolve().parent.parent


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


def work(run: Callable[[], object]) -> tuple[float, float]:
    """Time one call by the clock and by the processor's own count, which a busy machine disturbs less."""
    start = time.process_time()
    taken = seconds(run)
    return taken, time.process_time() - start


def line(words: str, value: float, against: float | None = None) -> None:
    """Print one result."""
    ratio = "" if against is None else f"   plain over this: {against / value:,.1f}"
    print(f"{words:<62}{value * 1e3:12,.2f} ms{ratio}")


def shared(values: np.ndarray, loops: CompiledLoops | None, threads: int) -> Callable[[], object]:
    """Give the work of finding all onsets, its samples shared among threads."""
    parts = np.array_split(values, threads)
    if threads == 1:
        return lambda: onsets_of(TASK, FIELDS, values, loops=loops)
    pool = ThreadPoolExecutor(threads)
    return lambda: list(pool.map(lambda part: onsets_of(TASK, FIELDS, part, loops=loops), parts))


def process(*words: str, **variables: str) -> float:
    """Time a whole process of the command."""
    command = [sys.executable, "-P", "-m", "hingeline_app", "flutter", *words]
    surroundings = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "OPENBLAS_NUM_THREADS": "1", **variables}
    return seconds(lambda: subprocess.run(command, check=True, capture_output=True, env=surroundings))


def job_file(folder: Path) -> Path:
    """Write the rig as a file for the command."""
    lines = [
        'format = "hingeline/flutter/1"',
        'air = {density = "1.225 kg/m^3"}',
        'speeds = ["0.5 m/s", "30 m/s"]',
        "[section]",
    ]
    lines.append('freedoms = ["plunge", "pitch", "surface"]')
    units = {"semichord": "m", "mass": "kg/m", "plunging_mass": "kg/m", "plunge_stiffness": "N/m^2"}
    for name in ("semichord", "elastic_axis", "hinge_line", *NAMES):
        unit = units.get(name, "kg" if "moment" in name else "kg m" if "inertia" in name else "N")
        value = getattr(RIG, name)
        lines.append(f"{name} = {value}" if name in ("elastic_axis", "hinge_line") else f'{name} = "{value} {unit}"')
    lines += ["[scatter]", *(f'"section.{name}" = 0.05' for name in NAMES)]
    path = folder / "rig.toml"
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


def whole_processes(one: float) -> None:
    """Time the command from start to end, and what a cold start adds."""
    with tempfile.TemporaryDirectory() as folder:
        words = [str(job_file(Path(folder))), "--json", "--scatter", str(SAMPLES)]
        kept = {"NUMBA_CACHE_DIR": f"{folder}/kept"}
        line("whole process, nothing compiled yet", process(*words, **kept), one * SAMPLES)
        line("whole process, loops kept", min(process(*words, **kept) for _ in range(3)), one * SAMPLES)
        unkept = {"XDG_CACHE_HOME": "", "HOME": "", "NUMBA_CACHE_DIR": ""}
        line("whole process, by NumPy", min(process(*words, **unkept) for _ in range(3)), one * SAMPLES)
        line("whole process, no scatter", min(process(*words[:2]) for _ in range(3)))


def growth(loops: CompiledLoops | None, values: np.ndarray) -> None:
    """Print how cost grows with freedoms, speeds, samples and cores."""
    for way, words in ((None, "NumPy"), (loops, "compiled")):
        for freedoms in (("plunge", "pitch"), RIG.freedoms):
            task = FlutterTask(TASK.air, TASK.speeds, section=replace(RIG, freedoms=freedoms))
            given = FIELDS[4:5], values[:1000, 4:5]
            taken = seconds(lambda task=task, given=given, way=way: onsets_of(task, *given, loops=way))
            line(f"1,000 onsets, {len(freedoms)} freedoms, {words}", taken)
        for samples in (100, 1000, 10_000):
            taken = seconds(lambda samples=samples, way=way: onsets_of(TASK, FIELDS, values[:samples], loops=way))
            line(f"{samples:,} onsets, {words}", taken)
        for speeds in (30, 60, 240):
            many = np.linspace(0.5, 30.0, speeds).tolist()
            taken = min(
                seconds(lambda many=many, way=way: roots_by_speed(NOMINAL, many, theodorsen, way)) for _ in range(3)
            )
            line(f"sweep of {speeds} speeds, {words}", taken)
    for modes in (1, 2, 4):
        wing = Wing(6.096, 0.9144, -0.34, 35.72, 0.2, 8.64, 9.77e6, 9.87e5, modes, modes)
        task = FlutterTask(Air(density=1.225), (20.0, 200.0), wing=wing)
        line(
            f"analysis of a wing, {2 * modes} freedoms, proved",
            min(seconds(lambda task=task: analyse(task)) for _ in range(2)),
        )


def main() -> None:
    """Print medians and ratios."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    loops = compiled_loops()
    values = np.concatenate([draws(TASK, Chunk(number, 1000, 0))[0] for number in range(SAMPLES // 1000)])
    few = [build_system(changed(TASK, FIELDS, row)) for row in values[:FEW]]
    if loops is not None:
        line("compiling, or reading what was kept", seconds(lambda: onsets_of(TASK, FIELDS, values[:10], loops=loops)))
    ways: dict[str, tuple[Callable[[], object], int]] = {
        f"plain script, {SAMPLES:,} onsets (from {FEW})": (
            lambda: [plain_onset(system) for system in few],
            SAMPLES // FEW,
        ),
        f"its floor: the eigenvalues alone, {SAMPLES:,} times 615": (floor_of(615), SAMPLES),
        f"ours, {SAMPLES:,} onsets, NumPy": (shared(values, None, 1), 1),
        f"ours, {SAMPLES:,} onsets with draws, checks and quantiles": (lambda: scatter_onsets(TASK, SAMPLES), 1),
        "ours, one sweep, NumPy, proved complete": (lambda: roots_by_speed(NOMINAL, SPEEDS.tolist(), theodorsen), 1),
    }
    if loops is not None:
        for threads in (1, os.cpu_count() or 1):
            ways[f"ours, {SAMPLES:,} onsets, compiled, {threads} thread(s)"] = (shared(values, loops, threads), 1)
        ways["ours, one sweep, compiled"] = (lambda: roots_by_speed(NOMINAL, SPEEDS.tolist(), theodorsen, loops), 1)
    times: dict[str, list[tuple[float, float]]] = {words: [] for words in ways}
    for _ in range(rounds):
        for words, (run, factor) in ways.items():
            times[words].append(tuple(factor * part for part in work(run)))
    print(f"{SAMPLES:,} samples of a strip, 60 speeds, NumPy {np.__version__}, C by "
          f"{'Hankel functions' if hankel2 else 'ours'} in the plain script, rounds {rounds}, "
          f"{'with' if loops else 'without'} a compiler")  # fmt: skip
    clock, processor = (
        {words: statistics.median(each[part] for each in found) for words, found in times.items()} for part in (0, 1)
    )
    first = next(iter(times))
    plain = clock[first]
    for words in times:
        share = SAMPLES if "sweep" in words else 1
        line(words, clock[words], plain / share)
        print(f"{'':<77}by the processor's count: {processor[first] / share / processor[words]:,.1f}")
    found = onsets_of(TASK, FIELDS, values[:FEW], loops=loops).speeds
    off = max(abs(plain_onset(system) - speed) / speed for system, speed in zip(few, found, strict=True))
    print(f"largest difference of the onsets on {FEW} samples: {off:.1e} (the plain one interpolates)")
    growth(loops, values)
    whole_processes(plain / SAMPLES)


if __name__ == "__main__":
    main()
