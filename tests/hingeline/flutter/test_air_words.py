"""What was assumed about the air is said."""

from __future__ import annotations

from typing import get_args

import pytest

from hingeline.errors import InputRefused
from hingeline.flutter.air_words import WAKE_WORDS, air_assumptions
from hingeline.flutter.model import WakeName
from hingeline.flutter.wake import WAKES


def test_every_wake_has_words() -> None:
    """Names, functions and words of the wakes are the same four."""
    assert set(WAKES) == set(WAKE_WORDS) == set(get_args(WakeName))


def test_two_dimensional() -> None:
    """Without a factor the two-dimensional lift slope is named as an assumption, and what strip theory leaves out."""
    words = " ".join(air_assumptions("theodorsen"))

    assert "Lift slope 2 pi" in words
    for left_out in ("tips", "compressibility", "gaps"):
        assert left_out in words


def test_factor_is_said_aloud() -> None:
    """A lift-slope factor appears with its value, where it comes from, and what it does not touch."""
    *_, words = air_assumptions("two-lag", 0.75, "measured")

    assert words.startswith("Lift slope 0.75 times 2 pi (measured)")
    assert "apparent mass is not scaled" in words


def test_unknown_wake() -> None:
    """A wake that does not exist is refused with those that do."""
    with pytest.raises(InputRefused, match=r"Expected one of theodorsen, two-lag, quasi-steady, steady"):
        air_assumptions("frozen")
