"""Contributions combined: rows, degrees of freedom, factor, and what is refused."""

from __future__ import annotations

import math

import pytest

from hingeline.errors import InputRefused
from hingeline.uncertainty import Contribution, combine, coverage_factor, normal_quantile, whole_degrees


def cause(size: float, degrees: float | None = None, source: str = "cause") -> Contribution:
    """Make a contribution of a given size to a result in the same unit."""
    return Contribution(source, size, "g", 1.0, degrees)


def test_rows_are_largest_first_with_shares() -> None:
    """The budget lists the largest contribution first; shares are those of the variance."""
    budget = combine([cause(3.0, source="scatter"), Contribution("arm", 2.0, "mm", -2.0)])
    assert [(row.source, row.contribution) for row in budget.rows] == [("arm", 4.0), ("scatter", 3.0)]
    assert [row.share for row in budget.rows] == pytest.approx([0.64, 0.36])
    assert budget.rows[0].sensitivity == -2.0
    assert budget.standard_uncertainty == 5.0


def test_unlimited_degrees_take_the_normal_factor() -> None:
    """Without a limit on degrees of freedom k is 1.960 for 95 %."""
    budget = combine([cause(1.0)])
    assert budget.effective_degrees_of_freedom is None
    assert budget.degrees_of_freedom_valid
    assert budget.coverage_factor == normal_quantile(0.975)
    assert budget.coverage == 0.95


def test_a_prescribed_factor_is_taken() -> None:
    """K as given is used as it is; no coverage is claimed; degrees of freedom are still told."""
    budget = combine([cause(3.0, 4.0)], k=2.0)
    assert (budget.coverage_factor, budget.expanded_uncertainty, budget.coverage) == (2.0, 6.0, None)
    assert budget.effective_degrees_of_freedom == pytest.approx(4.0)


def test_one_cause_keeps_its_degrees() -> None:
    """A single cause with n degrees keeps all n, although u⁴/(u⁴/n) may lose the last bit."""
    for degrees in range(1, 200):
        budget = combine([cause(0.1 * degrees, float(degrees))])
        assert whole_degrees(budget.effective_degrees_of_freedom) == degrees


def test_cut_down_not_rounded() -> None:
    """Degrees of freedom are cut down to a whole number, at least 1: JCGM 100:2008 G.6.4."""
    assert [whole_degrees(nu) for nu in (16.99, 17.0, 17.0 - 1e-13, 0.3, 1.999)] == [16, 17, 17, 1, 1]
    assert coverage_factor(0.95, 16.99) == coverage_factor(0.95, 16)
    assert coverage_factor(0.95, 0.3) == coverage_factor(0.95, 1)


@pytest.mark.parametrize("nothing", [[], [cause(0.0)], [cause(0.0, 4.0), cause(0.0)]])
def test_no_uncertainty_at_all(nothing: list[Contribution]) -> None:
    """No contribution, or only zeros, gives zero and no NaN."""
    budget = combine(nothing)
    assert (budget.standard_uncertainty, budget.expanded_uncertainty) == (0.0, 0.0)
    assert budget.effective_degrees_of_freedom is None
    assert all(row.share == 0.0 for row in budget.rows)


def test_fully_correlated_add_and_cancel() -> None:
    """Fully correlated contributions add, or cancel if their signs differ: JCGM 100:2008 5.2.2 note 1."""
    assert combine([cause(3.0), cause(4.0)], correlation={(0, 1): 1.0}).standard_uncertainty == 7.0
    against = [cause(3.0), Contribution("other", 3.0, "g", -1.0)]
    assert combine(against, correlation={(0, 1): 1.0}).standard_uncertainty == 0.0


def test_rounded_coefficients_may_cancel_to_nothing() -> None:
    """Coefficients that contradict each other by their last digit alone give zero, not the root of -2e-10."""
    causes = [Contribution("a", 2.0, "g", -1.0), cause(1.0), cause(1.0)]
    pairs = {(0, 1): 1.0, (0, 2): 1.0, (1, 2): 1.0 - 1e-10}
    assert combine(causes, correlation=pairs).standard_uncertainty == 0.0


def test_partial_correlation_by_hand() -> None:
    """u² = 9 + 16 + 2 · 3 · 4 · 0.5 = 37."""
    budget = combine([cause(3.0), cause(4.0)], correlation={(1, 0): 0.5})
    assert budget.standard_uncertainty == pytest.approx(math.sqrt(37), rel=1e-15)


