"""Places marked on a photograph of a job: numbered and worded beside the picture, which itself is never changed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from hingeline.errors import InputRefused
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord

# Where the job's details hold them: a list for each photograph; a mark that was taken away leaves its number empty.
MARKS = "photograph_mark"
MOST = 40
_PERCENT = re.compile(r"\d{1,3}(?:[.,]\d{1,2})?")


@dataclass(frozen=True)
class Mark:
    """One place on a photograph.

    Parameters
    ----------
    number : int
        From 1; it is not given again.
    x, y : str
        [% of the picture's width from the left, % of its height from the top]
    words : str
        What is seen there.
    by : str
        Initials of who marked it.
    """

    number: int
    x: str
    y: str
    words: str
    by: str


def place_of(photograph: UUID, number: int | None = None) -> str:
    """Name the place of a photograph's marks in the job's details, or of one of them."""
    own = f"{MARKS}.p{photograph.hex}"
    return own if number is None else f"{own}.{number - 1}"


def marks_of(job: JobRecord, photograph: UUID) -> list[Mark]:
    """Give the marks of a photograph in their order."""
    return list(_marks(value_at(job.details, place_of(photograph))))


def next_number(job: JobRecord, photograph: UUID) -> int:
    """Give the number of the next mark."""
    rows = value_at(job.details, place_of(photograph))
    return len(rows) + 1 if isinstance(rows, list) else 1


def mark_row(x: str, y: str, words: str) -> dict[str, str]:
    """Give what is kept of a mark.

    Raises
    ------
    InputRefused
        A place lies outside the picture, or nothing is said of it.
    """
    if not words.strip():
        raise InputRefused.of("words", "", "what is seen there", "For instance: 1 pit at the root of the lug.")
    return {"x": _percent("across", x), "y": _percent("down", y), "words": words}


def _percent(field: str, text: str) -> str:
    text = text.strip()
    if not _PERCENT.fullmatch(text) or not 0.0 <= float(text.replace(",", ".")) <= 100.0:
        raise InputRefused.of(field, text, "a number from 0 to 100, in % of the picture", "Tap the place, or type it.")
    return f"{float(text.replace(',', '.')):.2f}"


def _marks(rows: Any) -> Iterator[Mark]:
    for number, row in enumerate(rows if isinstance(rows, list) else [], 1):
        if isinstance(row, dict):
            told = {name: str(row.get(name) or "") for name in ("x", "y", "words", "by")}
            yield Mark(number, **told)
