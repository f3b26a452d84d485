"""What a ± is made of, as a table: the same on every page that shows a budget by its causes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from hingeline_app.cli.page import Page
from hingeline_app.cli.sections import Sections
from hingeline_app.figures.wording import format_cause, format_percent, format_scaled


def show_budget(page: Page | Sections, budget: Iterable[Mapping[str, Any]], of: str, unit: str) -> None:
    """Show the causes, largest first, with what each brings to ``of`` [``unit``]; nothing where there are none."""
    rows = [
        (
            row["source"],
            f"u = {format_cause(row['standard_uncertainty'], row['unit'])}",
            format_scaled(row["contribution"], unit),
            format_percent(row["share"]),
        )
        for row in budget
    ]
    if rows:
        page.table("What the ± is made of", ("cause", "of the cause", f"of the {of}", "share"), rows)
