"""Room for words: widths of our own fonts, and labels moved apart."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hingeline_app.figures.lettering import Box, Ground, Label, spread, text_width


# That the table of widths is that of the font files is proved in tests/hingeline_app/report/test_fonts.py.
def test_width_grows_with_the_words_and_with_the_role() -> None:
    assert text_width("2.106") < text_width("2.106 N·m")
    assert text_width("2.106") < text_width("2.106", "headline")
    assert text_width("") == 0.0


def test_a_character_that_is_not_listed_still_takes_room() -> None:
    assert text_width("昇") == pytest.approx(0.640 * 15.0)


@given(
    st.lists(st.tuples(st.floats(0, 600), st.floats(5, 60)), min_size=1, max_size=8),
)
def test_spread_boxes_neither_overlap_nor_change_order_nor_leave_the_row(boxes: list[tuple[float, float]]) -> None:
    centres, widths = [box[0] for box in boxes], [box[1] for box in boxes]
    placed = spread(centres, widths, 0.0, 600.0, 8.0)
    order = sorted(range(len(boxes)), key=lambda index: placed[index])
    for one, other in itertools.pairwise(order):
        assert placed[one] + widths[one] / 2 + 8.0 <= placed[other] - widths[other] / 2 + 1e-6
        assert centres[one] <= centres[other] + 1e-9
    assert placed[order[0]] - widths[order[0]] / 2 >= -1e-6
    assert placed[order[-1]] + widths[order[-1]] / 2 <= 600.0 + 1e-6


def test_boxes_that_stand_apart_are_left_where_they_are() -> None:
    assert spread([100.0, 300.0], [50.0, 50.0], 0.0, 600.0, 8.0) == pytest.approx([100.0, 300.0])


def test_a_label_is_placed_at_the_first_free_place_only() -> None:
    ground = Ground(200.0)
    ground.take(Box(0.0, 0.0, 100.0, 40.0))
    taken, free = Label("arm", 10.0, 20.0), Label("arm", 110.0, 20.0)
    assert ground.place([[taken], [free]])
    assert ground.labels == [free]
    assert not ground.place([[taken], [free]])
