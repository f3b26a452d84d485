"""A measured value beside its limits: what was typed, what it says by value ± U, and its words for the sheet."""

from __future__ import annotations

from dataclasses import dataclass

from hingeline.errors import InputRefused, Refusal
from hingeline.uncertainty import guarded
from hingeline.units import read

NOT_MEASURED, NO_LIMIT = "not measured", "no limit given"


@dataclass(frozen=True)
class Compared:
    """A value with its interval, its limits and its finding; SI numbers."""

    value: float
    uncertainty: float | None
    lower: float | None
    upper: float | None
    finding: str


def compared(value: str, uncertainty: str, lower: str, upper: str, dimension: str) -> Compared:
    """Compare a measured value ± U with the limits of the approved data, each as typed.

    Inside: all of value ± U lies within. Outside: all of it lies beyond one limit. Else too close to tell
    (guarded acceptance with a guard band of U; JCGM 106:2012, clause 8.3.2 from memory).

    Raises
    ------
    InputRefused
        A text cannot be read, U is missing or negative, the limits are the wrong way round.
    """
    refused: list[Refusal] = []
    found = _tried(value or " ", dimension, "value", refused)
    expanded = _tried(uncertainty, dimension, "uncertainty", refused)
    ends = _tried(lower, dimension, "lower limit", refused), _tried(upper, dimension, "upper limit", refused)
    if found is None or refused:
        raise InputRefused(refused)
    if ends[0] is not None and ends[1] is not None and ends[0] > ends[1]:
        raise InputRefused.of("lower limit", lower, f"at most the upper limit {upper}", "Read the document again.")
    if expanded is None:
        raise InputRefused.of("uncertainty", "", "the ± of the instrument", "Its certificate or its step says it.")
    if expanded < 0:
        raise InputRefused.of("uncertainty", uncertainty, "zero or more", "Type it without a sign.")
    if ends == (None, None):
        return Compared(found, expanded, *ends, NO_LIMIT)
    return Compared(found, expanded, *ends, str(guarded(found, expanded, *ends) or NO_LIMIT))


def limit_words(lower: str, upper: str) -> str:
    """Write the limits as typed."""
    if lower and upper:
        return f"{lower} … {upper}"
    return f"at least {lower}" if lower else f"at most {upper}" if upper else ""


def _tried(text: str, dimension: str, field: str, refused: list[Refusal]) -> float | None:
    """Read a text; what is wrong with it joins the others, so that a form is mended in one go. Nothing is nothing."""
    if not text:
        return None
    try:
        return read(text, dimension, field=field, page=True)
    except InputRefused as one:
        refused += one.refusals
        return None
