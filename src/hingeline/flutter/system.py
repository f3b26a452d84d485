"""The common form of every flutter model, and the matrix that must be singular.

    A(p, U) = p² (M + Ma) + p (D + U Bn + U Σ C_s Bc_s) + K (1 + i g) + U² (Kn + Σ C_s Kc_s)

with C_s = C(p b_s/U), p the root [1/s], U the true airspeed [m/s]. Whatever a model is
made from (a strip, a tailplane, a wing, measured modes), it ends here; whatever asks for
roots, neutral points or limit cycles begins here.

Signs: plunge h of the reference axis positive down, pitch α nose up, control β (relative to
the main surface) and tab δ (relative to the control) trailing edge down; static moments
positive when the mass lies aft.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

Array = np.ndarray[Any, np.dtype[np.float64]]
ComplexArray = np.ndarray[Any, np.dtype[np.complex128]]
Wake = Callable[[Any], Any]
"""C of the reduced root p b/U, array in, array out; for a growing and a dying motion too."""


@dataclass(frozen=True, slots=True)
class WakeGroup:
    """Everything whose circulation is delayed by one wake function, of one semichord.

    Parameters
    ----------
    semichord : float
        b_s [m].
    damping : array (n, n)
        Bc_s.
    stiffness : array (n, n)
        Kc_s.
    """

    semichord: float
    damping: Array
    stiffness: Array


@dataclass(frozen=True, slots=True)
class AeroelasticSystem:
    """Structure and air of one model, in n freedoms.

    Parameters
    ----------
    freedoms : tuple of str
        Names, such as "plunge", "pitch", "surface", "tab", "bending 1", "weight on its arm".
    mass, damping, stiffness : array (n, n)
        M, D, K, real and symmetric.
    structural_damping : array (n,)
        g of each freedom's stiffness; K (1 + i g) acts on row and column alike (√ of both, diagonal K).
    apparent_mass, air_damping, air_stiffness : array (n, n)
        Ma, Bn, Kn: the air forces that are not delayed. They carry the density.
    wakes : tuple of WakeGroup
        The delayed ones.
    """

    freedoms: tuple[str, ...]
    mass: Array
    damping: Array
    stiffness: Array
    structural_damping: Array
    apparent_mass: Array
    air_damping: Array
    air_stiffness: Array
    wakes: tuple[WakeGroup, ...]
