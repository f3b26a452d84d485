"""A filmed trial series beside what is computed: damping over the mass added, line and points apart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from hingeline_app.figures.damping.over_mass import DampingOverMass, draw_damping_over_mass
from hingeline_app.figures.damping.series_points import SeriesPoint
from hingeline_app.figures.wording import Toward, count_of, format_number, interval_places
from hingeline_app.why_balance.answers import least_damping
from hingeline_app.why_balance.sentences import NO_BREAK_SPACE, speed_words
from hingeline_app.why_balance.state import State

MASS, PLACES = "weight", 51
FEEDING = ("growing", "sustained")
WIDE, NARROW = 650.0, 348.0
Document = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Filmed:
    """A series as it stands beside the line.

    Parameters
    ----------
    name : str
        Which series, of what, by whom.
    document : Mapping
        What it was found to show, against a weight.
    """

    name: str
    document: Document


@dataclass(frozen=True, slots=True)
class Beside:
    """Line and points, drawn and in words.

    Parameters
    ----------
    wide, narrow : str
        SVG.
    finding : str
    rows : tuple of (str, str, str, str)
        Mass, recorded damping with its interval, computed damping, and how the two lie.
    """

    wide: str
    narrow: str
    finding: str
    rows: tuple[tuple[str, str, str, str], ...]


def beside(state: State, filmed: Filmed | None) -> Beside:
    """Draw the computed damping over the mass at the state's speed, and a series beside it."""
    knob = state.surface.knob(MASS)
    line = [(value, _damping(state, value)) for value in knob.values(PLACES)]
    points = tuple(recorded_points(filmed.document, knob.to_si)) if filmed else ()
    rows = tuple(_rows(state, points))
    shown = DampingOverMass(
        computed=line, recorded=points, scale=f"{knob.words}, {knob.unit}", finding=_finding(state, line, rows),
        computed_words=f"computed by the model at {speed_words(state, state.settings['speed'])}: least damping of any "
        "motion. Estimate, not a measurement.",
        recorded_words=f"recorded: {filmed.name}; whiskers: intervals at 95{NO_BREAK_SPACE}%." if filmed else "",
    )  # fmt: skip
    return Beside(draw_damping_over_mass(shown, WIDE), draw_damping_over_mass(shown, NARROW), shown.finding, rows)


def recorded_points(document: Document, to_si: float) -> Iterator[SeriesPoint]:
    """Give each recording of a series against weight as a point, its mass in the knob's unit."""
    for point in document["points"]:
        for seen in point["seen"]:
            damping = seen["damping_ratio"] or {"value": None, "low": None, "high": None}
            frequency = seen["frequency"]["value"] if seen["frequency"] else None
            yield SeriesPoint(
                point["at"] / to_si, frequency, damping["value"], damping["low"], damping["high"],
                seen["statement"] in FEEDING,
            )  # fmt: skip


def _damping(state: State, mass: float) -> float | None:
    return least_damping(replace(state, shown={**state.shown, MASS: mass}))


def _rows(state: State, points: Sequence[SeriesPoint]) -> Iterator[tuple[str, str, str, str]]:
    knob = state.surface.knob(MASS)
    for point in points:
        computed = _damping(state, point.at)
        yield f"{point.at:g} {knob.unit}", _recorded(point), _per_cent(computed), _lies(point, computed)


def _recorded(point: SeriesPoint) -> str:
    if point.damping is None:
        return "none stated"
    if point.low is None or point.high is None:
        return _per_cent(point.damping)
    places = interval_places(100.0 * point.low, 100.0 * point.high)
    ends = f"{_per_cent(point.low, places, 'down')} … {_per_cent(point.high, places, 'up')}"
    return f"{_per_cent(point.damping, places)} ({ends})"


def _per_cent(damping: float | None, places: int = 2, toward: Toward | None = None) -> str:
    return "no oscillation" if damping is None else f"{format_number(100.0 * damping, places, toward)}{NO_BREAK_SPACE}%"


def _lies(point: SeriesPoint, computed: float | None) -> str:
    if computed is None or point.low is None or point.high is None:
        return "not compared"
    if computed < point.low:
        return "computed lies below the interval"
    return "computed lies above the interval" if computed > point.high else "computed lies within the interval"


def _finding(state: State, line: Sequence[tuple[float, float | None]], rows: Sequence[tuple[str, ...]]) -> str:
    """Say where the line crosses nought, and how many recordings agree with it."""
    unit = state.surface.knob(MASS).unit
    growing = [mass for mass, damping in line if damping is not None and damping < 0.0]
    at = speed_words(state, state.settings["speed"])
    said = (
        f"Computed at {at}: a motion grows with {growing[0]:g} … {growing[-1]:g} {unit} added."
        if growing
        else f"Computed at {at}: no growing motion found at any mass drawn. Not proof."
    )
    compared = [row for row in rows if row[3] != "not compared"]
    if not rows:
        return f"{said} No recording is drawn."
    within = sum("within" in row[3] for row in compared)
    return (
        f"{said} Of {count_of(len(rows), 'recording')}, {len(compared)} can be compared: computed lies within the "
        f"interval of {within}."
    )
