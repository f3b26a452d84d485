"""What painting and stripping will do to the balance: layers in, predicted moment and statement out.

Files
-----
model      frozen inputs and results
equations  one function, one equation
coats      a layer worked out, with its causes of uncertainty
allowance  what a layer can still take before a limit
checks     what is refused
notes      what the reader must know beside the numbers
solve      puts a prediction together
"""

from __future__ import annotations

from hingeline.balance.coating.model import (
    Allowance,
    CoatedResult,
    CoatedSurface,
    CoatingResult,
    CoatingTask,
    Layer,
    LayerResult,
)
from hingeline.balance.coating.solve import predict_coating

__all__ = [
    "Allowance",
    "CoatedResult",
    "CoatedSurface",
    "CoatingResult",
    "CoatingTask",
    "Layer",
    "LayerResult",
    "predict_coating",
]
