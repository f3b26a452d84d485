"""Spoil a function where it stands: the tests are gathered once, and a change asks first those that take its line.

What is gathered here are the tests of a room, in a process of its own. A child runs them all and notes which lines each
takes. Then each change has a child: the function's code is replaced there, and the tests that take the changed line are
run, those that bear the module's name first; when they notice nothing, all the others are run too.
"""

from __future__ import annotations

import json
import math
import os
import resource
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any, TextIO

import pytest
from small_changes import ROOT, Change

DATABASE = "pytest_django.plugin"
SLOWER = 3
"""A change counts as noticed when the tests take so many times the time of a core: something became endless."""
Lines = dict[str, set[int]]


class MadeBefore:
    """The database of the tests was made before they were gathered: nobody makes it again."""

    def pytest_configure(self, config: pytest.Config) -> None:
        """Come after the outside plugin that would make one."""
        if config.pluginmanager.has_plugin(DATABASE):
            config.pluginmanager.register(_DatabaseStands())


class _DatabaseStands:
    @pytest.fixture(scope="session")
    def django_db_setup(self) -> None:
        """Take the database as it stands."""


def by_lines(files: Iterable[Path]) -> Any:
    """Give what counts which lines of these files are taken."""
    import coverage

    return coverage.Coverage(data_file=None, include=[str(path) for path in files], config_file=False)


class AtGathering:
    """Notes which lines of a room are taken while its tests are gathered, and runs none."""

    def __init__(self, files: Sequence[Path], told: TextIO) -> None:
        """Begin to count."""
        self.counted, self.files, self.told = by_lines(files), files, told
        self.counted.start()

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Tell the lines in place of running anything."""
        self.counted.stop()
        data = self.counted.get_data()
        found = {str(path.relative_to(ROOT)): data.lines(str(path)) or [] for path in self.files}
        json.dump(found, self.told)
        self.told.flush()
        return True


class InPlace:
    """Runs the changes in the loop of the tests that are gathered, and tells of each whether it was noticed."""

    def __init__(
        self, changes: Sequence[Change], files: Sequence[Path], told: TextIO, kept: Path | None, *, lines_only: bool
    ) -> None:
        """Keep what is to be changed; ``kept``: which test takes which line, from a run before or for the next."""
        self.changes, self.files, self.told, self.kept, self.lines_only = changes, files, told, kept, lines_only
        self.items: dict[str, pytest.Item] = {}
        self.seconds: dict[str, float] = {}
        self.takers: dict[str, dict[int, list[str]]] = {}

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Run every change, each in a child."""
        self.items = {item.nodeid: item for item in session.items}
        factory = session.config._tmp_path_factory  # type: ignore[attr-defined]
        factory.getbasetemp()
        if self._who_takes_what(self.kept or Path(factory.mktemp("lines")) / "lines.json"):
            self.told.write(f"{sum(self.seconds.values())}\n")
            for change in self.changes:
                self.told.write("noticed\n" if self._noticed(change) else "not noticed\n")
                self.told.flush()
        return True

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """End the child at the first failure."""
        if report.failed:
            os._exit(1)

    def _noticed(self, change: Change) -> bool:
        first = self._in_turn(change)
        others = [item for item in self.items.values() if item not in set(first)]
        return self._fails(change, first) or (not self.lines_only and self._fails(change, others))

    def _fails(self, change: Change, items: Sequence[pytest.Item]) -> bool:
        return in_child(lambda: self._spoiled(change, items), self._longest(items))

    def _in_turn(self, change: Change) -> list[pytest.Item]:
        """Give the tests that take the line: first of the file that bears its name, then of the quick."""
        lines = self.takers.get(change.file, {})
        names = {name for line in change.where.lines for name in lines.get(line, ())}
        files = defaultdict(list)
        for name in self.items:
            if name in names:
                files[name.split("::")[0]].append(name)
        own = f"test_{Path(change.file).stem}.py"

        def rank(file: str) -> tuple[bool, float]:
            return not file.endswith(f"/{own}"), sum(map(self.seconds.__getitem__, files[file])) / len(files[file])

        return [self.items[name] for file in sorted(files, key=rank) for name in files[file]]

    def _longest(self, items: Sequence[pytest.Item]) -> int:
        return 2 + math.ceil(SLOWER * sum(self.seconds[item.nodeid] for item in items))

    def _spoiled(self, change: Change, items: Sequence[pytest.Item]) -> None:
        replace_code(change)
        run(items)

    def _who_takes_what(self, kept: Path) -> bool:
        """Run every test once in a child, and read which lines each took; no where one of them fails."""
        if not kept.exists() and in_child(lambda: self._all_with_lines(kept)):
            return False
        found = json.loads(kept.read_text("utf-8"))
        self.seconds = found["seconds"]
        self.takers = {file: {int(line): names for line, names in of.items()} for file, of in found["takers"].items()}
        return True

    def _all_with_lines(self, kept: Path) -> None:
        counted, seconds = by_lines(self.files), {}
        counted.start()
        for item, following in pairs(list(self.items.values())):
            counted.switch_context(item.nodeid)
            started = time.process_time()
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            seconds[item.nodeid] = time.process_time() - started
        counted.stop()
        data = counted.get_data()
        takers = {str(path.relative_to(ROOT)): data.contexts_by_lineno(str(path)) for path in self.files}
        kept.write_text(json.dumps({"seconds": seconds, "takers": takers}), "utf-8")


def pairs(items: Sequence[pytest.Item]) -> Iterable[tuple[pytest.Item, pytest.Item | None]]:
    """Give each test with the one after it."""
    return zip(items, [*items[1:], None], strict=True)


def run(items: Sequence[pytest.Item]) -> None:
    """Run tests one after another."""
    for item, following in pairs(items):
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)


def in_child(work: Callable[[], object], longest: int = resource.RLIM_INFINITY) -> bool:
    """Do the work in a child, for so many seconds of a core; say whether it ended otherwise than well."""
    child = os.fork()
    if child == 0:
        # By the core's time and not the clock's: on a busy machine nothing is noticed by waiting alone.
        resource.setrlimit(resource.RLIMIT_CPU, (longest, longest))
        quietly()
        try:
            work()
        except BaseException:
            os._exit(1)
        os._exit(0)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) != 0


def quietly() -> None:
    """Send what is printed nowhere."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)


# -------------------------------------------------------------------- the code of a function


def can_be_replaced(change: Change, at_gathering: Lines) -> bool:
    """Say whether a change stands in a function that nothing called before the tests ran."""
    taken = at_gathering.get(change.file, set())
    return bool(change.where.function) and taken.isdisjoint(change.where.of_function)


def replace_code(change: Change) -> None:
    """Give the standing function the code that it has in the spoiled module."""
    standing = function_of(change)
    standing.__code__ = code_of(change.code(), change.where.function.split("."), standing.__code__.co_firstlineno)


def function_of(change: Change) -> FunctionType:
    """Find the function itself, under what was put round it."""
    found: Any = sys.modules[change.module]
    for name in change.where.function.split("."):
        found = vars(found)[name]
    while under := [
        getattr(found, name) for name in ("__wrapped__", "__func__", "fget", "func") if hasattr(found, name)
    ]:
        found = under[0]
    assert isinstance(found, FunctionType), change
    return found


def code_of(code: CodeType, names: Sequence[str], line: int) -> CodeType:
    """Find the code of a function that begins at a line."""
    if not names:
        return code
    for found in code.co_consts:
        if isinstance(found, CodeType) and found.co_name == names[0] and (names[1:] or found.co_firstlineno == line):
            return code_of(found, names[1:], line)
    raise LookupError(names)
