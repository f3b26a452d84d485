"""SI to text, and the words for a moment's sense."""

from __future__ import annotations

from math import inf, nan

import pytest

from hingeline.errors import InputRefused
from hingeline.units import express, sense_word, units_of, write

WRITTEN = {
    (12.6, None, None): "12.6 u",
    (840.0, None, None): "840 u",
    (-0.0, None, None): "0 u",
    (1e-9, None, None): "1e-9 u",
    (2.5e-5, None, None): "0.000025 u",
    (1e20, None, None): "1e20 u",
    (0.44613, 2, None): "0.45 u",
    (840.0, 2, None): "840 u",
    (123456.0, 3, None): "123000 u",
    (0.5, 3, None): "0.500 u",
    (12.6, None, 3): "12.600 u",
    (-0.001, None, 2): "0.00 u",
    (-0.01, None, 2): "-0.01 u",
    (1234567.0, None, 0): "1234567 u",
}


@pytest.mark.parametrize(("value", "digits", "decimals"), WRITTEN)
def test_a_number_is_written_without_ornament(value, digits, decimals):
    """A point, an ASCII minus, no grouping, no exponent where none is needed, no minus before zero."""
    assert write(value, "u", digits=digits, decimals=decimals) == WRITTEN[value, digits, decimals]


@pytest.mark.parametrize("value", [nan, inf, -inf])
def test_what_is_not_finite_is_never_written(value):
    """No NaN and no infinity is written, expressed, or given a sense."""
    for act in (lambda: write(value, "N"), lambda: express(value, "N"), lambda: sense_word(value)):
        with pytest.raises(ValueError, match="is not a finite number"):
            act()


@pytest.mark.parametrize(
    ("moment", "word"), [(0.1, "tail-heavy"), (-1e-300, "nose-heavy"), (0.0, "balanced"), (-0.0, "balanced")]
)
def test_only_exactly_zero_is_balanced(moment, word):
    """The sense is the sign; balanced means exactly 0."""
    assert sense_word(moment) == word


def test_a_unit_that_means_two_things_needs_its_dimension():
    """Kg cm is a moment or a mass moment, which differ by g: to guess would be a factor of ten."""
    assert express(9.80665, "kg cm", dimension="moment") == pytest.approx(100, rel=1e-15)
    assert express(1.0, "kg cm", dimension="mass_moment") == pytest.approx(100, rel=1e-15)
    with pytest.raises(InputRefused, match="Give the dimension: a moment or a mass moment"):
        express(1.0, "kg cm")


def test_a_unit_that_means_one_size_does_not():
    """N/m^2 is a pressure or a stiffness per length, and 1 either way."""
    assert express(5.0, "N/m^2") == 5.0
    assert express(0.32004, "in.") == pytest.approx(12.6, rel=1e-15)


@pytest.mark.parametrize(("unit", "dimension"), [("furlong", None), ("mm", "mass")])
def test_an_unknown_unit_is_refused(unit, dimension):
    """A unit that the table does not know, or not for that dimension, is refused by name."""
    with pytest.raises(InputRefused, match=f'"{unit}" is refused'):
        express(1.0, unit, dimension=dimension)


def test_the_units_of_a_dimension_are_listed():
    """The commonest stands first, each once."""
    assert units_of("length")[:2] == ("mm", "cm")
    assert len(set(units_of("moment"))) == len(units_of("moment"))
