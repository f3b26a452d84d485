"""How mass is spread, and what that makes of static and dynamic balance.

Files
-----
model      frozen inputs and results
equations  one function, one equation
checks     what is refused
solve      adds up, and puts a weight at several places
"""

from __future__ import annotations

from hingeline.balance.spread.model import (
    DynamicResult,
    DynamicTask,
    MassPoint,
    Plate,
    Spread,
    TrialPlace,
    TrialWeight,
    WithWeight,
)
from hingeline.balance.spread.solve import dynamic_balance, spread_of

__all__ = [
    "DynamicResult",
    "DynamicTask",
    "MassPoint",
    "Plate",
    "Spread",
    "TrialPlace",
    "TrialWeight",
    "WithWeight",
    "dynamic_balance",
    "spread_of",
]
