"""Worked cases of an arm come out as printed, or as worked out apart."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.published import arm as room

CASES = tomllib.loads((Path(__file__).parent / "arm.toml").read_text("utf-8"))["case"]
PROVENANCES = {"read in the source", "read in a text that quotes it", "from memory", "computed"}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_published(case: dict[str, Any]) -> None:
    """Every expected value of the case is met within its tolerance; words exactly."""
    found = room.compute(case["kind"], case["inputs"])
    for name, expected in case["expected"].items():
        if name not in case["tolerance"]:
            assert found[name] == expected, name
            continue
        values, wanted = (one if isinstance(one, list) else [one] for one in (found[name], expected))
        allowed = case["tolerance"][name]
        tolerances = allowed if isinstance(allowed, list) else [allowed] * len(wanted)
        for value, want, tolerance in zip(values, wanted, tolerances, strict=True):
            assert value == pytest.approx(want, abs=tolerance, rel=0), name


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_every_case_names_its_source(case: dict[str, Any]) -> None:
    """Every case says where its values stand and how we came by them, and has a tolerance for each number."""
    assert case["source"]
    assert case["provenance"] in PROVENANCES
    numbers = {name for name, value in case["expected"].items() if not words_alone(value)}
    assert numbers == set(case["tolerance"])


def words_alone(value: Any) -> bool:
    """Tell whether an expected value is words, or yes or no."""
    return isinstance(value, str | bool) or (isinstance(value, list) and isinstance(value[0], str))


def test_every_check_of_the_list_stands_here() -> None:
    """AR-01 to AR-39, RF-01 to RF-03, and the limits of free play, none left out; no two cases share a name."""
    listed = {f"AR-{number:02d}" for number in range(1, 40)} | {"RF-01", "RF-02", "RF-03", "SB-21"}
    assert {case["id"].split(" ")[0] for case in CASES} == listed
    assert len({case["id"] for case in CASES}) == len(CASES)


@pytest.mark.parametrize(
    ("identity", "old", "new"),
    [("AR-05", "0.889 mm", "0.8891 mm"), ("AR-20", "2.5 mm", "2.501 mm"), ("AR-27", "0.16518", "0.16519")],
)
def test_a_wrong_input_misses_the_tolerance(identity: str, old: str, new: str) -> None:
    """Less than half a per mil on one input is seen: the cases can fail."""
    (case,) = (case for case in CASES if case["id"] == identity)
    assert old in case["inputs"]["file"]
    found = room.compute(case["kind"], {"file": case["inputs"]["file"].replace(old, new)})
    off = [abs(found[name] - case["expected"][name]) > size for name, size in case["tolerance"].items()]
    assert any(off)
