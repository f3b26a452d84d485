"""Whole flutter models come out as a second program has them, to the printed digits."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tests.published import flutter_structures

CASES = tomllib.loads(Path(__file__).with_name("flutter_structures.toml").read_text("utf-8"))["case"]
PROVENANCES = {"read in the source", "read in a text that quotes it", "from memory", "computed"}


@pytest.mark.parametrize(
    "case",
    [pytest.param(case, id=case["id"], marks=[pytest.mark.slow] if case.get("slow") else []) for case in CASES],
)
def test_published(case: dict[str, Any]) -> None:
    """Every expected value of the case is met within its tolerance."""
    found = flutter_structures.compute(case["kind"], case["inputs"])
    for name, expected in case["expected"].items():
        here = found[name]
        if isinstance(expected, bool):
            assert here is expected, name
            continue
        assert np.shape(here) == np.shape(expected), name
        off = np.abs(np.subtract(here, expected))
        assert np.all(off <= case["tolerance"][name]), f"{name}: {here}, expected {expected}, off {off}"


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_every_case_names_its_source(case: dict[str, Any]) -> None:
    """Every case says where its values stand and how we came by them, and has a tolerance for each number."""
    assert case["source"]
    assert case["provenance"] in PROVENANCES
    assert {name for name, value in case["expected"].items() if not isinstance(value, bool)} == set(case["tolerance"])


def test_no_model_is_left_out() -> None:
    """Fifteen wings, seven sets of modes, three arms, twelve tabs, four bench runs; each name only once."""
    kinds = {
        name: sum(case["id"].startswith(name) for case in CASES) for name in ("wing", "modes", "arm", "tab", "rig")
    }

    assert kinds == {"wing": 15, "modes": 7, "arm": 3, "tab": 12, "rig": 4}
    assert len({case["id"] for case in CASES}) == len(CASES)
