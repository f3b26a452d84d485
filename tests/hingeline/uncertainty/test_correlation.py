"""Correlation by pairs: estimated, checked alone, checked as a whole."""

from __future__ import annotations

import math

import pytest

from hingeline.errors import InputRefused
from hingeline.uncertainty import Contribution, combine, sample_correlation

THREE = [Contribution(name, 1.0, "g", 1.0) for name in ("a", "b", "c")]


def test_straight_lines() -> None:
    """Readings on a rising line give 1, on a falling line -1, and a constant gives 0."""
    rising = [1.0, 2.0, 3.5]
    assert sample_correlation(rising, [10 * x + 3 for x in rising]) == pytest.approx(1.0)
    assert sample_correlation(rising, [-x for x in rising]) == pytest.approx(-1.0)
    assert sample_correlation(rising, [2.0, 2.0, 2.0]) == 0.0


def test_against_numpy() -> None:
    """It is the usual coefficient."""
    import numpy as np

    generator = np.random.default_rng(5)
    one, other = generator.normal(size=(2, 12))
    assert sample_correlation(one.tolist(), other.tolist()) == pytest.approx(
        float(np.corrcoef(one, other)[0, 1]), rel=1e-12
    )


@pytest.mark.parametrize(("first", "second"), [([1.0, 2.0], [1.0]), ([1.0], [1.0])])
def test_readings_that_do_not_pair_are_refused(first: list[float], second: list[float]) -> None:
    """Readings must come in pairs, two at least."""
    with pytest.raises(InputRefused, match=r"as many readings as the first, .* and at least two"):
        sample_correlation(first, second)


@pytest.mark.parametrize(
    ("pairs", "message"),
    [
        ({(0, 3): 0.5}, "two different positions from 0 to 2"),
        ({(1, 1): 0.5}, "two different positions from 0 to 2"),
        ({(-1, 0): 0.5}, "two different positions from 0 to 2"),
        ({(0, 1): 1.01}, "a number from -1 to 1"),
        ({(0, 1): math.nan}, "a number from -1 to 1"),
        ({(0, 1): 0.5, (1, 0): 0.4}, "one coefficient for one pair"),
        ({(0, 1): 1.0, (0, 2): 1.0, (1, 2): -1.0}, "coefficients that can hold at once"),
        ({(0, 1): 0.9, (0, 2): 0.9, (1, 2): 0.0}, "coefficients that can hold at once"),
        ({(0, 1): 1.0, (1, 2): 0.5}, "coefficients that can hold at once"),
    ],
)
def test_correlations_that_cannot_be(pairs: dict[tuple[int, int], float], message: str) -> None:
    """A pair that does not exist, a coefficient beyond ±1, and contradictions are refused."""
    with pytest.raises(InputRefused, match=message):
        combine(THREE, correlation=pairs)


def test_full_correlation_of_all_is_allowed() -> None:
    """The limiting case, where the matrix is singular, is not taken for a contradiction."""
    everything = {(0, 1): 1.0, (0, 2): -1.0, (1, 2): -1.0}
    assert combine(THREE, correlation=everything).standard_uncertainty == pytest.approx(1.0)


def test_estimated_correlations_are_never_refused() -> None:
    """Coefficients estimated from few readings of many quantities are consistent, but for rounding."""
    import numpy as np

    generator = np.random.default_rng(7)
    for _ in range(50):
        readings = generator.normal(size=(6, 3)).tolist()  # six quantities, three readings: singular
        pairs = {(i, j): sample_correlation(readings[i], readings[j]) for i in range(6) for j in range(i)}
        assert combine([THREE[0]] * 6, correlation=pairs).standard_uncertainty >= 0
