"""A measured value, and the standard uncertainty that each kind of knowledge gives."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from hingeline.errors import InputRefused
from hingeline.uncertainty import (
    Measured,
    arcsine,
    from_expanded,
    rectangular,
    resolution,
    triangular,
    type_a,
)

NO_NUMBERS = [math.nan, math.inf, -math.inf]


def test_mean_and_its_scatter() -> None:
    """Five readings give mean, s/√n and four degrees of freedom, worked by hand."""
    found = type_a([178.0, 179.0, 177.0, 180.0, 178.0])
    assert found.value == pytest.approx(178.4, rel=1e-15)
    assert found.standard_uncertainty == pytest.approx(math.sqrt(5.2 / 4 / 5), rel=1e-14)
    assert found.degrees_of_freedom == 4


def test_a_single_reading_has_no_scatter() -> None:
    """One reading gives a value and no standard uncertainty: not zero, but unknown."""
    assert type_a([0.842]) == Measured(0.842, None)


def test_equal_readings_scatter_by_nothing() -> None:
    """Readings that do not differ give exactly zero."""
    assert type_a([0.1, 0.1, 0.1]).standard_uncertainty == 0.0


@pytest.mark.parametrize("scale", [1e-200, 1e-170, 1.0, 1e160, 1e200])
def test_no_square_overflows_or_vanishes(scale: float) -> None:
    """The scatter keeps its digits where a plain sum of squares would give 0 or infinity."""
    found = type_a([1.0 * scale, 2.0 * scale, 3.0 * scale])
    assert found.standard_uncertainty == pytest.approx(scale / math.sqrt(3), rel=1e-14)


def test_no_readings_are_refused() -> None:
    """An empty list is refused, with the field."""
    with pytest.raises(InputRefused, match=r'readings: "" is refused\. Expected at least one reading'):
        type_a([])


@pytest.mark.parametrize("wrong", NO_NUMBERS)
def test_readings_that_are_no_numbers_are_refused(wrong: float) -> None:
    """NaN and infinity are refused, with the reading's place."""
    with pytest.raises(InputRefused, match=r"readings\[1\].*finite number"):
        type_a([1.0, wrong])


def test_readings_whose_sum_overflows_are_refused() -> None:
    """No infinity comes out of finite readings."""
    with pytest.raises(InputRefused, match="readings whose sum is a finite number"):
        type_a([1.7e308, 1.7e308])


SHAPES: list[tuple[Callable[[float], float], float]] = [
    (rectangular, 3.0),
    (triangular, 6.0),
    (arcsine, 2.0),
    (resolution, 12.0),
]


@pytest.mark.parametrize(("shape", "divisor"), SHAPES)
def test_shapes(shape: Callable[[float], float], divisor: float) -> None:
    """a/√3, a/√6, a/√2 and d/√12: JCGM 100:2008 4.3.7, 4.3.9, F.2.2.1; arcsine from memory."""
    assert shape(2.0) == pytest.approx(2.0 / math.sqrt(divisor), rel=1e-15)
    assert shape(0.0) == 0.0


@pytest.mark.parametrize(("shape", "divisor"), SHAPES)
def test_shapes_are_those_of_their_distributions(shape: Callable[[float], float], divisor: float) -> None:
    """Each shape is the standard deviation of its density, integrated numerically."""
    import numpy as np

    middles = (np.arange(200_000) + 0.5) / 200_000
    by_shape = {
        rectangular: 2 * middles - 1,
        triangular: np.where(middles < 0.5, np.sqrt(2 * middles) - 1, 1 - np.sqrt(2 - 2 * middles)),
        arcsine: np.sin(np.pi * (middles - 0.5)),
        resolution: middles - 0.5,
    }
    assert shape(1.0) == pytest.approx(float(by_shape[shape].std()), rel=1e-4)


@pytest.mark.parametrize(("shape", "divisor"), SHAPES)
@pytest.mark.parametrize("wrong", [*NO_NUMBERS, -1e-9])
def test_shapes_refuse_what_is_no_limit(shape: Callable[[float], float], divisor: float, wrong: float) -> None:
    """NaN, infinity and a negative limit are refused."""
    with pytest.raises(InputRefused, match=r"(half_width|step): .* is refused\. Expected (a finite|zero or a)"):
        shape(wrong)


def test_certificate() -> None:
    """U = 10 g at k = 2 is u = 5 g: JCGM 100:2008 4.3.3."""
    assert from_expanded(10.0, 2.0) == 5.0


@pytest.mark.parametrize("k", [0.0, -2.0, math.nan, math.inf])
def test_certificate_without_factor_is_refused(k: float) -> None:
    """A k that is not a positive number is refused, and the remedy says where to find it."""
    with pytest.raises(InputRefused, match=r"coverage_factor: .* Expected a (positive|finite) number"):
        from_expanded(10.0, k)


@pytest.mark.parametrize("wrong", NO_NUMBERS)
def test_measured_refuses_what_is_no_number(wrong: float) -> None:
    """No NaN and no infinity stands in a measured value."""
    for fields in [(wrong, 0.1), (1.0, wrong), (1.0, 0.1, wrong), (1.0, 0.1, 0.2, wrong)]:
        with pytest.raises(InputRefused, match="a finite number"):
            Measured(*fields)
    with pytest.raises(InputRefused, match="degrees_of_freedom"):
        Measured(1.0, 0.1, degrees_of_freedom=wrong)


def test_measured_refuses_a_negative_uncertainty() -> None:
    """An uncertainty has no sign."""
    with pytest.raises(InputRefused, match=r"standard_uncertainty: .*zero or a positive number"):
        Measured(1.0, -0.1)
