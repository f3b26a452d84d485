"""Published and worked cases of what is due come out as printed, or as worked out apart."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.published import due as room

CASES = tomllib.loads((Path(__file__).parent / "due.toml").read_text("utf-8"))["case"]
PROVENANCES = {"read in the source", "read in a text that quotes it", "from memory", "computed"}


def met(found: Any, expected: Any, tolerance: Any) -> bool:
    """Whether a value, or each of a list, is what was expected."""
    if isinstance(expected, list):
        return len(found) == len(expected) and all(met(*pair, tolerance) for pair in zip(found, expected, strict=True))
    return bool(found == expected if tolerance is None else abs(found - expected) <= tolerance)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_published(case: dict[str, Any]) -> None:
    """Every expected value of the case is met: exactly, or within its tolerance where it is an estimate."""
    found = room.compute(case["kind"], case["inputs"])
    for name, expected in case["expected"].items():
        assert met(found[name], expected, case.get("tolerance", {}).get(name)), (name, found[name], expected)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_every_case_names_its_source(case: dict[str, Any]) -> None:
    """Every case says where its values stand and how we came by them; every number has a tolerance."""
    assert case["source"]
    assert case["provenance"] in PROVENANCES
    numbers = {name for name, value in case["expected"].items() if not isinstance(first(value), str)}
    assert numbers == set(case.get("tolerance", {}))


def first(value: Any) -> Any:
    """The value, or the first of a list."""
    return value[0] if isinstance(value, list) else value


def test_names_are_unique() -> None:
    """No two cases share a name."""
    assert len({case["id"] for case in CASES}) == len(CASES)


def test_a_wrong_tenth_is_seen() -> None:
    """A tenth of an hour on one sign-off of a case is seen: the cases can fail."""
    (case,) = [case for case in CASES if case["id"] == "DU-04"]
    assert "1299.9" in case["inputs"]["file"]
    found = room.compute("file", {"file": case["inputs"]["file"].replace("1299.9", "1300.0")})
    assert not met(found["due_hours"], case["expected"]["due_hours"], 0)
