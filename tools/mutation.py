"""Spoil the rooms that decide, one small change at a time, and see whether their tests notice.

    mutation.py ROOM [--sample N] [--seed K] [--only PART]

Each change is one a hand could make: a boundary moved, a sign turned, a condition negated, a step left out. A change
is noticed when a test of its room fails, or takes too long. Sentences are not changed: their own tests hold them.
What is not noticed is told with its place. Every change runs in a process of its own, forked from one that has the
outside packages loaded; do not edit the sources meanwhile. Exit 0 where nine of ten are noticed.
"""

from __future__ import annotations

import argparse
import ast
import contextlib
import copy
import importlib
import importlib.abc
import importlib.machinery
import math
import os
import random
import resource
import sys
import tempfile
import time
import tomllib
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from types import CodeType, ModuleType

ROOT = Path(__file__).resolve().parent.parent
SOURCE = ROOT / "src"
Room = dict[str, list[str]]
ROOMS: dict[str, Room] = tomllib.loads((ROOT / "tools" / "mutation.toml").read_text("utf-8"))
DATABASE = "pytest_django.plugin"
SLOWER = 3
"""A change counts as noticed when the tests take so many times the core's time without it: something became endless."""

COMPARISONS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
SUMS: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Div,
    ast.Mod: ast.Mult, ast.Pow: ast.Mult,
}  # fmt: skip
CALLS = {"min": "max", "max": "min", "any": "all", "all": "any", "floor": "ceil", "ceil": "floor"}


@dataclass(frozen=True)
class Change:
    """One place to spoil: the module, where, what is done, and how."""

    module: str
    file: str
    line: int
    what: str
    place: int
    spoil: Callable[[ast.AST], ast.AST]

    def code(self) -> CodeType:
        """Compile the module with this place spoiled."""
        path = ROOT / self.file
        return compile(_spoiled(ast.parse(path.read_text("utf-8")), self.place, self.spoil), str(path), "exec")


Made = tuple[str, Callable[[ast.AST], ast.AST]]


# -------------------------------------------------------------------- what can be changed


def ways(node: ast.AST) -> Iterator[Made]:
    """Give every way to spoil one node: in words, and a function that spoils a copy of it."""
    for kind, found in _WAYS.items():
        if isinstance(node, kind):
            yield from found(node)


def _of_comparison(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.Compare)
    for place, operator in enumerate(node.ops):
        other = COMPARISONS[type(operator)]
        yield (
            f"{type(operator).__name__} becomes {other.__name__}",
            partial(_with, field="ops", place=place, kind=other),
        )


def _of_sum(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.BinOp | ast.AugAssign)
    other = SUMS.get(type(node.op))
    if other is not None:
        yield f"{type(node.op).__name__} becomes {other.__name__}", lambda spoiled: _set(spoiled, "op", other())


def _of_and_or(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.BoolOp)
    other = ast.Or if isinstance(node.op, ast.And) else ast.And
    yield f"{type(node.op).__name__} becomes {other.__name__}", lambda spoiled: _set(spoiled, "op", other())


def _of_sign(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.UnaryOp)
    if isinstance(node.op, ast.Not | ast.USub):
        yield f"{type(node.op).__name__} is left out", lambda spoiled: spoiled.operand  # type: ignore[attr-defined]


def _of_condition(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.If | ast.IfExp | ast.While)
    yield (
        "the condition is negated",
        lambda spoiled: _set(spoiled, "test", ast.UnaryOp(ast.Not(), spoiled.test)),  # type: ignore[attr-defined]
    )


def _of_number(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.Constant)
    value = node.value
    if isinstance(value, bool):
        yield f"{value} becomes {not value}", lambda spoiled: _set(spoiled, "value", not value)
    elif isinstance(value, int):
        yield f"{value} becomes {value + 1}", lambda spoiled: _set(spoiled, "value", value + 1)
    elif isinstance(value, float):
        new = 1.0 if value == 0.0 else 1.5 * value
        yield f"{value} becomes {new}", lambda spoiled: _set(spoiled, "value", new)


