"""Several weighings on one limit bar: each named and filled, none drawn as predicted."""

from __future__ import annotations

from xml.etree import ElementTree as Tree

import pytest

from hingeline_app.figures.axis import LimitBar
from hingeline_app.figures.limits.rows import draw_limit_rows

FIRST = LimitBar(2.106, 0.044, 0.0, 2.1, 0.044, 2.056, "outside", 2.0)
SECOND = LimitBar(1.852, 0.044, 0.0, 2.1, 0.044, 2.056, "inside", 2.0)


@pytest.mark.parametrize("width", [650.0, 348.0])
def test_each_weighing_is_a_named_row_within_the_picture(width: float) -> None:
    """Well-formed; both names and values are written; the text alternative says both findings."""
    svg = draw_limit_rows([("Weighing 1", FIRST), ("Weighing 2", SECOND)], width)
    root = Tree.fromstring(svg)
    said = " ".join(root.itertext())
    assert "Weighing 1 2.106 ± 0.044" in said
    assert "Weighing 2 1.852 ± 0.044" in said
    assert "0.006\u00a0N·m beyond the upper limit, outside" in svg
    assert float(root.attrib["viewBox"].split()[2]) == width
    assert 'class="open"' not in svg


def test_a_weighing_without_a_value_is_left_out() -> None:
    svg = draw_limit_rows([("Weighing 1", LimitBar(None, None, 0.0, 2.1)), ("Weighing 2", SECOND)])
    assert "Weighing 1" not in svg
