"""Take the guards of tests/faults/guards.toml out, one at a time, in a copy, and see that a test of the fault fails.

    tools/guards.py [WORDS]    all of them, or those whose name has the words in it

Writes docs/guards.md. Run it with the environment that ``./check`` makes; the files here are not touched.
"""

from __future__ import annotations

import datetime
import json
import os
import shutil
import subprocess
import sys
import tempfile
import tomllib
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
GUARDS = ROOT / "tests" / "faults" / "guards.toml"
SEEN = ROOT / "tests" / "faults" / "guards_seen.json"
PAGE = ROOT / "docs" / "guards.md"
FAILED, PASSED = 1, 0
NOTICED = "noticed"

INTRODUCTION = """\
# Guards that were taken out

Written by `tools/guards.py` from `tests/faults/guards.toml`; do not edit it. A test that passes shows little, unless
it fails once what it tests is gone. Each guard below was taken out in a copy of the program, alone, and the test named
beside it was run: it has to fail. What the faults are is told in [faults.md](faults.md).

| guard taken out | faults | where | test | last tried | the test |
|---|---|---|---|---|---|
"""


@dataclass(frozen=True)
class Guard:
    """A guard, and how it is taken out."""

    faults: list[str]
    guard: str
    file: str
    old: str
    new: str
    test: str


def main(words: list[str]) -> int:
    """Try the guards, and write what was seen."""
    seen = read_seen()
    chosen = [each for each in guards() if not words or " ".join(words) in each.guard]
    with tempfile.TemporaryDirectory() as folder:
        copy = copied(Path(folder) / "without")
        for each in chosen:
            outcome = tried(each, copy)
            print(f"{each.guard}: {outcome}", flush=True)
            seen[each.guard] = [datetime.date.today().isoformat(), outcome]
            SEEN.write_text(json.dumps(seen, indent=1, sort_keys=True) + "\n", encoding="utf-8")
    PAGE.write_text(page(), encoding="utf-8")
    return int(any(seen[each.guard][1] != NOTICED for each in chosen))


def guards() -> list[Guard]:
    """Read the guards in the order of their first fault."""
    found = [Guard(**each) for each in tomllib.loads(GUARDS.read_text("utf-8"))["guard"]]
    return sorted(found, key=lambda each: each.faults)


def read_seen() -> dict[str, list[str]]:
    """Read when each guard was tried last, and what was seen."""
    seen: dict[str, list[str]] = json.loads(SEEN.read_text("utf-8")) if SEEN.is_file() else {}
    return seen


def copied(to: Path) -> Path:
    """Copy the files of the project, without what is made from them."""
    left_out = shutil.ignore_patterns(".git", ".venv*", "__pycache__", ".*_cache", ".hypothesis")
    return Path(shutil.copytree(ROOT, to, ignore=left_out, symlinks=True))


def tried(guard: Guard, copy: Path) -> str:
    """Take a guard out of the copy, run its test, put the guard back."""
    path = copy / guard.file
    whole = path.read_text("utf-8")
    assert whole.count(guard.old) == 1, f"{guard.guard}: not once in {guard.file}"
    path.write_text(whole.replace(guard.old, guard.new), encoding="utf-8")
    try:
        status = run_test(guard.test.split(), copy)
    finally:
        path.write_text(whole, encoding="utf-8")
    return {FAILED: NOTICED, PASSED: "NOT noticed"}.get(status, f"could not be run (status {status})")


def run_test(names: list[str], copy: Path) -> int:
    """Run tests in the copy until one fails; give pytest's status."""
    command = [sys.executable, "-B", "-m", "pytest", "-q", "-x", "-n0", "-p", "no:cacheprovider", "-m", "not campaign"]
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("PYTEST_", "DJANGO_"))}
    done = subprocess.run(
        [*command, *names],
        cwd=copy,
        env=kept | {"PYTHONPATH": os.fspath(copy / "src")},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        timeout=1200,
    )
    return done.returncode


def page() -> str:
    """Give the whole page."""
    seen = read_seen()
    return INTRODUCTION + "".join(row(each, *seen.get(each.guard, ["never", ""])) for each in guards())


def row(guard: Guard, day: str, outcome: str) -> str:
    """Write one line."""
    first, _, others = guard.test.replace("::", "`: `").partition(" tests/")
    tests = f"`{first}`{' and others' if others else ''}"
    return f"| {guard.guard} | {', '.join(guard.faults)} | `{guard.file}` | {tests} | {day} | {outcome} |\n"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
