"""From a flutter document in which something was varied to its picture: a curve over one number, a map over two."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.cli.flutter_words import KNOT, both_speeds
from hingeline_app.cli.varied_page import GROWS, cell_text, cells_of, ends_of, named, values_text
from hingeline_app.figures.onset.curve import OnsetCurve, OnsetSample, draw_onset_curve
from hingeline_app.figures.onset.map import MapCell, OnsetMap, draw_onset_map
from hingeline_app.figures.style import embedded

Document = Mapping[str, Any]

NOT_PROOF = "An estimate by a model of the numbers in the file. Model, not proof."


def variation_svg(document: Document) -> str:
    """Draw what was varied, as a picture that stands alone."""
    two = len(document["variation"]["fields"]) == 2
    return embedded(_map(document) if two else _curve(document))


def _curve(document: Document) -> str:
    found = document["variation"]
    samples = tuple(sorted((_sample(point) for point in found["points"]), key=lambda sample: sample.x))
    searched = document["speeds"][1]["value"] / KNOT
    finding = _finding(document)
    return draw_onset_curve(OnsetCurve(samples, named(found, 0), searched, " ".join(finding), told=finding))


def _sample(point: Document) -> OnsetSample:
    speed = None if point["speed"] is None else point["speed"]["value"] / KNOT
    return OnsetSample(point["values"][0], speed, from_the_start=point["growing_at_lowest_speed"])


def _map(document: Document) -> str:
    found = document["variation"]
    (first, second), cells = ends_of(found), cells_of(found)
    speeds = [point["speed"]["value"] for point in found["points"] if point["speed"] is not None]
    return draw_onset_map(
        OnsetMap(
            tuple(values_text(first)),
            tuple(values_text(second)),
            named(found, 0),
            named(found, 1),
            {
                (first.index(one), second.index(other)): _cell(point, max(speeds, default=1.0))
                for (one, other), point in cells.items()
            },
            _finding(document),
        )
    )


def _cell(point: Document, highest: float) -> MapCell:
    if point["growing_at_lowest_speed"]:
        return MapCell(GROWS, grows=True)
    if point["speed"] is None:
        return MapCell("")
    return MapCell(cell_text(point), point["speed"]["value"] / highest)


def _finding(document: Document) -> tuple[str, ...]:
    """Say over what, how far the onset moves, and what kind of number it is."""
    points = document["variation"]["points"]
    speeds = sorted(point["speed"]["value"] for point in points if point["speed"] is not None)
    growing = sum(point["growing_at_lowest_speed"] for point in points)
    said = [document["name"]] if document["name"] else []
    if speeds:
        said.append(f"Lowest onset {both_speeds(speeds[0])}, highest {both_speeds(speeds[-1])}.")
    said.append(
        f"Of {len(points)} models {growing} grow at the lowest speed; "
        f"in {len(points) - len(speeds) - growing} no growth was found: not proof."
    )
    return (*said, NOT_PROOF)
