"""Other instructions, another linear algebra, another order of sets: the same statements, the numbers within 1e-9.

A processor of another make cannot be had here. What differs between them can: the instructions that numpy and its
linear algebra choose by the processor that they find are told to be those of older ones.
"""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.doors.checkouts import ROOT

PROGRAM = Path(__file__).with_name("answering_elsewhere.py")
TOLERANCE = 1e-9
ELSEWHERE = {
    "another order of sets": {"PYTHONHASHSEED": "31337"},
    "linear algebra of an older processor": {"OPENBLAS_CORETYPE": "Nehalem", "OPENBLAS_NUM_THREADS": "1"},
    "no wide instructions": {"NPY_DISABLE_CPU_FEATURES": "AVX2 FMA3", "PYTHONHASHSEED": "7"},
}

KERNELS = ("Prescott", "Nehalem", "Sandybridge", "Haswell", "SkylakeX", "Zen")
"""Linear algebra as for these processors; one that this machine cannot do is left by the package for another."""
FURTHER = {
    **{f"linear algebra for {each}": {"OPENBLAS_CORETYPE": each, "OPENBLAS_NUM_THREADS": "2"} for each in KERNELS},
    "one thread": {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "PYTHONHASHSEED": "1"},
    "one processor": {"ONE_PROCESSOR": "yes", "PYTHONHASHSEED": "2"},
    "no instructions beyond the oldest": {
        "NPY_DISABLE_CPU_FEATURES": "AVX2 FMA3 AVX512F AVX512CD AVX512_SKX", "OPENBLAS_CORETYPE": "Prescott"},
}  # fmt: skip


def answers(*words: str, **more: str) -> Any:
    """Give what the commands answer in such surroundings."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "OPENBLAS", "NPY"))}
    surroundings = kept | {"PYTHONPATH": str(ROOT / "src"), "PYTHONHASHSEED": "0"} | more
    one = {min(os.sched_getaffinity(0))}
    done = subprocess.run(
        [sys.executable, PROGRAM, *words], env=surroundings, capture_output=True, text=True, timeout=900, check=False,
        preexec_fn=(lambda: os.sched_setaffinity(0, one)) if "ONE_PROCESSOR" in more else None,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def differences(here: Any, there: Any, at: str = "") -> list[str]:
    """Name each place where two documents say something else: words exactly, numbers within the tolerance."""
    if isinstance(here, dict) and isinstance(there, dict) and set(here) == set(there):
        return [found for name in here for found in differences(here[name], there[name], f"{at}.{name}")]
    if isinstance(here, list) and isinstance(there, list) and len(here) == len(there):
        return [
            found for n, pair in enumerate(zip(here, there, strict=True)) for found in differences(*pair, f"{at}.{n}")
        ]
    if isinstance(here, float) and isinstance(there, int | float):
        return [] if math.isclose(here, there, rel_tol=TOLERANCE, abs_tol=TOLERANCE) else [f"{at}: {here} {there}"]
    return [] if here == there else [f"{at}: {here} {there}"]


@pytest.fixture(scope="module")
def here() -> Any:
    return answers()


@pytest.mark.fault("F42")
@pytest.mark.slow
@pytest.mark.parametrize("kind", ELSEWHERE)
def test_the_same_is_answered_elsewhere(kind: str, here: Any) -> None:
    """Nine examples by seven commands: statement, words, order, and every number."""
    assert {each["status"] for each in here.values()} == {0}
    assert differences(here, answers(**ELSEWHERE[kind])) == []


@pytest.fixture(scope="module")
def pages_here() -> Any:
    return answers("--pages")


@pytest.mark.fault("F42")
@pytest.mark.campaign
@pytest.mark.parametrize("kind", FURTHER)
def test_the_same_pages_are_shown_elsewhere(kind: str, pages_here: Any) -> None:
    """And what a person is shown, every digit of it, by nine more kinds of processor."""
    there = answers("--pages", **FURTHER[kind])
    assert differences(pages_here, there) == []


def test_a_difference_would_be_seen() -> None:
    there = {"statement": "inside", "values": [1.0, 2.0]}
    assert differences({"statement": "inside", "values": [1.0, 2.0 + 1e-8]}, there) == [".values.1: 2.00000001 2.0"]
    assert differences({"statement": "outside", "values": [1.0, 2.0]}, there) == [".statement: outside inside"]
    assert differences({"statement": "inside"}, there) != []
