"""What the wake does to the circulation: C of the reduced root s = p b/U.

The exact one is Theodorsen's function, continued from steady oscillation (s = i k) to growing and dying
motion:

    C(s) = K1(s) / (K0(s) + K1(s)),   C(0) = 1,  C(∞) = 1/2,  Im C < 0 for Im s > 0

with the modified Bessel functions of the second kind. The negative real axis is a branch cut: a real
decaying root has no meaning there, and the value just above the cut is given.

K0 and K1 are computed here, without exponentials, so that nothing can overflow. For |s| < 1 by their power
series; beyond by the trapezoid rule on

    K0(s) = √(π/2s) e⁻ˢ (2/√π) ∫₀^∞ e^(-x²) (1 + x²/2s)^(-1/2) dx
    K1(s) = √(π/2s) e⁻ˢ (4/√π) ∫₀^∞ e^(-x²) x² (1 + x²/2s)^(1/2) dx

whose common factor cancels. The rule converges like e^(-2πd/h), where d is the distance to the nearest
singularity x = ± i √(2s); for a dying motion the path is turned by 30° away from it.

Sources: NACA Report 496 (1935) for C; the integrals are NIST Digital Library of Mathematical Functions
10.32.8 with t = 1 + x²/s; the power series 10.31.1 and 10.31.2. From memory of the publications; confirmed
to 14 digits against 30-digit values in the tests.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from hingeline.errors import InputRefused
from hingeline.flutter.system import ComplexArray, Wake, wake_slope

EULER = 0.5772156649015329
SERIES_BELOW = 1.0
SERIES_TERMS = 14
TWO_LAGS = ((0.165, 0.0455), (0.335, 0.3))
"""Amount and rate of each lag: R. T. Jones, NACA Report 681 (1940), from memory of the publication."""


class Path(NamedTuple):
    """Points of the trapezoid rule on a straight line out of x = 0."""

    half_squares: ComplexArray
    zeroth: ComplexArray
    first: ComplexArray


def path(angle: float, step: float, last: float) -> Path:
    """Lay points on a line turned by ``angle``; half of the first one, since the integrand is even."""
    x = np.arange(0.0, last, step) * np.exp(1j * angle)
    weight = np.exp(-x * x) * np.exp(1j * angle) * step
    weight[0] /= 2
    return Path(x * x / 2, weight, 2 * x * x * weight)


def series() -> ComplexArray:
    """Give the coefficients of (z²/4)ⁿ in I0, K0 + ln(z/2) I0, 2 I1/z and (K1 - 1/z - ln(z/2) I1) (-2/z)."""
    rows, term, digamma = [], 1.0, -EULER
    for n in range(SERIES_TERMS):
        next_term = term / (n + 1)
        rows.append((term, term * digamma, next_term, next_term * (digamma + 0.5 / (n + 1))))
        term, digamma = next_term / (n + 1), digamma + 1 / (n + 1)
    return np.array(rows, dtype=np.complex128)


SERIES = series()
GROWING = path(0.0, 0.16, 6.3)
DYING = path(np.pi / 6, 0.11, 8.8)


def theodorsen(s: Any) -> Any:
    """Compute Theodorsen's function of a reduced root.

    Parameters
    ----------
    s : complex or array
        p b/U [1]; i k for a steady oscillation at reduced frequency k = ω b/U, b the SEMIchord.

    Returns
    -------
    complex or array
        C(s) [1], in the shape of ``s``. 1 at s = 0.

    Notes
    -----
    NACA Report 496 (1935). Exact to about 1e-14 in the whole plane cut along the negative real axis.

    Examples
    --------
    At k = 0.1 report 496 prints 0.8320 - 0.1723 i.

    >>> value = theodorsen(0.1j)
    >>> round(float(value.real), 4), round(float(value.imag), 4)
    (0.8319, -0.1723)
    """
    return on_upper_half(s, lambda k0, k1, _: k1 / (k0 + k1), 1.0)


def theodorsen_slope(s: Any) -> Any:
    """Compute dC/ds of Theodorsen's function.

    Parameters
    ----------
    s : complex or array
        p b/U [1], not zero: the slope has no bound there (s ln s).

    Returns
    -------
    complex or array
        C'(s) = (K1² - K0² - K0 K1/s) / (K0 + K1)².

    Raises
    ------
    InputRefused
        If ``s`` is zero.
    """
    if np.any(np.asarray(s) == 0):
        raise InputRefused.of("reduced root", 0, "a root other than zero", "C has no slope at s = 0.")
    return on_upper_half(s, lambda k0, k1, z: (k1 * k1 - k0 * k0 - k0 * k1 / z) / (k0 + k1) ** 2, np.nan)


def on_upper_half(s: Any, formula: Any, at_zero: float) -> Any:
    """Apply a formula of K0, K1 above the real axis and mirror it: C of a conjugate is conjugate."""
    z = np.asarray(s, dtype=np.complex128)
    above = np.where(z.imag < 0, z.conj(), z).ravel()
    value = np.full(above.shape, at_zero, dtype=np.complex128)
    small, dying = np.abs(above) < SERIES_BELOW, above.real < 0
    for where, bessel in (
        (small & (above != 0), by_series),
        (~small & ~dying, lambda part: by_path(part, GROWING)),
        (~small & dying, lambda part: by_path(part, DYING)),
    ):
        if where.any():
            value[where] = formula(*bessel(above[where]), above[where])
    shaped = value.reshape(z.shape)
    return np.where(z.imag < 0, shaped.conj(), shaped)[()]


def by_series(z: ComplexArray) -> tuple[ComplexArray, ComplexArray]:
    """Compute z K0 and z K1 near zero: z K1 stays finite however small z is."""
    i0, k0, i1, k1 = (np.vander(z * z / 4, SERIES_TERMS, increasing=True) @ SERIES).T
    logarithm = np.log(z) - np.log(2.0)
    return z * (k0 - logarithm * i0), 1 + z * z / 2 * (logarithm * i1 - k1)


def by_path(z: ComplexArray, points: Path) -> tuple[ComplexArray, ComplexArray]:
    """Compute K0 and K1 without their common factor."""
    root = np.sqrt(1 + points.half_squares / z[:, None])
    return (1 / root) @ points.zeroth, root @ points.first


def two_lag(s: Any) -> Any:
    """Compute the approximation of C by two lags.

    Parameters
    ----------
    s : complex or array
        p b/U [1].

    Returns
    -------
    complex or array
        1 - 0.165 s/(s + 0.0455) - 0.335 s/(s + 0.3).

    Notes
    -----
    R. T. Jones, NACA Report 681 (1940), from memory of the publication. Within about 2 % of C on the
    imaginary axis; it moves flutter speeds by up to one per cent. Two poles on the negative real axis.

    Examples
    --------
    >>> two_lag(0.0), round(float(two_lag(1e9)), 6)
    (1.0, 0.5)
    """
    return 1.0 - sum(amount * (s / (s + rate)) for amount, rate in TWO_LAGS)


def two_lag_slope(s: Any) -> Any:
    """Compute dC/ds of :func:`two_lag`."""
    return -sum(amount * rate / (s + rate) ** 2 for amount, rate in TWO_LAGS)


def no_lag(s: Any) -> Any:
    """Give C = 1, in the shape of ``s``: the lift follows the motion at once (quasi-steady, steady)."""
    return np.ones_like(np.asarray(s, dtype=np.complex128))[()]


def no_lag_slope(s: Any) -> Any:
    """Give dC/ds = 0, in the shape of ``s``."""
    return np.zeros_like(np.asarray(s, dtype=np.complex128))[()]


WAKES: dict[str, Wake] = {
    "theodorsen": theodorsen,
    "two-lag": two_lag,
    "quasi-steady": no_lag,
    "steady": no_lag,
}
"""The wake function of each model by its name in a document."""

WAKE_SLOPES: dict[str, Wake] = {
    "theodorsen": theodorsen_slope,
    "two-lag": two_lag_slope,
    "quasi-steady": no_lag_slope,
    "steady": no_lag_slope,
}
"""dC/ds of each."""


def wake_named(name: str) -> Wake:
    """Give the wake function of a model, or refuse its name."""
    if name not in WAKES:
        raise InputRefused.of(
            "wake", name, "one of " + ", ".join(WAKES), 'Leave it out for "theodorsen", the exact one.'
        )
    return WAKES[name]


def slope_of(wake: Wake) -> Wake:
    """Give dC/ds of a wake function of this file; of another one by its values on a small circle."""
    for name, known in WAKES.items():
        if known is wake:
            return WAKE_SLOPES[name]
    return lambda s: wake_slope(wake, s)
