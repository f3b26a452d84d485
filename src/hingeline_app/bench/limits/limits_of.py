"""A row of limits as printed becomes the limits of a weighing file: tail-heavy positive, whatever is plus in print."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.files.limits_file import OPEN
from hingeline_app.files.plus_sense import TAIL_HEAVY, sense_of
from hingeline_app.records.queries.limits import RowRecord


def limits_table(row: RowRecord | None) -> dict[str, Any]:
    """Give the ``[limits]`` table of a weighing file; empty without a row, while it may not be seen or is not settled.

    Of two readings that differ neither is preferred.

    Raises
    ------
    InputRefused
        Which way the row's plus points cannot be understood: it is told, and never taken for one of the two.
    """
    if row is None or row.printed is None or row.is_unsettled:
        return {}
    printed = row.printed
    turned = _sense(printed) != TAIL_HEAVY
    return {
        **_ends(printed.get("moment"), turned),
        "rule": printed.get("rule") or "simple",
        "source": f"{row.document}, issue {row.issue}, page {row.page}",
        "band": [
            {"mass": list(band["mass"]), **_ends(band.get("moment"), turned)} for band in printed.get("bands") or []
        ],
        "mass": _ends(printed.get("mass"), False) or None,
        "reading": _ends(printed.get("reading"), turned) or None,
    }


def is_understood(row: RowRecord) -> bool:
    """Whether the row says which way its plus points; true while it may not be seen."""
    try:
        _sense(row.printed or {})
    except InputRefused:
        return False
    return True


def _sense(printed: Mapping[str, Any]) -> str:
    try:
        return sense_of(printed.get("positive", TAIL_HEAVY))
    except InputRefused as refused:
        raise refused.at("limits.positive") from None


def _ends(ends: Any, turned: bool) -> dict[str, str]:
    """Give the lower and the upper end; an open one is left out."""
    pair: Sequence[Any] = (
        (ends.get("lower"), ends.get("upper")) if isinstance(ends, Mapping) else tuple(ends or (None, None))
    )
    lower, upper = (_turned(pair[1]), _turned(pair[0])) if turned else pair
    given = {"lower": lower, "upper": upper}
    return {name: str(text) for name, text in given.items() if text not in (None, "", OPEN)}


def _turned(text: Any) -> Any:
    """Give a printed number with the other sign, digit for digit."""
    if text in (None, "", OPEN):
        return text
    bare = str(text).strip().replace("−", "-")
    if not any(digit in bare.split()[0] for digit in "123456789"):
        return bare.lstrip("+-")
    return bare[1:] if bare.startswith("-") else "-" + bare.removeprefix("+")
