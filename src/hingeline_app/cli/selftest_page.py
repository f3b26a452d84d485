"""The page of ``hingeline selftest``: each published value, and what this machine makes of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from hingeline_app.cli.page import Page
from hingeline_app.figures.wording import NOT_KNOWN, format_number, shared_places

Document = Mapping[str, Any]

MOST_PLACES = 12


def show_selftest(document: Document) -> None:
    """Show what came out."""
    page, about, routes = Page(), document["about"], document["two_routes"]
    page.title("Self-test", _machine(about))
    page.line(document["sentence"])
    page.line(_count_of_values(document["cases"]))
    page.line(_count_of_weighings(routes))
    page.table("Published values", ["", "published", "here", ""], _rows(document["cases"]))
    page.sentences("Where the values stand", map(_source, document["cases"]))
    page.sentences("Could not be computed", _faults(document))
    page.line(f"It took {about['elapsed']:.1f} s.")
    page.cautions(document["cautions"])
    page.show()


def _machine(about: Document) -> str:
    numpy = f", NumPy {about['numpy']}" if about["numpy"] else ""
    return f"{about['program']} {about['version']}, Python {about['python']}{numpy}, {about['machine']}"


def _count_of_values(cases: list[Document]) -> str:
    values = [value for case in cases for value in case["values"]]
    agreeing = sum(value["agrees"] for value in values)
    outcome = "all agree with their print" if agreeing == len(values) else f"{len(values) - agreeing} DO NOT AGREE"
    return f"{len(values)} published values in {len(cases)} cases: {outcome}."


def _count_of_weighings(routes: Document) -> str:
    wrong = routes["weighings"] - routes["agreeing"]
    outcome = f"{wrong} DO NOT AGREE" if wrong else "all agree"
    largest = format_number(routes["largest_difference"], 2)
    return (
        f"{routes['weighings']} invented weighings by two routes that share no arithmetic: {outcome}. "
        f"The largest difference is {largest} times what rounding explains."
    )


def _rows(cases: list[Document]) -> Iterator[tuple[str, str, str, str]]:
    for case in cases:
        yield case["id"], "", "", ""
        for value in case["values"]:
            places = shared_places([value["published"]], most=MOST_PLACES)
            here = NOT_KNOWN if value["here"] is None else format_number(value["here"], _finer(value, places))
            agrees = "agrees" if value["agrees"] else "DOES NOT AGREE"
            yield f"  {value['name']}", format_number(value["published"], places), here, agrees


def _finer(value: Document, places: int) -> int:
    """Show two digits more than the print, and none more of a whole number."""
    return places + 2 if value["tolerance"] else places


def _source(case: Document) -> str:
    note = f" {case['note']}" if case["note"] else ""
    return f"{case['id']}: {case['title']}. {case['source']} ({case['provenance']}).{note}"


def _faults(document: Document) -> Iterator[str]:
    yield from (f"{case['id']}: {case['fault']}" for case in document["cases"] if case["fault"])
    if document["two_routes"]["first_fault"]:
        yield document["two_routes"]["first_fault"]
