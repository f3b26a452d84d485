"""The beam picture: to scale, legible in odd cases, its finding in words."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hingeline_app.figures import BeamPicture, HungMass, LoosePart, SupportMark, WeightMark, draw_beam
from hingeline_app.said import reading_in
from tests.hingeline_app.figures.reading_svg import (
    NAMESPACE,
    labels,
    number,
    of_class,
    outside,
    overlapping,
    parsed,
    texts,
)

# The demo workshop's elevator half (invented): 0.842 kg × 9.80665 m/s² × 0.255 m = 2.106 N m.
DEMO = BeamPicture(
    supports=(SupportMark(0.255, 8.257, "8.257 N", "0.842 kg"),),
    weights=(WeightMark(-0.180, "weight 0.600 kg"),),
    trailing_edge=0.270,
    centre_of_gravity=0.0524,
    mass_text="4.100 kg",
    moment=2.106,
    moment_text="2.106 ± 0.044 N·m tail-heavy",
    statement="outside",
    full_force=8.235,
)


def row_of(count: int, first: float, step: float) -> tuple[SupportMark, ...]:
    return tuple(
        SupportMark(first + step * index, 3.0 + index, f"{3 + index}.000 N", f"{300 + index} g")
        for index in range(count)
    )


ODD = {
    "demo": DEMO,
    "nothing at all": BeamPicture(),
    "hung mass, no support, no trailing edge": BeamPicture(
        hung=(HungMass(0.32, "0.95 lb"),), moment=-1.38, moment_text="1.380 ± 0.030 N·m nose-heavy", statement="inside"
    ),
    "supports on both sides": BeamPicture(
        supports=(SupportMark(0.255, 3.1, "3.100 N", "0.316 kg"), SupportMark(-0.12, 6.2, "6.200 N", "0.632 kg")),
        trailing_edge=0.27,
        moment=0.046,
        moment_text="0.046 ± 0.044 N·m tail-heavy",
        statement="too close to tell",
    ),
    "three supports close together, two parts": BeamPicture(
        supports=row_of(3, 0.24, 0.01),
        parts=(LoosePart(0.12, "tab pushrod"), LoosePart(0.13, "static wick", True)),
        trailing_edge=0.27,
        moment=2.05,
        moment_text="2.050 ± 0.044 N·m tail-heavy",
    ),
    "two supports at one arm": BeamPicture(supports=row_of(2, 0.25, 0.0), trailing_edge=0.27),
    "very long forward arm": BeamPicture(
        supports=row_of(1, 0.045, 0.0),
        weights=(WeightMark(-1.2, "weight 0.2 kg"),),
        trailing_edge=0.05,
        centre_of_gravity=0.004,
        mass_text="9.1 kg",
        moment=0.36,
        moment_text="0.360 N·m tail-heavy",
    ),
    "very short arms": BeamPicture(
        supports=row_of(1, 0.004, 0.0), trailing_edge=0.5, moment=0.1, moment_text="0.100 N·m"
    ),
    "hook and hung mass forward": BeamPicture(
        supports=(SupportMark(-0.18, 5.0, "5.000 N", "0.510 kg", "down"),),
        hung=(HungMass(-0.1, "200 g"),),
        trailing_edge=0.3,
        centre_of_gravity=0.02,
        mass_text="3 kg",
        moment=0.7,
        moment_text="0.700 ± 0.020 N·m tail-heavy",
    ),
    "forty supports": BeamPicture(supports=row_of(40, 0.01, 0.006), trailing_edge=0.27),
    "a part with a very long name": BeamPicture(
        supports=row_of(1, 0.25, 0.0), parts=(LoosePart(0.1, "tab pushrod with both rod ends and lock nuts " * 3),)
    ),
}


@pytest.mark.parametrize("width", [650, 348])
@pytest.mark.parametrize("name", ODD)
def test_words_neither_overlap_nor_leave_the_picture(name: str, width: float) -> None:
    root = parsed(draw_beam(ODD[name], width))
    assert overlapping(root) == []
    assert outside(root) == []


@pytest.mark.parametrize("name", ODD)
def test_no_element_carries_a_style_or_a_colour(name: str) -> None:
    root = parsed(draw_beam(ODD[name]))
    for element in root.iter():
        assert not {"style", "fill", "stroke", "font-size", "stroke-width"} & set(element.attrib)


def test_view_box_is_as_wide_as_the_picture_is_shown() -> None:
    for width in (650, 348):
        assert parsed(draw_beam(DEMO, width)).get("viewBox", "").split()[2] == str(width)


def test_places_along_the_beam_are_proportional_to_their_arms() -> None:
    root = parsed(draw_beam(DEMO))
    hinge = next(number(ring, "cx") for ring in of_class(root, "circle", "open") if ring.get("r") == "7")
    contact = number(of_class(root, "line", "force")[0], "x1") - hinge
    block = next(rect for rect in of_class(root, "rect", "steel") if rect.get("rx"))
    weight = number(block, "x") + number(block, "width") / 2 - hinge
    gravity = number(of_class(root, "line", "weight")[0], "x1") - hinge
    scale = contact / 0.255
    assert scale > 0.0
    assert weight == pytest.approx(-0.180 * scale, abs=0.02)
    assert gravity == pytest.approx(0.0524 * scale, abs=0.02)


def test_centre_of_gravity_is_left_out_when_it_is_not_known() -> None:
    root = parsed(draw_beam(BeamPicture(supports=row_of(1, 0.25, 0.0), trailing_edge=0.27)))
    assert of_class(root, "line", "weight") == []
    assert not any("centre of gravity" in words for words in texts(root))


@pytest.mark.parametrize("width", [650, 348])
@pytest.mark.parametrize("aft", [1.0, -1.0])
def test_no_extension_line_runs_through_the_words_of_weight_or_centre_of_gravity(aft: float, width: float) -> None:
    """The demo's rudder (invented), weighed forward of its hinge, and its mirror image."""
    rudder = BeamPicture(
        supports=(SupportMark(-0.33 * aft, 1.196, "1.196 N", "122 g", "up"),),
        weights=(WeightMark(-0.18 * aft, "weight 0.600 kg"),),
        trailing_edge=0.41,
        centre_of_gravity=-0.012 * aft,
        mass_text="3.350 kg",
        moment=-0.395 * aft,
        moment_text="0.395 ± 0.050 N·m",
    )
    root = parsed(draw_beam(rudder, width))
    thin = [line for line in of_class(root, "line", "thin") if line.get("x1") == line.get("x2")]
    assert thin
    for words in (label for label in labels(root) if label.words.startswith(("12.0", "weight"))):
        through = [line for line in thin if words.box.left < number(line, "x1") < words.box.right]
        assert not [line for line in through if number(line, "y1") < words.y < number(line, "y2")], words


