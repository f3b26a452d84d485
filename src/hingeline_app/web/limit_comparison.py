"""Two readings of one row, field by field, with the sums that either can be held against."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from hingeline.errors import InputRefused
from hingeline_app.approved.checking import Found, checked
from hingeline_app.approved.sums import Sum, sums
from hingeline_app.files.limits_file import OPEN
from hingeline_app.records.queries.approved_data import RowOnPage
from hingeline_app.records.queries.two_readings import differences
from hingeline_app.web.forms.limits import ORDER, PAIRS, RULES, SINGLES, WORDS

EMPTY = "–"


@dataclass(frozen=True)
class FieldRow:
    """One line of the table: the field, and what each read."""

    name: Any
    first: str
    second: str
    differs: bool


def compared(row: RowOnPage) -> list[FieldRow]:
    """Give every field that either reading holds, in the order of the form."""
    first, second = row.first or row.agreed, row.second
    if first is None:
        return []
    return list(_lines(first, second))


def _lines(first: Mapping[str, Any], second: Mapping[str, Any] | None) -> Iterator[FieldRow]:
    for field in ORDER:
        one, other = dict(_texts(field, first)), dict(_texts(field, second or {}))
        for name in dict.fromkeys((*one, *other)):
            left, right = one.get(name, EMPTY), other.get(name, EMPTY)
            differs = second is not None and bool(differences({"": left}, {"": right}))
            yield FieldRow(name, left, right if second is not None else "", differs)


def _texts(field: str, printed: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    """Give the words of a field as lines: a pair has two, each mass band one."""
    value = printed.get(field)
    if not value:
        return
    if field in PAIRS:
        _dimension, lower, upper = PAIRS[field]
        # Only a limit that is not printed is an open side; what is said a second time may be said of one end.
        none = _("open") if field == "moment" else EMPTY
        yield from (
            (str(name), none if text == OPEN else text) for name, text in zip((lower, upper), value, strict=True)
        )
    elif field == "bands":
        for band in value:
            ends = [_("open") if end == OPEN else end for end in band["moment"]]
            yield _("Band %(mass)s") % {"mass": " … ".join(band["mass"])}, " … ".join(ends)
    elif field == "rule":
        yield str(WORDS[field]), str(dict(RULES).get(value, value))
    else:
        yield str(SINGLES[field][1] if field in SINGLES else WORDS[field]), str(value)


def sums_of(row: RowOnPage) -> tuple[Sum, ...]:
    """Give the sums of a row, each against what either read."""
    readings = [each for each in (row.first, row.second) if each] or [each for each in (row.agreed,) if each]
    try:
        return sums(row.surface, readings)
    except InputRefused:
        return ()


def found_words(row: RowOnPage) -> tuple[Found, ...]:
    """Give what the check finds in the row as it stands: contradictions first."""
    if row.shown is None:
        return ()
    try:
        return checked(row.surface, row.shown).found
    except InputRefused:
        return ()
