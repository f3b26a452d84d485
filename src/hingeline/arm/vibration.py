"""How fast the arm swings by itself, and what its bending makes of the weight. One function, one equation.

Uniform beam after Euler and Bernoulli, clamped at the root, with the weight at its end (mechanics of vibration, from
memory; roots confirmed by Mathematical Problems in Engineering 2017, 1568019, table 1, read).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

# The first root lies below Rayleigh's, and never far below it; the steps are finer than two roots are apart.
_LOWEST_PART, _STEPS, _BISECTIONS = 0.3, 600, 200

Number = Any  # a float, or an array of them: one formula for one root and for many


@dataclass(frozen=True, slots=True)
class Beam:
    """An arm with its weight, as the equations of vibration see it.

    Parameters
    ----------
    length : float
        Root to the tube's end, L [m].
    stiffness : float
        E I [N m²].
    mass : float
        Of the tube, m_t [kg].
    weight : float
        m [kg].
    beyond_tip : float
        Tube's end to the weight's centre, e [m].
    inertia : float
        Of the weight about its own centre, J [kg m²].
    root_flexibility : float
        Rotation of the root by a moment, 1/k_r [rad/(N m)]; 0: rigid.
    """

    length: float
    stiffness: float
    mass: float
    weight: float
    beyond_tip: float = 0.0
    inertia: float = 0.0
    root_flexibility: float = 0.0


def frequency_equation(root: float, beam: Beam) -> float:
    """Give the determinant that is 0 where ``root``, β L, belongs to a natural frequency [1].

    Parameters
    ----------
    root : float
        λ = β L, positive [1].
    beam : Beam

    Returns
    -------
    float
        Divided by cosh² λ, so that it does not overflow; the sign stays.

    Notes
    -----
    w = a(cosh - cos + 2 λ φ sin) + b(sinh - sin) of λ ξ fulfils the root, φ = E I/(k_r L). At the end
    w''' = -λ⁴ μ (w + ε w') and w'' = λ⁴[κ w' + μ ε (w + ε w')], with μ = m/m_t, ε = e/L, κ = J/(m_t L²).
    For φ = ε = κ = 0 it becomes 1 + cos λ cosh λ + μ λ (cos λ sinh λ - sin λ cosh λ) = 0.

    Examples
    --------
    >>> bare = Beam(1.0, 1.0, 1.0, 0.0)
    >>> abs(frequency_equation(1.8751040687, bare)) < 1e-9
    True
    """
    scale = 2.0 / (math.exp(root) + math.exp(-root)) if root < 300.0 else 0.0
    return float(_determinant(root, math.sin(root), math.cos(root), scale, math.tanh(root), beam))


def _determinant(root: Number, sine: Number, cosine: Number, scale: Number, rise: Number, beam: Beam) -> Number:
    first, second = (_end(part, root, beam) for part in _shapes(root, sine * scale, cosine * scale, rise, beam))
    return first[0] * second[1] - first[1] * second[0]


def _shapes(root: Number, s: Number, c: Number, rise: Number, beam: Beam) -> tuple[tuple[Number, ...], ...]:
    """Give w, w', w'', w''' at the end, by β, of the two shapes; divided by cosh λ, as sine and cosine are."""
    soft = 2.0 * root * beam.stiffness * beam.root_flexibility / beam.length
    return (
        (1.0 - c + soft * s, rise + s + soft * c, 1.0 + c - soft * s, rise - s - soft * c),
        (rise - s, 1.0 - c, rise + s, 1.0 + c),
    )


def _end(shape: tuple[Number, ...], root: Number, beam: Beam) -> tuple[Number, Number]:
    """Give what is left over of force and moment at the end; both are 0 for a free swing."""
    place, slope, bend, shear = shape
    ratio, offset = beam.weight / beam.mass, beam.beyond_tip / beam.length
    own = beam.inertia / (beam.mass * beam.length**2)
    centre = place + offset * root * slope
    force = shear + root * ratio * centre
    moment = bend - root**2 * (own * root * slope + ratio * offset * centre)
    return force, moment


def first_root(beam: Beam) -> float:
    """Give the first root of :func:`frequency_equation`, β L [1].

    Returns
    -------
    float
        To the last digits; checked by substitution in the tests.

    Notes
    -----
    Rayleigh's root is an upper bound, since the deflection under a load at the weight is a shape that the arm
    can take. The first change of sign below it is halved until nothing is left to halve.
    """
    highest = math.sqrt(2.0 * math.pi * rayleigh_frequency(beam) / _unit_frequency(beam))
    before = frequency_equation(_place(0, highest), beam) > 0.0
    step = _first_turn_at_a_glance(highest, beam)
    if not (step and _is_turn(step, highest, beam, before=before)):
        # A place so near a root that its sign is a matter of rounding: one after the other, then.
        step = next((n for n in range(1, _STEPS + 1) if _is_turn(n, highest, beam, before=before)), 0)
    if not step:
        raise ArithmeticError(f"no root of the arm below {highest}")
    return _halved(_place(step - 1, highest), _place(step, highest), beam)


def _place(step: Number, highest: float) -> Number:
    """Give one of the places where the sign is looked at."""
    return highest * (_LOWEST_PART + (1.02 - _LOWEST_PART) * step / _STEPS)


def _is_turn(step: int, highest: float, beam: Beam, *, before: bool) -> bool:
    """Tell whether the sign is as at the beginning one place before, and the other one here."""
    signs = [frequency_equation(_place(each, highest), beam) > 0.0 for each in (step - 1, step)]
    return signs == [before, not before]


def _first_turn_at_a_glance(highest: float, beam: Beam) -> int:
    """Find the place where the sign first turns, all of them worked out at once; 0: nowhere.

    Its sines differ from those of one place in the last digit, so it only says where to look.
    """
    import numpy as np

    roots = _place(np.arange(_STEPS + 1), highest)
    # Beyond 300 what is divided by cosh is nought to every digit, and would overflow.
    bounded = np.minimum(roots, 300.0)
    scale = 2.0 / (np.exp(bounded) + np.exp(-bounded))
    with np.errstate(all="ignore"):
        signs = _determinant(roots, np.sin(roots), np.cos(roots), scale, np.tanh(roots), beam) > 0.0
    return int(np.argmax(signs != signs[0]))


def _halved(low: float, high: float, beam: Beam) -> float:
    rising = frequency_equation(high, beam) > 0.0
    for _ in range(_BISECTIONS):
        middle = (low + high) / 2.0
        if middle in (low, high):
            break
        if (frequency_equation(middle, beam) > 0.0) == rising:
            high = middle
        else:
            low = middle
    return (low + high) / 2.0


def _unit_frequency(beam: Beam) -> float:
    """Give √(E I/(m_t L³)), by which λ² becomes an angular frequency [rad/s]."""
    return math.sqrt(beam.stiffness / (beam.mass * beam.length**3))


def exact_frequency(beam: Beam) -> float:
    """Give the first natural frequency, λ²/(2π) √(E I/(m_t L³)) [Hz].

    Examples
    --------
    >>> tube = Beam(0.260, 419.22804850, 0.1032982268, 1.4)
    >>> round(exact_frequency(tube), 4)
    35.6727
    """
    return first_root(beam) ** 2 * _unit_frequency(beam) / (2.0 * math.pi)


def rayleigh_frequency(beam: Beam) -> float:
    """Give the first natural frequency by Rayleigh, with the deflection under a load at the weight's centre [Hz].

    Notes
    -----
    ω² = F δ/(m δ² + J θ² + ∫ w² dm). For a point mass at the end of a rigidly clamped tube this is
    √(k/(m + 33/140 m_t)) with k = 3 E I/L³. Never below the exact one.

    Examples
    --------
    >>> round(rayleigh_frequency(Beam(0.260, 419.22804850, 0.1032982268, 1.4)), 4)
    35.6728
    """
    length, reach = beam.length, beam.length + beam.beyond_tip
    turn = reach * beam.root_flexibility
    bend = 1.0 / (6.0 * beam.stiffness)
    end = bend * (3.0 * reach * length**2 - length**3) + turn * length
    slope = bend * (6.0 * reach * length - 3.0 * length**2) + turn
    centre = end + beam.beyond_tip * slope
    along = _mean_square(bend, reach, turn, length)
    return math.sqrt(centre / (beam.weight * centre**2 + beam.inertia * slope**2 + beam.mass * along)) / (2.0 * math.pi)


def _mean_square(bend: float, reach: float, turn: float, length: float) -> float:
    """Give the mean of w² along the tube, w = bend(3 reach x² - x³) + turn x."""
    square, cube = 3.0 * reach * bend, -bend
    return (
        turn**2 * length**2 / 3.0
        + turn * square * length**3 / 2.0
        + (square**2 + 2.0 * turn * cube) * length**4 / 5.0
        + square * cube * length**5 / 3.0
        + cube**2 * length**6 / 7.0
    )


def tip_stiffness(stiffness: float, length: float, root_stiffness: float | None = None) -> float:
    """Give the stiffness at the end, 1/k = L³/(3 E I) + L²/k_r [N/m].

    Parameters
    ----------
    stiffness : float
        E I [N m²].
    length : float
        [m]
    root_stiffness : float, optional
        Of a root that turns, k_r [N m/rad]; without it the root is rigid.

    Examples
    --------
    >>> round(tip_stiffness(419.22804850, 0.260, 4000.0), 1)
    32388.8
    """
    soft = 0.0 if root_stiffness is None else length**2 / root_stiffness
    return 1.0 / (length**3 / (3.0 * stiffness) + soft)


def apparent_mass(frequency_ratio: float, damping_ratio: float) -> complex:
    """Give the apparent mass of the weight over its real mass, (1 + 2iζr)/(1 - r² + 2iζr) [1].

    Parameters
    ----------
    frequency_ratio : float
        r, frequency of the oscillation over the arm's own [1].
    damping_ratio : float
        ζ, of a damper in parallel with the arm [1].

    Returns
    -------
    complex
        A negative angle: the weight lags behind the surface.

    Raises
    ------
    ZeroDivisionError
        Without damping at the arm's own frequency.

    Notes
    -----
    Steady state of a mass on a spring and a damper that is driven at its root. Below its own frequency the weight
    acts as more than its mass; above it the sign turns, and it feeds the motion that it should stop.

    Examples
    --------
    >>> round(apparent_mass(0.5, 0.0).real, 4), round(apparent_mass(2.0, 0.0).real, 4)
    (1.3333, -0.3333)
    """
    damped = 2j * damping_ratio * frequency_ratio
    return (1.0 + damped) / (1.0 - frequency_ratio**2 + damped)
