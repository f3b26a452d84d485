"""The onset curve: what was not found is hatched and said to be no proof; nothing is drawn as good."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import pytest

from hingeline_app.figures.lettering import Box
from hingeline_app.figures.onset.curve import (
    ChosenPlace,
    OnsetCurve,
    OnsetSample,
    draw_onset_curve,
    is_near_flight,
    top_speed,
)
from hingeline_app.figures.onset.name import chosen_words
from hingeline_app.said import reading_in
from tests.hingeline_app.figures.reading_svg import labels, number, of_class, outside, overlapping, parsed, texts

POINT = re.compile(r"([\d.]+)[ ,]([\d.]+)")


def sample(x: float) -> OnsetSample:
    """Give an invented fall of the onset with the centre of gravity; none ahead of 27 mm."""
    speed = None if x < 27.0 else 105.0 + 3000.0 / (x - 8.0)
    return OnsetSample(x, speed, speed and 0.88 * speed, None if x < 37.0 else speed and 1.14 * speed)


CURVE = OnsetCurve(
    samples=tuple(sample(2.0 * step) for step in range(71)),
    scale="centre of gravity aft of the hinge line, mm",
    searched=447.0,
    finding="Growth starts at 134 kn",
    second_scale="static moment, N·m tail-heavy",
    second_factor=0.0931,
    dive_speed=140.0,
    places=(ChosenPlace(sample(30.0), 1, False), ChosenPlace(sample(110.0), 3, True)),
)


@pytest.mark.parametrize("width", [650, 348])
def test_words_stay_apart_and_inside(width: float) -> None:
    """No two words share ground and none leaves the picture, at both widths."""
    root = parsed(draw_onset_curve(CURVE, width))
    assert overlapping(root) == []
    assert outside(root) == []


def test_where_no_growth_was_found_it_is_hatched_and_said_to_be_no_proof() -> None:
    """The hatch ends before the first onset, and the sentence with the range searched stands in it."""
    root = parsed(draw_onset_curve(CURVE))
    assert len(of_class(root, "path", "hatch")) == 1
    assert "up to 447 kn: not proof" in texts(root)


def test_a_hatch_too_narrow_for_words_says_it_below() -> None:
    """A hatch of a few pixels keeps its sentence."""
    curve = replace(CURVE, samples=tuple(sample(24.0 + step) for step in range(60)))
    assert "hatched: model finds no growth up to 447 kn: not proof" in texts(parsed(draw_onset_curve(curve)))


def test_a_curve_without_gaps_has_no_hatch() -> None:
    """Where every place has an onset, nothing is hatched."""
    curve = replace(CURVE, samples=tuple(sample(40.0 + step) for step in range(60)))
    assert of_class(parsed(draw_onset_curve(curve)), "path", "hatch") == []


def test_the_point_stands_at_its_speed() -> None:
    """The chosen point's height is its speed on the scale that is drawn."""
    root = parsed(draw_onset_curve(CURVE))
    point = of_class(root, "circle", "point")[0]
    speed = CURVE.places[1].sample.speed
    assert speed is not None
    bottom = max(number(line, "y1") for line in of_class(root, "line", "axis"))
    top = min(number(line, "y1") for line in of_class(root, "line", "axis"))
    assert number(point, "cy") == pytest.approx(bottom - speed / top_speed(CURVE) * (bottom - top), abs=0.02)


@pytest.mark.parametrize(
    ("low", "dive", "near"),
    [(100.0, 140.0, True), (167.0, 140.0, True), (169.0, 140.0, False), (500.0, None, True)],
)
def test_red_is_for_growth_below_the_margin(low: float, dive: float | None, near: bool) -> None:
    """A band that begins below 1.2 times the dive speed is drawn so; without a dive speed any onset is."""
    assert is_near_flight(OnsetSample(1.0, low + 10.0, low, low + 20.0), dive) is near


def test_growth_at_every_speed_is_no_gap() -> None:
    """Where a motion grows from the start, that is drawn and said, and not hatched as unfound."""
    grows = tuple(OnsetSample(float(x), None, from_the_start=True) for x in range(5))
    root = parsed(draw_onset_curve(replace(CURVE, samples=grows, places=(ChosenPlace(grows[2], 1, True),))))
    assert of_class(root, "path", "hatch") == []
    assert of_class(root, "line", "moment")
    assert "grows at every speed" in texts(root)


def test_a_band_open_above_says_so() -> None:
    """Where some cases have no onset, the upper end is no number."""
    assert chosen_words(OnsetSample(1.0, 200.0, 150.0, None)) == ("200 kn", "150 … none found")


