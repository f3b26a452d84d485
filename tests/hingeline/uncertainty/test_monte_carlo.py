"""Propagation of distributions by draws, and its comparison with a budget."""

from __future__ import annotations

import math
import statistics
import subprocess
import sys

import numpy as np
import pytest

from hingeline.errors import InputRefused
from hingeline.uncertainty import (
    Contribution,
    Distribution,
    Normal,
    Rectangular,
    Student,
    Triangular,
    agreement,
    combine,
    monte_carlo,
    numerical_tolerance,
    student_quantile,
)

DRAWS = 400_000


@pytest.mark.parametrize(
    ("one", "standard", "end"),
    [
        (Normal(5.0, 2.0), 2.0, 1.959964 * 2.0),
        (Rectangular(5.0, 2.0), 2.0 / math.sqrt(3), 0.95 * 2.0),
        (Triangular(5.0, 2.0), 2.0 / math.sqrt(6), (1 - math.sqrt(0.05)) * 2.0),
        (Student(5.0, 2.0, 8.0), 2.0 * math.sqrt(8 / 6), 2.0 * student_quantile(0.975, 8.0)),
    ],
)
def test_each_distribution(one: Distribution, standard: float, end: float) -> None:
    """Each shape has its mean, standard deviation and 95 % interval, known in closed form."""
    found = monte_carlo(lambda x: x, [one], draws=DRAWS, seed=11)
    assert found.mean == pytest.approx(5.0, abs=0.02)
    assert found.standard_uncertainty == pytest.approx(standard, rel=0.01)
    assert (found.low, found.high) == pytest.approx((5.0 - end, 5.0 + end), abs=0.04)


def test_shortest_interval_of_a_skewed_result() -> None:
    """The shortest 95 % interval of x², x standard normal, begins at 0 and ends at 1.96²."""
    found = monte_carlo(lambda x: x * x, [Normal(0.0, 1.0)], draws=DRAWS, seed=2)
    assert found.shortest_low == pytest.approx(0.0, abs=1e-3)
    assert found.shortest_high == pytest.approx(1.959964**2, abs=0.05)
    assert found.low == pytest.approx(0.03133798**2, rel=0.1)
    assert found.shortest_high - found.shortest_low < found.high - found.low


@pytest.mark.parametrize("draws", [200, 201, 215, 220, 999, 1000, 20_001])
def test_ranks_are_those_of_the_standard(draws: int) -> None:
    """Ends are y(r) and y(r + q), with r and q of JCGM 101:2008 7.7 (from memory), ranks from 1."""
    kept: list[np.ndarray] = []
    found = monte_carlo(lambda x: kept.append(x) or x, [Normal(0.0, 1.0)], draws=draws)
    ranked = np.sort(np.concatenate(kept))
    product = 0.95 * draws
    span = round(product) if abs(product - round(product)) < 1e-9 else int(product + 0.5)
    first = (draws - span) / 2
    rank = int(first) if first == int(first) else int((draws - span + 1) / 2)
    assert (found.low, found.high) == (ranked[rank - 1], ranked[rank + span - 1])
    lengths = [ranked[r + span - 1] - ranked[r - 1] for r in range(1, draws - span + 1)]
    assert found.shortest_high - found.shortest_low == min(lengths)


def test_same_seed_same_digits() -> None:
    """A seed gives the same result again, another seed another."""
    inputs = [Normal(0.0, 1.0), Student(0.0, 1.0, 5.0)]
    runs = [monte_carlo(lambda x, y: x * y, inputs, draws=50_000, seed=seed) for seed in (4, 4, 5)]
    assert runs[0] == runs[1]
    assert runs[0].low != runs[2].low


def test_progress_may_stop_it() -> None:
    """Progress is told after each chunk; on False the result says how many were drawn."""
    told: list[tuple[int, int]] = []

    def progress(done: int, total: int) -> bool:
        told.append((done, total))
        return len(told) < 3

    found = monte_carlo(lambda x: x, [Normal(0.0, 1.0)], draws=DRAWS, progress=progress)
    assert found.stopped
    assert found.draws == told[-1][0] < DRAWS
    assert len(told) == 3
    assert {total for _, total in told} == {DRAWS}


