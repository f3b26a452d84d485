"""The limit bar: true positions, legible in odd cases, its finding in words."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hingeline_app.figures import LimitBar, draw_limit_bar
from tests.hingeline_app.figures.reading_svg import labels, number, of_class, outside, overlapping, parsed, texts


def bar(value, uncertainty, lower, upper, statement=None):  # type: ignore[no-untyped-def]
    guards = [
        None if end is None or uncertainty is None else end + way * uncertainty
        for end, way in ((lower, 1), (upper, -1))
    ]
    return LimitBar(value, uncertainty, lower, upper, *guards, statement, 2.0)


# Demo workshop (invented): 2.106 ± 0.044 N m against 0.00 … 2.10 N m.
DEMO = bar(2.10559, 0.04443, 0.0, 2.1, "outside")

ODD = {
    "demo": DEMO,
    "well inside": bar(1.85, 0.045, 0.0, 2.1, "inside"),
    "upper limit only": bar(1.2, 0.2, None, 2.1, "inside"),
    "lower limit only, nose-heavy": bar(-0.2, 0.01, -0.5, None, "inside"),
    "nose-heavy limits": bar(-1.5, 0.1, -2.1, -0.2, "inside"),
    "no limits": bar(1.5, 0.1, None, None),
    "no limits and no uncertainty": bar(1.5, None, None, None),
    "moment of zero and no limits": bar(0.0, None, None, None),
    "no uncertainty": bar(2.09, None, 0.0, 2.1, "inside"),
    "far outside": bar(14.2, 0.1, 0.0, 2.1, "outside"),
    "far outside, nose-heavy": bar(-140.2, 0.1, 0.0, 2.1, "outside"),
    "narrow band far from zero": bar(20.03, 0.01, 20.0, 20.1, "inside"),
    "guarded band empty": bar(0.05, 0.2, 0.0, 0.1, "inside"),
    "across zero": bar(0.1, 0.02, -0.15, 0.4, "inside"),
    "uncertainty nearly as wide as the band": bar(1.0, 0.9, 0.0, 2.1, "inside"),
    "limits alone": LimitBar(None, None, 0.0, 2.1),
    "near the lower limit": bar(0.01, 0.02, 0.0, 2.1, "too close to tell"),
    "upper limit of zero": bar(-0.3, 0.02, None, 0.0, "inside"),
    "band of no width": bar(1.0, 0.02, 1.0, 1.0, "inside"),
    "tiny": bar(2.1e-6, 4e-8, 0.0, 2.0e-6, "outside"),
    "huge": bar(2.1e6, 4e4, 0.0, 2.0e6, "outside"),
}


@pytest.mark.parametrize("width", [650, 348])
@pytest.mark.parametrize("name", ODD)
def test_words_neither_overlap_nor_leave_the_picture(name: str, width: float) -> None:
    root = parsed(draw_limit_bar(ODD[name], width))
    assert overlapping(root) == []
    assert outside(root) == []


@pytest.mark.parametrize("name", ODD)
def test_no_element_carries_a_style_or_a_colour(name: str) -> None:
    for element in parsed(draw_limit_bar(ODD[name])).iter():
        assert not {"style", "fill", "stroke", "font-size", "stroke-width"} & set(element.attrib)


def test_the_mark_stands_where_the_value_lies_between_the_limits() -> None:
    root = parsed(draw_limit_bar(ODD["well inside"]))
    band = of_class(root, "rect", "band")[0]
    point = of_class(root, "circle", "point")[0]
    along = (number(point, "cx") - number(band, "x")) / number(band, "width")
    assert along == pytest.approx(1.85 / 2.1, abs=1e-3)


def test_whiskers_reach_as_far_as_the_uncertainty() -> None:
    root = parsed(draw_limit_bar(ODD["well inside"]))
    band = of_class(root, "rect", "band")[0]
    low, high = (
        float(end) for end in re.findall(r"^M(\S+) \S+?H([\d.]+)", of_class(root, "path", "whisker")[0].get("d", ""))[0]
    )
    assert (high - low) / number(band, "width") == pytest.approx(2 * 0.045 / 2.1, abs=1e-3)


def test_a_small_interval_at_a_limit_is_enlarged_by_the_ratio_it_states() -> None:
    root = parsed(draw_limit_bar(DEMO))
    assert "A (12 : 1)" in texts(root)
    band = of_class(root, "rect", "band")[0]
    low, high = (
        float(end) for end in re.findall(r"^M(\S+) \S+?H([\d.]+)", of_class(root, "path", "whisker")[0].get("d", ""))[0]
    )
    on_bar = number(band, "width") * 2 * 0.04443 / 2.1
    assert (high - low) / on_bar == pytest.approx(12.0, abs=0.5)


def test_a_wide_interval_or_one_far_from_the_limits_needs_no_detail() -> None:
    for name in ("well inside", "uncertainty nearly as wide as the band", "no limits", "far outside"):
        assert not any(words.startswith("A (") for words in texts(parsed(draw_limit_bar(ODD[name]))))


def test_the_detail_names_value_interval_limit_and_guard() -> None:
    words = texts(parsed(draw_limit_bar(DEMO)))
    for expected in ("2.106", "2.061", "2.150", "limit 2.10", "guarded 2.055", "inside", "outside"):
        assert expected in words


def test_a_value_off_the_axis_is_written_and_pointed_at() -> None:
    root = parsed(draw_limit_bar(ODD["far outside"]))
    assert "14.20 ± 0.10\u00a0N·m\u00a0tail-heavy" in texts(root)
    assert of_class(root, "path", "point")
    assert not of_class(root, "circle", "point")


def test_an_open_side_has_no_end_and_three_dashes_on_each_edge() -> None:
    root = parsed(draw_limit_bar(ODD["upper limit only"]))
    assert not of_class(root, "rect", "band")
    assert len(of_class(root, "line", "outline")) == 2 + 6


def test_without_an_uncertainty_the_point_has_no_whiskers_and_says_so() -> None:
    root = parsed(draw_limit_bar(ODD["no uncertainty"]))
    assert not of_class(root, "path", "whisker")
    assert "no ± could be given: the point stands alone" in texts(root)


def test_without_limits_there_is_no_band_no_hatch_and_a_sentence() -> None:
    root = parsed(draw_limit_bar(ODD["no limits"]))
    assert not of_class(root, "rect", "band")
    assert not of_class(root, "path", "hatch")
    assert "no limits given" in texts(root)


@pytest.mark.parametrize("width", [650, 348])
@pytest.mark.parametrize("value", [None, -0.395])
def test_no_line_of_the_guarded_band_runs_through_the_name_of_the_limits(value: float | None, width: float) -> None:
    """The demo's rudder (invented), weighed and on its blank sheet: the name stands between the lines, or below."""
    rudder = LimitBar(
        value, 0.05 if value else None, -0.7354, -0.2452, -0.685, -0.295, "inside" if value else None, 2.0
    )
    root = parsed(draw_limit_bar(rudder, width))
    (guarded,) = of_class(root, "rect", "guarded")
    (name,) = (label for label in labels(root) if label.words.startswith("approved limits"))
    bottom = number(guarded, "y") + number(guarded, "height")
    ends = (number(guarded, "x"), number(guarded, "x") + number(guarded, "width"))
    assert name.box.top > bottom - 4.0 or not any(name.box.left < end < name.box.right for end in ends)