@pytest.mark.parametrize("balloon", [0, 1])
def test_a_name_left_of_its_point_stands_clear_of_the_scale_and_of_other_words(balloon: int) -> None:
    """In a narrow picture neither side has room for large words: they get smaller, and none stands on another."""
    samples = tuple(replace(each, x=140.0 - each.x) for each in reversed(CURVE.samples))
    at = replace(samples[48], speed=None, low=None, high=None)
    curve = replace(CURVE, samples=samples, places=(ChosenPlace(at, balloon, True),))
    root = parsed(draw_onset_curve(curve, 348))
    name = next(each for each in labels(root) if each.words == "no growth found")
    assert (name.anchor, name.role) == ("end", "measure")
    assert name.box.left > 48.0
    assert overlapping(root) == []


@pytest.mark.parametrize("language", ["en", "de", "fr"])
def test_no_piece_of_the_line_is_hidden_by_words(language: str) -> None:
    """A line that rises steeply into a hatch, in a narrow picture: what is written after it stands clear of it."""
    samples = tuple(OnsetSample(step / 10, None if step > 27 else 100.0 + 0.18 * step**1.8) for step in range(51))
    chosen = ChosenPlace(OnsetSample(3.5, None), 1, True)
    curve = replace(CURVE, samples=samples, searched=622.0, places=(chosen,))
    with reading_in(language):
        root = parsed(draw_onset_curve(curve, 348))
    drawn = list(root.iter())
    line = of_class(root, "path", "curve")[0]
    written = {each.text for each in drawn[drawn.index(line) :] if each.tag.endswith("text")}
    names = [each for each in labels(root) if each.words in written - {"1"}]
    assert len(names) >= 2
    ends = [Box(float(x), float(y), float(x) + 0.1, float(y) + 0.1) for x, y in POINT.findall(line.get("d", ""))]
    assert len(ends) == 28
    assert [each.words for each in names if any(each.box.meets(end) for end in ends)] == []


@pytest.mark.parametrize("language", ["en", "de", "fr"])
def test_the_names_of_the_dive_speeds_stand_clear_of_the_line(language: str) -> None:
    """German needs half of the picture for them: it says fewer words rather than write across the curve."""
    samples = tuple(OnsetSample(step / 10, None if step > 27 else 100.0 + 0.18 * step**1.8) for step in range(51))
    curve = replace(CURVE, samples=samples, places=(), dive_words="design dive speed, invented")
    with reading_in(language):
        root = parsed(draw_onset_curve(curve, 650))
    line = POINT.findall(of_class(root, "path", "curve")[0].get("d", ""))
    ends = [(float(x), float(y)) for x, y in line]
    between = [
        (x + part / 20.0 * (further - x), y + part / 20.0 * (higher - y))
        for (x, y), (further, higher) in pairwise(ends)
        for part in range(21)
    ]
    named = [each for each in labels(root) if " kn" in each.words and each.role == "strong"]
    assert len(named) == 2
    assert language == "en" or not any("dive" in each.words for each in named)
    assert [each.words for each in named if any(each.box.meets(Box(x, y, x + 0.1, y + 0.1)) for x, y in between)] == []


@pytest.mark.parametrize("width", [650, 348])
def test_no_word_of_comfort(width: float) -> None:
    """No word in the picture says that anything is good."""
    words = " ".join(texts(parsed(draw_onset_curve(CURVE, width)))).lower()
    assert not [word for word in ("safe", "clear", "stable", "good", "ok") if word in words.split()]


def test_a_second_scale_may_run_the_other_way() -> None:
    """A scale that falls, such as the weight while the moment rises, is written in its own direction."""
    curve = replace(CURVE, second_factor=-0.05, second_offset=8.0)
    root = parsed(draw_onset_curve(curve))
    top = {
        text.text: number(text, "x") for text in root.iter() if text.tag.endswith("text") and number(text, "y") == 66.0
    }
    assert top["8"] < top["2"]


@pytest.mark.parametrize("width", [1180, 760, 348])
def test_no_growth_found_is_not_written_where_growth_was_found(width: int) -> None:
    """Growth right of 3.5, none left of it and at it: "no growth found" stands left and says: here only."""
    samples = tuple(OnsetSample(step / 10, None if step < 36 else 100.0) for step in range(51))
    chosen = ChosenPlace(OnsetSample(3.5, None), 1, True)
    root = parsed(draw_onset_curve(replace(CURVE, samples=samples, searched=622.0, places=(chosen,)), width))
    for words in ("no growth found", "here only, not proof"):
        assert next(each for each in labels(root) if each.words == words).anchor == "end"


@pytest.mark.parametrize("language", ["en", "de", "fr"])
@pytest.mark.parametrize("place", [0.0, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0])
def test_no_growth_found_stays_inside_a_phone_in_every_language(language: str, place: float) -> None:
    """French says it a third longer: "ici seulement, pas une preuve" began 113 pixels left of the picture."""
    samples = tuple(OnsetSample(step / 10, None) for step in range(51))
    chosen = ChosenPlace(OnsetSample(place, None), 1, True)
    with reading_in(language):
        root = parsed(draw_onset_curve(replace(CURVE, samples=samples, searched=622.0, places=(chosen,)), 348))
    assert outside(root) == []
    assert overlapping(root) == []
