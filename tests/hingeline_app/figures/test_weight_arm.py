"""The arm of a balance weight: to scale, legible, what is lost is seen, its finding in words."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ElementTree
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hingeline_app.figures import stylesheet
from hingeline_app.figures.arm.root_section import RootSection, arc_piece
from hingeline_app.figures.arm.weight_arm import WeightArm, draw_weight_arm
from hingeline_app.figures.lettering import text_width, wrapped
from tests.hingeline_app.figures.reading_svg import number, of_class, outside, overlapping, parsed, texts

TUBE = RootSection(0.012, 0.012, 0.0015, 0.0002, "outside", 0.0, ("tube 12 × 1.5 mm", "0.20 mm lost, measured"))
BAR = RootSection(0.020, 0.014, None, 0.0004, "local", 0.0, ("bar 20 × 14 mm", "0.40 mm lost"))
ARM = WeightArm(
    length=0.172, hinge_to_root=0.008, beyond_tip=0.0, thickness=0.012, weight=0.6, section=TUBE,
    places=("Weight: tight", "Wall: paint off", "Root: crack check"),
    sentences=("Estimated stress 260 MPa.", "An estimate never makes the approved interval longer."),
    length_text="172 mm", name="Elevator arm",
)  # fmt: skip


def places(root: ElementTree.Element) -> tuple[ElementTree.Element, ElementTree.Element, ElementTree.Element]:
    """Give weight, tube and clamp of the view from the side."""
    weight, clamp = of_class(root, "rect", "steel")
    (tube,) = of_class(root, "rect", "open")
    return weight, tube, clamp


@pytest.mark.parametrize("width", [650.0, 348.0])
def test_it_is_to_one_scale_both_ways(width: float) -> None:
    """Tube 172 mm to the middle of the weight and 12 mm thick, the weight a cube of lead of 0.6 kg."""
    weight, tube, clamp = places(parsed(draw_weight_arm(ARM, width)))
    centre = number(weight, "x") + number(weight, "width") / 2.0
    scale = (number(clamp, "x") - centre) / 0.172
    assert number(tube, "height") == pytest.approx(0.012 * scale, abs=0.05)
    assert number(weight, "width") == pytest.approx(math.cbrt(0.6 / 11340.0) * scale, abs=0.05)
    assert number(weight, "width") == pytest.approx(number(weight, "height"), abs=0.02)


def test_the_tube_ends_before_a_weight_that_stands_beyond_it() -> None:
    """With 20 mm beyond the tip the tube is so much shorter than the way to the weight's centre."""
    _, tube, clamp = places(parsed(draw_weight_arm(ARM)))
    _, shorter, other = places(parsed(draw_weight_arm(replace(ARM, beyond_tip=0.020))))
    scale = number(tube, "width") / 0.172
    assert number(shorter, "width") == pytest.approx(0.152 * scale, abs=0.1)
    assert number(clamp, "x") == number(other, "x")


@pytest.mark.parametrize("width", [650.0, 348.0])
def test_three_balloons_name_three_places(width: float) -> None:
    """1, 2 and 3 stand above the arm, and again beside what to look for."""
    root = parsed(draw_weight_arm(ARM, width))
    said = texts(root)
    assert [said.count(at) for at in "123"] == [2, 2, 2]
    for words in ARM.places:
        assert words in said
    assert len(of_class(root, "circle", "balloon")) == 6
    assert len(of_class(root, "circle", "spot")) == 1


@pytest.mark.parametrize("where", ["outside", "inside", "local"])
def test_what_is_lost_is_seen(where: str) -> None:
    """A dashed line where the wall was, or the piece that is gone; nothing of the kind where nothing is lost."""
    section = replace(TUBE, where=where, half_angle=0.4 if where == "local" else 0.0)
    root = parsed(draw_weight_arm(replace(ARM, section=section)))
    assert of_class(root, "line", "loss")
    assert of_class(root, "path", "gone") if where == "local" else of_class(root, "circle", "loss")
    sound = parsed(draw_weight_arm(replace(ARM, section=replace(TUBE, lost=0.0, where="", words=("tube",)))))
    assert not [element for element in sound.iter() if {"loss", "gone"} & set(element.get("class", "").split())]


