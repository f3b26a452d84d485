"""How far are two coupled modes from flutter? The flutter margin of Zimmerman and Weissenburger."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def flutter_margin(first: complex, second: complex) -> float:
    """Give the flutter margin F of two modes [(1/s)⁴].

    Parameters
    ----------
    first, second : complex
        Poles β + i w: β the real part (negative when the mode dies out), w the damped circular frequency [1/s].

    Returns
    -------
    float
        Positive where both modes die out, 0 where either neither grows nor dies out.

    Notes
    -----
    F = ((w₂² - w₁²)/2 + (β₂² - β₁²)/2)²
    + 4 β₁ β₂ ((w₂² + w₁²)/2 + 2 ((β₁ + β₂)/2)²)
    - ((β₂ - β₁)/(β₂ + β₁) (w₂² - w₁²)/2 + 2 ((β₁ + β₂)/2)²)²

    Zimmerman and Weissenburger 1964, from memory; equal to A₂ A₁/A₃ - (A₁/A₃)² - A₀ of the quartic
    s⁴ + A₃ s³ + A₂ s² + A₁ s + A₀, which the tests hold. With quasi-steady air it is a quadratic in dynamic
    pressure. Valid for exactly two coupled modes.

    Examples
    --------
    >>> import math
    >>> def pole(frequency, damping):
    ...     natural = 2.0 * math.pi * frequency
    ...     return complex(-damping * natural, natural * math.sqrt(1.0 - damping**2))
    >>> round(flutter_margin(pole(3.2, 0.04), pole(6.4, 0.035)), 3)
    344184.022
    """
    one, two = first.real, second.real
    apart, mean = (second.imag**2 - first.imag**2) / 2.0, (first.imag**2 + second.imag**2) / 2.0
    both = 2.0 * ((one + two) / 2.0) ** 2
    return float(
        (apart + (two**2 - one**2) / 2.0) ** 2
        + 4.0 * one * two * (mean + both)
        - ((two - one) / (two + one) * apart + both) ** 2
    )


def lowest_zero(pressures: Array, margins: Array, order: int) -> float | None:
    """Fit a polynomial of the margin in dynamic pressure and give where it first falls to zero; None if nowhere.

    Parameters
    ----------
    pressures : array
        Any number that goes with dynamic pressure, such as the speed squared.
    margins : array
    order : int
        1 or 2.

    Examples
    --------
    >>> lowest_zero(np.array([0.0, 1.0, 2.0]), np.array([4.0, 3.0, 2.0]), 1)
    4.0
    """
    scale = float(pressures.max())
    coefficients = np.polyfit(pressures / scale, margins / abs(margins).max(), order)
    roots = np.roots(coefficients)
    real = roots[abs(roots.imag) < 1e-9 * np.maximum(1.0, abs(roots))].real
    falling = [root for root in real if root > 0.0 and np.polyval(np.polyder(coefficients), root) < 0.0]
    return round(float(min(falling)) * scale, 12) if falling else None
