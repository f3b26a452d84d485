"""Control reversal: where the twist a control causes takes away all the lift it gives."""

from __future__ import annotations

import numpy as np

from hingeline.flutter.divergence import speeds_of_zero, without_free
from hingeline.flutter.system import AeroelasticSystem, Array, static_air_stiffness


def reversal_speeds(system: AeroelasticSystem, control: int, load: Array) -> tuple[float, ...]:
    """Find all speeds at which a held deflection of the control gives no load.

    Parameters
    ----------
    system : AeroelasticSystem
    control : int
        Index of the control's freedom; its own stiffness does not matter, it is held at its angle.
    load : array (n,)
        Static load over U² for each freedom: lift of a section (the plunge row of Kn + Kc), rolling moment of
        a wing.

    Returns
    -------
    tuple of float
        True airspeed, rising [m/s]; empty where the control never reverses, or gives no load when rigid.

    Notes
    -----
    (K + U² Ks) e + U² Ks_β β = 0 for the elastic freedoms, load · (e, β) = 0. With β = -load_e · e/load_β it is
    a divergence of the section whose Ks is Ks - Ks_β load_eᵀ/load_β. Closed form for a section in pitch in
    :func:`section_reversal`.
    """
    elastic = np.array([index for index in range(len(system.mass)) if index != control])
    if load[control] == 0:
        return ()
    air = static_air_stiffness(system)
    inner = air[np.ix_(elastic, elastic)] - np.outer(air[elastic, control], load[elastic] / load[control])
    stiffness = system.stiffness[np.ix_(elastic, elastic)]
    unit = 1 / np.sqrt(np.diag(system.mass)[elastic])
    both = np.outer(unit, unit)
    return speeds_of_zero(*without_free(stiffness * both, inner * both))


def section_reversal(pitch_stiffness: float, air: Array) -> float | None:
    """Give the reversal speed of a section with plunge, pitch and surface in closed form.

    Parameters
    ----------
    pitch_stiffness : float
        K_α [N for one metre of span].
    air : array (3, 3)
        Kn + Kc.

    Returns
    -------
    float or None
        [m/s]

    Notes
    -----
    U² = K_α L_β / (L_α N_β - L_β N_α), L and N the rows of plunge and pitch.
    """
    (_, lift_alpha, lift_beta), (_, moment_alpha, moment_beta) = air[0], air[1]
    below = lift_alpha * moment_beta - lift_beta * moment_alpha
    square = pitch_stiffness * lift_beta / below if below else -1.0
    return float(np.sqrt(square)) if square > 0 else None
