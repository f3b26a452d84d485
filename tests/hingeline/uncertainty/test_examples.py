"""The examples in the docstrings of the uncertainty room."""

from __future__ import annotations

import doctest
import importlib
import pkgutil

import pytest

import hingeline.uncertainty

MODULES = [one.name for one in pkgutil.iter_modules(hingeline.uncertainty.__path__, "hingeline.uncertainty.")]


@pytest.mark.parametrize("name", MODULES)
def test_examples_run(name: str) -> None:
    """Every example gives what it says."""
    assert doctest.testmod(importlib.import_module(name)).failed == 0


def test_there_are_examples() -> None:
    """The examples are found at all."""
    finder = doctest.DocTestFinder()
    found = [test for name in MODULES for test in finder.find(importlib.import_module(name)) if test.examples]
    assert len(found) > 20
