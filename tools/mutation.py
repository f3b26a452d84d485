"""Spoil the rooms that decide, one small change at a time, and see whether their tests notice.

    mutation.py ROOM [--sample N] [--seed K] [--only PART]

Each change is one a hand could make (``small_changes.py``). A change is noticed when a test of its room fails, or takes
too long. What is not noticed is told with its place. Every change runs in a process of its own: one inside a function
is forked from a process that has the tests gathered (``mutation_in_place.py``), one that acts when its module is loaded
from a process that has only the outside packages loaded. Do not edit the sources meanwhile. Exit 0 where nine of ten
are noticed.
"""

from __future__ import annotations

import argparse
import contextlib
import importlib
import importlib.abc
import importlib.machinery
import json
import math
import os
import random
import sys
import tempfile
import time
import tomllib
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from types import ModuleType

from mutation_in_place import (
    DATABASE,
    SLOWER,
    AtGathering,
    InPlace,
    Lines,
    MadeBefore,
    can_be_replaced,
    in_child,
    quietly,
)
from small_changes import ROOT, SOURCE, Change, changes_of_file

Room = dict[str, list[str]]
ROOMS: dict[str, Room] = tomllib.loads((ROOT / "tools" / "mutation.toml").read_text("utf-8"))

# -------------------------------------------------------------------- whether it is noticed


class Spoiled(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Load one module from its spoiled code."""

    def __init__(self, change: Change) -> None:
        """Keep the change."""
        self.change = change

    def find_spec(self, name: str, path: object = None, target: object = None) -> importlib.machinery.ModuleSpec | None:
        """Find the one module."""
        if name != self.change.module:
            return None
        spec = importlib.machinery.ModuleSpec(
            name, self, origin=self.change.file, is_package="__init__" in self.change.file
        )
        if spec.submodule_search_locations is not None:
            spec.submodule_search_locations.append(str((ROOT / self.change.file).parent))
        return spec

    def exec_module(self, module: ModuleType) -> None:
        """Run the spoiled code."""
        exec(self.change.code(), module.__dict__)


def noticed(change: Change, room: Room, longest: int) -> bool:
    """Run the tests of a room against a change in a child that loads it anew, for so many seconds."""
    return in_child(lambda: _tested(change, room), longest)


def _tested(change: Change, room: Room) -> None:
    sys.meta_path.insert(0, Spoiled(change))
    # The room's own and quick ones by themselves: most changes need no more, and to gather the rest takes longer.
    if any(gathered(some, room, MadeBefore()) for some in _in_turn(change, room)):
        raise AssertionError


def gathered(tests: Sequence[str], room: Room, *ours: object) -> int:
    """Gather tests, and run them in the loop that there is; the exit status."""
    import pytest

    with contextlib.chdir(ROOT), tempfile.NamedTemporaryFile("w", suffix=".ini") as settings:
        settings.write(f"[pytest]\npythonpath = {SOURCE} {ROOT}\naddopts = --import-mode=importlib\n")
        settings.flush()
        quiet = ["-x", "-q", "-s", "--noconftest", "--assert=plain", "-p", "no:cacheprovider", "--doctest-modules"]
        # Looking for what nobody raised gathers all garbage at each end, and says nothing about a change.
        quiet += ["-c", settings.name, "--rootdir", str(ROOT), "-p", "no:unraisableexception"]
        for plugin in room.get("plugins", ()):
            quiet += ["-p", plugin]
        return int(pytest.main([*quiet, *tests], plugins=list(ours)))


def _in_turn(change: Change, room: Room) -> Iterator[list[str]]:
    """Give the tests that bear the changed module's name, then the other quick ones, then the rest."""
    name = f"test_{Path(change.file).stem}.py"
    own = [each for each in [*room["quick"], *room["tests"]] if each.endswith(f"/{name}")]
    if own:
        yield own
    for some in (room["quick"], room["tests"]):
        yield [each for each in some if each not in own]


def lines_at_gathering(name: str) -> Lines:
    """Give the lines of a room that are taken while its tests are gathered."""
    with tempfile.TemporaryFile("w+") as told:
        in_child(lambda: gathered(_all(name), ROOMS[name], AtGathering(_files(name), told)))
        told.seek(0)
        return {file: set(lines) for file, lines in json.load(told).items()}


def told_in_place(name: str, changes: Sequence[Change], how: argparse.Namespace) -> Iterator[str]:
    """Give the seconds that the tests take without a change, then of each change whether they notice it."""
    reading, writing = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reading)
        quietly()
        with os.fdopen(writing, "w") as told:
            in_place = InPlace(changes, _files(name), told, how.kept, lines_only=how.lines_only)
            gathered(_all(name), ROOMS[name], MadeBefore(), in_place)
        os._exit(0)
    os.close(writing)
    with os.fdopen(reading) as told:
        yield from map(str.strip, told)
    os.waitpid(child, 0)


