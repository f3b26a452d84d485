"""The library's docstrings say what a reader needs, and their examples run."""

from __future__ import annotations

import dataclasses
import doctest
import importlib
import inspect
import pkgutil
import re
import typing
from types import ModuleType

import pytest

import hingeline
from hingeline import balance


def modules() -> list[str]:
    """Name every module of the library."""
    found = pkgutil.walk_packages(hingeline.__path__, "hingeline.")
    return ["hingeline", *sorted(module.name for module in found)]


def vars_of(record: type) -> set[str]:
    """Name the fields of a record."""
    return {field.name for field in dataclasses.fields(record)}


def given_back() -> set[type]:
    """Gather every record that a public function of the room gives, those inside it included."""
    functions = [thing for name in balance.__all__ if inspect.isfunction(thing := getattr(balance, name))]
    found: set[type] = set()
    waiting = [typing.get_type_hints(function)["return"] for function in functions]
    while waiting:
        kind = waiting.pop()
        waiting += typing.get_args(kind)
        if dataclasses.is_dataclass(kind) and isinstance(kind, type) and kind not in found:
            found.add(kind)
            waiting += typing.get_type_hints(kind).values()
    return found


@pytest.mark.parametrize("name", balance.__all__)
def test_every_public_name_has_a_docstring(name: str) -> None:
    """Functions say what they take, give and refuse; a record that somebody fills in says what each field is."""
    thing = getattr(balance, name)
    said = inspect.getdoc(thing) or ""
    assert said
    if inspect.isfunction(thing):
        assert parameters_in(said) >= set(inspect.signature(thing).parameters)
        assert "Returns\n-------" in said
        assert "Raises\n------" in said
    elif dataclasses.is_dataclass(thing):
        assert parameters_in(said) == vars_of(thing) or (thing in given_back() and not parameters_in(said))


def parameters_in(said: str) -> set[str]:
    """Name what stands under Parameters."""
    section = re.search(r"Parameters\n-+\n(.*?)(?:\n\n|\Z)", said, re.DOTALL)
    named = re.findall(r"^(\w[\w, ]*?)(?: :.*)?$", section[1], re.MULTILINE) if section else []
    return {name for names in named for name in names.split(", ")}


@pytest.mark.parametrize("name", modules())
def test_examples_in_docstrings_run(name: str) -> None:
    """Every example of the library gives what its docstring says."""
    module: ModuleType = importlib.import_module(name)
    assert doctest.testmod(module).failed == 0


def public() -> list[str]:
    """Name what the rooms of the library give out, each behind its room."""
    rooms = [room for name in modules() if hasattr(room := importlib.import_module(name), "__path__")]
    return [f"{room.__name__}:{name}" for room in rooms for name in getattr(room, "__all__", ())]


@pytest.mark.parametrize("name", public())
def test_an_example_runs_as_it_is_copied(name: str) -> None:
    """What a newcomer copies out of a docstring brings its own imports."""
    room, _, thing = name.partition(":")
    said = inspect.getdoc(getattr(importlib.import_module(room), thing)) or ""
    example = doctest.DocTestParser().get_doctest(said, {}, name, None, 0)
    assert doctest.DocTestRunner(verbose=False).run(example).failed == 0


@pytest.mark.parametrize("name", public())
def test_a_public_function_says_what_it_takes_and_gives(name: str) -> None:
    """Every parameter by its name, and what comes back."""
    room, _, named = name.partition(":")
    thing = inspect.unwrap(getattr(importlib.import_module(room), named))
    said = inspect.getdoc(thing) or ""
    if inspect.isfunction(thing):
        assert parameters_in(said.replace("\n*", "\n")) >= set(inspect.signature(thing).parameters)
        assert "Returns\n-------" in said


def test_there_are_examples() -> None:
    """The library has examples, so that the test above is not empty."""
    finder = doctest.DocTestFinder(exclude_empty=True)
    found = [test for name in modules() for test in finder.find(importlib.import_module(name)) if test.examples]
    assert len(found) > 20
