"""Which rules changed since a result was kept, where it comes out otherwise by them: nobody need suspect more."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from hingeline_app.files.again import is_rounding
from hingeline_app.report.quantities import is_between_bands

BEFORE_1_2 = frozenset({"1.0.0", "1.1.0"})
BETWEEN_BANDS = (
    "The rule changed: of a mass between two mass bands the distance from the nearest band is told, and no "
    "probability; both were told from the outer edges of all bands."
)
FRICTION = (
    "The rule changed: friction exactly on its allowance is within it; rounding in the last digit called it beyond."
)
MASS_BANDS = (
    "The rule changed: the guarded rule also asks whether the mass with its U stays within the mass bands. An "
    "“inside” of before, by the guarded rule, is not to be relied on."
)
GAUGE = (
    "The rule changed: U of a wall reading counts the degrees of freedom of its gauge. The U of before is too small."
)
# By the format of the result: in which fields it comes out otherwise, and what is said of it.
CHANGED = {
    "hingeline/weighing-result/1": (
        (re.compile(r"statements\[\d+\]\.(margin|probability_within)\b.*"), BETWEEN_BANDS),
        (re.compile(r"friction_moment\.within"), FRICTION),
    ),
    "hingeline/coating-result/1": (
        (re.compile(r"(surfaces\[\d+\]\.)?predicted_statement(_guarded)?"), MASS_BANDS),
    ),
    "hingeline/arm-result/1": ((re.compile(r"readings\[\d+\]\.(wall|lost)\..*"), GAUGE),),
}  # fmt: skip


def changed_rules(
    result_format: str, made_by: str | None, differences: Iterable[Mapping[str, str]], again: Mapping[str, Any]
) -> tuple[str, ...]:
    """Say which rules changed between the version that made a result and this one, where the result shows it.

    They explain what they speak of, and nothing else that differs beside it.

    Parameters
    ----------
    result_format : str
        For instance ``hingeline/weighing-result/1``.
    made_by : str or None
        The version that made it.
    differences : iterable of mapping
        As :func:`hingeline_app.files.again.differing` gives them.
    again : mapping
        The result as it is worked out now.
    """
    if made_by not in BEFORE_1_2:
        return ()
    fields = [each["field"] for each in differences if not is_rounding(each)]
    return tuple(words for words in dict.fromkeys(_found(result_format, fields)) if _is_of(words, again))


def _found(result_format: str, fields: Iterable[str]) -> Iterator[str]:
    for field in fields:
        yield from (words for pattern, words in CHANGED.get(result_format, ()) if pattern.fullmatch(field))


def _is_of(words: str, again: Mapping[str, Any]) -> bool:
    return words != BETWEEN_BANDS or any(map(is_between_bands, again.get("statements") or ()))
