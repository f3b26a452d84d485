"""From the document of a correction to the two bars of its limit picture: as weighed, and as predicted."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.figures.axis import LimitBar

Document = Mapping[str, Any]


def bars_of(document: Document) -> tuple[LimitBar, LimitBar]:
    """Gather both; the guarded band is that of the prediction."""
    before = document[f"statement_before_{document['rule']}"]
    weighed = _bar(document, document["moment_before"], before)
    return weighed, _bar(document, document["moment_after"], document["predicted_statement"])


def _bar(document: Document, moment: Document, statement: str | None) -> LimitBar:
    ends = {name: None if end is None else float(end["value"]) for name, end in document["limits"].items()}
    return LimitBar(
        value=moment["value"],
        uncertainty=moment["expanded_uncertainty"],
        statement=statement,
        coverage_factor=moment["coverage_factor"],
        **ends,
    )
