"""A mode is said in words that a reader can check against its numbers."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from hingeline.flutter.build import build_system
from hingeline.flutter.mode_words import mode_words, shape_parts
from hingeline.flutter.system import AeroelasticSystem
from tests.hingeline.flutter.models import RIG, task

SYSTEM = build_system(task(RIG))


def unit_masses(*freedoms: str) -> AeroelasticSystem:
    """Give a system of unit masses without air."""
    size = len(freedoms)
    none = np.zeros((size, size))
    return AeroelasticSystem(freedoms, np.eye(size), none, np.eye(size), np.zeros(size), none, none, none, ())


@pytest.mark.parametrize(
    ("shape", "words"),
    [
        ([1.0, 0.01, 0.05], "plunge alone"),
        ([1.0, 0.6j, 0.0], "plunge with pitch (90° ahead)"),
        ([0.2, 1.0, 0.5 * np.exp(-2j)], "pitch with surface (115° behind), some plunge (in step)"),
        ([-0.9, 0.0, 1.0], "surface with plunge (opposite)"),
    ],
)
def test_words(shape: list[complex], words: str) -> None:
    """The largest freedom leads; others follow by size with their phase; less than a tenth is left out."""
    assert mode_words(unit_masses("plunge", "pitch", "surface"), np.array(shape, dtype=complex)) == words


def test_parts_do_not_depend_on_units_or_on_a_turn_of_the_shape() -> None:
    """Multiplying the shape by any complex number changes neither words nor parts; the largest part is 1 at phase 0."""
    shape = np.array([0.01, 0.05 - 0.03j, 0.002j])
    parts, turned = shape_parts(SYSTEM, shape), shape_parts(SYSTEM, shape * (3 - 4j))
    assert mode_words(SYSTEM, shape) == mode_words(SYSTEM, shape * (3 - 4j))
    for one, other in zip(parts, turned, strict=True):
        assert (one.magnitude, one.phase) == pytest.approx((other.magnitude, other.phase), abs=1e-12)
    assert max(parts, key=lambda part: part.magnitude).phase == 0.0


def test_lengths_are_counted_in_semichords() -> None:
    """A plunge of one semichord and a pitch of one radian are equal parts; a quarter turn ahead is π/2."""
    plunge, pitch, _ = shape_parts(SYSTEM, np.array([0.127, 0.999j, 0.0]))
    assert (plunge.magnitude, plunge.phase) == (1.0, 0.0)
    assert pitch.magnitude == pytest.approx(0.999)
    assert pitch.phase == pytest.approx(pi / 2)
