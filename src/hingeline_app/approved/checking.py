"""What a printed row states: its limits, tail-heavy positive, and where it disagrees with itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from hingeline.balance import LimitRow, check_rows
from hingeline.balance.printed_limits import Contradiction, RowResult
from hingeline_app.figures.wording import format_moment, format_number, format_quantity
from hingeline_app.files.limits_file import read_row

Printed = Mapping[str, Any]
# What the check knows of a row; the rest is for people to read.
CHECKED = (
    "positive",
    "moment",
    "force",
    "reading",
    "arm",
    "second_arm",
    "mass",
    "second_mass",
    "second_unit",
    "chord",
)  # fmt: skip
MOST_PERCENT = 1000.0


@dataclass(frozen=True)
class Found:
    """Something that the check found in a row: a contradiction, a small difference or a doubt, in a sentence."""

    kind: str
    between: str
    sentence: str


@dataclass(frozen=True)
class RowCheck:
    """What one reading of a row states.

    Parameters
    ----------
    lower, upper : float or None
        Tail-heavy positive [N m]; over all mass bands where the row has such; None on an open side.
    found : tuple of Found
    """

    lower: float | None
    upper: float | None
    found: tuple[Found, ...]

    def plain(self) -> list[dict[str, str]]:
        """Give what was found as the records keep it."""
        return [{"kind": each.kind, "between": each.between, "sentence": each.sentence} for each in self.found]


def checked(surface: str, printed: Printed) -> RowCheck:
    """Read a row as printed and look for contradictions in it.

    Parameters
    ----------
    surface : str
    printed : mapping
        As the form gives it: quantities as texts with their units, an open side "none".

    Raises
    ------
    InputRefused
        A quantity cannot be read, or an arm is missing beside a force or a reading.
    """
    rows = tuple(_rows(surface, printed))
    if not rows:
        return RowCheck(None, None, ())
    results = check_rows(rows).rows
    found = [each for result in results for each in _found(result)]
    return RowCheck(_end(results, "lower"), _end(results, "upper"), tuple(found))


def _rows(surface: str, printed: Printed) -> Iterator[LimitRow]:
    """Give the row itself, where it states a moment, and one for each of its mass bands."""
    known = {name: printed[name] for name in CHECKED if printed.get(name)}
    if "moment" in known:
        yield read_row({"surface": surface, **known})
    for band in printed.get("bands") or ():
        if band.get("moment"):
            given = {"moment": band["moment"], "positive": known.get("positive")}
            yield read_row({"surface": surface, **given, "mass": band["mass"]})


def _end(results: tuple[RowResult, ...], name: str) -> float | None:
    ends = [getattr(each, name) for each in results]
    if any(end is None for end in ends):
        return None
    return float(min(ends) if name == "lower" else max(ends))


def _found(result: RowResult) -> Iterator[Found]:
    for each in result.contradictions:
        yield Found("contradiction", each.between, _sentence(each))
    for each in result.small_differences:
        yield Found("small difference", each.between, _sentence(each))
    for doubt in result.doubts:
        yield Found("doubt", doubt.about, doubt.sentence)


def _sentence(found: Contradiction) -> str:
    """Write the sum out, both values, and how far they are apart."""
    if found.unit == "N m":
        stated, computed = format_moment(found.stated), format_moment(found.computed)
    else:
        stated, computed = format_quantity(found.stated, found.unit), format_quantity(found.computed, found.unit)
    return f"{found.between}: {found.sum_written_out}; stated {stated}, computed {computed}{_apart(found)}."


def _apart(found: Contradiction) -> str:
    percent = found.difference_percent
    if percent is None:
        return ""
    if abs(percent) > MOST_PERCENT:
        return f", more than {MOST_PERCENT:.0f} % apart"
    return f", {format_number(abs(percent), 1)} % apart"
