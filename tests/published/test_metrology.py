"""The published cases of measurement uncertainty and conformity are met to their printed digits."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.published import metrology

CASES = tomllib.loads(Path(__file__).with_suffix("").with_name("metrology.toml").read_text("utf-8"))["case"]
PROVENANCES = {"read in the source", "read in a text that quotes it", "from memory", "computed"}


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_published(case: dict[str, Any]) -> None:
    """Every expected value of the case is met within its tolerance."""
    found = metrology.compute(case["kind"], case["inputs"])
    for name, expected in case["expected"].items():
        if isinstance(expected, bool):
            assert found[name] is expected, name
        else:
            _close(name, found[name], expected, case["tolerance"][name])


def _close(name: str, found: Any, expected: Any, tolerance: Any) -> None:
    if not isinstance(expected, list):
        assert abs(found - expected) <= tolerance, f"{name}: {found}, expected {expected} ± {tolerance}"
        return
    tolerances = tolerance if isinstance(tolerance, list) else [tolerance] * len(expected)
    for index, (one, want, allowed) in enumerate(zip(found, expected, tolerances, strict=True)):
        _close(f"{name}[{index}]", one, want, allowed)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_every_case_names_its_source(case: dict[str, Any]) -> None:
    """Every case says where its values stand and how we came by them, and has a tolerance for each number."""
    assert case["source"]
    assert case["provenance"] in PROVENANCES
    numbers = {name for name, value in case["expected"].items() if not isinstance(value, bool)}
    assert numbers == set(case["tolerance"])


def test_names_are_unique() -> None:
    """No two cases share a name."""
    assert len({case["id"] for case in CASES}) == len(CASES)
