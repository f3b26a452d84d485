"""The places of a correction and its two-row limit bar: true positions, legible in odd cases, findings in words."""

from __future__ import annotations

import re

import pytest

from hingeline_app.figures.axis import LimitBar
from hingeline_app.figures.beam.frame import HINGE_Y
from hingeline_app.figures.correction.places import PlaceMark, PlacesPicture, draw_places, finding_words, letter_of
from hingeline_app.figures.limits.change import change_finding, draw_limit_change
from hingeline_app.figures.limits.change_text import limit_change_text
from tests.hingeline_app.figures.reading_svg import number, of_class, outside, overlapping, parsed, texts

NB = "\u00a0"

DEMO = PlacesPicture(
    (
        PlaceMark("Arm weight", -0.180, 0.6, 0.145, "+145 g", "745 g in all"),
        PlaceMark("Horn pocket", -0.120),
        PlaceMark("Filler", 0.238, 0.06, -0.02, "−20 g", "40 g in all"),
    ),
    0.27,
    0.0524,
    0.0444,
)
PLACES = {
    "demo": DEMO,
    "no chord": PlacesPicture(DEMO.places),
    "one place": PlacesPicture(DEMO.places[:1], 0.27),
    "nothing changed": PlacesPicture((PlaceMark("a", -0.1), PlaceMark("b", 0.1)), 0.2),
    "all taken off": PlacesPicture((PlaceMark("filler", 0.2, 0.1, -0.1, "−100 g", "0 g in all"),), 0.27, 0.01, -0.002),
    "places on one spot": PlacesPicture(
        tuple(PlaceMark(f"place {index}", -0.1, 0.0, 0.01, "+10 g", "10 g in all") for index in range(6)), 0.3
    ),
    "long names": PlacesPicture((PlaceMark("x" * 190, -0.1, 0.2, 0.05, "+50 g", "250 g in all"),), 0.3),
    "thirty places": PlacesPicture(
        tuple(
            PlaceMark(f"place {index}", -0.02 - index / 100, 0.0, 0.01, "+10 g", "10 g in all") for index in range(30)
        )
    ),
}


@pytest.mark.parametrize("width", [650, 348])
@pytest.mark.parametrize("name", PLACES)
def test_words_at_the_places_neither_overlap_nor_leave_the_picture(name: str, width: float) -> None:
    """Whatever the places are, every word has its own ground inside the picture."""
    root = parsed(draw_places(PLACES[name], width))
    assert overlapping(root) == []
    assert outside(root) == []


def test_places_stand_to_scale() -> None:
    """The plates added at 180 mm and the filler at 238 mm stand as far apart as they are."""
    root = parsed(draw_places(DEMO))
    blocks = [number(each, "x") + number(each, "width") / 2 for each in of_class(root, "rect", "steel")]
    hinge = next(number(each, "cx") for each in of_class(root, "circle", "open") if number(each, "cy") == HINGE_Y)
    assert (hinge - blocks[0]) / (blocks[1] - hinge) == pytest.approx(180 / 238, rel=1e-3)


def test_added_and_taken_off_are_told_apart_without_colour() -> None:
    """Added: two plates around the block. Not used: a dashed outline. Taken off: struck through."""
    root = parsed(draw_places(DEMO))
    assert len(of_class(root, "rect", "added")) == 2
    assert len(of_class(root, "rect", "dashed")) == 1
    assert len(of_class(root, "path", "outline")) == 1


def test_the_finding_of_the_places_says_each_change() -> None:
    """The text alternative names each place with its arm, its change and what is carried then."""
    said = finding_words(DEMO).replace(NB, " ")
    assert "A Arm weight, 180 mm forward: +145 g, 745 g in all then" in said
    assert "B Horn pocket, 120 mm forward: not changed" in said
    assert "Centre of gravity 52.4 mm aft before, 44.4 mm aft after" in said


def test_letters_go_on_after_z() -> None:
    """Place 27 still has a letter of its own."""
    assert [letter_of(index) for index in (0, 25, 26)] == ["A", "Z", "A1"]


