"""The writer of SVG."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hingeline_app.figures.svg import Drawing, arrowhead, hatching, number
from tests.hingeline_app.figures.reading_svg import parsed, texts


@given(st.text())
def test_any_text_makes_well_formed_xml(words: str) -> None:
    drawing = Drawing(100.0, 50.0, words)
    drawing.text(1.0, 2.0, words)
    root = parsed(drawing.finished())
    kept = "".join(c for c in words if c >= " " and c.isprintable())
    assert "".join(c for c in texts(root)[0] if c.isprintable() and c != " ") == kept.replace(" ", "")


def test_coordinates_are_short_and_never_minus_nothing() -> None:
    assert [number(value) for value in (1.0, 1.256, -0.001, 0.5, -3.10)] == ["1", "1.26", "0", "0.5", "-3.1"]


def test_an_arrowhead_points_at_its_tip() -> None:
    assert arrowhead((10.0, 0.0), (1.0, 0.0), 4.0, 2.0).startswith("M10 0L6 ")


@pytest.mark.parametrize("box", [(0.0, 0.0, 80.0, 24.0), (33.3, 7.7, 12.0, 44.0), (5.0, 5.0, 6.0, 5.0)])
def test_hatching_stays_inside_its_rectangle_at_45_degrees(box: tuple[float, float, float, float]) -> None:
    left, top, width, height = box
    lines = re.findall(r"M(\S+) (\S+?)L(\S+) ([-\d.]+)", hatching(*box))
    assert lines
    for start_x, start_y, end_x, end_y in lines:
        for x, y in ((float(start_x), float(start_y)), (float(end_x), float(end_y))):
            assert left - 0.01 <= x <= left + width + 0.01
            assert top - 0.01 <= y <= top + height + 0.01
        assert float(end_x) - float(start_x) == pytest.approx(float(start_y) - float(end_y), abs=0.02)


def test_a_rectangle_of_no_width_is_left_out() -> None:
    drawing = Drawing(10.0, 10.0, "nothing")
    drawing.rectangle(1.0, 1.0, 0.0, 5.0, "band")
    assert drawing.elements == []
