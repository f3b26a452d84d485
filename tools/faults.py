"""Write docs/faults.md: each fault that is done to the program, what is promised, and the tests that do it.

    tools/faults.py

A test names the faults that it does by a mark, ``@pytest.mark.fault("F36")``; what they are and what is promised
stands in tests/faults/promises.toml. Run it after a mark or a promise changed; a test fails while the page is stale.
"""

from __future__ import annotations

import ast
import sys
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PROMISES = ROOT / "tests" / "faults" / "promises.toml"
PAGE = ROOT / "docs" / "faults.md"

FAST, CHECK, CAMPAIGN = "`./check fast`", "`./check`", "`./check campaign`"

INTRODUCTION = f"""\
# What was done to the program

Written by `tools/faults.py` from the marks of the tests and from `tests/faults/promises.toml`; do not edit it.

Each fault below is done by a test, not thought about. The last column says when it runs: {FAST} also runs in the
two others, {CHECK} also in {CAMPAIGN}, whose runs leave a report in `docs/campaign/`. What a promise leaves open
stands under the table. That a test would notice the loss of a guard was tried by taking guards out
([which ones](guards.md)).

| # | done | promised | by | in |
|---|---|---|---|---|
"""


@dataclass(frozen=True)
class Promise:
    """What is done, and what is promised then."""

    number: str
    fault: str
    promise: str
    open: str = ""


@dataclass(frozen=True)
class FaultTest:
    """A test that does faults."""

    path: str
    name: str
    numbers: tuple[str, ...]
    runs_in: str


def main() -> int:
    """Write the page."""
    PAGE.write_text(page(), encoding="utf-8")
    print(f"wrote {PAGE.relative_to(ROOT)}")
    return 0


def page() -> str:
    """Give the whole page."""
    tests = marked_tests()
    lines = [line for each in promises() for line in rows(each, tests)]
    left = [f"- **{each.number}**: {each.open}." for each in promises() if each.open]
    return INTRODUCTION + "\n".join([*lines, "", "## What is left open", "", *left, ""])


def promises() -> list[Promise]:
    """Read the promises in order."""
    return [Promise(**each) for each in tomllib.loads(PROMISES.read_text("utf-8"))["fault"]]


def rows(promise: Promise, tests: list[FaultTest]) -> Iterator[str]:
    """Write one line for the promise with its first test, and one for each further test."""
    own = [each for each in tests if promise.number in each.numbers]
    head = f"| {promise.number} | {promise.fault} | {promise.promise} |"
    for test in own:
        yield f"{head} `{test.path}`: {said(test.name)} | {test.runs_in} |"
        head = "| | | |"


def said(name: str) -> str:
    """Say the name of a test as words."""
    return name.removeprefix("test_").replace("_", " ")


def marked_tests() -> list[FaultTest]:
    """Find every test with a mark of faults, in the order of the files."""
    paths = sorted((ROOT / "tests").rglob("test_*.py"))
    return [test for path in paths for test in marked_in(path)]


def marked_in(path: Path) -> Iterator[FaultTest]:
    """Read the marks out of one file, which is not imported for it."""
    tree = ast.parse(path.read_text("utf-8"))
    of_all = [mark for each in tree.body if isinstance(each, ast.Assign) and is_marks(each) for mark in ast.walk(each)]
    for each in tree.body:
        if isinstance(each, ast.FunctionDef) and (numbers := faults_of(each)):
            marks = {*marks_in(of_all), *marks_in(each.decorator_list)}
            yield FaultTest(str(path.relative_to(ROOT)), each.name, numbers, when(marks))


def is_marks(assigned: ast.Assign) -> bool:
    """Tell whether it gives marks to all tests of a file."""
    return any(isinstance(target, ast.Name) and target.id == "pytestmark" for target in assigned.targets)


def marks_in(nodes: list[ast.AST] | list[ast.expr]) -> Iterator[str]:
    """Name the marks without arguments."""
    return (node.attr for node in nodes if isinstance(node, ast.Attribute))


def faults_of(test: ast.FunctionDef) -> tuple[str, ...]:
    """Give the numbers of the faults that a test carries."""
    calls = [
        mark for mark in test.decorator_list if isinstance(mark, ast.Call) and isinstance(mark.func, ast.Attribute)
    ]
    given = [argument for call in calls if attribute(call) == "fault" for argument in call.args]
    return tuple(str(each.value) for each in given if isinstance(each, ast.Constant))


def attribute(call: ast.Call) -> str:
    """Name the last part of what is called."""
    return call.func.attr if isinstance(call.func, ast.Attribute) else ""


def when(marks: set[str]) -> str:
    """Say in which check a test with such marks runs."""
    return CAMPAIGN if "campaign" in marks else CHECK if "slow" in marks else FAST


if __name__ == "__main__":
    sys.exit(main())
