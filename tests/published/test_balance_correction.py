"""Published and worked cases of the correction come out as printed."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.published.balance_correction import COMPUTE

CASES = tomllib.loads(Path(__file__).with_name("balance_correction.toml").read_text("utf-8"))["case"]
PROVENANCES = {"read in the source", "read in a text that quotes it", "from memory", "computed"}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_published(case: dict[str, Any]) -> None:
    """Every expected value of the case is met within its tolerance, every expected word exactly."""
    found = COMPUTE[case["kind"]](case["inputs"])
    for name, expected in case["expected"].items():
        tolerance = case["tolerance"].get(name)
        if tolerance is None:
            assert found[name] == expected, name
        else:
            assert found[name] == pytest.approx(expected, abs=tolerance, rel=0), name


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_every_case_names_its_source(case: dict[str, Any]) -> None:
    """A number without origin may not be called expected."""
    assert case["source"]
    assert case["provenance"] in PROVENANCES
