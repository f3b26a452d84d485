"""The manner of the house, where it can be counted."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from tests.doors.checkouts import ROOT

SOURCES = sorted((ROOT / "src").rglob("*.py")) + sorted((ROOT / "tools").glob("*.py"))


def bodies(path: Path) -> list[int]:
    """Give the lines of each function's body, docstring left out."""
    functions = ast.walk(ast.parse(path.read_text("utf-8")))
    return [
        body[-1].end_lineno - body[0].lineno + 1
        for node in functions
        if isinstance(node, ast.FunctionDef) and (body := without_docstring(node)) and body[-1].end_lineno
    ]


def without_docstring(function: ast.FunctionDef) -> list[ast.stmt]:
    """Give the statements of a function after its docstring."""
    return function.body[1:] if ast.get_docstring(function) is not None else function.body


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: str(path.relative_to(ROOT)))
def test_one_idea_a_file(path: Path) -> None:
    """A file past four hundred lines asks for a second name."""
    assert len(path.read_text("utf-8").splitlines()) <= 400


def test_small_bodies() -> None:
    """Nine functions in ten have a body under thirty lines, and the middle one of ten lines at most."""
    lengths = sorted(length for path in SOURCES for length in bodies(path))
    assert len(lengths) > 100
    assert lengths[len(lengths) * 9 // 10] < 30
    assert lengths[len(lengths) // 2] <= 10
