"""How heavy a surface is to turn: the times of a swing in, moment of inertia out.

Files
-----
model      frozen inputs and results
equations  one function, one equation
methods    the four methods and their sensitivities
checks     what is refused
notes      what the reader must know beside the number
solve      puts a swing together
"""

from __future__ import annotations

from hingeline.balance.swing.model import SwingResult, SwingTask
from hingeline.balance.swing.solve import inertia_by_swing

__all__ = ["SwingResult", "SwingTask", "inertia_by_swing"]
