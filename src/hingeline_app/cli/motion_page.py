"""The pages of ``hingeline motion``: the statement first, then why, the cautions last."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.cli.page import Page
from hingeline_app.evidence.series_words import onset_headline, under_the_headline
from hingeline_app.evidence.words import (
    HEADLINES,
    LOOKS,
    frequency_text,
    interval_text,
    number_text,
    phase_text,
)
from hingeline_app.figures.wording import NOT_KNOWN, count_of, format_number, format_quantity

Document = Mapping[str, Any]


def show_motion(document: Document) -> None:
    """Show what one recording says."""
    page = Page()
    page.title(document["name"] or "Recording", f"what moves, from a {document['source']}")
    shape, colour = LOOKS[document["statement"]]
    page.finding(shape, HEADLINES[document["statement"]], document["reasons"], colour)
    page.pairs(_numbers(document))
    rows = [
        (each["measure"], number_text(each["value"], each["unit"]), each["points_to"], each["role"])
        for each in document["evidence"]
    ]
    page.table("Evidence", ("measured", "value", "points to", "role"), rows)
    page.sentences("What recording would make it surer", document["next"])
    page.sentences("Notes", document["notes"])
    page.cautions(document["cautions"])
    page.show()


def _numbers(document: Document) -> list[tuple[str, str]]:
    stretch = document["stretch"]
    used = f"{format_number(stretch['from']['value'], 2)} … {format_quantity(stretch['to']['value'], 's', 2)}"
    return [
        ("frequency", frequency_text(document)),
        ("damping ratio", interval_text(document["damping_ratio"])),
        ("growth rate", interval_text(document["growth_rate"])),
        ("phase", phase_text(document)),
        ("part used", f"{used}, {document['cycles']:.1f} cycles"),
        ("signal over noise", format_number(document["signal_to_noise"], 1)),
    ]


def show_tap(document: Document) -> None:
    """Show the modes of a tap."""
    page = Page()
    page.title(document["name"] or "Recording", "modes of a free decay, on the ground")
    if document["refused"]:
        page.finding("[ ? ]", "No modes are given", [document["refused"]], "bold")
    rows = [
        (str(index), interval_text(mode["frequency"]), interval_text(mode["damping_ratio"]))
        for index, mode in enumerate(document["modes"], 1)
    ]
    if rows:
        page.table("Modes, strongest first", ("mode", "frequency", "damping ratio"), rows)
        share = format_quantity(100.0 * document["explained"], "%", 1)
        page.pairs([("of the motion, these modes make", share), ("cycles", f"{document['cycles']:.1f}")])
    page.sentences("Notes", document["notes"])
    page.cautions(document["cautions"])
    page.show()


def show_onset(document: Document) -> None:
    """Show what a series says of the onset."""
    page = Page()
    against = document["against"]
    page.title(document["name"] or "Series of recordings", f"where growth begins, against {against}")
    page.finding("[ ? ]", onset_headline(document), under_the_headline(document), "bold")
    unit = "m/s" if against == "airspeed" else "kg"
    page.table(
        f"By {against}",
        (against, "recordings", "worst of them", "frequencies, Hz", "damping ratios"),
        [_row(point, unit) for point in document["points"]],
    )
    page.sentences("Notes", document["notes"])
    page.cautions(document["cautions"])
    page.show()


def _row(point: Document, unit: str) -> tuple[str, str, str, str, str]:
    frequencies = ", ".join(format_number(mode["frequency"]["value"], 2) for mode in point["modes"])
    dampings = ", ".join(format_number(mode["damping_ratio"], 3) for mode in point["modes"])
    read = f"{count_of(point['recordings'], 'recording')}, {point['good']} with two modes"
    at = format_quantity(point["at"], unit, digits=4)
    return at, read, point["statement"], frequencies or NOT_KNOWN, dampings or NOT_KNOWN
