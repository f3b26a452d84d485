"""Published and computed flutter speeds are met to their printed digits, or shown by how much they are not."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from tests.published import flutter_speeds

CASES = tomllib.loads(Path(__file__).with_name("flutter_speeds.toml").read_text("utf-8"))["case"]
PROVENANCES = {"read in the source", "read in a text that quotes it", "from memory", "computed"}


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_published(case: dict[str, Any]) -> None:
    """Every expected number of the case is met within its tolerance, every expected word exactly."""
    found = flutter_speeds.compute(case["kind"], case["inputs"])
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
    words = {"none", "directions"}
    assert set(case["expected"]) - words == set(case["tolerance"])


def test_names_are_unique() -> None:
    """No two cases share a name."""
    assert len({case["id"] for case in CASES}) == len(CASES)


def test_a_weight_first_lowers_the_flutter_speed() -> None:
    """1.5 kg on the tailplane's arm lowers the speed, 3.5 kg removes flutter: "more weight is safer" is false."""
    speeds = [flutter_speeds.tail({"weight": weight}).get("speed") for weight in (0.0, 1.5, 3.5)]
    assert speeds[0] is not None
    assert speeds[1] is not None
    assert speeds[1] < speeds[0] - 2.0
    assert speeds[2] is None
