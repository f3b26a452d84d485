"""The correction: the smallest honest change that the approved data allows.

Files
-----
model      frozen inputs and results
equations  one function, one equation
rooms      how much each place allows
choice     what is chosen at each place, and the exact sums that follow
aim        the band of the rule, and the moment aimed at
columns    the unknowns of the programme, place by place
programme  the mixed-integer programme and the one door to its solver
search     the best plans, in their order
assess     a choice worked out in full
reasons    why no plan reaches the band, and what would mend it
checks     what is refused
notes      what the reader must know beside the numbers
solve      puts a correction together
chosen     works out what a person chose
"""

from __future__ import annotations

from hingeline.balance.ballast.chosen import predict_change
from hingeline.balance.ballast.equations import inertia_loads, mass_to_add
from hingeline.balance.ballast.model import (
    BallastResult,
    BallastTask,
    Change,
    Place,
    Plan,
    Remedy,
    WeightLoad,
)
from hingeline.balance.ballast.solve import plan_ballast

__all__ = [
    "BallastResult",
    "BallastTask",
    "Change",
    "Place",
    "Plan",
    "Remedy",
    "WeightLoad",
    "inertia_loads",
    "mass_to_add",
    "plan_ballast",
    "predict_change",
]
