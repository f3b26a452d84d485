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
from hingeline.uncertainty.measured import (
    Measured,
    arcsine,
    from_expanded,
    rectangular,
    resolution,
    triangular,
    type_a,
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
    "Budget",
    "BudgetRow",
    "Contribution",
    "Correlation",
    "GuardedLimits",
    "Measured",
    "Statement",
    "arcsine",
    "combine",
    "coverage_factor",
    "from_expanded",
    "guarded",
    "guarded_limits",
    "margin",
    "normal_cumulative",
    "normal_quantile",
    "probability_within",
    "rectangular",
    "resolution",
    "sample_correlation",
    "simple",
    "student_cumulative",
    "student_quantile",
    "triangular",
    "type_a",
    "whole_degrees",
    "worse",
]
