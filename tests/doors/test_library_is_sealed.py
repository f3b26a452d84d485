"""What the import contracts cannot see: built-in names that touch the world, and the clock."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from tests.doors.checkouts import ROOT, Run

LIBRARY = sorted((ROOT / "src" / "hingeline").rglob("*.py"))
BANNED = {"open", "print", "input", "exec", "eval", "compile", "breakpoint", "__import__"}


def banned_names(source: str) -> list[str]:
    """Give each use of a banned built-in, with its line; an attribute of that name is another thing."""
    names = (node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Name))
    return [f"{node.id}, line {node.lineno}" for node in names if node.id in BANNED]


def test_the_guard_sees_a_planted_open() -> None:
    """The guard reports the built-in and leaves a method of the same name alone."""
    assert banned_names("def f():\n    return open('x')\n") == ["open, line 2"]
    assert banned_names("import re\nre.compile('x')\n") == []


@pytest.mark.parametrize("path", LIBRARY, ids=lambda path: str(path.relative_to(ROOT / "src")))
def test_no_built_in_that_touches_the_world(path: Path) -> None:
    """No module of the library opens a file, prints, asks, or runs text as a program."""
    assert banned_names(path.read_text("utf-8")) == []


@pytest.mark.parametrize("call", ["datetime.date.today()", "datetime.datetime.now()", "uuid.uuid4()"])
def test_the_linter_bans_the_clock_in_the_library_only(call: str, run: Run, python: str, tmp_path: Path) -> None:
    """A clock planted in the library is reported by the linter; the same in the application is not."""
    (tmp_path / "pyproject.toml").write_text((ROOT / "pyproject.toml").read_text("utf-8"), encoding="utf-8")
    code = f'"""Planted."""\n\nimport {call.split(".")[0]}\n\nx = {call}\n'
    for package in ("hingeline", "hingeline_app"):
        (tmp_path / "src" / package).mkdir(parents=True)
        (tmp_path / "src" / package / "__init__.py").write_text('"""Planted."""\n', encoding="utf-8")
        (tmp_path / "src" / package / "planted.py").write_text(code, encoding="utf-8")
    done = run(python, "-m", "ruff", "check", "--no-cache", "--output-format=concise", ".", cwd=tmp_path)
    reported = [line for line in done.stdout.splitlines() if "TID251" in line]
    assert done.returncode == 1
    assert len(reported) == 1
    assert reported[0].startswith("src/hingeline/planted.py:5")
    assert "is an argument" in reported[0]