def test_a_bar_is_drawn_as_a_bar() -> None:
    """Twenty wide and fourteen high, without what is gone of its face."""
    root = parsed(draw_weight_arm(replace(ARM, section=BAR, thickness=0.014)))
    (metal,) = of_class(root, "rect", "metal")
    (gone,) = of_class(root, "rect", "gone")
    assert (number(metal, "height") + number(gone, "height")) / number(metal, "width") == pytest.approx(0.7, abs=1e-3)


def test_the_piece_of_a_ring_is_centred_at_the_top() -> None:
    """Both its ends lie at ± the half angle, at both radii."""
    points = [tuple(map(float, pair.split())) for pair in re.findall(r"[-\d.]+ [-\d.]+", arc_piece((0, 0), 10, 8, 0.5))]
    assert min(y for _, y in points) == pytest.approx(-10.0, abs=0.01)
    assert sorted({round(abs(x), 2) for x, _ in points})[-1] == pytest.approx(10.0 * math.sin(0.5), abs=0.01)


@pytest.mark.parametrize("width", [650.0, 348.0])
def test_the_caution_stands_last_and_out(width: float) -> None:
    """The last sentence is drawn in the colour of cautions, whole."""
    root = parsed(draw_weight_arm(ARM, width))
    said = [element.text or "" for element in of_class(root, "text", "near")]
    assert " ".join(said) == ARM.sentences[-1]


def test_the_finding_is_in_words() -> None:
    """Who does not see it is told the arm, its section, the places and the estimates."""
    label = parsed(draw_weight_arm(ARM)).get("aria-label") or ""
    for words in ("Elevator arm", "172 mm", "0.20 mm lost, measured", "3: Root: crack check", "never makes"):
        assert words in label


def test_every_class_has_a_rule() -> None:
    """Every class of the picture stands in the one rule sheet, but its own name."""
    rules = stylesheet("day")
    for section in (TUBE, BAR, replace(TUBE, where="local", half_angle=0.4)):
        used = {name for each in parsed(draw_weight_arm(replace(ARM, section=section))).iter()
                for name in each.get("class", "").split()}  # fmt: skip
        assert {name for name in used if f".{name}" not in rules} <= {"weight-arm"}


@settings(max_examples=80, deadline=None)
@given(
    st.floats(0.03, 2.0), st.floats(0.0, 0.1), st.floats(0.003, 0.1), st.floats(0.01, 30.0),
    st.lists(st.text(min_size=1, max_size=90), min_size=3, max_size=3),
    st.lists(st.text(min_size=1, max_size=200), min_size=1, max_size=4), st.sampled_from([650.0, 348.0]),
)  # fmt: skip
def test_it_is_legible_whatever_the_arm(
    length: float, hinge: float, thickness: float, weight: float, words: list[str], sentences: list[str], width: float
) -> None:
    """No word leaves the picture or runs into another, for stubs and poles, feathers and anvils, long words."""
    section = RootSection(thickness, thickness, 0.2 * thickness, 0.02 * thickness, "outside", 0.0, (words[0], words[1]))
    arm = WeightArm(
        length, hinge, 0.0, thickness, weight, section, (words[0], words[1], words[2]), tuple(sentences), "260 mm"
    )
    root = parsed(draw_weight_arm(arm, width))
    assert outside(root) == []
    assert overlapping(root) == []


@given(st.text(min_size=1, max_size=200), st.floats(60.0, 400.0))
def test_wrapped_lines_fit_their_room(words: str, room: float) -> None:
    """Each line fits, and nothing but cut words and spaces is lost."""
    lines = wrapped(words, room)
    assert all(text_width(line) <= room or len(line) <= 2 for line in lines)
    if all(text_width(word) <= room for word in words.split(" ")):
        assert "".join(" ".join(lines).split()) == "".join(words.split())
