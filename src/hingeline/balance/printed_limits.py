"""Contradictions in printed rows of limits.

Manuals print one limit in several ways: as a moment, as a force at an arm, in a
second unit. Where these ways disagree by more than rounding, one of them is
wrong, and it is not for a program to say which: the moment is taken as
authoritative, and the contradiction is shown.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Annotated, Literal, get_args

from hingeline.balance.checks import LONGEST, gravity_faults
from hingeline.document import document_format
from hingeline.errors import InputRefused
from hingeline.fields import Length, Moment, Unit
from hingeline.units import STANDARD_GRAVITY, Typed

OwnMoment = Annotated[float, Unit(field="unit", moment=True)]
Sense = Literal["tail-heavy", "nose-heavy"]

# A gap wider than this part of the larger number is a contradiction, not a matter of rounding.
CONTRADICTION = 0.01
# A centre of gravity closer to the hinge line than this part of the chord, in a band that leaves out
# zero, is rare enough to be asked about (common practice, no source).
NEAR_HINGE = 0.03
# No surface of a light aircraft has a moment, force or mass beyond this (SI).
LARGEST = 10_000.0
# Nor is anything printed smaller than this, unless it is zero: what is divided by it would have no end.
SMALLEST = 1e-9
_SI_UNITS = {"moment": "N m", "force": "N", "reading": "kg", "mass": "kg", "second_mass": "kg", "second_unit": "N m"}
# Documents that print kg cm beside N m with 10 N to the kilogram are compared with themselves, print with print;
# any other gravity is that of a place, as a weighing takes it.
ROUNDED_GRAVITY = 10.0


@dataclass(frozen=True, slots=True)
class PrintedRange:
    """A lower and an upper number as printed.

    Parameters
    ----------
    lower, upper : float, optional
        In SI, in the document's own sign; either may be missing.
    """

    lower: float | None = None
    upper: float | None = None

    def bounds(self) -> Iterator[tuple[str, float]]:
        """Go through the numbers that are there, named."""
        for name, bound in (("lower", self.lower), ("upper", self.upper)):
            if bound is not None:
                yield name, bound


@dataclass(frozen=True, slots=True)
class LimitRow:
    """One row of approved data, as printed.

    Parameters
    ----------
    surface : str
    moment : PrintedRange
        Authoritative [N m].
    positive : {"tail-heavy", "nose-heavy"}
        What the document's positive sign means.
    force : PrintedRange, optional
        At ``arm`` [N].
    reading : PrintedRange, optional
        A mass at ``arm`` [kg].
    arm, second_arm : float, optional
        [m]; the same arm in a second unit.
    mass, second_mass : PrintedRange, optional
        Of the surface [kg]; the same in a second unit.
    second_unit : PrintedRange, optional
        The moment in a second unit [N m].
    chord : float, optional
        Of the surface, hinge line to trailing edge [m].
    effectivity, source : str
    """

    surface: str
    moment: PrintedRange
    positive: Sense = "tail-heavy"
    force: PrintedRange | None = None
    reading: PrintedRange | None = None
    arm: float | None = None
    second_arm: float | None = None
    mass: PrintedRange | None = None
    second_mass: PrintedRange | None = None
    second_unit: PrintedRange | None = None
    chord: float | None = None
    effectivity: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class Contradiction:
    """Two numbers of one row that cannot both be right [``unit``; moments tail-heavy positive].

    ``difference_percent`` is computed over stated, less one; None where zero is stated.
    """

    between: str
    unit: str
    stated: OwnMoment
    computed: OwnMoment
    difference_percent: float | None
    sum_written_out: str


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something that can be right but is worth a second look at the page [m; aft of the hinge line positive]."""

    about: str
    least: Length
    most: Length
    chord: Length
    sentence: str


@dataclass(frozen=True, slots=True)
class RowResult:
    """What was found in one row; limits in N m, tail-heavy positive."""

    surface: str
    lower: Moment | None
    upper: Moment | None
    contradictions: tuple[Contradiction, ...]
    small_differences: tuple[Contradiction, ...]
    doubts: tuple[Doubt, ...]
    effectivity: str
    source: str


@document_format("hingeline/limits-result/1")
@dataclass(frozen=True, slots=True)
class LimitsResult:
    """What was found in the rows of one document."""

    rows: tuple[RowResult, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]


Interval = tuple[float, float]

_CAUTION = (
    "The approved document governs. Where a row contradicts itself, ask the design holder before you use it; "
    "nothing here says which number is right."
)
_NOTE = (
    "Each printed number stands for an interval of half its last digit to both sides. A contradiction is where "
    "the intervals stay apart by more than 1 % of the larger number (from zero: by more than the last digit). "
    "A smaller gap is listed as a small difference."
)


