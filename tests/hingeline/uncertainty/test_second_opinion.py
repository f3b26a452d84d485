"""Budgets against GTC 1.5.1, a metrology library that shares nothing with ours."""

from __future__ import annotations

import cmath
from itertools import combinations

import GTC
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hingeline.uncertainty import (
    Contribution,
    Measured,
    combine,
    propagate,
    result_correlation,
    sample_correlation,
    type_a,
)

VOLTAGE = [5.007, 4.994, 5.005, 4.990, 4.999]
CURRENT = [0.019663, 0.019639, 0.019640, 0.019685, 0.019678]
PHASE = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]


def test_end_gauge() -> None:
    """JCGM 100:2008 H.1 with its rounded contributions: u and ν as GTC has them, to 1e-9."""
    sizes, degrees = [25.0, 9.7, 2.9, 16.6], [18.0, 25.6, 50.0, 2.0]
    theirs = sum(GTC.ureal(0, u, nu) for u, nu in zip(sizes, degrees, strict=True))
    ours = combine([Contribution("", u, "nm", 1.0, nu) for u, nu in zip(sizes, degrees, strict=True)])
    assert ours.standard_uncertainty == pytest.approx(theirs.u, rel=1e-9)
    assert ours.effective_degrees_of_freedom == pytest.approx(theirs.df, rel=1e-9)


def test_impedance() -> None:
    """JCGM 100:2008 H.2 from its readings: values, u and correlations as GTC has them, to 1e-9."""
    v, i, phi = GTC.type_a.multi_estimate_real((VOLTAGE, CURRENT, PHASE))
    theirs = [v / i * GTC.cos(phi), v / i * GTC.sin(phi), v / i]
    readings = (VOLTAGE, CURRENT, PHASE)
    correlation = {(a, b): sample_correlation(readings[a], readings[b]) for a, b in combinations(range(3), 2)}
    means = [type_a(one) for one in readings]
    functions = [lambda v, i, p: v / i * cmath.cos(p), lambda v, i, p: v / i * cmath.sin(p), lambda v, i, p: v / i]
    ours = [propagate(function, means, correlation) for function in functions]
    for mine, other in zip(ours, theirs, strict=True):
        assert mine.value == pytest.approx(other.x, rel=1e-12)
        assert mine.budget.standard_uncertainty == pytest.approx(other.u, rel=1e-9)
    for a, b in combinations(range(3), 2):
        assert result_correlation(ours[a], ours[b], correlation) == pytest.approx(
            GTC.get_correlation(theirs[a], theirs[b]), rel=1e-9
        )


SIZE = st.floats(1e-3, 1e3)
DEGREES = st.none() | st.floats(1.0, 1e4)


@given(
    st.lists(st.tuples(SIZE, st.floats(-1e3, 1e3).filter(lambda c: abs(c) > 1e-3), DEGREES), min_size=1, max_size=24)
)
def test_any_budget(causes: list[tuple[float, float, float | None]]) -> None:
    """Whatever is combined, u and ν agree with GTC's to 1e-9."""
    theirs = sum(c * (GTC.ureal(0, u, nu) if nu else GTC.ureal(0, u)) for u, c, nu in causes)
    ours = combine([Contribution("", u, "", c, nu) for u, c, nu in causes])
    assert ours.standard_uncertainty == pytest.approx(theirs.u, rel=1e-9)
    if ours.effective_degrees_of_freedom is None:
        assert theirs.df > 1e9
    elif ours.effective_degrees_of_freedom < 1e6:  # beyond, GTC calls it unlimited
        assert ours.effective_degrees_of_freedom == pytest.approx(theirs.df, rel=1e-9)


@given(st.floats(0.1, 10), st.floats(0.1, 10), st.floats(0.01, 1), st.floats(0.01, 1))
def test_any_quotient(x: float, y: float, u: float, v: float) -> None:
    """Sensitivities by complex steps give the u that GTC's automatic derivatives give."""
    theirs = GTC.ureal(x, u) / GTC.ureal(y, v)
    ours = propagate(lambda a, b: a / b, [Measured(x, u), Measured(y, v)])
    assert ours.budget.standard_uncertainty == pytest.approx(theirs.u, rel=1e-9)
