"""What a stated uncertainty stands for, and what is refused because nothing may be guessed.

JCGM 100:2008 (GUM) 4.2.3, 4.3.3, 4.3.7, 4.3.9 and F.2.2.1.
"""

from __future__ import annotations

import math

import pytest

from hingeline.errors import InputRefused
from hingeline.uncertainty.stated import Stated


@pytest.mark.parametrize(
    ("stated", "u"),
    [
        (Stated(3.0, "kg"), math.sqrt(3.0)),
        (Stated(6.0, "kg", "triangular"), math.sqrt(6.0)),
        (Stated(6.0, "kg", "resolution"), math.sqrt(3.0)),
        (Stated(6.0, "kg", "standard"), 6.0),
        (Stated(6.0, "kg", "expanded", 2.5), 2.4),
    ],
)
def test_the_standard_uncertainty_of_each_shape(stated: Stated, u: float) -> None:
    assert stated.standard == pytest.approx(u, rel=1e-15)
    assert stated.of(-7.0) == pytest.approx(u, rel=1e-15)


def test_a_fraction_is_taken_of_the_size_of_its_value() -> None:
    fraction = Stated(0.02, "1", "standard")
    assert (fraction.relative, Stated(0.02, "kg").relative) == (True, False)
    assert (fraction.of(5.0), fraction.of(-5.0), fraction.of(0.0)) == pytest.approx((0.1, 0.1, 0.0))


@pytest.mark.parametrize("k", [None, 0.0])
def test_an_expanded_uncertainty_without_its_factor_is_refused(k: float | None) -> None:
    with pytest.raises(InputRefused, match="needs its k"):
        _ = Stated(0.02, "kg", "expanded", k).standard


def test_a_shape_that_there_is_not_is_refused_with_those_there_are() -> None:
    with pytest.raises(InputRefused) as refused:
        _ = Stated(0.02, "kg", "gaussian").standard  # type: ignore[arg-type]
    (refusal,) = refused.value.refusals
    assert refusal.expected == "one of expanded, limit, triangular, standard, resolution"
