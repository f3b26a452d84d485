"""Measured value, budget, Monte Carlo and decision rules: what can honestly be said of a number.

Nothing here imports NumPy until a Monte Carlo run is asked for.
"""

from __future__ import annotations

from hingeline.uncertainty.budget import (
    Budget,
    BudgetRow,
    Contribution,
    combine,
    coverage_factor,
    whole_degrees,
)
from hingeline.uncertainty.comparison import Agreement, agreement, numerical_tolerance
from hingeline.uncertainty.conformity import (
    INSIDE,
    OUTSIDE,
    TOO_CLOSE,
    GuardedLimits,
    Statement,
    guarded,
    guarded_limits,
    margin,
    probability_within,
    simple,
    worse,
)
from hingeline.uncertainty.correlation import Correlation, sample_correlation
from hingeline.uncertainty.decimal_factors import decimal_factor
from hingeline.uncertainty.decimals import (
    DecimalBudget,
    DecimalContribution,
    combine_decimal,
    decimal_contribution,
    squared_contribution,
)
from hingeline.uncertainty.measured import (
    Measured,
    arcsine,
    from_expanded,
    rectangular,
    resolution,
    triangular,
    type_a,
)
from hingeline.uncertainty.monte_carlo import (
    Distribution,
    MonteCarloResult,
    Normal,
    Rectangular,
    Student,
    Triangular,
    monte_carlo,
)
from hingeline.uncertainty.propagation import (
    Propagated,
    propagate,
    result_correlation,
    second_order_variance,
)
from hingeline.uncertainty.student import (
    normal_cumulative,
    normal_quantile,
    student_cumulative,
    student_quantile,
)

__all__ = [
    "INSIDE",
    "OUTSIDE",
    "TOO_CLOSE",
    "Agreement",
    "Budget",
    "BudgetRow",
    "Contribution",
    "Correlation",
    "DecimalBudget",
    "DecimalContribution",
    "Distribution",
    "GuardedLimits",
    "Measured",
    "MonteCarloResult",
    "Normal",
    "Propagated",
    "Rectangular",
    "Statement",
    "Student",
    "Triangular",
    "agreement",
    "arcsine",
    "combine",
    "combine_decimal",
    "coverage_factor",
    "decimal_contribution",
    "decimal_factor",
    "from_expanded",
    "guarded",
    "guarded_limits",
    "margin",
    "monte_carlo",
    "normal_cumulative",
    "normal_quantile",
    "numerical_tolerance",
    "probability_within",
    "propagate",
    "rectangular",
    "resolution",
    "result_correlation",
    "sample_correlation",
    "second_order_variance",
    "simple",
    "squared_contribution",
    "student_cumulative",
    "student_quantile",
    "triangular",
    "type_a",
    "whole_degrees",
    "worse",
]
