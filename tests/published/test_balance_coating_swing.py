"""Worked cases of coating, swing and dynamic balance come out as printed, or as worked out apart."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.published import balance_coating_swing as room

CASES = tomllib.loads((Path(__file__).parent / "balance_coating_swing.toml").read_text("utf-8"))["case"]
PROVENANCES = {"read in the source", "read in a text that quotes it", "from memory", "computed"}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_published(case: dict[str, Any]) -> None:
    """Every expected value of the case is met within its tolerance."""
    found = room.compute(case["kind"], case["inputs"])
    for name, expected in case["expected"].items():
        values, wanted = (one if isinstance(one, list) else [one] for one in (found[name], expected))
        allowed = case["tolerance"][name]
        tolerances = allowed if isinstance(allowed, list) else [allowed] * len(wanted)
        for value, want, tolerance in zip(values, wanted, tolerances, strict=True):
            assert value == pytest.approx(want, abs=tolerance, rel=0), name


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_every_case_names_its_source(case: dict[str, Any]) -> None:
    """Every case says where its values stand and how we came by them, and has a tolerance for each."""
    assert case["source"]
    assert case["provenance"] in PROVENANCES
    assert set(case["expected"]) == set(case["tolerance"])


def test_names_are_unique() -> None:
    """No two cases share a name."""
    assert len({case["id"] for case in CASES}) == len(CASES)


@pytest.mark.parametrize("kind", ["swing", "plate", "coating"])
def test_a_wrong_input_misses_the_tolerance(kind: str) -> None:
    """One per cent on one input of a case is seen: the cases can fail."""
    case = next(case for case in CASES if case["kind"] == kind)
    old, new = {"swing": ("16.3823", "16.5461"), "plate": ('"5 kg', '"5.05 kg'), "coating": ('"254 ', '"256.54 ')}[kind]
    assert old in case["inputs"]["file"]
    found = room.compute(kind, {**case["inputs"], "file": case["inputs"]["file"].replace(old, new)})
    name, expected = next(iter(case["expected"].items()))
    assert abs(found[name] - expected) > case["tolerance"][name]
