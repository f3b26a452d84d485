"""The published and computed cases of recordings are met to their printed digits."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tests.published import motion

CASES = tomllib.loads(Path(__file__).with_name("motion.toml").read_text("utf-8"))["case"]
PROVENANCES = {"read in the source", "read in a text that quotes it", "from memory", "computed"}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_published(case: dict[str, Any]) -> None:
    """Every expected number of the case is met within its tolerance, every expected word exactly."""
    found = motion.compute(case["kind"], case["inputs"])
    for name, expected in case["expected"].items():
        if name not in case["tolerance"]:
            assert found[name] == expected, name
        else:
            assert np.shape(found[name]) == np.shape(expected), name
            assert np.all(np.abs(np.subtract(found[name], expected)) <= case["tolerance"][name]), (name, found[name])


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_every_case_names_its_source(case: dict[str, Any]) -> None:
    """Every case says where its values stand and how we came by them, and every number has a tolerance."""
    assert case["source"]
    assert case["provenance"] in PROVENANCES
    assert set(case["expected"]) == set(case["tolerance"])


def test_names_are_unique() -> None:
    """No two cases share a name."""
    assert len({case["id"] for case in CASES}) == len(CASES)
