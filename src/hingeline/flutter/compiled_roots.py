"""Complex roots of two or three freedoms in compiled loops: all of them at one speed, and followed over many.

Newton on the determinant, by its logarithmic derivative d ln det A/dp = tr(A⁻¹ dA/dp). Nothing is proved here: what
does not settle on as many roots as there are freedoms, or is lost on the way, is handed back.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np

from hingeline.flutter.compiled_polynomial import divided, three_real
from hingeline.flutter.compiled_wake import beside_the_line, kind_of, table_of
from hingeline.flutter.compiling import compiled
from hingeline.flutter.stacks import Stack
from hingeline.flutter.system import (
    AeroelasticSystem,
    Array,
    ComplexArray,
    Wake,
    stiffness_with_damping,
    whole_mass,
)

STEPS, SETTLED, APART, ABOVE = 25, 1e-8, 1e-6, 1e-3
OSCILLATES, SAME, ASTRAY, SHORTEST_STEP = 0.02, 1e-8, 0.02, 1e-5
ROUNDS, DONE, LAST_STEP = 40, 1e-8, 0.3
AT_REST = 1e-3


class Matrices(NamedTuple):
    """One model's matrices, of three rows: a third one that does nothing where there are two freedoms."""

    mass: Array
    damping: Array
    stiffness: ComplexArray
    air_damping: Array
    air_stiffness: Array
    wake_damping: Array
    wake_stiffness: Array
    semichord: Any


@compiled
def _fill(m: Any, p: complex, speed: float, table: Any, kind: int, work: Any, both: bool) -> None:
    """Write down A, dA/dp and, if both are wanted, dA/dU."""
    delay, slope = beside_the_line(table, kind, p * m.semichord / speed)
    turn, flow = slope * m.semichord, speed * speed
    for i in range(len(m.mass)):
        for j in range(len(m.mass)):
            rate, angle = m.wake_damping[i, j], m.wake_stiffness[i, j]
            linear, held = m.air_damping[i, j] + delay * rate, m.air_stiffness[i, j] + delay * angle
            moved = turn * (p * rate + speed * angle)
            drag = m.damping[i, j] + speed * linear
            work[0, i, j] = p * (p * m.mass[i, j] + drag) + m.stiffness[i, j] + flow * held
            work[1, i, j] = 2 * p * m.mass[i, j] + drag + moved
            if both:
                work[2, i, j] = p * linear + 2 * speed * held - moved * p / speed


@compiled
def _by_root(m: Any, p: complex, speed: float, table: Any, kind: int, work: Any) -> complex:
    """Give d ln det A/dp."""
    _fill(m, p, speed, table, kind, work, False)
    return _trace(work[0], work[1])


@compiled
def _slopes(m: Any, p: complex, speed: float, table: Any, kind: int, work: Any) -> tuple[complex, complex]:
    """Give d ln det A/dp and d ln det A/dU."""
    _fill(m, p, speed, table, kind, work, True)
    a, by_root, by_speed = work[0], work[1], work[2]
    whole, root, flow = 0j, 0j, 0j
    for i in range(3):
        for j in range(3):
            r, s, u, v = (i + 1) % 3, (i + 2) % 3, (j + 1) % 3, (j + 2) % 3
            minor = a[r, u] * a[s, v] - a[r, v] * a[s, u]
            root, flow = root + minor * by_root[i, j], flow + minor * by_speed[i, j]
            if i == 0:
                whole += minor * a[i, j]
    return divided(root, whole), divided(flow, whole)


@compiled
def _trace(a: Any, b: Any) -> complex:
    """Give tr(A⁻¹ B), by the matrix of minors."""
    whole, part = 0j, 0j
    for i in range(3):
        for j in range(3):
            r, s, u, v = (i + 1) % 3, (i + 2) % 3, (j + 1) % 3, (j + 2) % 3
            minor = a[r, u] * a[s, v] - a[r, v] * a[s, u]
            part += minor * b[i, j]
            if i == 0:
                whole += minor * a[i, j]
    return divided(part, whole)


