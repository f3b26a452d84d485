"""Static effects of unbalance and limit cycles through free play come out as a second program has them."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tests.published import flutter_extensions_more

CASES = tomllib.loads(Path(__file__).with_name("flutter_extensions_more.toml").read_text("utf-8"))["case"]
WORDS = {"outcome", "curve_directions"}


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_published(case: dict[str, Any]) -> None:
    """Every expected number of the case is met within its tolerance, every word exactly."""
    found = flutter_extensions_more.compute(case["kind"], case["inputs"])
    for name, expected in case["expected"].items():
        if name in WORDS:
            assert found[name] == expected, name
            continue
        assert np.shape(found[name]) == np.shape(expected), name
        off = np.abs(np.subtract(found[name], expected))
        assert np.all(off <= case["tolerance"][name]), f"{name}: {found[name]}, expected {expected}, off {off}"


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_every_case_names_its_source(case: dict[str, Any]) -> None:
    """Every case says where its values stand and how we came by them, and every number has a tolerance."""
    assert case["source"]
    assert case["provenance"] == "computed"
    assert set(case["expected"]) - WORDS == set(case["tolerance"])


def test_no_row_is_left_out() -> None:
    """Four static cases, two curves, 24 runs of the tailplane and 16 of the strip; each name only once."""
    kinds = [case["kind"] for case in CASES]

    assert (kinds.count("static"), kinds.count("curve"), kinds.count("march")) == (4, 2, 40)
    assert len({case["id"] for case in CASES}) == len(CASES)
