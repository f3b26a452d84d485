"""Published conversion factors and conversions come out as printed."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from tests.published.units import COMPUTE

CASES = tomllib.loads(Path(__file__).with_name("units.toml").read_text(encoding="utf-8"))["case"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_a_published_value_comes_out_as_printed(case):
    """The difference from the printed value is no more than its rounding explains."""
    found = COMPUTE[case["kind"]](case["inputs"])
    for name, printed in case["expected"].items():
        tolerances = case["tolerance"][name]
        for value, expected, tolerance in zip(found[name], printed, tolerances, strict=True):
            assert value == pytest.approx(expected, abs=tolerance, rel=0), case["source"]


def test_every_case_names_source_and_provenance():
    """A number without origin may not be called expected."""
    for case in CASES:
        assert case["source"]
        assert case["provenance"] in {
            "read in the source",
            "read in a text that quotes it",
            "from memory",
            "computed",
        }
