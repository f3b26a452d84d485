"""The limit bar in plain text, for a terminal."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hingeline_app.cli import coating_page, weigh_page
from hingeline_app.figures import LimitBar, draw_limit_bar, limit_bar_text
from hingeline_app.figures.limits.change_text import limit_change_text
from tests.hingeline_app.figures.reading_svg import parsed, texts
from tests.hingeline_app.figures.test_limit_bar import DEMO, ODD, bar


@pytest.mark.parametrize("columns", [40, 72, 100])
@pytest.mark.parametrize("name", ODD)
def test_the_band_keeps_to_the_columns(name: str, columns: int) -> None:
    drawn = limit_bar_text(ODD[name], columns).split("\n\n")[0]
    assert max(len(line) for line in drawn.splitlines()) <= columns


def test_the_value_stands_beyond_the_bracket_in_the_enlarged_band() -> None:
    lines = limit_bar_text(DEMO, 72).splitlines()
    start = lines.index("enlarged 12 times:")
    interval, band = lines[start + 1], lines[start + 2]
    assert interval.index("O") > band.index("]")
    assert interval.index("|") < band.index("]") < interval.rindex("|")


def test_value_interval_margin_limits_and_guard_are_written_out() -> None:
    text = limit_bar_text(DEMO)
    assert "2.106 ± 0.044\u00a0N·m\u00a0tail-heavy" in text
    assert "2.061 … 2.150, k = 2" in text
    assert "0.006\u00a0N·m beyond the upper limit" in text
    assert "approved limits: 0.00 … 2.10\u00a0N·m" in text
    assert "guarded band: 0.045 … 2.055\u00a0N·m" in text, "0.0444 … 2.0556, inward"


def test_the_guarded_band_is_never_written_wider_than_it_is() -> None:
    """U of 0.0432 N·m: to the nearest it would read 0.043 … 2.057, in words and in the picture."""
    weighed = bar(2.095, 0.0432, 0.0, 2.1, "too close to tell")
    assert "guarded band: 0.044 … 2.056\u00a0N·m" in limit_bar_text(weighed)
    assert "by the predicted U: 0.044 … 2.056\u00a0N·m" in limit_change_text(weighed, weighed)
    assert "guarded 2.056" in texts(parsed(draw_limit_bar(weighed)))
    limits = [{"value": each, "unit": "N m"} for each in (0.0432, 2.0568)]
    for written in (weigh_page._limits(*limits, guarded=True), coating_page._guarded(*limits)):
        assert written == "0.044 … 2.056\u00a0N·m tail-heavy"


def test_the_band_itself_is_plain_ascii() -> None:
    band = limit_bar_text(ODD["well inside"]).splitlines()[2]
    assert band.isascii()
    assert set(band) <= set("/-=[]|")


def test_a_value_off_the_axis_is_written_at_the_edge() -> None:
    assert limit_bar_text(ODD["far outside"], 72).splitlines()[1].endswith("tail-heavy >>")
    assert limit_bar_text(ODD["far outside, nose-heavy"], 72).splitlines()[1].startswith("<< ")


def test_what_is_missing_is_said() -> None:
    assert "(no ± could be given)" in limit_bar_text(ODD["no uncertainty"])
    assert "no limits given" in limit_bar_text(ODD["no limits"])
    assert "guarded band: empty" in limit_bar_text(ODD["guarded band empty"])
    assert "O" not in limit_bar_text(LimitBar(None, None, 0.0, 2.1)).splitlines()[1]


@settings(max_examples=200, deadline=None)
@given(
    st.floats(-20, 20),
    st.one_of(st.none(), st.floats(1e-4, 3)),
    st.floats(-5, 5),
    st.floats(0, 5),
    st.integers(40, 120),
)
def test_one_point_stands_on_the_axis_or_an_arrow_at_its_edge(
    value: float, uncertainty: float | None, lower: float, extent: float, columns: int
) -> None:
    lines = limit_bar_text(bar(value, uncertainty, lower, lower + extent), columns).splitlines()
    assert lines[1].count("O") == 1 or ">>" in lines[1] or "<<" in lines[1]