@compiled
def _still_air(m: Any, work: Any, roots: Any) -> None:
    """Write down the roots with the air's mass but without its forces, none of them quite at rest."""
    size = len(m.mass)
    work[1], work[2] = 0, 0
    work[2, 2, 2] = 1
    for i in range(size):
        for j in range(size):
            work[1, i, j], work[2, i, j] = m.stiffness[i, j].real, m.mass[i, j]
    one, other = _minors(work[1], work[2]), _minors(work[2], work[1])
    squares = three_real(-other[1] / other[0], one[1] / other[0], -one[0] / other[0])
    for mode in range(size):
        roots[mode] = 1j * np.sqrt(max(squares[3 - size + mode], AT_REST * squares[2]))


@compiled
def _minors(a: Any, b: Any) -> tuple[float, float]:
    """Give det A and the sum of A's minors times B."""
    whole, sum_of = 0.0, 0.0
    for i in range(3):
        for j in range(3):
            r, s, u, v = (i + 1) % 3, (i + 2) % 3, (j + 1) % 3, (j + 2) % 3
            minor = (a[r, u] * a[s, v] - a[r, v] * a[s, u]).real
            sum_of += minor * b[i, j].real
            if i == 0:
                whole += minor * a[i, j].real
    return whole, sum_of


@compiled
def _all_at(m: Any, speed: float, table: Any, kind: int, work: Any, roots: Any) -> bool:
    """Move guesses onto a root each (Aberth: each keeps off the others); say whether all settled, apart, above."""
    number = len(m.mass)
    for _ in range(STEPS):
        settled = True
        for mode in range(number):
            others = 0j
            for other in range(number):
                if other != mode:
                    others += divided(1, roots[mode] - roots[other])
            change = divided(1, _by_root(m, roots[mode], speed, table, kind, work) - others)
            size = np.sqrt(_squared(change) / _squared(roots[mode]))
            if not np.isfinite(size):
                return False
            roots[mode] -= change / max(1.0, 5 * size)
            root = roots[mode]
            settled = settled and size < SETTLED and root.imag > ABOVE * (abs(root.real) + abs(root.imag))
        if settled:
            return _apart(roots, APART)
    return False


@compiled
def _squared(z: complex) -> float:
    return z.real * z.real + z.imag * z.imag


@compiled
def _apart(roots: Any, part: float) -> bool:
    for one in range(len(roots)):
        for other in range(one):
            if not abs(roots[one] - roots[other]) > part * abs(roots[one]):
                return False
    return True


@compiled
def _workspace() -> Any:
    """Give room for A and two derivatives, with a row and column that does nothing."""
    work = np.zeros((3, 3, 3), dtype=np.complex128)
    work[0, 2, 2] = 1.0
    return work


@compiled
def _many(m: Any, speed: float, table: Any, kind: int, roots: Any, settled: Any) -> None:
    """Find the roots of many models at one speed."""
    work = _workspace()
    for sample in range(len(roots)):
        one = Matrices(
            m.mass[sample], m.damping[sample], m.stiffness[sample], m.air_damping[sample], m.air_stiffness[sample],
            m.wake_damping[sample], m.wake_stiffness[sample], m.semichord[sample],
        )  # fmt: skip
        _still_air(one, work, roots[sample])
        settled[sample] = _all_at(one, speed, table, kind, work, roots[sample])


def roots_of_many(stack: Stack, speed: float, wake: Wake) -> tuple[ComplexArray, Any]:
    """Find a root for each freedom of each sample.

    Parameters
    ----------
    stack : Stack
    speed : float
        [m/s]
    wake : callable
        One of ``wake``.

    Returns
    -------
    array (s, n)
        [1/s]
    array of bool (s,)
        Whether they settled on as many different roots as there are freedoms.
    """
    size = len(stack.mass)
    roots, settled = np.zeros(stack.mass.shape[:2], dtype=np.complex128), np.zeros(size, dtype=np.bool_)
    still = np.broadcast_to(np.zeros(stack.mass.shape[1:]), stack.mass.shape)
    matrices = Matrices(
        stack.mass, still, stack.stiffness.astype(np.complex128), stack.air_damping, stack.air_stiffness,
        stack.wake_damping, stack.wake_stiffness, stack.semichord,
    )  # fmt: skip
    _many(matrices, float(speed), table_of(wake), kind_of(wake), roots, settled)
    return roots, settled


