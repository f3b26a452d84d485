"""One weight at three places: to scale, legible, its finding in words."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hingeline_app.figures.correction.three_places import PlacedWeight, PlateShape, ThreePlaces, draw_three_places
from tests.hingeline_app.figures.reading_svg import number, of_class, outside, overlapping, parsed, texts

PLACES = (
    PlacedWeight("inboard end", 2.5, 3.31),
    PlacedWeight("middle", 3.25, 0.0),
    PlacedWeight("outboard end", 4.0, -3.31),
)
DEMO = ThreePlaces((PlateShape((0.0, 0.25), (2.5, 4.0)),), ((0.1, 3.9),), -0.06, PLACES, "3906 g, 60 mm forward")


@pytest.mark.parametrize("width", [650.0, 348.0])
def test_each_row_carries_its_place_and_its_coefficient(width: float) -> None:
    """Three rows, each with the name of the place and K/I with a true minus."""
    said = texts(parsed(draw_three_places(DEMO, width)))
    for words in ("inboard end", "middle", "outboard end", "K/I = 3.31", "K/I = 0.00", "K/I = \N{MINUS SIGN}3.31"):
        assert words in said
    assert "3906 g, 60 mm forward" in said


def test_it_is_to_one_scale_both_ways() -> None:
    """The plate is six times as wide as deep, and the weight stands 60/250 of its depth ahead of the hinge line."""
    root = parsed(draw_three_places(DEMO))
    plates = of_class(root, "rect", "body")
    blocks = of_class(root, "rect", "steel")
    hinges = of_class(root, "line", "chain")
    assert len(plates) == len(blocks) == len(hinges) == 3
    for plate, block, hinge in zip(plates, blocks, hinges, strict=True):
        deep = number(plate, "height")
        assert number(plate, "width") == pytest.approx(6.0 * deep, rel=1e-3)
        ahead = number(hinge, "y1") - (number(block, "y") + number(block, "height") / 2.0)
        assert ahead == pytest.approx(deep * 0.060 / 0.250, abs=0.02)
        assert number(plate, "y") == pytest.approx(number(hinge, "y1"), abs=0.02)


def test_the_weight_moves_outboard_from_row_to_row() -> None:
    """Inboard left, outboard right: at the plate's ends and in its middle."""
    root = parsed(draw_three_places(DEMO))
    (plate, *_) = of_class(root, "rect", "body")
    left, wide = number(plate, "x"), number(plate, "width")
    centres = [number(block, "x") + number(block, "width") / 2.0 for block in of_class(root, "rect", "steel")]
    assert centres == [pytest.approx(left + wide * part, abs=0.02) for part in (0.0, 0.5, 1.0)]


def test_the_finding_is_in_words() -> None:
    """Who does not see it is told each place with its coefficient."""
    label = parsed(draw_three_places(DEMO)).get("aria-label") or ""
    assert re.search(r"inboard end: K/I 3\.31; weight at middle: K/I 0\.00; weight at outboard end: K/I −3\.31", label)


@settings(max_examples=60, deadline=None)
@given(
    st.floats(0.02, 3.0), st.floats(0.05, 6.0), st.floats(-0.5, 0.5),
    st.lists(st.text(min_size=1, max_size=60), min_size=1, max_size=8), st.sampled_from([650.0, 348.0]),
)  # fmt: skip
def test_it_is_legible_whatever_the_surface(
    chord: float, span: float, arm: float, names: list[str], width: float
) -> None:
    """No word leaves the picture or runs into another, for slim and square surfaces, long names and many places."""
    places = tuple(
        PlacedWeight(name, 1.0 + span * at / max(1, len(names) - 1), 30.0 / (at - 3.5)) for at, name in enumerate(names)
    )
    shape = ThreePlaces((PlateShape((0.0, chord), (1.0, 1.0 + span)),), (), arm, places, "2893 g, 75 mm forward")
    root = parsed(draw_three_places(shape, width))
    assert outside(root) == []
    assert overlapping(root) == []


def test_no_coefficient_is_a_dash() -> None:
    """Where K/I does not exist a dash stands for it."""
    shape = ThreePlaces(DEMO.plates, (), -0.06, (PlacedWeight("tip", 4.0, None),))
    assert "K/I = —" in texts(parsed(draw_three_places(shape)))
