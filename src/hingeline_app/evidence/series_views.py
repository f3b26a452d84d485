"""A series of recordings as parts of a page: its picture, and row by row what each speed or weight gave."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from hingeline.units import read
from hingeline_app.evidence.words import interval_text
from hingeline_app.figures.damping.series_points import SeriesPicture, SeriesPoint, draw_series_points
from hingeline_app.figures.wording import NOT_KNOWN, count_of, format_measured, format_number, format_quantity

Document = Mapping[str, Any]
WIDE, NARROW = 660.0, 340.0
KNOT = 1852.0 / 3600.0
FEEDING = ("growing", "sustained")
OF_KNOCKS = "Points: the two modes of the knocks, filled the slower; whiskers: their scatter, one standard deviation."
OF_EACH = "Points: the main motion of each recording; whiskers: intervals at 95 %."


@dataclass(frozen=True, slots=True)
class SeriesRow:
    """What one speed or weight gave.

    Parameters
    ----------
    at : str
    recordings : tuple of int
        Their numbers.
    statement : str
        The worst of them.
    frequencies, dampings : tuple of str
        A motion each.
    good : str
        How many knocks could be read.
    """

    at: str
    recordings: tuple[int, ...]
    statement: str
    frequencies: tuple[str, ...]
    dampings: tuple[str, ...]
    good: str


@dataclass(frozen=True, slots=True)
class SeriesViews:
    """The parts of a page."""

    picture: str
    picture_narrow: str
    rows: tuple[SeriesRow, ...]


def series_views_of(document: Document, asked: Mapping[str, Any], headline: str) -> SeriesViews:
    """Draw and word a series."""
    picture = picture_of(document, headline)
    rows = tuple(_row(point, document["against"], asked["members"]) for point in document["points"])
    return SeriesViews(draw_series_points(picture, WIDE), draw_series_points(picture, NARROW), rows)


def picture_of(document: Document, headline: str) -> SeriesPicture:
    """Give what is drawn of a series: the modes of its knocks where it is against airspeed and they could be read."""
    by_knocks = document["against"] == "airspeed" and any(point["modes"] for point in document["points"])
    points = tuple(_modes(document) if by_knocks else _each(document))
    factor, unit = _scale(document)
    left = sum(point.damping is None for point in points)
    remarks = [f"{count_of(left, 'recording')} without a damping: not drawn above."] if left else []
    edge = _edge(document, factor)
    return SeriesPicture(
        points=points,
        scale=f"equivalent airspeed, {unit}" if document["against"] == "airspeed" else f"weight fitted, {unit}",
        finding=f"{headline}.",
        interval_words=OF_KNOCKS if by_knocks else OF_EACH,
        not_excluded=edge,
        not_excluded_words=_edge_words(document, edge, unit),
        remarks=tuple(remarks),
    )


def _scale(document: Document) -> tuple[float, str]:
    if document["against"] == "airspeed":
        return 1.0 / KNOT, "kn"
    largest = max(point["at"] for point in document["points"])
    return (1000.0, "g") if largest < 1.0 else (1.0, "kg")


def _edge(document: Document, factor: float) -> tuple[float, float | None] | None:
    onset, stops = document["onset_speed"], document["stops_between"]
    if onset is not None:
        return factor * onset["low"]["value"], None
    if stops is not None:
        return factor * stops["low"]["value"], factor * stops["high"]["value"]
    return None


def _edge_words(document: Document, edge: tuple[float, float | None] | None, unit: str) -> str:
    if edge is None:
        return ""
    if document["stops_between"] is not None:
        return "it stops between these"
    return f"onset not excluded from {format_quantity(edge[0], unit, 0 if edge[0] >= 10.0 else 1, toward='down')} on"


def _modes(document: Document) -> Iterator[SeriesPoint]:
    factor, _unit = _scale(document)
    for point in document["points"]:
        for index, mode in enumerate(point["modes"]):
            damping, scatter = mode["damping_ratio"], mode["scatter"]
            low, high = (None, None) if scatter is None else (damping - scatter, damping + scatter)
            at, frequency = factor * point["at"], mode["frequency"]["value"]
            yield SeriesPoint(at, frequency, damping, low, high, second=index == 1)
        if not point["modes"]:
            yield from _seen(point, factor)


def _each(document: Document) -> Iterator[SeriesPoint]:
    factor, _unit = _scale(document)
    for point in document["points"]:
        yield from _seen(point, factor)


def _seen(point: Document, factor: float) -> Iterator[SeriesPoint]:
    for each in point["seen"]:
        damping = each["damping_ratio"] or {"value": None, "low": None, "high": None}
        yield SeriesPoint(
            factor * point["at"], each["frequency"]["value"] if each["frequency"] else None,
            damping["value"], damping["low"], damping["high"], each["statement"] in FEEDING,
        )  # fmt: skip


def _row(point: Document, against: str, members: Sequence[Mapping[str, Any]]) -> SeriesRow:
    here = [each for each in members if _is_at(each["at"], point["at"], against)]
    modes = [(_frequency(mode), _damping(mode)) for mode in point["modes"]]
    seen = [(interval_text(each["frequency"]), interval_text(each["damping_ratio"])) for each in point["seen"]]
    shown = modes if against == "airspeed" and modes else seen
    typed = dict.fromkeys(each["at"] for each in here)
    good = f"{count_of(point['recordings'], 'recording')}, {point['good']} with two modes"
    return SeriesRow(
        " / ".join(typed) or NOT_KNOWN, tuple(each["recording"] for each in here), point["statement"],
        tuple(each[0] for each in shown), tuple(each[1] for each in shown), good if against == "airspeed" else "",
    )  # fmt: skip


def _frequency(mode: Document) -> str:
    return format_quantity(mode["frequency"]["value"], "Hz", 2)


def _damping(mode: Document) -> str:
    scatter = mode["scatter"]
    if not scatter:
        return format_number(mode["damping_ratio"], 4)
    return format_measured(mode["damping_ratio"], scatter, "")


def _is_at(typed: str, at: float, against: str) -> bool:
    return float(read(typed, "speed" if against == "airspeed" else "mass", field="at")) == at