def bars(weighed: tuple[float, float | None], predicted: tuple[float, float | None], *limits: float | None):  # type: ignore[no-untyped-def]
    """Make the two rows."""
    lower, upper = limits
    made = []
    for (value, u), statement in ((weighed, "outside"), (predicted, "inside")):
        guards = [None if end is None or u is None else end + way * u for end, way in ((lower, 1), (upper, -1))]
        made.append(LimitBar(value, u, lower, upper, *guards, statement, 2.0))
    return made


CHANGES = {
    "demo": bars((2.106, 0.044), (1.85, 0.045), 0.0, 2.1),
    "upper only": bars((2.106, 0.044), (1.85, 0.045), None, 2.1),
    "lower only": bars((-1.0, 0.044), (-0.2, 0.045), -0.5, None),
    "no limits": bars((2.106, 0.044), (1.85, 0.045), None, None),
    "no uncertainty": bars((2.106, None), (1.85, None), 0.0, 2.1),
    "nothing changed": bars((1.0, 0.04), (1.0, 0.04), 0.0, 2.1),
    "far away": bars((40.0, 0.044), (1.85, 0.045), 0.0, 2.1),
    "band of no width": bars((2.106, 0.044), (0.0, 0.045), 0.0, 0.0),
    "across": bars((-3.0, 0.1), (3.0, 0.1), -1.0, 4.0),
    "narrow band": bars((3.0, 0.1), (2.0, 0.1), 1.99, 2.01),
}


@pytest.mark.parametrize("width", [650, 348])
@pytest.mark.parametrize("name", CHANGES)
def test_words_at_the_bar_neither_overlap_nor_leave_the_picture(name: str, width: float) -> None:
    """Whatever is weighed and predicted, every word has its own ground inside the picture."""
    root = parsed(draw_limit_change(*CHANGES[name], width))
    assert overlapping(root) == []
    assert outside(root) == []


def test_weighed_is_filled_and_predicted_is_open() -> None:
    """The two points differ in shape, and stand at their values."""
    root = parsed(draw_limit_change(*CHANGES["demo"]))
    points = [number(each, "cx") for each in of_class(root, "circle", "point")]
    (ring,) = of_class(root, "circle", "open")
    assert number(ring, "cx") == points[1]
    ticks = [number(each, "x1") for each in of_class(root, "line", "axis")]
    scale = (ticks[1] - ticks[0]) / 0.5
    assert (points[0] - points[1]) / scale == pytest.approx(2.106 - 1.85, abs=2e-4)


def test_the_arrow_leads_from_weighed_to_predicted() -> None:
    """It is dashed, and left out where nothing moved."""
    assert len(of_class(parsed(draw_limit_change(*CHANGES["demo"])), "path", "lead")) == 1
    assert of_class(parsed(draw_limit_change(*CHANGES["nothing changed"])), "path", "lead") == []


def test_the_finding_of_the_bar_says_predicted_not_weighed() -> None:
    """The text alternative never lets a prediction pass for a weighing."""
    said = change_finding(*CHANGES["demo"]).replace(NB, " ")
    assert "Weighed 2.106 ± 0.044 N·m tail-heavy: 0.006 N·m beyond the upper limit, outside" in said
    assert "Predicted, not weighed, 1.850 ± 0.045 N·m tail-heavy" in said


@pytest.mark.parametrize("name", CHANGES)
@pytest.mark.parametrize("columns", [40, 72, 96])
def test_the_bar_in_characters_keeps_to_its_columns(name: str, columns: int) -> None:
    """No line is longer than the terminal, and both rows are there."""
    drawn = limit_change_text(*CHANGES[name], columns).splitlines()
    rows = [line for line in drawn if line.startswith(("weighed", "predicted"))]
    assert len(rows) == 2
    assert all(len(line) <= max(50, columns) for line in drawn[: drawn.index("")])


def test_the_bar_in_characters_shows_both_points() -> None:
    """O is weighed, o is predicted, each over the same band."""
    drawn = limit_change_text(*CHANGES["demo"], 92)
    weighed, predicted = (
        next(line for line in drawn.splitlines() if line.startswith(name)) for name in ("weighed", "predicted")
    )
    assert weighed.index("O") > predicted.index("o", 9)
    assert texts(parsed(draw_limit_change(*CHANGES["demo"])))
    assert re.search(r"o  predicted 1\.850", drawn)