def test_correlated_inputs_of_limited_degrees_have_no_valid_ones() -> None:
    """The formula does not hold for correlated inputs, and the budget says so."""
    budget = combine([cause(3.0, 4.0), cause(4.0)], correlation={(0, 1): 0.5})
    assert budget.degrees_of_freedom_valid is False
    assert budget.effective_degrees_of_freedom is None
    assert budget.coverage_factor == normal_quantile(0.975)


def test_correlation_of_zero_changes_nothing() -> None:
    """A coefficient of 0 is no correlation."""
    both = [cause(3.0, 4.0), cause(4.0)]
    assert combine(both, correlation={(0, 1): 0.0}) == combine(both)


def test_correlated_among_the_unlimited_leaves_the_others_valid() -> None:
    """Correlated inputs without limit act as one; the scatter beside them keeps its degrees."""
    budget = combine([cause(3.0), cause(4.0), cause(5.0, 9.0)], correlation={(0, 1): 1.0})
    as_one = combine([cause(7.0), cause(5.0, 9.0)])
    assert budget.degrees_of_freedom_valid
    assert budget.effective_degrees_of_freedom == pytest.approx(as_one.effective_degrees_of_freedom)
    assert budget.expanded_uncertainty == pytest.approx(as_one.expanded_uncertainty)


def test_sizes_from_one_end_of_the_floats_to_the_other() -> None:
    """No overflow and no loss where squares of the contributions would leave the range of floats."""
    for scale in (1e-300, 1e-160, 1e160, 1e300):
        budget = combine([cause(3 * scale, 4.0), cause(4 * scale)])
        assert budget.standard_uncertainty == pytest.approx(5 * scale, rel=1e-14)
        assert budget.effective_degrees_of_freedom == pytest.approx(625 / 81 * 4, rel=1e-13)


def test_all_faults_in_one_go() -> None:
    """Every fault of every contribution is named, with its place."""
    wrong = [
        Contribution("a", -1.0, "g", math.nan),
        Contribution("b", math.inf, "g", 1.0, 0.0),
        Contribution("c", 1e200, "g", 1e200),
    ]
    with pytest.raises(InputRefused) as caught:
        combine(wrong)
    assert [refusal.field for refusal in caught.value.refusals] == [
        "contributions[0].standard_uncertainty",
        "contributions[0].sensitivity",
        "contributions[1].standard_uncertainty",
        "contributions[1].degrees_of_freedom",
        "contributions[2].sensitivity",
    ]
    assert "An uncertainty has no sign" in str(caught.value)


@pytest.mark.parametrize("coverage", [0.0, 1.0, 95.0, -0.5, math.nan])
def test_coverage_that_cannot_be_is_refused(coverage: float) -> None:
    """A coverage is a fraction; 95 is refused, and the remedy says how to write it."""
    with pytest.raises(InputRefused, match=r"coverage: .* Write 95 percent as 0\.95"):
        combine([cause(1.0)], coverage=coverage)


@pytest.mark.parametrize("k", [0.0, -2.0, math.nan, math.inf])
def test_factor_that_cannot_be_is_refused(k: float) -> None:
    """A coverage factor is positive and finite."""
    with pytest.raises(InputRefused, match=r"k: .* Expected a (positive|finite) number"):
        combine([cause(1.0)], k=k)


def test_an_overflowing_result_is_refused() -> None:
    """Infinity does not come out, though all that went in was finite."""
    with pytest.raises(InputRefused, match=r"expanded_uncertainty: .*finite"):
        combine([cause(1.5e308)])


@pytest.mark.parametrize("size", [1e-20, 1e-30, 1e-45, 1e-60])
def test_a_cause_of_almost_nothing_limits_nothing(size: float) -> None:
    """A cause too small to be seen leaves k at the normal one, at once, however few its degrees of freedom."""
    budget = combine([Contribution("seen", 1.0, "m", 1.0), Contribution("unseen", size, "m", 1.0, 3.0)])
    assert budget.coverage_factor == pytest.approx(1.959963984540054, rel=1e-14)


@pytest.mark.parametrize("degrees", [0.0, -1.0, math.nan, -math.inf])
def test_no_degrees_of_freedom_are_refused(degrees: float) -> None:
    """What is above nothing counts as at least one; nothing itself, and what is no number, is refused."""
    assert (whole_degrees(1e-9), whole_degrees(1.999), whole_degrees(math.inf)) == (1, 1, None)
    with pytest.raises(InputRefused, match="a number above 0"):
        whole_degrees(degrees)
