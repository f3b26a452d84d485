"""Flutter models by the thousand, as scatter asks for them: python -m tests.faults.fuzzing.at_once FIRST BLOCKS.

A block is a thousand sections whose masses, moments, inertias and springs are each drawn over two powers of ten, those
that no body can have left out. Every answer is an onset in the range or none; one of a thousand is found again one by
one, by the k-method and by counting.
"""

from __future__ import annotations

import json
import sys
import time
from dataclasses import replace
from typing import Any

import numpy as np

from hingeline.errors import RoutesDisagree
from hingeline.flutter import FlutterTask
from hingeline.flutter.onsets import onsets_of
from hingeline.flutter.stacks import masses_of
from hingeline.flutter.which_way import compiled_loops
from tests.faults.fuzzing.rooms import models

FIELDS = (
    "mass", "pitch_static_moment", "surface_static_moment", "pitch_inertia", "surface_inertia",
    "plunge_stiffness", "pitch_stiffness", "surface_stiffness",
)  # fmt: skip
NAMES = tuple(f"section.{name}" for name in FIELDS)
SIGNED = np.array([name.endswith("static_moment") for name in FIELDS])
BLOCK, ALIKE = 1000, 1e-6


def whole() -> FlutterTask:
    """The section of the examples, without its scatter."""
    return replace(models()[0], scatter=())


def drawn(task: FlutterTask, seed: int) -> Any:
    """Draw a thousand sections that can be bodies."""
    draw = np.random.default_rng(seed)
    nominal = np.array([getattr(task.section, name) for name in FIELDS])
    found: list[Any] = []
    while sum(map(len, found)) < BLOCK:
        values = nominal * 10.0 ** draw.uniform(-1.0, 1.0, (2 * BLOCK, len(FIELDS)))
        values[:, SIGNED] *= draw.choice((-1.0, 1.0), (2 * BLOCK, int(SIGNED.sum())))
        found.append(values[np.linalg.eigvalsh(masses_of(task, NAMES, values))[:, 0] > 0.0])
    return np.concatenate(found)[:BLOCK]


def faults_of(task: FlutterTask, values: Any, again: slice) -> tuple[int, list[str]]:
    """Ask for all onsets at once, and for some one by one; how many have one, and what is wrong."""
    low, high = task.speeds
    found = onsets_of(task, NAMES, values, loops=compiled_loops())
    has = np.isfinite(found.speeds)
    outside = has & ~((low <= found.speeds) & (found.speeds <= high))
    wrong = outside | np.isnan(found.speeds) | (found.growing & has)
    faults = [f"row {row}: {found.speeds[row]}, growing {found.growing[row]}" for row in np.flatnonzero(wrong)]
    try:
        slow = onsets_of(task, NAMES, values[again], thorough=True)
    except RoutesDisagree as fault:
        return int(has.sum()), [*faults, f"one by one: {fault}"]
    same = np.isclose(slow.speeds, found.speeds[again], rtol=ALIKE, atol=0.0) & (slow.growing == found.growing[again])
    faults += [f"{found.speeds[again][n]} and one by one {slow.speeds[n]}" for n in np.flatnonzero(~same)]
    return int(has.sum()), faults


def main() -> int:
    """Go through the blocks, and tell."""
    first, blocks = map(int, sys.argv[1:])
    started, task, onsets, faults = time.process_time(), whole(), 0, 0
    for seed in range(first, first + blocks):
        some, found = faults_of(task, drawn(task, seed), slice(0, 1))
        onsets, faults = onsets + some, faults + len(found)
        for each in found:
            print("seed", seed, each, flush=True)
        told = {"next": seed + 1, "tried": BLOCK * (seed + 1 - first), "onsets": onsets, "faults": faults}
        if seed % 20 == 19:
            print(json.dumps(told | {"s": round(time.process_time() - started, 1)}), flush=True)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