def check_rows(rows: tuple[LimitRow, ...], local_gravity: float = STANDARD_GRAVITY) -> LimitsResult:
    """Look for contradictions in printed rows.

    Parameters
    ----------
    rows : tuple of LimitRow
        SI, in each document's own sign. A number that remembers its text stands for its
        printed interval, a plain float for itself.
    local_gravity : float
        As a weighing takes it, or the rounded 10 that a document itself counts with [m/s^2].

    Returns
    -------
    LimitsResult
        For each row its limits, tail-heavy positive, and where it disagrees with itself.

    Raises
    ------
    InputRefused
        A row has no moment, an arm or chord that is not positive, or a number that cannot be; or no place on Earth has
        the gravity, and it is not the rounded 10.

    Notes
    -----
    Common practice, no source; the rows that it was tried on are named in docs/validation.md.

    Examples
    --------
    A row that prints 2.10 N m, and beside it 6.4 N at 0.255 m, which makes 1.632 N m.

    >>> from hingeline.balance import LimitRow, PrintedRange, check_rows
    >>> row = LimitRow("elevator", PrintedRange(0.0, 2.10), force=PrintedRange(0.0, 6.4), arm=0.255)
    >>> (found,) = check_rows((row,)).rows
    >>> [(one.stated, round(one.computed, 3), round(one.difference_percent)) for one in found.contradictions]
    [(2.1, 1.632, -22)]
    """
    _refuse_unusable(rows, local_gravity)
    results = tuple(_row(row, local_gravity) for row in rows)
    return LimitsResult(results, (_NOTE,), (_CAUTION,))


def _refuse_unusable(rows: tuple[LimitRow, ...], local_gravity: float) -> None:
    refused = [each for index, row in enumerate(rows) for each in _faults(f"row[{index}]", row)]
    gravity = () if local_gravity == ROUNDED_GRAVITY else gravity_faults(local_gravity)
    refusals = [*gravity, *(refusal for each in refused for refusal in each.refusals)]
    if refusals:
        raise InputRefused(refusals)


def _faults(place: str, row: LimitRow) -> Iterator[InputRefused]:
    if row.moment.lower is None and row.moment.upper is None:
        yield InputRefused.of(f"{place}.moment", "none", "a lower or an upper moment", "The moment governs: give it.")
    if row.positive not in get_args(Sense):
        expected = f"one of {', '.join(get_args(Sense))}"
        yield InputRefused.of(f"{place}.positive", row.positive, expected, "Write one of these words.")
    for name in ("arm", "second_arm", "chord"):
        length = getattr(row, name)
        if length is not None and not SMALLEST <= length <= LONGEST:
            remedy = "Check the number and its unit." if length > 0.0 else "Give the distance without a sign."
            yield InputRefused.of(f"{place}.{name}", _text(length), f"a length above 0, up to {LONGEST:g} m", remedy)
    yield from _too_large(place, row)
    for name in ("force", "reading"):
        if getattr(row, name) is not None and row.arm is None:
            yield InputRefused.of(f"{place}.arm", "missing", f"the arm of the {name}", "Give where it acts.")


def _too_large(place: str, row: LimitRow) -> Iterator[InputRefused]:
    for name, unit in _SI_UNITS.items():
        for end, number in (getattr(row, name) or PrintedRange()).bounds():
            least = 0.0 if name.endswith("mass") else -LARGEST
            if not least <= number <= LARGEST or 0.0 < abs(number) < SMALLEST:
                kind = "moment" if name == "second_unit" else name.removeprefix("second_")
                expected = f"a {kind} from {least:g} to {LARGEST:g} {unit}, zero or at least {SMALLEST:g}"
                yield InputRefused.of(f"{place}.{name}.{end}", _text(number), expected, "Check number, sign and unit.")


def _row(row: LimitRow, local_gravity: float) -> RowResult:
    sign = 1.0 if row.positive == "tail-heavy" else -1.0
    gaps = [gap for gap in _gaps(row, local_gravity) if gap is not None]
    lower, upper = row.moment.lower, row.moment.upper
    ends = [None if end is None else sign * end for end in (lower, upper)]
    if sign < 0.0:
        ends.reverse()
    return RowResult(
        surface=row.surface,
        lower=ends[0],
        upper=ends[1],
        contradictions=tuple(_signed(found, sign) for found, wide in gaps if wide),
        small_differences=tuple(_signed(found, sign) for found, wide in gaps if not wide),
        doubts=tuple(_doubts(row, sign, local_gravity)),
        effectivity=row.effectivity,
        source=row.source,
    )


def _signed(found: Contradiction, sign: float) -> Contradiction:
    if found.unit != "N m" or sign > 0.0:
        return found
    return replace(found, stated=sign * found.stated, computed=sign * found.computed)


