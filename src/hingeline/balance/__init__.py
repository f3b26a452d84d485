"""Static balance: weighings in, static moment and statement out.

Files
-----
model           frozen inputs and results
limits          the approved limits, as they are given
equations       one function, one equation
terms           the terms of the sum
causes          the causes of uncertainty and their sensitivities
measured        causes combined to a measured value
decide          which limits hold, and what is true
friction        rising and falling readings
window          what the scale shows at a limit
planning        what would settle a weighing that is too close to tell
before          the same, before the surface is touched
checks          what is refused
recheck         the second computation
notes           what the reader must know beside the numbers
solve           puts a weighing together
printed_limits  contradictions in printed rows of limits
"""

from __future__ import annotations

from types import ModuleType

from hingeline.balance.before import plan_weighing
from hingeline.balance.model import (
    HungMass,
    Limits,
    MassLimits,
    MomentBand,
    Part,
    ReadingLimits,
    StatedUncertainty,
    Support,
    Weighing,
    WeighingPlan,
    WeighingResult,
)
from hingeline.balance.printed_limits import (
    Contradiction,
    LimitRow,
    LimitsResult,
    PrintedRange,
    check_rows,
)
from hingeline.balance.solve import weigh
from hingeline.surface import BalanceWeight, Surface
from hingeline.uncertainty.stated import Stated

__all__ = [
    "BalanceWeight",
    "Contradiction",
    "HungMass",
    "LimitRow",
    "Limits",
    "LimitsResult",
    "MassLimits",
    "MomentBand",
    "Part",
    "PrintedRange",
    "ReadingLimits",
    "Stated",
    "StatedUncertainty",
    "Support",
    "Surface",
    "Weighing",
    "WeighingPlan",
    "WeighingResult",
    "check_rows",
    "plan_weighing",
    "weigh",
]


def __getattr__(name: str) -> ModuleType:
    """Load an inner room when it is first named; written out, so that the import contracts see each."""
    if name == "ballast":
        import hingeline.balance.ballast as ballast

        return ballast
    if name == "coating":
        import hingeline.balance.coating as coating

        return coating
    if name == "spread":
        import hingeline.balance.spread as spread

        return spread
    if name == "swing":
        import hingeline.balance.swing as swing

        return swing
    raise AttributeError(f"module 'hingeline.balance' has no attribute '{name}'")
