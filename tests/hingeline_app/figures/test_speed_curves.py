"""Damping and frequency over speed: what grows is drawn as growing, and what is left out is said."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from hingeline_app.cli.flutter_plot import mode_curves
from hingeline_app.figures.damping.speed_curves import (
    CurvePoint,
    ModeCurve,
    NeutralMark,
    SpeedCurves,
    draw_speed_curves,
    shown_modes,
)
from tests.hingeline_app.figures.reading_svg import number, of_class, outside, overlapping, parsed, texts

SPEEDS = [float(speed) for speed in range(0, 101, 2)]


def line(number: int, frequency: float, slope: float, start: float = 0.02) -> ModeCurve:
    """Give a motion whose damping runs straight over speed."""
    return ModeCurve(number, (tuple(CurvePoint(speed, frequency, start + slope * speed) for speed in SPEEDS),))


GROWING = line(1, 8.0, -0.0005)
"""Neutral at 40 m/s."""
CURVES = SpeedCurves(
    0.0, 100.0, (GROWING, line(2, 12.0, 0.001), line(3, 300.0, 0.0001)),
    (NeutralMark(40.0, 8.0, True),), 40.0, ("Merle T2 strip", "Growth starts at 40.00 m/s.", "Model, not proof."),
)  # fmt: skip


@pytest.mark.parametrize("width", [650, 348])
def test_words_stay_apart_and_inside(width: float) -> None:
    """No two texts share ground and none leaves the picture, at both widths."""
    root = parsed(draw_speed_curves(replace(CURVES, finding=(*CURVES.finding, 20 * "many words ")), width))
    assert overlapping(root) == []
    assert outside(root) == []


def test_growth_is_drawn_from_the_neutral_point_on() -> None:
    """The heavy line begins at the neutral point and ends at the edge; the lighter motions have none."""
    root = parsed(draw_speed_curves(CURVES))
    heavy = [
        [float(x) for x in re.findall(r"[ML]?([\d.]+) [\d.]+", path.get("d", ""))]
        for path in of_class(root, "path", "moment")
    ]
    assert len(heavy) == 2  # damping and frequency, of one motion
    (mark,) = {number(circle, "cx") for circle in of_class(root, "circle", "point")}
    for xs in heavy:
        assert xs[0] == pytest.approx(mark, abs=12.0)
        assert xs[-1] == pytest.approx(606.0, abs=0.5)


def test_nothing_is_drawn_as_growing_that_rounding_made() -> None:
    """A motion whose damping is -1e-12 is neutral: no heavy line."""
    root = parsed(draw_speed_curves(replace(CURVES, modes=(line(1, 8.0, 0.0, -1e-12),), marks=(), onset=None)))
    assert of_class(root, "path", "moment") == []


def test_where_growth_stops_the_point_is_open() -> None:
    """A point where growth starts is filled, one where it stops is not, and the legend tells them apart."""
    curves = replace(CURVES, marks=(*CURVES.marks, NeutralMark(60.0, 9.0, False)))
    root = parsed(draw_speed_curves(curves))
    starts = {number(circle, "cx") for circle in of_class(root, "circle", "point")}
    stops = {number(circle, "cx") for circle in of_class(root, "circle", "open-thin")}
    assert len(starts) == len(stops) == 1
    assert max(starts) < min(stops)
    assert any("open point: a motion stops growing" in words for words in texts(root))


def test_a_growing_motion_is_never_left_out() -> None:
    """Motions far above in frequency are left out and counted, unless they grow."""
    assert [mode.number for mode in shown_modes(CURVES)] == [1, 2]
    assert "1 mode of higher frequency, none of them growing, left out" in texts(parsed(draw_speed_curves(CURVES)))
    high = replace(CURVES, modes=(*CURVES.modes[:2], line(3, 300.0, -0.001)))
    assert [mode.number for mode in shown_modes(high)] == [1, 2, 3]


def test_what_is_cut_off_is_said() -> None:
    """Damping and growth beyond the scale are named as not drawn."""
    steep = replace(CURVES, modes=(line(1, 8.0, -0.01), line(2, 12.0, 0.01)))
    words = texts(parsed(draw_speed_curves(steep)))
    assert "damping above 30 % is not drawn" in words
    assert "growth beyond 30 % is not drawn: it is larger" in words


def test_the_picture_says_its_finding_in_words() -> None:
    """Who does not see it hears the finding and that it is no proof; both scales name the airspeed."""
    root = parsed(draw_speed_curves(CURVES))
    assert root.get("aria-label") == "Merle T2 strip Growth starts at 40.00 m/s. Model, not proof."
    assert {"kn true airspeed", "m/s true airspeed", "growing"} <= set(texts(root))


def test_no_area_is_drawn_as_good() -> None:
    """Nothing is filled but points, plates under words and frames without a fill."""
    root = parsed(draw_speed_curves(CURVES))
    used = {name for element in root.iter() for name in element.get("class", "").split()}
    assert used & {"wash", "band", "guarded", "body", "in"} == set()


def row(speed: float, *roots: tuple[int, float, float]) -> dict[str, object]:
    """Give the roots of one speed as a document has them."""
    return {
        "speed": {"value": speed},
        "roots": [{"mode": mode, "frequency": {"value": hertz}, "damping_ratio": part} for mode, hertz, part in roots],
    }


def test_a_line_is_broken_where_it_becomes_another_motion() -> None:
    """A mode that is missing at one speed, or leaps in frequency, goes on as a new line."""
    rows = [row(1, (1, 8, 0.1)), row(2, (1, 8, 0.1)), row(3), row(4, (1, 8, 0.1)), row(5, (1, 20, 0.1))]
    (mode,) = mode_curves(rows)
    assert [[point.speed for point in run] for run in mode.runs] == [[1, 2], [4], [5]]


def test_a_neutral_point_is_put_between_two_speeds() -> None:
    """Where damping changes sign, a point of no damping stands in between, by proportion."""
    (mode,) = mode_curves([row(10, (1, 8, 0.03)), row(20, (1, 9, -0.01))])
    (middle,) = [point for point in mode.points if point.damping == 0.0]
    assert middle.speed == pytest.approx(17.5)
    assert middle.frequency == pytest.approx(8.75)
