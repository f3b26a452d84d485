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


NOT_SEEN = Decimal("0.01")
"""Part of a row's tolerance by which another processor's last digits may differ."""


def differs(kept: str, written: str) -> bool:
    """Tell whether two lines of the page differ in more than the last digits of another processor."""
    if kept == written:
        return False
    told, now = kept.split(" | "), written.split(" | ")
    # | measure | published | ours | tolerance |
    if len(told) != 4 or [*told[:2], told[3]] != [*now[:2], now[-1]] or len(now) != 4:
        return True
    return abs(number(told[2]) - number(now[2])) > NOT_SEEN * number(told[3].removesuffix(" |"))


def number(cell: str) -> Decimal:
    """Read a number as the page writes it; what is none is refused by Decimal."""
    return Decimal(cell.strip().replace("−", "-"))


@pytest.mark.slow
def test_the_page_is_not_stale(written: str) -> None:
    """The page on file is the one that its generator writes now: else run tools/validation.py.

    Two processors gave 5.6534227421 and 5.6534227420 of a row that is held to 6e-7: that is no news.
    """
    kept, now = validation.PAGE.read_text("utf-8").splitlines(), written.splitlines()
    assert len(kept) == len(now)
    assert [pair for pair in zip(kept, now, strict=True) if differs(*pair)] == []


@pytest.mark.parametrize(
    ("ours", "news"),
    [("5.6534227421", False), ("5.6534227480", False), ("5.6534227481", True), ("−5.6534227420", True)],
)
def test_only_last_digits_far_inside_the_tolerance_are_no_news(ours: str, news: bool) -> None:
    """A hundredth of the tolerance is let through, on either side, and no more; nor is another word or tolerance."""
    row = "| structural damping | 5.65342274 | {} | {} |"
    assert differs(row.format("5.6534227420", "6e−7"), row.format(ours, "6e−7")) is news
    assert differs(row.format("5.6534227420", "6e−7"), row.format("5.6534227421", "7e−7"))
    assert differs(row.format("5.6534227420", "6e−7"), row.format("5.6534227420", "6e−7").replace("structural", "air"))
    assert differs("### A: title", "### A: another")


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
