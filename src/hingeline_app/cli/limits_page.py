"""The page of ``hingeline limits``: each row, and where it disagrees with itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from hingeline_app.cli.page import Page, value_of
from hingeline_app.figures.wording import format_moment, format_moment_range, format_number, format_quantity

Document = Mapping[str, Any]


def show_limits(document: Document) -> None:
    """Show what was found in the rows of one document."""
    page, rows = Page(), document["rows"]
    disagree = sum(bool(row["contradictions"]) for row in rows)
    page.title("Printed limits", f"rows read: {len(rows)}; rows that contradict themselves: {disagree}")
    for row in rows:
        _row(page, row)
    page.sentences("Notes", document["notes"])
    page.cautions(document["cautions"])
    page.show()


def _row(page: Page, row: Document) -> None:
    lower, upper = value_of(row["lower"]), value_of(row["upper"])
    facts = [("limits", format_moment_range(lower, upper))]
    facts += [(name, row[name]) for name in ("effectivity", "source") if row[name]]
    facts += [("contradiction", sentence) for sentence in map(_sentence, row["contradictions"])]
    facts += [("small difference", sentence) for sentence in map(_sentence, row["small_differences"])]
    facts += [("doubt", doubt["sentence"]) for doubt in row["doubts"]]
    if not any(row[kind] for kind in ("contradictions", "small_differences", "doubts")):
        facts.append(("found", "nothing in this row disagrees, as far as it states anything twice"))
    page.pairs(facts, heading=row["surface"])


def _sentence(found: Document) -> str:
    return "; ".join(_parts(found)) + "."


def _parts(found: Document) -> Iterator[str]:
    yield f"{found['between']}: {found['sum_written_out']}"
    if found["difference_percent"] is not None:
        yield _apart(found["difference_percent"])
    if found["unit"] == "N m":
        yield f"stated {format_moment(found['stated']['value'])}, computed {format_moment(found['computed']['value'])}"
    else:
        shown = [format_quantity(found[name]["value"], found["unit"]) for name in ("stated", "computed")]
        yield f"stated {shown[0]}, computed {shown[1]}"


def _apart(percent: float) -> str:
    most = 1000.0
    return f"more than {most:.0f} % apart" if abs(percent) > most else f"{format_number(percent, 1)} % apart"
