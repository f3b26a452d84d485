"""The history of a surface: a row a weighing, what was done between, and what the picture says in words."""

from __future__ import annotations

import pytest

from hingeline_app.figures.axis import LimitBar
from hingeline_app.figures.limits.moment_over_years import YearRow, draw_moment_over_years, history_words
from hingeline_app.figures.limits.thumbnail import common_axis, draw_limit_thumbnail

ROWS = [
    YearRow("2016-05-01", "from paper", LimitBar(1.4), is_from_paper=True),
    YearRow("2018-03-04", "job 0001", LimitBar(1.405, 0.03, 0.0, 2.1, 0.03, 2.07, "inside")),
    YearRow("2022-04-09", "job 0003", LimitBar(1.757, 0.033, 0.0, 2.1, statement="inside"), "painted"),
    YearRow("2024-05-09", "job 0004", LimitBar(-0.2, 0.03, 0.0, None, statement="outside"), "", "changed"),
]


@pytest.mark.parametrize("width", [650, 348])
def test_every_row_stands_in_the_picture_in_its_order(width: int) -> None:
    drawn = draw_moment_over_years(ROWS, width)
    places = [drawn.index(f">{word}<") for word in ("2016-05-01", "2018-03-04", "painted", "2022-04-09", "changed")]
    assert places == sorted(places)
    assert f'width="{width}"' in drawn


def test_the_words_give_each_moment_its_sense_and_interval() -> None:
    words = history_words(ROWS).replace("\u00a0", " ")
    assert "2018-03-04: 1.405 ± 0.030 N·m tail-heavy, inside" in words
    assert "2024-05-09: 0.200 ± 0.030 N·m nose-heavy, outside" in words


def test_a_sentence_begins_with_a_capital_and_keeps_the_rest_as_it_was_written() -> None:
    """What was typed keeps its capitals, and so do the nouns of a language that has them."""
    rows = [
        YearRow("2022-04-09", "job 0003", LimitBar(1.757), "repaired by Holt & Lind"),
        YearRow("2024-05-09", "job 0004", LimitBar(1.9), "", "verändert, ohne dass dazwischen Arbeit vermerkt ist"),
    ]
    words = history_words(rows)
    assert "Repaired by Holt & Lind. " in words
    assert "Verändert, ohne dass dazwischen Arbeit vermerkt ist. " in words


def test_a_slip_of_ten_stands_out_on_the_common_axis() -> None:
    """21.0 beside 2.10 N m: the right one is drawn a tenth as wide."""
    bars = [LimitBar(None, lower=0.0, upper=2.1), LimitBar(None, lower=0.0, upper=21.0)]
    axis = common_axis(bars)
    small, large = (axis.x(bar.upper or 0.0) - axis.x(0.0) for bar in bars)
    assert large == pytest.approx(10 * small)
    assert axis.holds(0.0)


def test_a_one_sided_limit_is_hatched_on_one_side_only() -> None:
    axis = common_axis([LimitBar(None, lower=None, upper=1.5)])
    drawn = draw_limit_thumbnail(LimitBar(None, lower=None, upper=1.5), axis)
    assert drawn.count('class="hatch"') == 1
    assert 'class="band"' not in drawn
