"""The page of ``hingeline flutter``: the finding first, then what it rests on, the cautions last."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from hingeline_app.cli.flutter_words import (
    belongs_to_the_finding,
    both_speeds,
    figures,
    headline,
    knots_text,
    range_text,
    something_grows,
    speed_text,
    under_the_headline,
)
from hingeline_app.cli.page import Page
from hingeline_app.cli.varied_page import show_variation
from hingeline_app.figures.wording import (
    format_drawn_part,
    format_measured,
    format_number,
    outward,
    places_for,
    unit_text,
    with_unit,
)

Document = Mapping[str, Any]

GROWS, NONE_FOUND = ("[ ! ]", "bold red"), ("[ ? ]", "bold")
# Where one motion stops growing another may go on: the words do not say that growth is over.
DIRECTIONS = {"into": "a motion starts growing", "out of": "a motion stops growing"}
EVERY = 5
"""Of the speeds at which roots are known, one in five stands on the page."""
MODES_ABREAST = 4
MOST_SENSITIVITIES = 15


def show_flutter(document: Document) -> None:
    """Show what a flutter model says."""
    page = Page()
    page.title(document["name"] or "Flutter model", f"where a motion starts to grow, {range_text(document)}")
    shape, colour = GROWS if something_grows(document) else NONE_FOUND
    page.finding(shape, headline(document), under_the_headline(document), colour)
    _crossings(page, document["crossings"])
    page.pairs(_numbers(document))
    _shape(page, document["flutter"])
    _cycles(page, document["limit_cycles"])
    _scatter(page, document["speed_distribution"])
    show_variation(page, document["variation"])
    _roots(page, document["roots"])
    _sensitivities(page, document["sensitivities"])
    _sources(page, document["sources"])
    page.sentences("Notes", (note for note in document["notes"] if not belongs_to_the_finding(note)))
    page.sentences("Assumed", document["assumptions"])
    page.cautions(document["cautions"])
    page.show()


def _scatter(page: Page, found: Document | None) -> None:
    if found is None:
        return
    rows = [("models drawn", f"{found['samples']}, seed {found['seed']}, {found['drawn_again']} drawn again")]
    rows.append(("with an onset in the range", format_drawn_part(found["flutter_fraction"])))
    rows.append(("growing at the lowest speed", format_drawn_part(found["growing_at_lowest_fraction"])))
    for part, speed in found["quantiles"].items():
        if speed is not None:
            rows.append(
                (
                    f"{100.0 * float(part):g} % of the onsets lie below",
                    both_speeds(speed["value"], outward(float(part))),
                )
            )
    if found.get("begins_again_fraction") is not None:
        rows.append(
            ("growth ends in the range, and begins again above", format_drawn_part(found["begins_again_fraction"]))
        )
    if found["below"] is not None:
        rows.append(
            (f"of all, growing below {speed_text(found['below']['value'])}", format_drawn_part(found["fraction_below"]))
        )
    page.pairs(rows, heading="How the onset scatters with the uncertain numbers of the file (an estimate)")


def _crossings(page: Page, crossings: Iterable[Document]) -> None:
    rows = [
        (DIRECTIONS[each["direction"]], speed_text(each["speed"]["value"]), knots_text(each["speed"]["value"]),
         figures(each["frequency"]["value"], "Hz"))
        for each in crossings
    ]  # fmt: skip
    if rows:
        page.table("Every crossing, with rising true airspeed", ("what happens", "at", "", "frequency"), rows)


def _numbers(document: Document) -> Iterator[tuple[str, str]]:
    for field, words in (("divergence", "divergence"), ("reversal", "control reversal")):
        found = _all_in_range(document) if field == "divergence" else [document[field]] if document[field] else []
        yield words, ", ".join(both_speeds(each["speed"]["value"]) for each in found) or "none in the range"
    frequencies = [each["value"] for each in document["natural_frequencies"]]
    yield "natural frequencies", with_unit(", ".join(map(_frequency, frequencies)), "Hz") + ", without air"
    if document["flutter"] is not None:
        yield "reduced frequency", f"{document['flutter']['reduced_frequency']:.3f}, ω b/U where growth starts"
    yield "air", f"{figures(document['density']['value'], 'kg/m^3')}, wake: {document['wake']}"


def _all_in_range(document: Document) -> list[Document]:
    """Give every divergence of the range; a document of before they were all told has the lowest alone."""
    if "divergences" not in document:
        return [document["divergence"]] if document["divergence"] else []
    low, high = (each["value"] for each in document["speeds"])
    return [each for each in document["divergences"] if low <= each["speed"]["value"] <= high]


def _frequency(hertz: float) -> str:
    return format_number(hertz, places_for(hertz, 3)) if hertz else "0"


def _shape(page: Page, onset: Document | None) -> None:
    if onset is None:
        return
    rows = [
        (part["freedom"], f"{part['magnitude']:.3f}", f"{format_number(math.degrees(part['phase']['value']), 0)}°")
        for part in onset["mode"]["shape"]
    ]
    heading = "The motion where growth starts (lengths in semichords, angles in radians; the largest is 1)"
    page.table(heading, ("freedom", "size", "ahead by"), rows)


def _cycles(page: Page, cycles: Sequence[Document] | None) -> None:
    """Show what was foreseen by one harmonic and marched from each start; many harmonics stand in the document."""
    if not cycles:
        return
    marched = [each for each in cycles if each["method"] == "marching"]
    starts = list(dict.fromkeys(each["start"] for each in marched))
    head = ("true airspeed", "one harmonic foresees", *(f"started at {start:g} half-gaps" for start in starts))
    rows = []
    for speed in dict.fromkeys(each["speed"]["value"] for each in cycles):
        here = [each for each in cycles if each["speed"]["value"] == speed]
        foreseen = ", ".join(_half_gaps(each) for each in here if each["method"] == "one harmonic")
        found = [each for each in here if each["method"] == "marching"]
        rows.append((speed_text(speed), foreseen or "—", *map(_outcome, found)))
    page.table("Free play: what keeps going at speeds below, in half-gaps", head, rows)


def _outcome(cycle: Document) -> str:
    if cycle["outcome"] != "cycle":
        return str(cycle["outcome"])
    return f"{_half_gaps(cycle)} at {figures(cycle['frequency']['value'], 'Hz', 3)}"


def _half_gaps(cycle: Document) -> str:
    size = cycle["amplitude_in_gaps"]
    return format_number(size, max(0, places_for(size, 3)))


def _roots(page: Page, roots: Sequence[Document] | None) -> None:
    if not roots:
        return
    shown = roots[::EVERY]
    modes = sorted({root["mode"] for row in roots for root in row["roots"]})
    for start in range(0, len(modes), MODES_ABREAST):
        abreast = modes[start : start + MODES_ABREAST]
        head = ("true airspeed", *(f"mode {mode}" for mode in abreast))
        rows = [(speed_text(row["speed"]["value"]), *(_root(row, mode) for mode in abreast)) for row in shown]
        page.table("Roots: frequency, and damping as a part of critical; below 0 it grows", head, rows)


def _root(row: Document, mode: int) -> str:
    found = next((each for each in row["roots"] if each["mode"] == mode), None)
    if found is None:
        return "—"
    return f"{figures(found['frequency']['value'], 'Hz', 3)} {format_number(100 * found['damping_ratio'], 2)} %"


def _sensitivities(page: Page, found: Sequence[Document] | None) -> None:
    if found is None:
        return
    if not found:
        page.sentences("What moves the speed", ["Nothing to tell: there is no speed at which damped growth starts."])
        return
    moving = [each for each in found if each["derivative"]]
    shown = (*moving[:MOST_SENSITIVITIES], *(each for each in moving[MOST_SENSITIVITIES:] if not each["elasticity"]))
    rows = [
        (each["field"], with_unit(format_number(each["elasticity"], 3), "%"), _derivative(each["derivative"]))
        for each in shown
    ]
    head = ("number of the file", "1 % more of it: speed", "one more of it (SI)")
    page.table("What moves the speed, strongest first", head, rows)
    if len(moving) > len(shown):
        page.line(
            "Weaker ones are left out here; --json has them all. What is 0 now stands last: 1 % of it is nothing."
        )


def _sources(page: Page, sources: Sequence[Document]) -> None:
    rows = [(each["field"], _with_uncertainty(each), each["source"]) for each in sources]
    if rows:
        page.table("Where numbers come from", ("number of the file", "as used, ± u", "source"), rows)


def _with_uncertainty(source: Document) -> str:
    unit, size = source["unit"], source["standard_uncertainty"]
    if size is None:
        return with_unit(f"{source['value']:.4g}".replace("-", "−"), unit_text(unit))
    return format_measured(source["value"], size, unit)


def _derivative(value: float) -> str:
    return with_unit(f"{value:.3g}".replace("-", "−"), unit_text("m/s"))
