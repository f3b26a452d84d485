"""The growth of an assumed crack, and how it would be found, in pairs of words: command and page say the same."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from hingeline_app.figures.arm.words import figures, hours, size_words
from hingeline_app.figures.wording import count_of, format_probability

Document = Mapping[str, Any]
Pairs = Iterator[tuple[str, str]]


def growth_pairs(crack: Document) -> Pairs:
    """Give the growth from its start to its end, and the interval that is shown."""
    words = size_words(crack["size_is"])
    yield "at the start", figures(1e3 * crack["initial_size"]["value"], "mm")
    yield f"critical {words}", f"{figures(1e3 * crack['critical_size']['value'], 'mm')}, by {crack['governed_by']}"
    fracture = crack["fracture_size"]
    yield "by fracture", "beyond the model's range" if fracture is None else figures(1e3 * fracture["value"], "mm")
    yield "by plastic collapse", figures(1e3 * crack["collapse_size"]["value"], "mm")
    yield "largest stress", figures(crack["largest_stress"]["value"] / 1e6, "MPa")
    yield "counted to", figures(1e3 * crack["final_size"]["value"], "mm")
    yield "cycles", f"{figures(crack['cycles'], '')}; {crack['second_way']}: {figures(crack['cycles_second_way'], '')}"
    if crack["approved_interval"] is not None:
        yield "approved interval", hours(crack["approved_interval"])
        yield "interval shown: never longer", hours(crack["interval_shown"], "down")


def detection_pairs(found: Document) -> Pairs:
    """Give how it would be found, and the cycles from there on."""
    if found["method"] is not None:
        size = figures(1e3 * found["planning_size"]["value"], "mm")
        yield found["method"], f"planned for {size} half length at the surface"
        yield "which comes from", f"{found['planning_source']} ({found['planning_provenance']})"
        yield "cycles from there on", figures(found["cycles_from_planning_size"], "")
    if found["size_found_nine_in_ten"] is not None:
        yield "found nine times in ten", figures(1e3 * found["size_found_nine_in_ten"]["value"], "mm")
    if found["chance_at_best_visit"] is not None:
        best, most = (format_probability(found[name]) for name in ("chance_at_best_visit", "chance_if_independent"))
        yield "visits before it is critical", count_of(len(found["visits"]), "visit") if found["visits"] else "none"
        yield "chance to find it", f"{best} at the best visit; {most} if visits were independent, which they are not"
