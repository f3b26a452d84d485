"""How many roots grow at one speed, in compiled loops, for many systems in the same air: see ``counting_many``.

Systems that differ in masses and stiffnesses alone meet the same air at each place of the path: what it does there is
computed once, for the places that any of them needs. The path, and what each of its steps is checked against, are those
of the count of one. A system that needs finer steps than there is room for is handed back.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from hingeline.flutter.compiled_wake import beside_the_line, kind_of, table_of
from hingeline.flutter.compiling import compiled
from hingeline.flutter.counting import FREE, GROWING, LONGEST_STEP, SMALLEST_ANGLE
from hingeline.flutter.stacks import Stack
from hingeline.flutter.system import Array, ComplexArray, Wake

HALVINGS = 8
STEPS_A_UNIT, LEAST_STEPS = 4, 8
UNCOUNTED, NOT_WHOLE = -1, 1e-6
WHOLE_TURN, LONGEST_SLOPE = float(2 * np.pi), float(np.tan(LONGEST_STEP))


class Air(NamedTuple):
    """What the air does to every system, and the speed: Bn, Kn, Bc, Kc of three rows, b/U, U."""

    damping: Array
    stiffness: Array
    wake_damping: Array
    wake_stiffness: Array
    reduced: float
    speed: float


class Places(NamedTuple):
    """Places along one side of the path, the finest steps apart: p², the air's matrix and its derivative by ln p."""

    known: Any
    square: ComplexArray
    air: ComplexArray
    moved: ComplexArray


def count_in_one_air(stack: Stack, radii: tuple[float, float], speed: float, wake: Wake) -> Any:
    """Count the growing oscillations of many systems in the same air.

    Parameters
    ----------
    stack : Stack
        For which ``counting_many.in_one_air`` holds.
    radii : (float, float)
        Between which roots are counted [1/s].
    speed : float
        [m/s]
    wake : callable
        One of ``wake``.

    Returns
    -------
    array of int (s,)
        Roots with Re p > 1e-9 |p| and Im p > 0; -1 where a system is handed back.
    """
    air = Air(
        _padded(stack.air_damping[:1])[0], _padded(stack.air_stiffness[:1])[0], _padded(stack.wake_damping[:1])[0],
        _padded(stack.wake_stiffness[:1])[0], float(stack.semichord[0]) / speed, float(speed),
    )  # fmt: skip
    mass, stiffness = _padded(stack.mass), _padded(stack.stiffness.astype(np.complex128), 1.0)
    turned = np.zeros(len(mass))
    (inner, outer), (low, high) = np.log(radii), (SMALLEST_ANGLE, np.pi / 2 - GROWING)
    corners = (complex(inner, low), complex(outer, low), complex(outer, high), complex(inner, high))
    for start, end in zip(corners, corners[1:] + corners[:1], strict=True):
        number = max(LEAST_STEPS, int(STEPS_A_UNIT * abs(end - start)))
        _turn_all(mass, stiffness, air, (table_of(wake), kind_of(wake)), (start, end, number),
                  _places(number << HALVINGS), turned)  # fmt: skip
    turns = turned / WHOLE_TURN
    whole = (np.abs(turns - np.round(turns)) < NOT_WHOLE) & (np.round(turns) >= 0)
    return np.where(whole, np.round(np.nan_to_num(turns)), UNCOUNTED).astype(np.int64)


def _padded(matrices: Any, still: float = 0.0) -> Any:
    """Give matrices of three rows: a third one that does nothing where there are two freedoms."""
    size = matrices.shape[1]
    if size == 3:
        return np.ascontiguousarray(matrices)
    wide = np.zeros((len(matrices), 3, 3), dtype=matrices.dtype)
    wide[:, :size, :size], wide[:, 2, 2] = matrices, still
    return wide


def _places(steps: int) -> Places:
    number = steps + 1
    return Places(
        np.zeros(number, dtype=np.bool_), np.empty(number, dtype=np.complex128),
        np.empty((number, 3, 3), dtype=np.complex128), np.empty((number, 3, 3), dtype=np.complex128),
    )  # fmt: skip


@compiled
def _turn_all(mass: Any, stiffness: Any, air: Any, wake: Any, side: Any, places: Any, turned: Any) -> None:
    """Add to each system's turn what it turns along one side; NaN where the steps would have to be finer."""
    ahead, seen = np.empty(HALVINGS + 2, dtype=np.int64), np.empty((2, HALVINGS + 2), dtype=np.complex128)
    for sample in range(len(mass)):
        turned[sample] += _turn((mass[sample], stiffness[sample]), air, wake, side, places, ahead, seen)