def _all(name: str) -> list[str]:
    return [*ROOMS[name]["quick"], *ROOMS[name]["tests"]]


def _files(name: str) -> list[Path]:
    return [path for pattern in ROOMS[name]["files"] for path in sorted(SOURCE.glob(pattern))]


def make_ready(room: str) -> None:
    """Load what every child needs and no change touches."""
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    sys.dont_write_bytecode = True
    sys.path[:0] = [str(SOURCE), str(ROOT)]
    import hypothesis
    import numpy  # noqa: F401
    import pydantic  # noqa: F401
    import scipy.stats  # noqa: F401

    # Twenty examples a law: a change that only the hundredth sees counts as not noticed.
    hypothesis.settings.register_profile("spoiled", deadline=None, derandomize=True, max_examples=20, database=None)
    hypothesis.settings.load_profile("spoiled")
    for name in ROOMS[room]["ready"]:
        importlib.import_module(name)
    if DATABASE in ROOMS[room].get("plugins", ()):
        _database_ready()
    touched = {".".join(path.relative_to(SOURCE).with_suffix("").parts) for path in _files(room)}
    assert not touched & set(sys.modules), touched & set(sys.modules)


def _database_ready() -> None:
    """Make the database of the tests once; every child opens it again, and takes back what it wrote."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "hingeline_app.settings.test"
    import django
    from django.conf import settings
    from django.db import connection

    django.setup()
    Path(settings.DATA_FOLDER).mkdir(parents=True, exist_ok=True)
    connection.creation.create_test_db(verbosity=0, autoclobber=True)
    connection.close()


# -------------------------------------------------------------------- the report


def main() -> int:
    """Spoil a room and tell what its tests did not notice."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("room", choices=sorted(ROOMS))
    asked.add_argument("--sample", type=int, help="so many changes, drawn; without it all")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--only", default="", help="files whose path holds this")
    asked.add_argument("--skip", type=int, default=0, help="go on after so many of the draw")
    asked.add_argument("--kept", type=Path, help="which test takes which line: read where it is, else written")
    asked.add_argument("--lines-only", action="store_true", help="leave out the tests that do not take the line")
    given = asked.parse_args()
    make_ready(given.room)
    changes = [each for path in _files(given.room) for each in changes_of_file(path) if given.only in each.file]
    every = len(changes)
    if given.sample is not None and given.sample < every:
        changes = random.Random(given.seed).sample(changes, given.sample)
    return told(given.room, every, each_noticed(given.room, changes[given.skip :], given))


def each_noticed(room: str, changes: Sequence[Change], how: argparse.Namespace) -> Iterator[tuple[Change, bool]]:
    """Give each change with whether it is noticed, in the order of the draw."""
    early = lines_at_gathering(room)
    in_place = {id(change) for change in changes if can_be_replaced(change, early)}
    lines = told_in_place(room, [change for change in changes if id(change) in in_place], how)
    first = next(lines, None)
    if first is None:
        sys.exit("the tests of this room fail without any change: nothing was spoiled")
    longest = 1 + math.ceil(SLOWER * float(first))
    for change in changes:
        yield change, next(lines) == "noticed" if id(change) in in_place else noticed(change, ROOMS[room], longest)


def told(room: str, every: int, found: Iterable[tuple[Change, bool]]) -> int:
    """Tell of each change that nobody noticed, and close with the count; zero from nine of ten."""
    started, missed, changes = time.monotonic(), [], []
    for number, (change, is_noticed) in enumerate(found, 1):
        changes.append(change)
        if not is_noticed:
            missed.append(change)
            print(f"{change.file}:{change.line}: {change.what}", flush=True)
        if number % 5 == 0:
            print(f"    {number}, {len(missed)} not noticed, {time.monotonic() - started:.0f} s", flush=True)
    of_file, missed_in = Counter(each.file for each in changes), Counter(each.file for each in missed)
    for file, count in sorted(of_file.items()):
        print(f"{file:<52} {count - missed_in[file]:>4} of {count:>4}")
    share = 1.0 - len(missed) / max(1, len(changes))
    print(f"{room}: {len(changes) - len(missed)} of {len(changes)} noticed ({100 * share:.1f} %), of {every} in all")
    return 0 if share >= 0.9 else 1


if __name__ == "__main__":
    sys.exit(main())
