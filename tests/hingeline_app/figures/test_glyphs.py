"""Status glyphs: a shape for each statement, never told apart by colour alone."""

from __future__ import annotations

import itertools

import pytest

from hingeline_app.figures import draw_glyph
from tests.hingeline_app.figures.reading_svg import parsed

STATEMENTS = ("inside", "outside", "too close to tell", "caution", None)


def _shape(svg: str) -> str:
    return "".join(
        f"{e.get('d')}{e.get('cx')}{e.get('r')}{e.get('width')}" for e in parsed(svg).iter() if e.get("class")
    )


def test_no_two_statements_share_a_shape() -> None:
    shapes = [_shape(draw_glyph(statement)) for statement in STATEMENTS]
    assert all(one != other for one, other in itertools.combinations(shapes, 2))


@pytest.mark.parametrize("statement", ["outside", "too close to tell"])
def test_beyond_the_left_end_is_drawn_on_the_left(statement: str) -> None:
    assert _shape(draw_glyph(statement, side="left")) != _shape(draw_glyph(statement, side="right"))


def test_a_prediction_stands_in_a_dashed_frame_and_says_so() -> None:
    root = parsed(draw_glyph("inside", predicted=True))
    assert any("frame" in (element.get("class") or "") for element in root.iter())
    assert root.get("aria-label") == "predicted: inside"


def test_a_glyph_says_its_word() -> None:
    assert parsed(draw_glyph("outside", side="left")).get("aria-label") == "outside, beyond the lower limit"
    assert parsed(draw_glyph(None)).get("aria-label") == "no statement"
