"""Rows of limits as a page draws them: each in little, all of a type on one axis, and the words beside it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from hingeline.errors import InputRefused
from hingeline_app.approved.checking import checked
from hingeline_app.figures.limit_axis import Axis, LimitBar
from hingeline_app.figures.limit_thumbnail import common_axis, draw_limit_thumbnail
from hingeline_app.figures.wording import format_moment_range
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


def types_on_page(rows: Iterable[RowOnPage]) -> list[TypeOnPage]:
    """Draw the rows of each type on one axis."""
    grouped = groupby(rows, lambda row: row.issue.type_name)
    return [_type(name, list(of_type)) for name, of_type in grouped]


def _type(name: str, rows: Sequence[RowOnPage]) -> TypeOnPage:
    bars = [bar_of(row) for row in rows]
    axis = common_axis(bar for bar in bars if bar is not None)
    drawn = tuple(_drawn(row, bar, axis) for row, bar in zip(rows, bars, strict=True))
    return TypeOnPage(name, format_moment_range(axis.low, axis.high), drawn)


def _drawn(row: RowOnPage, bar: LimitBar | None, axis: Axis) -> DrawnRow:
    if bar is None:
        return DrawnRow(row, _without_bar(row), state_words(row), SafeString(""))
    limits = format_moment_range(bar.lower, bar.upper)
    return DrawnRow(row, limits, state_words(row), mark_safe(draw_limit_thumbnail(bar, axis)))


def _without_bar(row: RowOnPage) -> str:
    if row.differs:
        return _("not settled")
    if row.is_hidden:
        return _("hidden until a second person has read it")
    printed = row.shown or {}
    if printed.get("moment") or any(band.get("moment") for band in printed.get("bands") or ()):
        return _("not understood: look at the page")
    return _("no moment is printed")


def bar_of(row: RowOnPage) -> LimitBar | None:
    """Give the limits of a row as its bar draws them; None where they are hidden, or no moment is printed."""
    # Of two readings neither is preferred; an end left open would say that the document prints none.
    if row.differs or row.shown is None:
        return None
    try:
        found = checked(row.surface, row.shown)
    except InputRefused:
        return None
    lower, upper = found.lower, found.upper
    return None if lower is None and upper is None else LimitBar(None, lower=lower, upper=upper)


def state_words(row: RowOnPage) -> Any:
    """Give the word of a row's state."""
    words = {"draft": _("draft"), "read once": _("read once"), "read twice": _("read twice")}
    return _("differs") if row.differs else words.get(row.state, _("superseded"))
