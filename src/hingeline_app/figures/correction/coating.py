"""What a coating's document shows as a picture and as a count of coats, wherever it is shown."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.figures.axis import LimitBar
from hingeline_app.figures.wording import format_number

Document = Mapping[str, Any]


def coating_bars(surface: Document) -> tuple[LimitBar, LimitBar]:
    """Give both rows of the limit picture; the guarded band is that of the prediction."""
    weighed = _bar(surface["moment_before"], surface["limits"], None)
    return weighed, _bar(surface["moment_after"], surface["limits"], surface["predicted_statement"])


def further_coats(allowance: Document) -> str:
    """Write how many more coats an allowance leaves, rounded down, so that what is written is allowed."""
    return format_number(allowance["counts"], 1, "down")


def _bar(moment: Document, limits: Document, statement: str | None) -> LimitBar:
    return LimitBar(
        value=moment["value"],
        uncertainty=moment["expanded_uncertainty"],
        statement=statement,
        coverage_factor=moment["coverage_factor"],
        **{name: None if end is None else float(end["value"]) for name, end in limits.items()},
    )
