"""Rows of limits as a page draws them: each in little, all of a type on one axis, and the words beside it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from hingeline.errors import InputRefused
from hingeline.units import STANDARD_GRAVITY, read
from hingeline_app.approved.checking import Printed, checked
from hingeline_app.figures.axis import Axis, LimitBar
from hingeline_app.figures.limits.thumbnail import common_axis, draw_limit_thumbnail
from hingeline_app.figures.wording import format_moment_range
from hingeline_app.files.limits_file import OPEN
from hingeline_app.records.queries.approved_data import RowOnPage


@dataclass(frozen=True)
class DrawnRow:
    """A row with its thumbnail and its words."""

    row: RowOnPage
    limits: str
    state: str
    picture: SafeString


@dataclass(frozen=True)
class TypeOnPage:
    """The rows of a type, and the axis they share."""

    name: str
    axis: str
    rows: tuple[DrawnRow, ...]


def types_on_page(rows: Iterable[RowOnPage], local_gravity: str) -> list[TypeOnPage]:
    """Draw the rows of each type on one axis; limits of an in-lb or a kg cm by the gravity of the workshop."""
    grouped = groupby(rows, lambda row: row.issue.type_name)
    return [_type(name, list(of_type), local_gravity) for name, of_type in grouped]


def _type(name: str, rows: Sequence[RowOnPage], local_gravity: str) -> TypeOnPage:
    bars = [bar_of(row, local_gravity) for row in rows]
    axis = common_axis(bar for bar in bars if bar is not None)
    drawn = tuple(_drawn(row, bar, axis) for row, bar in zip(rows, bars, strict=True))
    # Where no row is drawn there is no axis: its ends would be numbers of nothing.
    return TypeOnPage(name, format_moment_range(axis.low, axis.high) if any(bars) else "", drawn)


def _drawn(row: RowOnPage, bar: LimitBar | None, axis: Axis) -> DrawnRow:
    if bar is None:
        return DrawnRow(row, _without_bar(row), state_words(row), SafeString(""))
    limits = format_moment_range(bar.lower, bar.upper)
    return DrawnRow(row, limits, state_words(row), mark_safe(draw_limit_thumbnail(bar, axis)))


def _without_bar(row: RowOnPage) -> str:
    if row.is_unsettled:
        return _("not settled")
    if row.is_hidden:
        return _("hidden until a second person has read it")
    printed = row.shown or {}
    if printed.get("moment") or any(band.get("moment") for band in printed.get("bands") or ()):
        return _("not understood: look at the page")
    return _("no moment is printed")


def bar_of(row: RowOnPage, local_gravity: str) -> LimitBar | None:
    """Give the limits of a row as its bar draws them; None where they are hidden, or no moment is printed."""
    # Of two readings neither is preferred; an end left open would say that the document prints none.
    if row.is_unsettled or row.shown is None:
        return None
    try:
        found, by = checked(row.surface, row.shown), _by_gravity(row.shown, local_gravity)
    except InputRefused:
        return None
    lower, upper = (None if end is None else end * by for end in (found.lower, found.upper))
    return None if lower is None and upper is None else LimitBar(None, lower=lower, upper=upper)


def _by_gravity(printed: Printed, local_gravity: str) -> float:
    """Give what limits are here over what they are by standard gravity; 1 for newton metres."""
    typed = [read(end, "moment", page=True) for end in _moment_ends(printed)]
    if not typed or any(each.local_gravity is None for each in typed):
        return 1.0
    return float(read(local_gravity, "acceleration")) / STANDARD_GRAVITY


def _moment_ends(printed: Printed) -> Iterator[str]:
    for table in (printed, *(printed.get("bands") or ())):
        ends = table.get("moment") or ()
        both = (ends.get("lower"), ends.get("upper")) if isinstance(ends, Mapping) else ends
        yield from (str(end) for end in both if end not in (None, "", OPEN))


def state_words(row: RowOnPage) -> Any:
    """Give the word of a row's state."""
    words = {"draft": _("draft"), "read once": _("read once"), "read twice": _("read twice")}
    return _("differs") if row.is_unsettled else words.get(row.state, _("superseded"))
