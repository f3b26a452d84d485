"""The page of ``hingeline replay``."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from hingeline_app.cli.page import Page
from hingeline_app.figures.wording import format_measured
from hingeline_app.files.again import is_rounding


def show_replay(document: Mapping[str, Any]) -> None:
    """Show whether a worksheet still computes the same."""
    page = Page()
    page.title(document["surface"], "worked out again from its worksheet")
    if document["same"]:
        page.line("Same to the last digit.")
    else:
        page.line(how_it_differs(document["differences"]))
        rows = [(each["field"], each["kept"], each["again"]) for each in document["differences"][:20]]
        page.table("What differs", ("field", "on the worksheet", "worked out now"), rows)
    worded = [(each["field"], each["kept"], each["again"]) for each in document["worded_otherwise"][:20]]
    if worded:
        page.table("Worded otherwise by this version", ("field", "on the worksheet", "now"), worded)
    page.pairs(
        [
            *_weighed(document),
            *_predicted(document),
            *_inertia(document),
            ("made by", f"version {document['made_by_version'] or 'not known'}"),
            ("worked out by", f"version {document['version']}"),
            ("check sum", _check_sum(document)),
        ]
    )
    page.cautions(document["cautions"])
    page.show()


def how_it_differs(differences: Sequence[Mapping[str, Any]]) -> str:
    """Say whether a number differs, or only how another version rounds its last digits."""
    places = "1 place" if len(differences) == 1 else f"{len(differences)} places"
    if all(map(is_rounding, differences)):
        return f"Differs in {places} by last digits alone: another version rounds them another way."
    return f"DIFFERS in {places}: this worksheet is not to be relied on as it is."


def _weighed(document: Mapping[str, Any]) -> list[tuple[str, str]]:
    moment = document["static_moment"]
    if moment is None:
        return []
    shown = format_measured(moment["value"], moment.get("expanded_uncertainty"), "N m", sense=True)
    return [("static moment", shown), ("statement", document["statement"] or "no statement")]


def _inertia(document: Mapping[str, Any]) -> list[tuple[str, str]]:
    inertia = document.get("inertia")
    if inertia is None:
        return []
    shown = format_measured(inertia["value"], inertia.get("expanded_uncertainty"), "kg m^2")
    return [("inertia about the hinge line", shown)]


def _predicted(document: Mapping[str, Any]) -> list[tuple[str, str]]:
    moment = document.get("predicted_moment")
    if moment is None:
        return []
    shown = format_measured(moment["value"], moment["expanded_uncertainty"], "N m", sense=True)
    return [("predicted, not weighed", f"{shown}, {document['predicted_statement'] or 'no statement'}")]


def _check_sum(document: Mapping[str, Any]) -> str:
    digest = document["check_sum"]
    grouped = " ".join(digest[start : start + 4] for start in range(0, len(digest), 4))
    if document["check_sum_holds"]:
        return f"{grouped}: compare it with the one on the paper"
    if document["check_sum_printed"] is None:
        return f"{grouped}; none could be read off the sheet itself: compare it with the one on the paper"
    return f"{grouped}, but the sheet carries {document['check_sum_printed']}: the file was changed after it was made"