def test_an_outline_without_a_trailing_edge_is_phantom_and_says_that_it_is_guessed() -> None:
    root = parsed(draw_beam(ODD["hung mass, no support, no trailing edge"]))
    assert of_class(root, "path", "phantom")
    assert not of_class(root, "path", "body")
    assert "outline guessed" in texts(root)


def test_the_picture_says_its_finding_in_words() -> None:
    root = parsed(draw_beam(DEMO))
    words = root.get("aria-label", "")
    assert root.get("role") == "img"
    assert "Scale pushes up 8.257 N at 255\u00a0mm aft of the hinge line" in words
    assert "Static moment 2.106 ± 0.044 N·m tail-heavy" in words
    assert "Statement: outside" in words


@pytest.mark.parametrize(("language", "words"), [
    ("en", ["scale pushes up"]),
    ("de", ["die Waage drückt", "nach oben"]),
    ("fr", ["la balance pousse", "vers le haut"]),
])  # fmt: skip
def test_which_way_the_scale_acts_is_said_in_each_language(language: str, words: list[str]) -> None:
    """A surface of the invented workshop on a support near its hinge line: longer words have two lines, and stay."""
    picture = BeamPicture(
        supports=(SupportMark(0.155, 2.010, "2.010 N", "205 g"),),
        weights=(WeightMark(-0.180, "weight 0.600 kg"),),
        trailing_edge=0.24,
        centre_of_gravity=0.0148,
        mass_text="2.150 kg",
        moment=0.312,
        moment_text="0.312 ± 0.024 N·m tail-heavy",
    )
    with reading_in(language):
        root = parsed(draw_beam(picture))
    assert [each for each in texts(root) if each in words] == words
    assert overlapping(root) == []