def test_progress_that_says_nothing_lets_it_run() -> None:
    """A progress function that returns None stops nothing, and its last word is all of them."""
    told: list[int] = []
    found = monte_carlo(lambda x: x, [Normal(0.0, 1.0)], draws=50_000, progress=lambda done, total: told.append(done))
    assert not found.stopped
    assert told[-1] == found.draws == 50_000


def test_mean_and_spread_are_those_of_the_draws() -> None:
    """JCGM 101:2008, 7.6 (from memory): their mean, and their spread over one less than their number."""
    seen: list[float] = []

    def model(x: np.ndarray) -> np.ndarray:
        seen.extend(x.tolist())
        return x

    found = monte_carlo(model, [Normal(1.0, 0.1)], draws=2_000, seed=4)
    assert len(seen) == 2_000
    assert found.mean == pytest.approx(statistics.fmean(seen), rel=1e-12)
    assert found.standard_uncertainty == pytest.approx(statistics.stdev(seen), rel=1e-9)


def test_what_a_heavy_tail_does_not_have_is_not_given() -> None:
    """A t distribution of 2 degrees has no standard deviation, of 1 no mean: None, not a chance number."""
    two = monte_carlo(lambda x: x, [Student(0.0, 1.0, 2.0)], draws=20_000)
    one = monte_carlo(lambda x: x, [Student(0.0, 1.0, 1.0)], draws=20_000)
    assert two.standard_uncertainty is None
    assert two.mean is not None
    assert one.mean is None
    assert one.low < 0 < one.high


def test_a_model_may_be_constant() -> None:
    """A result that does not vary has no width."""
    found = monte_carlo(lambda x: 3.0, [Normal(0.0, 1.0)], draws=1000)
    assert (found.mean, found.standard_uncertainty, found.low, found.high) == (3.0, 0.0, 3.0, 3.0)


@pytest.mark.parametrize(
    ("model", "message"),
    [
        (lambda x: np.log(x), "model: .*finite number"),
        (lambda x: 1 / (x * 0), "model: .*finite number"),
        (lambda x: x[:10], "an array of .* real numbers"),
        (lambda x: x + 1j, "an array of .* real numbers"),
        (lambda x: "moment", "an array of .* real numbers"),
        (lambda x: None, "model: "),
    ],
)
def test_models_without_finite_numbers_are_refused(model, message: str) -> None:
    """NaN, infinity, complex numbers, wrong lengths and words are refused by name."""
    with pytest.raises(InputRefused, match=message):
        monte_carlo(model, [Normal(0.0, 1.0)], draws=1000)


@pytest.mark.parametrize(
    ("one", "field"),
    [
        (Normal(math.nan, 1.0), r"inputs\[0\]\.mean"),
        (Normal(0.0, -1.0), r"inputs\[0\]\.standard"),
        (Rectangular(0.0, math.inf), r"inputs\[0\]\.half_width"),
        (Triangular(0.0, -0.1), r"inputs\[0\]\.half_width"),
        (Student(0.0, 1.0, 0.0), r"inputs\[0\]\.degrees_of_freedom"),
        (Student(0.0, 1.0, math.inf), r"inputs\[0\]\.degrees_of_freedom"),
    ],
)
def test_distributions_that_cannot_be_are_refused(one: Distribution, field: str) -> None:
    """A distribution that cannot be is refused with its place and field."""
    with pytest.raises(InputRefused, match=field):
        monte_carlo(lambda x: x, [one], draws=1000)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"draws": 199}, "draws: .* at least 200"),
        ({"draws": 0}, "draws: "),
        ({"coverage": 1.0}, "coverage: "),
        ({"seed": -1}, "seed: .* zero or a positive whole number"),
    ],
)
def test_settings_that_cannot_be_are_refused(change: dict[str, float], message: str) -> None:
    """Too few draws, a coverage of 1 and a negative seed are refused."""
    with pytest.raises(InputRefused, match=message):
        monte_carlo(lambda x: x, [Normal(0.0, 1.0)], **change)  # type: ignore[arg-type]


