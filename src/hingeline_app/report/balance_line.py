"""The line for the aircraft's own weight-and-balance record, printed; what is not known is asked for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from hingeline.balance.aircraft_line import AircraftLine, MassChange, aircraft_line
from hingeline_app.figures.wording import MINUS, format_number, with_unit
from hingeline_app.report.explanation import Part, make_explanation
from hingeline_app.report.fonts import as_printed
from hingeline_app.report.sheet import made_words
from hingeline_app.report.worksheet import Paper

TITLE = "Line for the weight-and-balance record"
BLANK = "____________"
POUND, INCH = 0.45359237, 0.0254  # exact (international yard and pound, 1959)
ASKED = (
    "The arm of the hinge line from the aircraft's datum is not known here, and it is not guessed. Take it from the "
    "approved data or measure it, write it in, and work the moment out: mass × arm. Aft of the datum is plus."
)
CAUTION = (
    "Worked out from the masses that were entered, without a ±; the aircraft was not weighed. Whoever keeps its "
    "weight-and-balance record decides whether it is to be weighed anew."
)
ENTERED = ("Entered in the aircraft's record by", "Date")
UNCHANGED = "No mass was put on or taken off, so nothing changes here. A coat of paint is a mass too: enter it."


@dataclass(frozen=True, slots=True)
class PlaceChange:
    """Mass put on (plus) or taken off at a place [kg]; arm from the hinge line, aft positive [m]."""

    place: str
    mass: float
    arm_from_hinge: float


@dataclass(frozen=True, slots=True)
class BalanceLine:
    """What the line is printed from.

    Parameters
    ----------
    aircraft, surface, record, date, workshop : str
    changes : tuple of PlaceChange
    hinge_from_datum : float or None
        Aft of the datum positive [m]; None: asked for.
    """

    aircraft: str
    surface: str
    record: str
    date: str
    workshop: str
    changes: tuple[PlaceChange, ...]
    hinge_from_datum: float | None = None


def make_balance_line(line: BalanceLine, made_at: datetime, version: str, paper: Paper = "a4") -> bytes:
    """Print the line, as a tagged PDF/A-3a of one side."""
    said = line_sentences(line)
    return make_explanation(
        TITLE, as_printed(f"{line.aircraft}. {line.surface}."), list(_parts(line, said)), made_at,
        foot=as_printed(f"Record {line.record or 'without a number'} · Hingeline {version} · "
                    f"made {made_words(made_at)}"),
        aside="Prepared for the keeper of the aircraft's record", paper=paper,
    )  # fmt: skip


def line_sentences(line: BalanceLine) -> list[tuple[str, str]]:
    """Return the entries of the line: what, and its value in words."""
    if not line.changes:
        return [("change", "none")]
    mass = _signed(sum(each.mass for each in line.changes), "kg", 3)
    if line.hinge_from_datum is None:
        return [("mass", mass), ("arm from the datum", f"{BLANK} m"), ("moment", f"{BLANK} kg·m, plus is aft")]
    found = aircraft_line([MassChange(e.mass, e.arm_from_hinge) for e in line.changes], line.hinge_from_datum)
    return [("mass", mass), ("arm from the datum", _arm(found)), ("moment", _moment(found.moment))]


def _arm(found: AircraftLine) -> str:
    if found.arm is None:
        return "none: what was put on and taken off weighs the same"
    side = "aft" if found.arm >= 0 else "forward"
    return f"{with_unit(format_number(abs(found.arm), 3), 'm')} {side} of the datum"


def _moment(moment: float) -> str:
    """Write a moment about the datum with its sign, and what the sign means, in words."""
    shown = round(moment, 4)
    sense = (
        "changes nothing" if shown == 0 else f"{'adds to' if shown > 0 else 'takes from'} the moment aft of the datum"
    )
    pounds = _signed(moment / POUND / INCH, "lb·in", 1)
    return f"{_signed(moment, 'kg·m', 4)} ({pounds}), {sense}"


def _signed(value: float, unit: str, places: int) -> str:
    # What rounding leaves of masses that cancel is nothing, and has no sign.
    shown = round(value, places)
    sign = "+" if shown > 0 else MINUS if shown < 0 else ""
    return f"{sign}{with_unit(format_number(abs(value), places), unit)}"


def _parts(line: BalanceLine, said: Sequence[tuple[str, str]]) -> Iterator[Part]:
    yield Part("text", as_printed(f"{line.workshop}. Work of {line.date or BLANK}, record {line.record or BLANK}."))
    if not line.changes:
        yield Part("statement", "Nothing was put on or taken off")
        yield Part("text", UNCHANGED)
        return
    for what, words in said:
        yield Part("statement", f"{what.capitalize()}: {words}")
    yield Part("heading", "Made of")
    yield Part("list", lines=tuple(as_printed(_place(each)) for each in line.changes))
    if line.hinge_from_datum is None:
        yield Part("caution", ASKED)
    else:
        side = "aft" if line.hinge_from_datum >= 0 else "forward"
        arm = with_unit(format_number(abs(line.hinge_from_datum), 3), "m")
        yield Part("text", f"The hinge line lies {arm} {side} of the datum, as entered; each place counts from there.")
    yield Part("caution", CAUTION)
    yield Part("rules", lines=ENTERED)


def _place(each: PlaceChange) -> str:
    side = "aft" if each.arm_from_hinge >= 0 else "forward"
    arm = with_unit(format_number(abs(each.arm_from_hinge) * 1e3, 1), "mm")
    return f"{each.place}: {_signed(each.mass, 'kg', 3)}, {arm} {side} of the hinge line"