@compiled
def _sweep(m: Any, speeds: Any, table: Any, kind: int, rows: Any) -> bool:
    """Follow every root over rising speeds; say whether none was lost."""
    work, number = _workspace(), rows.shape[1]
    _still_air(m, work, rows[0])
    if not _all_at(m, speeds[0], table, kind, work, rows[0]) or not _swings(rows[0]):
        return False
    rows[0] = rows[0][np.argsort(rows[0].imag)]
    for mode in range(number):
        root, step, bend = rows[0, mode], np.inf, 0j
        drift = _drift(m, root, speeds[0], table, kind, work)
        for index in range(1, len(speeds)):
            root, drift, step, bend = _followed(
                m, root, drift, step, bend, speeds[index - 1], speeds[index], table, kind, work
            )
            if step == 0:
                return False
            rows[index, mode] = root
    good = True
    for row in rows:
        good = good and _swings(row) and _apart(row, SAME)
    return good


@compiled
def _swings(roots: Any) -> bool:
    good = True
    for root in roots:
        good = good and root.imag >= OSCILLATES * abs(root)
    return good


@compiled
def _drift(m: Any, p: complex, speed: float, table: Any, kind: int, work: Any) -> complex:
    by_root, by_speed = _slopes(m, p, speed, table, kind, work)
    return divided(-by_speed, by_root)


@compiled
def _followed(
    m: Any, root: complex, drift: complex, step: float, bent: complex, start: float, end: float, table: Any,
    kind: int, work: Any,
) -> tuple[complex, complex, float, complex]:  # fmt: skip
    """Follow one root to another speed by its bent tangent; give root, drift, last step (0: lost) and bend."""
    speed, step, bend = start, min(step, end - start), bent
    while speed < end:
        to = end if end - speed <= step else speed + step
        guess = root + (drift + bend * (to - speed)) * (to - speed)
        then, slope = _newton(m, guess, to, table, kind, work)
        if slope == 0 or abs(then - guess) > ASTRAY * abs(then):
            step /= 2
            if step < SHORTEST_STEP * end:
                return root, drift, 0.0, bend
            continue
        if then.imag < OSCILLATES * abs(then):
            return root, drift, 0.0, bend
        # Half of how the drift changed: the tangent bends on as it did.
        bend = (slope - drift) / (2 * (to - speed))
        root, drift, speed, step = then, slope, to, 1.5 * step
    return root, drift, step, bend


@compiled
def _newton(m: Any, guess: complex, speed: float, table: Any, kind: int, work: Any) -> tuple[complex, complex]:
    """Find the root near a guess, and its drift dp/dU; a drift of 0 where it does not settle."""
    p = guess
    for _ in range(ROUNDS):
        by_root, by_speed = _slopes(m, p, speed, table, kind, work)
        change = divided(1, by_root)
        size = abs(change) / abs(p)
        if not size < LAST_STEP or p.imag <= 0:
            return p, 0j
        p -= change
        if size < DONE:
            return p, divided(-by_speed, by_root)
    return p, 0j


def follow_roots(system: AeroelasticSystem, speeds: Sequence[float], wake: Wake) -> ComplexArray | None:
    """Follow the roots of one model over rising speeds.

    Parameters
    ----------
    system : AeroelasticSystem
        Two or three freedoms, one wake group.
    speeds : sequence of float
        [m/s]
    wake : callable
        One of ``wake``.

    Returns
    -------
    array (speeds, n) or None
        By frequency at the first speed [1/s]; None where a root was lost, stopped swinging or met another one.
    """
    (group,) = system.wakes
    matrices = Matrices(
        whole_mass(system), system.damping, stiffness_with_damping(system), system.air_damping, system.air_stiffness,
        group.damping, group.stiffness, float(group.semichord),
    )  # fmt: skip
    rows = np.zeros((len(speeds), len(system.mass)), dtype=np.complex128)
    done = _sweep(matrices, np.asarray(speeds, dtype=np.float64), table_of(wake), kind_of(wake), rows)
    return rows if done else None
