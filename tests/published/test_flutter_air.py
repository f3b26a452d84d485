"""The published and computed cases of the air forces are met to their printed digits."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tests.published import flutter_air

CASES = tomllib.loads(Path(__file__).with_name("flutter_air.toml").read_text("utf-8"))["case"]
PROVENANCES = {"read in the source", "read in a text that quotes it", "from memory", "computed"}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_published(case: dict[str, Any]) -> None:
    """Every expected value of the case is met within its tolerance."""
    found = flutter_air.compute(case["kind"], case["inputs"])
    for name, expected in case["expected"].items():
        off = np.abs(np.subtract(found[name], expected))
        assert np.shape(found[name]) == np.shape(expected), name
        assert np.all(off <= case["tolerance"][name]), f"{name}: {found[name]}, expected {expected}"


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_every_case_names_its_source(case: dict[str, Any]) -> None:
    """Every case says where its values stand and how we came by them, and has a tolerance for each."""
    assert case["source"]
    assert case["provenance"] in PROVENANCES
    assert set(case["expected"]) == set(case["tolerance"])


def test_nothing_of_the_table_is_left_out() -> None:
    """Every one of the 28 rows of F and G stands, both columns, met or shown not to be met; names are unique."""
    wake = [case for case in CASES if case["kind"].startswith("wake")]
    entries = [case for case in wake if case["source"].startswith("NACA Report 496")]
    rows = {case["inputs"]["k"] for case in entries}
    met = sum(len(case["expected"]) for case in entries)

    assert (len(rows), met) == (28, 56)
    assert len({case["id"] for case in CASES}) == len(CASES)
