"""What a number of a flutter file would be in SI if something else were typed in its place.

The file is read again with the other text in it, so that units, ranges and refusals are those of any file.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Mapping
from itertools import pairwise
from typing import Any, NamedTuple

from hingeline.errors import InputRefused
from hingeline.flutter import FlutterTask
from hingeline.flutter.dotted import fields_of, value_of
from hingeline_app.files.flutter_file import full_name, task_of

USUAL, MOST = 9, 101
WRITTEN = 'as "section.surface_static_moment=0 kg:0.04 kg" or "air.altitude=0 ft:8000 ft:5"'
_STEP = re.compile(r"[a-z_]+|\d+")


class Varied(NamedTuple):
    """A number of the model by its whole dotted name, and the values that it takes [SI], in even steps."""

    field: str
    values: tuple[float, ...]


def read_varied(text: str, document: Mapping[str, Any], task: FlutterTask) -> Varied:
    """Read what is to be varied, and from where to where.

    Parameters
    ----------
    text : str
        ``FIELD=FROM:TO`` or ``FIELD=FROM:TO:HOW MANY``; both ends as they would stand in the file.
    document : mapping
        The file.
    task : FlutterTask
        The same file, read.

    Returns
    -------
    Varied

    Raises
    ------
    InputRefused
        It is not written so, the model has no such number, or an end of it cannot stand in the file.
    """
    name, _, span = text.partition("=")
    ends = span.split(":")
    if not span or len(ends) not in (2, 3) or not all(end.strip() for end in ends):
        raise InputRefused.of("--vary", text, "a number of the file, from where, and to where", f"Write it {WRITTEN}.")
    field = full_name(name.strip(), set(fields_of(task)))
    value_of(task, field)
    low, high = (value_typed(document, field, end.strip()) for end in ends[:2])
    count = _count(text, ends[2:])
    if low == high:
        raise InputRefused.of("--vary", text, "two ends that differ", f"Write it {WRITTEN}.")
    return Varied(field, (low, *(low + (high - low) * step / (count - 1) for step in range(1, count - 1)), high))


def _count(text: str, given: list[str]) -> int:
    if not given:
        return USUAL
    if not given[0].strip().isdecimal() or not 2 <= int(given[0]) <= MOST:
        raise InputRefused.of("--vary", text, f"from 2 to {MOST} values", f"Leave the number out for {USUAL}.")
    return int(given[0])


def value_typed(document: Mapping[str, Any], field: str, text: str) -> float:
    """Give what a number would be in SI if a text stood for it in the file.

    Raises
    ------
    InputRefused
        It cannot stand there.
    """
    changed: Any = copy.deepcopy(dict(document))
    place = changed
    steps = [int(step) if step.isdecimal() else step for step in _STEP.findall(field)]
    for step, below in pairwise(steps):
        if not isinstance(step, int):
            place.setdefault(step, [] if isinstance(below, int) else {})
        place = place[step]
    place[steps[-1]] = _as_typed(text)
    return value_of(task_of(changed), field)


def _as_typed(text: str) -> float | str:
    """Give what a file would hold: a bare number stands in a file without quotes, a quantity in quotes."""
    try:
        return float(text)
    except ValueError:
        return text
