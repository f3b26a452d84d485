"""The moving section: the computed ratio, phase and growth, and a still picture that tells the same."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import pytest

from hingeline_app.figures.motion.section_in_motion import SectionMotion, draw_section_in_motion, shown_positions
from tests.hingeline_app.figures.reading_svg import NAMESPACE, of_class, outside, overlapping, parsed, texts

MOTION = SectionMotion(0.7, 0.25, 0.05 * cmath.exp(1j), 0.12, 10.2, 0.0, "grows", centre_of_gravity=0.4)


def values(svg: str, kind: str) -> list[float]:
    """Give the last number of each value of the first animation of a kind."""
    each = next(one for one in parsed(svg).iter(NAMESPACE + "animateTransform") if one.get("type") == kind)
    return [float(step.split()[-1]) for step in (each.get("values") or "").split(";")]


@pytest.mark.parametrize("width", [372, 348])
def test_words_stay_apart_and_inside(width: float) -> None:
    """No two words share ground and none leaves the picture."""
    root = parsed(draw_section_in_motion(MOTION, width))
    assert overlapping(root) == []
    assert outside(root) == []


def test_ratio_and_phase_are_the_computed_ones() -> None:
    """Of the drawn positions, plunge over pitch is the given ratio, in size and phase."""
    positions = shown_positions(MOTION, 1.0, 24)
    turn = [cmath.exp(-2j * math.pi * step / 24) for step in range(24)]
    plunge = sum(each.plunge * one for each, one in zip(positions, turn, strict=True)) * 0.7 / (0.6 * 372.0)
    pitch = sum(math.radians(each.pitch) * one for each, one in zip(positions, turn, strict=True))
    assert plunge / pitch == pytest.approx(MOTION.plunge / MOTION.pitch, rel=1e-12)


def test_the_larger_part_fills_its_room() -> None:
    """Neither plunge nor angle leaves its room, and one of them fills it."""
    positions = shown_positions(MOTION, 1.0, 720)
    filled = max(max(abs(each.plunge) / 60.0 for each in positions), max(abs(each.pitch) / 9.0 for each in positions))
    assert filled == pytest.approx(1.0, rel=1e-4)


def test_plunge_is_down_and_pitch_nose_up() -> None:
    """A positive plunge moves the section down the page; a positive pitch turns its nose, at the left, up."""
    (first,) = shown_positions(replace(MOTION, plunge=0.05, pitch=0.05), 1.0, 1)
    assert first.plunge > 0.0  # y runs down in SVG
    assert first.pitch > 0.0  # a positive turn in SVG is clockwise: the left end goes up


def test_a_growing_motion_grows_by_its_rate() -> None:
    """One cycle later the animation has grown by exp(rate/frequency), and the last cycle fills the room."""
    rate = 0.9
    plunges = values(draw_section_in_motion(replace(MOTION, growth_rate=rate)), "translate")
    peaks = [max(abs(each) for each in plunges[24 * cycle : 24 * cycle + 24]) for cycle in range(4)]
    assert peaks[3] / peaks[0] == pytest.approx(math.exp(3.0 * rate / 10.2), rel=2e-3)


def test_a_dying_motion_begins_large() -> None:
    """A motion that dies out is largest first."""
    plunges = values(draw_section_in_motion(replace(MOTION, growth_rate=-2.0)), "translate")
    assert max(map(abs, plunges[:24])) > max(map(abs, plunges[72:96]))


def test_the_still_picture_has_four_outlines_and_five_sections() -> None:
    """Without any movement there are the quarter cycles and the path."""
    root = parsed(draw_section_in_motion(MOTION))
    assert len(of_class(root, "path", "phantom")) == 5  # four outlines and the path
    assert len(of_class(root, "path", "body-thin")) == 5


def test_the_frequency_and_its_slowing_are_written() -> None:
    """At 2.4 seconds a cycle, 10.2 Hz is slowed 24 times."""
    assert "10.2 Hz, slowed 24 times" in texts(parsed(draw_section_in_motion(MOTION)))


def test_a_surface_turns_about_its_own_hinge() -> None:
    """A trailing surface is a part of its own: outline, hinge ring and animation."""
    motion = replace(MOTION, surface_hinge=0.75, surface=0.3j, centre_of_gravity=0.8)
    root = parsed(draw_section_in_motion(motion))
    assert len(list(root.iter(NAMESPACE + "animateTransform"))) == 3
    assert len(of_class(root, "path", "body")) == 2
