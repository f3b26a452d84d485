"""Worked cases of the weighing come out as printed, and real printed rows of limits are read as meant."""

from __future__ import annotations

import re
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from hingeline.balance import check_rows, weigh
from hingeline.balance.printed_limits import RowResult
from hingeline.errors import InputRefused
from hingeline_app.files.limits_file import read_limits
from hingeline_app.files.weighing_file import read_weighing
from tests.published import balance

HERE = Path(__file__).parent
CASES = tomllib.loads((HERE / "balance.toml").read_text("utf-8"))["case"]
MAKERS = (HERE / "makers_limits.toml").read_bytes()
ROWS = tomllib.loads(MAKERS.decode())["row"]
PROVENANCES = {"read in the source", "read in a text that quotes it", "from memory", "computed"}


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_published(case: dict[str, Any]) -> None:
    """Every expected value of the case is met within its tolerance, every expected word exactly."""
    found = balance.compute(case["kind"], case["inputs"])
    for name, expected in case["expected"].items():
        tolerance = case["tolerance"].get(name)
        if tolerance is None:
            assert found[name] == expected, name
        else:
            assert found[name] == pytest.approx(expected, abs=tolerance, rel=0), name


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_every_case_names_its_source(case: dict[str, Any]) -> None:
    """Every case says where its values stand and how we came by them; every measured number has a tolerance."""
    assert case["source"]
    assert case["provenance"] in PROVENANCES
    numbers = {name for name, value in case["expected"].items() if is_decimal(value)}
    assert numbers <= set(case["tolerance"]) <= set(case["expected"])


def is_decimal(value: Any) -> bool:
    """Whether it is a decimal number, or a list that holds one."""
    return any(map(is_decimal, value)) if isinstance(value, list) else isinstance(value, float)


def test_names_are_unique() -> None:
    """No two cases share a name."""
    assert len({case["id"] for case in CASES}) == len(CASES)


def test_every_kind_of_cause_is_computed_not_copied() -> None:
    """A budget that the file does not state brings no contribution: the case can fail."""
    case = next(case for case in CASES if case["id"] == "MET-17a")
    without = case["inputs"]["file"].replace('friction = {limit = "2 g"}\n', "")
    assert "friction" not in balance.full_budget({**case["inputs"], "file": without})


# -------------------------------------------------------------------- makers' rows

# A second table of factors [N m], from the definitions of pound, inch and standard gravity, by hand.
POUND, INCH, GRAVITY = Fraction("0.45359237"), Fraction("0.0254"), Fraction("9.80665")
FACTORS = {
    "in-lb": POUND * GRAVITY * INCH,
    "ft-lb": POUND * GRAVITY * INCH * 12,
    "kg cm": GRAVITY / 100,
    "N cm": Fraction(1, 100),
    "m daN": Fraction(10),
}
TAIL = re.compile(r"tail (heavy|down)|trailing edge heavy")


def by_hand(row: dict[str, Any]) -> tuple[float | None, float | None]:
    """Convert a printed row, tail-heavy positive, without the product's units."""
    ends = [None if end == "none" else in_newton_metre(end) for end in row["moment"]]
    if TAIL.search(row["positive"]):
        return ends[0], ends[1]
    assert row["positive"] == "nose heavy"
    lower, upper = (None if end is None else -end for end in ends)
    return upper, lower


def in_newton_metre(text: str) -> float:
    """Convert one printed number."""
    number, _, unit = text.partition(" ")
    return float(Fraction(number) * FACTORS[unit])


@pytest.fixture(scope="module")
def found() -> tuple[RowResult, ...]:
    """All makers' rows, read and checked in one go."""
    return check_rows(read_limits(MAKERS)).rows


@pytest.mark.parametrize("index", range(len(ROWS)), ids=lambda index: f"{index} {ROWS[index]['surface']}")
def test_a_makers_row_comes_out_in_newton_metres_tail_heavy_positive(index: int, found: tuple[RowResult, ...]) -> None:
    """Reader and hand agree on both ends of the row to 1e-14 of each, and on which ends are open."""
    row = found[index]
    for mine, his in zip((row.lower, row.upper), by_hand(ROWS[index]), strict=True):
        assert (mine is None) == (his is None)
        assert mine is None or mine == pytest.approx(his, rel=1e-14, abs=0)
    assert row.lower is None or row.upper is None or row.lower < row.upper
    assert row.source == ROWS[index]["source"]


def test_makers_rows_try_every_unit_and_every_shape() -> None:
    """The rows hold all five units, both senses, one-sided limits and signs on both ends."""
    ends = [end for row in ROWS for end in row["moment"]]
    assert {end.partition(" ")[2] for end in ends} == {"", *FACTORS}
    assert "none" in ends
    assert any(end.startswith("-") for end in ends)
    assert {bool(TAIL.search(row["positive"])) for row in ROWS} == {True, False}


def test_an_aileron_that_must_be_nose_heavy_has_negative_limits_inside(found: tuple[RowResult, ...]) -> None:
    """0.2 to 1.5 in-lb nose-heavy is -1.5 to -0.2 in-lb, tail-heavy positive."""
    row = next(row for row in found if row.surface == "Beech Baron 55/58, left aileron")
    assert (row.lower, row.upper) == pytest.approx((-0.16948, -0.022597), abs=5e-6)


def test_words_without_a_sense_are_refused() -> None:
    """A column head that names no sense (LS4-b: "trailing edge load positive") is asked about, not guessed."""
    text = MAKERS.replace(b"tail heavy (printed: trailing edge load positive)", b"trailing edge load positive")
    with pytest.raises(InputRefused) as refused:
        read_limits(text)
    faults = refused.value.refusals
    assert len(faults) == 3
    assert {fault.expected for fault in faults} == {"tail-heavy or nose-heavy"}
    assert all(fault.remedy.startswith("Say what the document's plus means, in these words alone") for fault in faults)


@pytest.mark.parametrize("text", [row["moment"] for row in ROWS], ids=" to ".join)
def test_a_makers_row_serves_as_the_limits_of_a_weighing(text: list[str]) -> None:
    """The same two numbers as [limits] of a weighing give the same band."""
    lower, upper = text
    lines = [f'{name} = "{end}"' for name, end in (("lower", lower), ("upper", upper)) if end != "none"]
    file = "\n".join(['format = "hingeline/weighing/1"', '[surface]\nname = "x"', "[[support]]", 'arm = "200 mm"',
                      'side = "aft"', 'readings = ["10 g"]', "[limits]", *lines])  # fmt: skip
    limits = weigh(read_weighing(file.encode()).weighing).limits
    for found_end, end in zip((limits.lower, limits.upper), text, strict=True):
        assert (found_end is None) == (end == "none")
        assert found_end is None or found_end == pytest.approx(in_newton_metre(end), rel=1e-14, abs=0)