@compiled
def _turn(system: Any, air: Any, wake: Any, side: Any, places: Any, ahead: Any, seen: Any) -> float:
    """Give by how much one determinant turns along a side [rad].

    ``ahead`` holds places farther on that were looked at already, the next one last, and ``seen`` what was found there.
    """
    whole_step, length = 1 << HALVINGS, abs(side[1] - side[0]) / (side[2] << HALVINGS)
    turned, at, waiting = 0.0, 0, 0
    value, change = _determinant(system, air, wake, side, places, 0)
    while at < side[2] << HALVINGS:
        if waiting == 0:
            ahead[0], waiting = at + whole_step, 1
            seen[0, 0], seen[1, 0] = _determinant(system, air, wake, side, places, ahead[0])
        to, then, further = ahead[waiting - 1], seen[0, waiting - 1], seen[1, waiting - 1]
        if _is_short(length * (to - at), value, change, then, further):
            turned += np.angle(then * value.conjugate())
            at, value, change, waiting = to, then, further, waiting - 1
            continue
        if to - at == 1:
            return np.nan
        ahead[waiting] = (at + to) // 2
        seen[0, waiting], seen[1, waiting] = _determinant(system, air, wake, side, places, ahead[waiting])
        waiting += 1
    return turned


@compiled
def _is_short(step: float, value: complex, change: complex, then: complex, further: complex) -> bool:
    """Say whether a step is short against the distance to a root, and turns the determinant by little."""
    most, turn = (LONGEST_STEP * FREE / step) ** 2, then * value.conjugate()
    return (
        _square(change) <= most * _square(value)
        and _square(further) <= most * _square(then)
        and abs(turn.imag) <= LONGEST_SLOPE * turn.real
        and turn.real > 0
    )


@compiled
def _square(number: complex) -> float:
    return number.real * number.real + number.imag * number.imag


@compiled
def _determinant(system: Any, air: Any, wake: Any, side: Any, places: Any, place: int) -> tuple[complex, complex]:
    """Give det A at a place, and its derivative by ln p: the sum of A's minors times dA/d ln p."""
    if not places.known[place]:
        _meet(air, wake, side, places, place)
    (m, k), g, h, square = system, places.air[place], places.moved[place], places.square[place]
    a, b, c = (square * m[0, 0] + k[0, 0] + g[0, 0], square * m[0, 1] + k[0, 1] + g[0, 1],
               square * m[0, 2] + k[0, 2] + g[0, 2])  # fmt: skip
    d, e, f = (square * m[1, 0] + k[1, 0] + g[1, 0], square * m[1, 1] + k[1, 1] + g[1, 1],
               square * m[1, 2] + k[1, 2] + g[1, 2])  # fmt: skip
    r, s, t = (square * m[2, 0] + k[2, 0] + g[2, 0], square * m[2, 1] + k[2, 1] + g[2, 1],
               square * m[2, 2] + k[2, 2] + g[2, 2])  # fmt: skip
    aa, bb, cc = e * t - f * s, f * r - d * t, d * s - e * r
    dd, ee, ff = c * s - b * t, a * t - c * r, b * r - a * s
    rr, ss, tt = b * f - c * e, c * d - a * f, a * e - b * d
    inert = (
        m[0, 0] * aa + m[0, 1] * bb + m[0, 2] * cc + m[1, 0] * dd + m[1, 1] * ee + m[1, 2] * ff
        + m[2, 0] * rr + m[2, 1] * ss + m[2, 2] * tt
    )  # fmt: skip
    moved = (
        h[0, 0] * aa + h[0, 1] * bb + h[0, 2] * cc + h[1, 0] * dd + h[1, 1] * ee + h[1, 2] * ff
        + h[2, 0] * rr + h[2, 1] * ss + h[2, 2] * tt
    )  # fmt: skip
    return a * aa + b * bb + c * cc, 2 * square * inert + moved


@compiled
def _meet(air: Any, wake: Any, side: Any, places: Any, place: int) -> None:
    """Write down what the air does at a place."""
    start, end, number = side
    p = np.exp(start + (end - start) * (place / (number << HALVINGS)))
    delay, slope = beside_the_line(wake[0], wake[1], p * air.reduced)
    late, flow = slope * p * air.reduced, air.speed * air.speed
    for i in range(3):
        for j in range(3):
            behind = p * air.speed * air.wake_damping[i, j] + flow * air.wake_stiffness[i, j]
            linear = p * air.speed * (air.damping[i, j] + delay * air.wake_damping[i, j])
            places.air[place, i, j] = linear + flow * (air.stiffness[i, j] + delay * air.wake_stiffness[i, j])
            places.moved[place, i, j] = linear + late * behind
    places.square[place], places.known[place] = p * p, True