def _of_return(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.Return)
    if node.value is not None and not (isinstance(node.value, ast.Constant) and node.value.value is None):
        yield "nothing is returned", lambda spoiled: _set(spoiled, "value", ast.Constant(None))


def _of_call(node: ast.AST) -> Iterator[Made]:
    assert isinstance(node, ast.Call)
    called = node.func
    name = called.id if isinstance(called, ast.Name) else called.attr if isinstance(called, ast.Attribute) else ""
    other = CALLS.get(name)
    if other is not None:
        field = "id" if isinstance(called, ast.Name) else "attr"
        yield f"{name} becomes {other}", lambda spoiled: _called(spoiled, field, other)


def _of_step(node: ast.AST) -> Iterator[Made]:
    steps = isinstance(node, ast.AugAssign | ast.Continue | ast.Break) or (
        isinstance(node, ast.Expr) and not isinstance(node.value, ast.Constant)
    )
    if steps:
        yield "the step is left out", lambda spoiled: ast.Pass()


_WAYS: dict[type[ast.AST], Callable[[ast.AST], Iterator[Made]]] = {
    ast.Compare: _of_comparison, ast.BinOp: _of_sum, ast.AugAssign: _of_sum, ast.BoolOp: _of_and_or,
    ast.UnaryOp: _of_sign, ast.If: _of_condition, ast.IfExp: _of_condition, ast.While: _of_condition,
    ast.Constant: _of_number, ast.Return: _of_return, ast.Call: _of_call, ast.stmt: _of_step,
}  # fmt: skip


def _set(node: ast.AST, field: str, value: object) -> ast.AST:
    setattr(node, field, value)
    return node


def _with(node: ast.AST, field: str, place: int, kind: type[ast.AST]) -> ast.AST:
    getattr(node, field)[place] = kind()
    return node


def _called(node: ast.AST, field: str, name: str) -> ast.AST:
    setattr(node.func, field, name)  # type: ignore[attr-defined]
    return node


# -------------------------------------------------------------------- where


def changes_of(room: str) -> list[Change]:
    """Give every change of a room."""
    return [change for path in _files(room) for change in _changes_of_file(path)]


def _files(room: str) -> list[Path]:
    return [path for pattern in ROOMS[room]["files"] for path in sorted(SOURCE.glob(pattern))]


def _changes_of_file(path: Path) -> Iterator[Change]:
    tree = ast.parse(path.read_text("utf-8"))
    module = ".".join(path.relative_to(SOURCE).with_suffix("").parts).removesuffix(".__init__")
    alone = {id(part) for node in ast.walk(tree) for top in _left_alone(node) for part in ast.walk(top)}
    for place, node in enumerate(ast.walk(tree)):
        if id(node) in alone:
            continue
        for what, spoil in ways(node):
            yield Change(module, str(path.relative_to(ROOT)), getattr(node, "lineno", 0), what, place, spoil)


def _left_alone(node: ast.AST) -> Iterator[ast.AST]:
    """Give what decides nothing: annotations, decorators, and what asserts tell the type checker."""
    if isinstance(node, ast.Assert):
        yield node
    if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
        yield node
    for name in ("annotation", "returns"):
        if getattr(node, name, None) is not None:
            yield getattr(node, name)
    yield from getattr(node, "decorator_list", ())


def _spoiled(tree: ast.Module, place: int, spoil: Callable[[ast.AST], ast.AST]) -> ast.Module:
    """Copy the tree and spoil the node at a place of its walk."""
    found = copy.deepcopy(tree)
    node = next(each for number, each in enumerate(ast.walk(found)) if number == place)
    new = spoil(node)
    if new is not node:
        _replace(found, node, new)
    return ast.fix_missing_locations(found)


