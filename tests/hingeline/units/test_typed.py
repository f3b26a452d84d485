"""A typed quantity is its float, and remembers its text."""

from __future__ import annotations

import copy
import json
import pickle

import pytest

from hingeline.units import read

WHAT_IT_REMEMBERS = ("text", "number", "unit", "dimension", "local_gravity")


def test_it_remembers_how_it_was_typed():
    """Text, number, unit, dimension and gravity are kept; spaces around the text are not."""
    typed = read("  \u221212.60 in lb ", "moment", local_gravity=9.81)
    remembered = [getattr(typed, name) for name in WHAT_IT_REMEMBERS]
    assert remembered == ["\u221212.60 in lb", "-12.60", "in-lb", "moment", 9.81]


def test_it_is_its_float_in_every_way():
    """It equals, hashes, prints and serialises as the float that it is."""
    typed = read("255 mm", "length")
    assert typed == 0.255
    assert hash(typed) == hash(0.255)
    assert (str(typed), repr(typed), f"{typed:.2f}", json.dumps(typed)) == ("0.255", "0.255", "0.26", "0.255")


def test_arithmetic_gives_plain_floats():
    """A sum or product was not typed by anybody, so it remembers nothing."""
    typed = read("255 mm", "length")
    for result in (typed + 1, typed * 2.0, -typed, abs(typed), typed / typed, +typed):
        assert type(result) is float


@pytest.mark.parametrize("name", WHAT_IT_REMEMBERS)
def test_it_cannot_be_changed(name):
    """What was typed stays as it was typed."""
    typed = read("255 mm", "length")
    with pytest.raises(AttributeError, match=f"{name}: a typed quantity cannot be changed"):
        setattr(typed, name, "x")
    with pytest.raises(AttributeError, match=f"{name}: a typed quantity cannot be changed"):
        delattr(typed, name)


@pytest.mark.parametrize("again", [copy.copy, copy.deepcopy, lambda typed: pickle.loads(pickle.dumps(typed))])
def test_copies_remember_too(again):
    """A copy, a deep copy and a pickled one carry the same text."""
    typed = read("12.6 in-lb nose-heavy", "moment", local_gravity=9.81)
    twin = again(typed)
    assert twin == typed
    assert [getattr(twin, name) for name in WHAT_IT_REMEMBERS] == [getattr(typed, name) for name in WHAT_IT_REMEMBERS]
    assert twin.last_digit == typed.last_digit


@pytest.mark.parametrize(
    ("text", "dimension", "size"),
    [
        ("840 g", "mass", 0.001),
        ("8.40 N", "force", 0.01),
        ("-0.5 mm", "length", 0.0001),
        ("1.5e3 mm", "length", 0.1),
        ("1e-2 m", "length", 0.01),
        ("12.6 in", "length", 0.00254),
        ("0.30 kg cm", "moment", 0.01 * 0.01 * 9.80665),
    ],
)
def test_the_last_printed_digit_has_a_size(text, dimension, size):
    """One unit in the last printed digit, in SI."""
    assert read(text, dimension).last_digit == pytest.approx(size, rel=1e-15)


def test_another_value_is_told_in_the_unit_it_was_typed_in():
    """A reading window comes out in the reading's own unit, with the reading's own gravity."""
    assert read("840 g", "mass").in_own_unit(0.845) == 845.0
    limit = read("2 kg cm", "moment", local_gravity=9.81)
    assert limit.in_own_unit(9.81 * 0.03) == pytest.approx(3.0, rel=1e-15)