def test_an_empty_guarded_band_is_not_drawn_and_said() -> None:
    root = parsed(draw_limit_bar(ODD["guarded band empty"]))
    assert not of_class(root, "rect", "guarded")
    assert "guarded band empty: limits closer than 2U" in texts(root)


def test_zero_is_always_on_the_axis() -> None:
    for name, picture in ODD.items():
        assert any(words in ("0", "0\u00a0N·m") for words in texts(parsed(draw_limit_bar(picture)))), name


def test_the_picture_says_its_finding_in_words() -> None:
    words = parsed(draw_limit_bar(DEMO)).get("aria-label", "")
    assert "Approved limits: 0.00 … 2.10\u00a0N·m tail-heavy" in words
    assert "Measured 2.106 ± 0.044\u00a0N·m\u00a0tail-heavy" in words
    assert "0.006\u00a0N·m beyond the upper limit" in words
    assert words.endswith("Statement: outside.")


def test_the_sense_words_always_stand() -> None:
    for name, picture in ODD.items():
        words = texts(parsed(draw_limit_bar(picture)))
        assert "nose-heavy" in words, name
        assert "tail-heavy" in words, name


ends = st.one_of(st.none(), st.floats(-5.0, 5.0))


@pytest.mark.slow
@settings(max_examples=250, deadline=None)
@given(
    value=st.floats(-20.0, 20.0),
    uncertainty=st.one_of(st.none(), st.floats(1e-4, 3.0)),
    lower=ends,
    upper=ends,
    width=st.sampled_from([650, 348]),
)
def test_words_never_overlap_whatever_the_numbers(value, uncertainty, lower, upper, width) -> None:  # type: ignore[no-untyped-def]
    if lower is not None and upper is not None and lower > upper:
        lower, upper = upper, lower
    svg = draw_limit_bar(bar(value, uncertainty, lower, upper, "inside"), width)
    root = parsed(svg)
    assert overlapping(root) == []
    assert outside(root) == []
    assert not re.search(r'"[^"]*\b(nan|inf)\b', svg)
