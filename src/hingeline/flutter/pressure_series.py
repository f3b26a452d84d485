"""Air forces on a strip of any piecewise-linear camber, from the series of thin-aerofoil pressure.

The second route to every entry of ``strip_air`` and ``tab_air``: it uses none of their constants.
With X = cos φ (φ = 0 at the trailing edge), a unit of freedom j moves the strip by z_j(X), downward, and
makes the downwash w_j = p z_j + (U/b) dz_j/dX. Cosine coefficients f_n = (1/π) ∫₀^π f cos(n φ) dφ. The
pressure difference against z is

    Δp = 2 ρ U [C (P0 + P1) - P1] tan(φ/2) + 4 ρ U Σ_(n≥1) [P_n + (p b/U)(P_(n-1) - P_(n+1))/(2n)] sin(n φ)

with P_n = p z_n + (U/b) z'_n; its work on z_i gives the matrices, with d_n = z_(n-1) - z_(n+1), s_n = z'_n/b:

    Ma = f (b/2) Σ d_n^i d_n^j / n,   f = 2 π ρ b
    Bn = f { Σ d_n^i z_n^j + (b/2) Σ d_n^i (s_(n-1) - s_(n+1))^j / n - (z_0 - z_1)^i z_1^j }
    Kn = f { Σ d_n^i s_n^j - (z_0 - z_1)^i s_1^j }
    R = f (z_0 - z_1),  W1 = z_0 + z_1,  W0 = s_0 + s_1

Source: our own derivation from thin-aerofoil theory. Valid as ``strip_air``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hingeline.flutter.strip_air import StripAir
from hingeline.flutter.system import Array

PI = float(np.pi)


@dataclass(frozen=True, slots=True)
class Camber:
    """Cosine coefficients of one freedom's shape: displacement z_n [m] and slope s_n = z'_n/b, n = 0 … terms + 1.

    Parameters
    ----------
    displacement : array
        z_n [m for a unit of the freedom].
    slope : array
        s_n [1 for a unit of the freedom]; the slope dz/dx, + nose up.
    """

    displacement: Array
    slope: Array


def plunge_camber(terms: int) -> Camber:
    """Give the shape of a unit plunge: the whole strip one metre down."""
    return Camber(leading(terms, 1.0), np.zeros(terms + 2))


def pitch_camber(semichord: float, axis: float, terms: int) -> Camber:
    """Give the shape of a unit pitch about X = axis: z = b (X - a), slope 1."""
    return Camber(leading(terms, -semichord * axis, semichord / 2), leading(terms, 1.0))


def flap_camber(semichord: float, hinge: float, terms: int) -> Camber:
    """Give the shape of a unit angle of everything aft of X = hinge.

    z_n = (b/π) [(S_(n-1) + S_(n+1))/2 - c S_n], s_n = S_n/π, S_m = sin(m t)/m, S_0 = t = arccos c.
    """
    turn = float(np.arccos(hinge))
    order = np.arange(-1, terms + 3)
    divided = np.where(order == 0, turn, np.sin(order * turn) / np.where(order == 0, 1, order))
    middle = divided[1:-1]
    return Camber(semichord / PI * ((divided[:-2] + divided[2:]) / 2 - hinge * middle), middle / PI)


def leading(terms: int, *first: float) -> Array:
    """Give coefficients of which only the first are not zero."""
    return np.array([*first, *[0.0] * (terms + 2 - len(first))])


def series_forces(semichord: float, density: float, shapes: Sequence[Camber]) -> StripAir:
    """Compute the air forces on a strip from the shapes of its freedoms.

    Parameters
    ----------
    semichord, density : float
        b [m], ρ [kg/m³].
    shapes : sequence of Camber
        One a freedom, all with equally many terms.

    Returns
    -------
    StripAir
        For one metre of span.

    Notes
    -----
    Kn of a flap on itself converges slowly, as 1/n³ in the terms: 2,000 terms give six or seven digits of
    it and 200,000 ten; everything else is at rounding after 2,000.
    """
    z = np.array([shape.displacement for shape in shapes])
    s = np.array([shape.slope for shape in shapes])
    n = np.arange(1, z.shape[1] - 1)
    d, slope_difference = z[:, :-2] - z[:, 2:], s[:, :-2] - s[:, 2:]
    b, f = semichord, 2 * PI * density * semichord
    tip = z[:, 0] - z[:, 1]
    return StripAir(
        semichord=b,
        apparent_mass=f * b / 2 * (d / n @ d.T),
        air_damping=f * (d @ z[:, 1:-1].T + b / 2 * (d / n @ slope_difference.T) - np.outer(tip, z[:, 1])),
        air_stiffness=f * (d @ s[:, 1:-1].T - np.outer(tip, s[:, 1])),
        circulation_force=f * tip,
        downwash_of_rates=z[:, 0] + z[:, 1],
        downwash_of_angles=s[:, 0] + s[:, 1],
    )


def strip_forces_by_series(
    semichord: float, axis: float, hinges: Sequence[float], density: float, terms: int = 2000
) -> StripAir:
    """Compute the air forces on a strip in plunge, pitch and any number of flaps behind one another.

    Parameters
    ----------
    semichord, axis, density : float
        b [m], a [semichords aft of mid-chord], ρ [kg/m³].
    hinges : sequence of float
        Hinge lines of control, tab, …, semichords aft of mid-chord; each flap turns relative to the one ahead.
    terms : int
        Terms of the series.

    Returns
    -------
    StripAir
        In two freedoms and one more a hinge.

    Examples
    --------
    >>> air = strip_forces_by_series(1.0, -0.4, [0.4, 0.8], 1.0)
    >>> round(float(air.apparent_mass[2, 3]), 8)
    0.00312844
    """
    flaps = [flap_camber(semichord, hinge, terms) for hinge in hinges]
    return series_forces(semichord, density, [plunge_camber(terms), pitch_camber(semichord, axis, terms), *flaps])