def _replace(tree: ast.Module, old: ast.AST, new: ast.AST) -> None:
    for parent in ast.walk(tree):
        for field, value in ast.iter_fields(parent):
            if value is old:
                setattr(parent, field, new)
            elif isinstance(value, list) and any(each is old for each in value):
                setattr(parent, field, [new if each is old else each for each in value])


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


def noticed(change: Change | None, room: Room, longest: int = resource.RLIM_INFINITY) -> bool:
    """Run the tests of a room against a change in a child, for so many seconds; None runs them against what stands."""
    child = os.fork()
    if child == 0:
        # By the core's time and not the clock's: on a busy machine nothing is noticed by waiting alone.
        resource.setrlimit(resource.RLIMIT_CPU, (longest, longest))
        os._exit(_tested(change, room))
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) != 0


def _tested(change: Change | None, room: Room) -> int:
    import pytest

    if change is not None:
        sys.meta_path.insert(0, Spoiled(change))
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    with contextlib.chdir(ROOT), tempfile.NamedTemporaryFile("w", suffix=".ini") as settings:
        settings.write(f"[pytest]\npythonpath = {SOURCE} {ROOT}\naddopts = --import-mode=importlib\n")
        settings.flush()
        quiet = ["-x", "-q", "--noconftest", "--assert=plain", "-p", "no:cacheprovider", "--doctest-modules"]
        # Looking for what nobody raised gathers all garbage at each end, and says nothing about a change.
        quiet += ["-c", settings.name, "--rootdir", str(ROOT), "-p", "no:unraisableexception"]
        for plugin in room.get("plugins", ()):
            quiet += ["-p", plugin, "--reuse-db"] if plugin == DATABASE else ["-p", plugin]
        # The room's own and quick ones by themselves: most changes need no more, and to gather the rest takes longer.
        return next(filter(None, (int(pytest.main([*quiet, *some])) for some in _in_turn(change, room))), 0)


def _in_turn(change: Change | None, room: Room) -> Iterator[list[str]]:
    """Give the tests that bear the changed module's name, then the other quick ones, then the rest."""
    name = "" if change is None else f"test_{Path(change.file).stem}.py"
    own = [each for each in room["quick"] if each.endswith(f"/{name}")]
    if own:
        yield own
    yield [each for each in room["quick"] if each not in own]
    yield room["tests"]


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
    from django.db import connection

    django.setup()
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
    given = asked.parse_args()
    make_ready(given.room)
    if noticed(None, ROOMS[given.room]):
        print("the tests of this room fail without any change: nothing was spoiled", file=sys.stderr)
        return 2
    spent = resource.getrusage(resource.RUSAGE_CHILDREN)
    longest = 1 + math.ceil(SLOWER * (spent.ru_utime + spent.ru_stime))
    changes = [change for change in changes_of(given.room) if given.only in change.file]
    every = len(changes)
    if given.sample is not None and given.sample < every:
        changes = random.Random(given.seed).sample(changes, given.sample)
    return told(given.room, every, changes, longest)


def told(room: str, every: int, changes: Sequence[Change], longest: int) -> int:
    """Run the changes, tell of each that nobody noticed, and close with the count; zero from nine of ten."""
    started, missed = time.monotonic(), []
    for number, change in enumerate(changes, 1):
        if not noticed(change, ROOMS[room], longest):
            missed.append(change)
            print(f"{change.file}:{change.line}: {change.what}", flush=True)
        if number % 50 == 0:
            print(
                f"    {number} of {len(changes)}, {len(missed)} not noticed, {time.monotonic() - started:.0f} s",
                flush=True,
            )
    of_file, missed_in = Counter(each.file for each in changes), Counter(each.file for each in missed)
    for file, count in sorted(of_file.items()):
        print(f"{file:<52} {count - missed_in[file]:>4} of {count:>4}")
    share = 1.0 - len(missed) / max(1, len(changes))
    print(f"{room}: {len(changes) - len(missed)} of {len(changes)} noticed ({100 * share:.1f} %), of {every} in all")
    return 0 if share >= 0.9 else 1


if __name__ == "__main__":
    sys.exit(main())