def test_no_inputs_are_refused() -> None:
    """Nothing to draw from is refused."""
    with pytest.raises(InputRefused, match="at least one distribution"):
        monte_carlo(lambda: 1.0, [])


def test_agreement_of_a_straight_model() -> None:
    """A sum of normals agrees with its budget to two digits, and both differences are told."""
    budget = combine([Contribution("a", 3.0, "", 1.0), Contribution("b", 4.0, "", 1.0)])
    drawn = monte_carlo(lambda a, b: a + b, [Normal(1.0, 3.0), Normal(2.0, 4.0)], seed=1)
    found = agreement(budget, 3.0, drawn)
    assert found.agrees
    assert found.tolerance == 0.05
    assert max(found.low_difference, found.high_difference) < 0.05


def test_disagreement_of_a_bent_model() -> None:
    """x² near 0 does not agree with its budget, which sees no slope."""
    drawn = monte_carlo(lambda x: x * x, [Normal(0.1, 1.0)], draws=DRAWS)
    found = agreement(combine([Contribution("x", 1.0, "", 0.2)]), 0.01, drawn)
    assert not found.agrees
    assert found.high_difference > found.tolerance


def test_agreement_asks_for_one_coverage() -> None:
    """Intervals of different coverage, or of a prescribed k, are not compared."""
    drawn = monte_carlo(lambda x: x, [Normal(0.0, 1.0)], draws=10_000)
    for budget in (combine([Contribution("x", 1.0, "", 1.0)], k=2.0), combine([], coverage=0.9)):
        with pytest.raises(InputRefused, match=r"budget: .* a coverage of 0\.95"):
            agreement(budget, 0.0, drawn)


@pytest.mark.parametrize(
    ("u", "digits", "tolerance"),
    [
        (0.35, 2, 0.005),
        (0.35, 1, 0.05),
        (0.0994, 2, 0.0005),
        (0.0999, 2, 0.005),
        (0.96, 1, 0.5),
        (32.0, 2, 0.5),
        (0.0, 2, 0.0),
    ],
)
def test_numerical_tolerance(u: float, digits: int, tolerance: float) -> None:
    """Half a unit of the last of the digits, u rounded first: JCGM 101:2008 7.9.2 (from memory)."""
    assert numerical_tolerance(u, digits) == tolerance


@pytest.mark.parametrize("digits", [0, 3])
def test_other_numbers_of_digits_are_refused(digits: int) -> None:
    """One or two digits of an uncertainty mean something."""
    with pytest.raises(InputRefused, match=r"digits: .* 1 or 2"):
        numerical_tolerance(1.0, digits)


def test_nothing_imports_numpy_before_a_run() -> None:
    """A budget is combined without NumPy, whose import costs more than the weighing."""
    program = (
        "import sys; from hingeline.uncertainty import *; combine([Contribution('a', 1.0, 'g', 1.0, 4.0)]);"
        "combine_decimal([decimal_contribution('1', 4)]); print('numpy' in sys.modules, 'scipy' in sys.modules)"
    )
    run = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True, env={"PYTHONPATH": "src"}
    )
    assert run.stdout.strip() == "False False"


@pytest.mark.parametrize(
    ("degrees", "has_mean", "has_spread"), [(1.0, False, False), (2.0, True, False), (3.0, True, True)]
)
def test_the_heaviest_tail_decides_beside_lighter_ones(degrees: float, has_mean: bool, has_spread: bool) -> None:
    """One t with few degrees beside one with a hundred: a t has a mean above one degree, a variance above two."""
    found = monte_carlo(lambda x, y: x + y, [Student(0.0, 1.0, degrees), Student(0.0, 1.0, 100.0)], draws=10_000)
    assert (found.mean is not None, found.standard_uncertainty is not None) == (has_mean, has_spread)
