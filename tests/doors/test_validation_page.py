"""docs/validation.md says what the published cases give today."""

from __future__ import annotations

import tomllib
from decimal import Decimal

import pytest

from tools import validation


@pytest.fixture(scope="module")
def written() -> str:
    """Make the page anew."""
    return validation.page()


@pytest.mark.slow
def test_the_page_is_not_stale(written: str) -> None:
    """The page on file is the one that its generator writes now: else run tools/validation.py."""
    assert validation.PAGE.read_text("utf-8") == written


@pytest.mark.slow
def test_every_case_has_its_block_with_source_and_provenance(written: str) -> None:
    """Each case of each file of published values appears with its name, source and provenance."""
    cases = [
        case for path in validation.CASES.glob("*.toml") for case in tomllib.loads(path.read_text()).get("case", [])
    ]
    assert len(cases) > 50
    for case in cases:
        assert f"### {case['id']}: {case['title']}\n\n*{case['provenance']}:* {case['source']}.\n" in written


@pytest.mark.parametrize(
    ("published", "ours", "shown"),
    [
        ("9.80665", 9.80665, "9.8066500"),
        ("254.260", 254.2598, "254.25980"),
        ("-1.9", -2.0330001, "−2.033"),
        ("0.0", -1e-9, "0.000"),
        ("9.87e-10", 9.865876e-10, "9.8659e−10"),
        ("16", 16, "16"),
    ],
)
def test_ours_is_shown_with_two_more_digits(published: str, ours: float, shown: str) -> None:
    """A value has two digits more than the print, no minus at zero, and a power of ten only where it helps."""
    assert validation.like(Decimal(published), ours) == shown
