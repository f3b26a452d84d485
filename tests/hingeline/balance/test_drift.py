"""Whether a surface weighs what it did: changes beyond their own uncertainty, and a slope, held against other ways."""

from __future__ import annotations

import math
import random

import numpy
import pytest

from hingeline.balance.drift import K, MomentOnDay, look_for_drift
from hingeline.errors import InputRefused


def series(*moments: float, u: float = 0.02, work: tuple[int, ...] = ()) -> list[MomentOnDay]:
    """Give one weighing a year."""
    return [MomentOnDay(float(year), moment, u, year in work) for year, moment in enumerate(moments)]


def test_a_change_is_called_out_where_the_normalised_error_is_above_one() -> None:
    """ISO 13528, E_n = (x1 - x2) / sqrt(U1^2 + U2^2) with expanded uncertainties (clause from memory)."""
    for step in (0.0565, 0.0566):
        found = look_for_drift(series(1.0, 1.0 + step))
        normalised = step / math.hypot(2 * 0.02, 2 * 0.02)
        assert bool(found.beyond) is (normalised > 1.0), step


def test_recorded_work_explains_a_change_and_begins_a_new_stretch() -> None:
    found = look_for_drift(series(1.0, 1.4, 1.41, 1.40, work=(1,)))
    assert [(each.first, each.second) for each in found.changes] == [(1, 2), (2, 3)]
    assert not found.is_called_out
    assert found.slope is not None
    assert found.slope.weighings == 3


def test_water_that_gathers_slowly_is_seen_by_the_slope_before_any_single_step() -> None:
    """0.03 N m a year with u = 0.02 N m: no step is beyond its 0.057, the slope over nine years is."""
    found = look_for_drift(series(*(1.0 + 0.03 * year for year in range(9))))
    assert found.beyond == ()
    assert found.slope is not None
    assert found.slope.per_year == pytest.approx(0.03, abs=1e-12)
    assert found.slope.is_beyond


def test_the_slope_and_its_uncertainty_are_those_of_the_reference_library() -> None:
    """numpy.polyfit with weights 1/u and the covariance unscaled; beside it, where the scatter is above 1, scaled."""
    chance = random.Random(20261128)
    times = [0.0, 0.9, 2.1, 3.0, 4.2, 5.0]
    uncertainties = [0.02, 0.03, 0.02, 0.05, 0.01, 0.02]
    for spread in (0.3, 4.0):
        moments = [1.0 + 0.02 * t + chance.gauss(0.0, spread * u) for t, u in zip(times, uncertainties, strict=True)]
        points = [MomentOnDay(t, m, u) for t, m, u in zip(times, moments, uncertainties, strict=True)]
        slope = look_for_drift(points).slope
        assert slope is not None
        weights = [1.0 / u for u in uncertainties]
        fit, covariance = numpy.polyfit(times, moments, 1, w=weights, cov="unscaled")
        assert slope.per_year == pytest.approx(fit[0], rel=1e-10)
        wider = max(1.0, slope.scatter)
        assert slope.expanded_uncertainty == pytest.approx(K * wider * math.sqrt(covariance[0, 0]), rel=1e-10)
        if slope.scatter > 1.0:
            scaled = numpy.polyfit(times, moments, 1, w=weights, cov=True)[1]
            assert slope.expanded_uncertainty == pytest.approx(K * math.sqrt(scaled[0, 0]), rel=1e-10)


def test_steady_surfaces_are_called_out_as_seldom_as_the_coverage_says() -> None:
    """Of 4000 pairs without a change, about 4.6 % lie beyond k = 2: between 3.4 and 5.8 % (3.6 standard errors)."""
    chance = random.Random(7)
    pairs = [series(chance.gauss(1.0, 0.02), chance.gauss(1.0, 0.02)) for _ in range(4000)]
    share = sum(bool(look_for_drift(pair).beyond) for pair in pairs) / len(pairs)
    assert 0.034 < share < 0.058


def test_a_weighing_without_uncertainty_is_compared_with_nothing() -> None:
    points = [MomentOnDay(0.0, 1.0, 0.02), MomentOnDay(1.0, 9.0, None), MomentOnDay(2.0, 1.0, 0.02)]
    assert look_for_drift(points).changes == ()
    assert look_for_drift([]).slope is None


@pytest.mark.parametrize(
    ("points", "field", "value"),
    [
        ([MomentOnDay(1.0, 1.0, 0.02), MomentOnDay(0.0, 1.0, 0.02)], "weighing[1].years", "0.0"),
        ([MomentOnDay(0.0, math.nan, 0.02)], "weighing[0].moment", "nan"),
        ([MomentOnDay(0.0, 1.0, 0.0)], "weighing[0].uncertainty", "0.0"),
        ([MomentOnDay(0.0, 1.0, math.inf)], "weighing[0].uncertainty", "inf"),
        ([MomentOnDay(3000.0, 1.0, 0.02)], "weighing[0].years", "3000.0"),
        ([MomentOnDay(math.nan, 1.0, 0.02)], "weighing[0].years", "nan"),
    ],
)
def test_what_cannot_be_compared_is_refused(points: list[MomentOnDay], field: str, value: str) -> None:
    """And the number at fault is named: a day that cannot be was told as a fault of the moment."""
    with pytest.raises(InputRefused) as caught:
        look_for_drift(points)
    assert [(each.field, each.value) for each in caught.value.refusals] == [(field, value)]