def _gaps(row: LimitRow, local_gravity: float) -> Iterator[tuple[Contradiction, bool] | None]:
    """Compare everything that a row states twice."""
    yield _order(row.moment)
    arm = None if row.arm is None else _interval(row.arm)
    for name, printed, per_unit in (("force", row.force, 1.0), ("reading", row.reading, local_gravity)):
        if printed is not None and arm is not None:
            for end, number in printed.bounds():
                computed = _product(_interval(number), arm, per_unit)
                words = f"{_text(number)} x {_text(row.arm)}"
                value = number * per_unit * (row.arm or 0.0)
                yield _gap(f"{name} x arm and moment, {end}", "N m", _end(row.moment, end), value, computed, words)
    yield from _twice(row.moment, row.second_unit, "second unit and moment", "N m")
    yield from _twice(row.mass, row.second_mass, "second unit and mass", "kg")
    if row.arm is not None and row.second_arm is not None:
        other = row.second_arm
        yield _gap("second unit and arm", "m", row.arm, other, _interval(other), _text(other))


def _twice(
    first: PrintedRange | None, second: PrintedRange | None, between: str, unit: str
) -> Iterator[tuple[Contradiction, bool] | None]:
    if first is None or second is None:
        return
    for end, number in second.bounds():
        yield _gap(f"{between}, {end}", unit, _end(first, end), number, _interval(number), _text(number))


def _end(printed: PrintedRange, end: str) -> float | None:
    return printed.lower if end == "lower" else printed.upper


def _order(moment: PrintedRange) -> tuple[Contradiction, bool] | None:
    if moment.lower is None or moment.upper is None or moment.lower <= moment.upper:
        return None
    words = f"{_text(moment.lower)} above {_text(moment.upper)}"
    percent = _percent(moment.lower, moment.upper)
    return Contradiction("lower and upper", "N m", moment.lower, moment.upper, percent, words), True


def _gap(
    between: str, unit: str, stated: float | None, computed: float, interval: Interval, words: str
) -> tuple[Contradiction, bool] | None:
    """Give the gap between what is stated and what is computed, and whether it is a contradiction."""
    if stated is None:
        return None
    low, high = _interval(stated)
    apart = max(interval[0] - high, low - interval[1])
    if apart <= 0.0:
        return None
    allowed = CONTRADICTION * max(abs(stated), abs(computed)) if stated else high - low
    percent = _percent(stated, computed)
    sentence = f"{words} = {computed:.6g} {unit}, but {_in_si(stated, unit)} is stated"
    return Contradiction(between, unit, stated, computed, percent, sentence), apart > allowed


def _percent(stated: float, computed: float) -> float | None:
    return 100.0 * (computed / stated - 1.0) if stated else None


def _interval(number: float) -> Interval:
    """Give what a printed number stands for: half its last digit to both sides."""
    half = number.last_digit / 2.0 if isinstance(number, Typed) else 0.0
    return number - half, number + half


def _product(one: Interval, other: Interval, factor: float) -> Interval:
    corners = [factor * a * b for a in one for b in other]
    return min(corners), max(corners)


def _text(number: float | None) -> str:
    return number.text if isinstance(number, Typed) else f"{number:.6g}"


def _in_si(number: float, unit: str) -> str:
    """Write a printed number, and its SI value where it was printed in another unit."""
    same = isinstance(number, Typed) and number.unit.replace("·", " ") == unit
    return _text(number) if same else f"{_text(number)} = {number:.6g} {unit}"


def _doubts(row: LimitRow, sign: float, local_gravity: float) -> Iterator[Doubt]:
    """Ask whether moment and mass put the centre of gravity where a surface can have it."""
    if row.chord is None or row.mass is None:
        return
    weights = [mass * local_gravity for _, mass in row.mass.bounds() if mass > 0.0]
    moments = [sign * moment + 0.0 for _, moment in row.moment.bounds()]
    if not weights or not moments:
        return
    centres = [moment / weight for moment in moments for weight in weights]
    least, most = min(centres), max(centres)
    one_side = len(moments) == 2 and least * most > 0.0
    if max(abs(least), abs(most)) > row.chord:
        yield _doubt(row, least, most, "part of the band puts it behind the trailing edge or as far forward")
    elif one_side and max(abs(least), abs(most)) < NEAR_HINGE * row.chord:
        yield _doubt(row, least, most, "the whole band puts it almost on the hinge line, and yet leaves out zero")


def _doubt(row: LimitRow, least: float, most: float, why: str) -> Doubt:
    sentence = (
        f"Moment over mass puts the centre of gravity {least * 1000:.3g} … {most * 1000:.3g} mm from the hinge "
        f"line, on a chord of {(row.chord or 0.0) * 1000:.4g} mm: {why}. Is the unit or the column right?"
    )
    return Doubt("centre of gravity and chord", least, most, row.chord or 0.0, sentence)
