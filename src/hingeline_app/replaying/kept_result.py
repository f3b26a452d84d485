"""A result of the records, worked out again from what was stored beside it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import hingeline
from hingeline.errors import InputRefused
from hingeline_app.files.again import differing, is_rounding, is_wording
from hingeline_app.files.toml_text import toml_text
from hingeline_app.records.canonical import canonical
from hingeline_app.replaying.changed_rules import changed_rules
from hingeline_app.replaying.worked_out import WORKED_OUT, worked_out_again

# By these names the text of a job file may stand in what was asked.
TEXTS = ("file", "text", "weighing", "task")
# What says who made it and when, and draws of chance: no part of what has to be the same.
BESIDE = ("about", "monte_carlo")
NO_SUCH_KIND = "no part of this program makes results of this kind"
CUT_OFF = "what was kept of it is cut off or was edited, and cannot be read"


@dataclass(frozen=True)
class Replayed:
    """What came of it: ``same``, or the differences, or why it could not be worked out; sentences stand apart."""

    result_format: str
    number: int
    same: bool
    differences: tuple[dict[str, str], ...]
    why_not: str
    made_by: str
    worked_out_by: str = hingeline.__version__
    worded_otherwise: tuple[dict[str, str], ...] = ()
    # Sentences of the rules that changed since, where it comes out otherwise by them.
    changed_rules: tuple[str, ...] = ()

    @property
    def by_rounding(self) -> bool:
        """Whether all that differs are last digits, which another version rounds another way."""
        return bool(self.differences) and all(map(is_rounding, self.differences))

    @property
    def told(self) -> tuple[dict[str, str], ...]:
        """Give all that is not as it was kept: what came out otherwise, then what is only worded otherwise."""
        return (*self.differences, *self.worded_otherwise)


def replayed(result_format: str, number: int, asked: str, document: str, software: str) -> Replayed:
    """Work a result out again and compare it with the one that was kept, to the last digit.

    A sentence that a later version says otherwise, or says in addition, is told, and makes no number another one.

    Parameters
    ----------
    result_format : str
        For instance ``hingeline/weighing-result/1``.
    number : int
        Of the weighing, for the page.
    asked, document : str
        JSON as the records keep it: the job file (its text, or its tables), and the result.
    software : str
        The version that made it.
    """
    if result_format not in WORKED_OUT:
        return Replayed(result_format, number, False, (), NO_SUCH_KIND, software)
    try:
        kept = _bare(_table(document))
        again = _bare(worked_out_again(result_format, job_file(_table(asked) if asked else {})))
    except (InputRefused, ValueError) as reason:
        return Replayed(result_format, number, False, (), str(reason), software)
    told = tuple(differing("", kept, again))
    found = tuple(each for each in told if not is_wording(each))
    worded = tuple(each for each in told if is_wording(each))
    rules = changed_rules(result_format, software, found, again)
    return Replayed(result_format, number, not found, found, "", software, worded_otherwise=worded, changed_rules=rules)


def _table(text: str) -> dict[str, Any]:
    """Read what was kept; that it was cut off or edited is said, whatever is wrong with it.

    Raises
    ------
    ValueError
        It is no JSON, or no table.
    """
    try:
        found = json.loads(text, parse_constant=_no_number)
    except (ValueError, RecursionError):
        raise ValueError(CUT_OFF) from None
    if not isinstance(found, dict):
        raise ValueError(CUT_OFF)
    return found


def _no_number(text: str) -> float:
    raise ValueError(text)


def job_file(asked: Mapping[str, Any]) -> bytes:
    """Give the job file that was asked with.

    Raises
    ------
    ValueError
        Nothing of it was kept, or what was kept is no job file.
    """
    for name in TEXTS:
        if isinstance(asked.get(name), str):
            return str(asked[name]).encode()
    if "format" not in asked:
        raise ValueError("what it was worked out from was not kept with it")
    try:
        return toml_text(asked).encode()
    except TypeError:
        raise ValueError(CUT_OFF) from None


def _bare(document: Mapping[str, Any]) -> dict[str, Any]:
    """Give a document in its one spelling, without what differs each time."""
    plain: dict[str, Any] = json.loads(canonical(document))
    return {name: value for name, value in plain.items() if name not in BESIDE}