def test_a_nose_heavy_moment_turns_the_other_way_and_stands_forward_of_the_hinge() -> None:
    tail = parsed(draw_beam(DEMO))
    nose = parsed(draw_beam(BeamPicture(supports=DEMO.supports, moment=-2.0, moment_text="2.0 N·m nose-heavy")))
    sweeps = [of_class(root, "path", "moment")[0].get("d", "").split()[5] for root in (tail, nose)]
    assert sweeps == ["1", "0"]


def test_a_light_reading_has_a_shorter_arrow_than_a_full_one() -> None:
    def length(force: float) -> float:
        picture = BeamPicture(supports=(SupportMark(0.2, force, "", "0 kg"),), trailing_edge=0.3, full_force=10.0)
        line = of_class(parsed(draw_beam(picture)), "line", "force")[0]
        return number(line, "y1") - number(line, "y2")

    assert length(1.0) < length(8.0)


def test_what_finds_no_room_beside_its_mark_is_numbered_and_listed() -> None:
    words = texts(parsed(draw_beam(ODD["three supports close together, two parts"])))
    assert "scale pushes up 3.000 N at 240\u00a0mm aft of the hinge line, shows 300 g" in words
    assert "tab pushrod at 120\u00a0mm aft of the hinge line" in words


def test_more_marks_than_can_be_numbered_are_counted() -> None:
    assert "and 30 more: see the table" in texts(parsed(draw_beam(ODD["forty supports"])))


def test_markup_in_words_is_written_as_words() -> None:
    picture = BeamPicture(supports=row_of(1, 0.2, 0.0), parts=(LoosePart(0.1, "<b>&\x00\ud800"),))
    assert "<b>&" in texts(parsed(draw_beam(picture)))


arms = st.one_of(st.floats(0.004, 1.5), st.floats(-1.5, -0.004))
numbered = st.integers(1, 4)


@pytest.mark.slow
@settings(max_examples=120, deadline=None)
@given(
    supports=st.lists(st.tuples(arms, st.sampled_from(["up", "down"])), max_size=4),
    hung=st.lists(arms, max_size=2),
    weights=st.lists(arms, max_size=2),
    parts=st.lists(arms, max_size=2),
    edge=st.one_of(st.none(), st.floats(0.05, 1.0)),
    gravity=st.one_of(st.none(), st.floats(-0.3, 0.3)),
    moment=st.floats(-3.0, 3.0),
    width=st.sampled_from([650, 348]),
)
def test_words_never_overlap_whatever_acts(supports, hung, weights, parts, edge, gravity, moment, width) -> None:  # type: ignore[no-untyped-def]
    picture = BeamPicture(
        supports=tuple(SupportMark(arm, 5.0, "5.000 N", "510 g", way) for arm, way in supports),
        hung=tuple(HungMass(arm, "200 g") for arm in hung),
        weights=tuple(WeightMark(arm, "weight 0.6 kg") for arm in weights),
        parts=tuple(LoosePart(arm, "tab pushrod") for arm in parts),
        trailing_edge=edge,
        centre_of_gravity=gravity,
        mass_text="4.1 kg",
        moment=moment,
        moment_text="2.106 ± 0.044 N·m tail-heavy",
    )
    root = parsed(draw_beam(picture, width))
    assert overlapping(root) == []
    assert outside(root) == []
    assert all(
        "nan" not in value and "inf" not in value
        for e in root.iter()
        for value in e.attrib.values()
        if value != picture.moment_text
    )
    assert root.tag == NAMESPACE + "svg"
