"""Roots at a given speed: the p-method, with C of the complex root, and the p-k method beside it.

The roots of a speed are found afresh: the wake is frozen at a guess, which leaves an eigenvalue problem;
what comes out is taken as the next guess, and finished by Newton on the true matrix. Following from
speed to speed only gives each root its number, by its tangent, in steps as short as it takes.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from hingeline.flutter.singular import Singular, refine_root
from hingeline.flutter.system import (
    AeroelasticSystem,
    ComplexArray,
    Wake,
    largest_semichord,
    merged,
    scaled,
    stiffness_with_damping,
    whole_mass,
)
from hingeline.flutter.which_way import CompiledLoops

FIRST_REDUCED = (0.02j, 0.3j, 3j)
ROUNDS = 4
OSCILLATES = 0.02
SAME = 1e-8
SHORTEST_STEP = 1e-5


def frozen_roots(system: AeroelasticSystem, speed: float, wake: Wake, at: complex) -> ComplexArray:
    """Give the roots with Im p > 0 when the wake is held at C of one root.

    Parameters
    ----------
    system : AeroelasticSystem
    speed : float
        [m/s]
    wake : callable
    at : complex
        The root at which C is read [1/s].

    Returns
    -------
    array
        [1/s]
    """
    linear, constant = _frozen(system, speed, wake, at)
    size = len(system.mass)
    inverse = np.linalg.inv(whole_mass(system))
    companion = np.zeros((2 * size, 2 * size), dtype=complex)
    companion[:size, size:] = np.eye(size)
    companion[size:, :size] = -inverse @ constant
    companion[size:, size:] = -inverse @ linear
    found: ComplexArray = np.asarray(np.linalg.eigvals(companion), dtype=np.complex128)
    return found[found.imag > 0]


def _frozen(system: AeroelasticSystem, speed: float, wake: Wake, at: complex) -> tuple[ComplexArray, ComplexArray]:
    """Give the factors of p and of 1 with C held."""
    linear = (system.damping + speed * system.air_damping).astype(complex)
    constant = stiffness_with_damping(system) + speed**2 * system.air_stiffness
    for group in system.wakes:
        delayed = complex(wake(at * group.semichord / speed))
        linear = linear + speed * delayed * group.damping
        constant = constant + speed**2 * delayed * group.stiffness
    return linear, constant


def find_roots(system: AeroelasticSystem, speed: float, wake: Wake) -> tuple[Singular, ...]:
    """Find the oscillating roots at one speed: the p-method.

    Parameters
    ----------
    system : AeroelasticSystem
    speed : float
        True airspeed [m/s].
    wake : callable
        Exact for growing and dying motion too.

    Returns
    -------
    tuple of Singular
        By Im p; those with Im p > 0.02 |p|. How many grow is proved by ``counting``, not here.

    Notes
    -----
    det A(p, U) = 0 with C(p b/U): common practice ("p-method").
    """
    plain, unit = scaled(merged(system))
    chord = largest_semichord(plain)
    starts = [one for at in FIRST_REDUCED for one in frozen_roots(plain, speed, wake, at * speed / chord)]
    found: list[Singular] = []
    for start in starts:
        root = refine_root(plain, _nearer(plain, complex(start), speed, wake), speed, wake)
        if root is not None and root.p.imag > OSCILLATES * abs(root.p) and not _had(found, root):
            found.append(root)
    found.sort(key=lambda root: root.p.imag)
    return tuple(Singular(one.p, speed, one.right * unit, one.left * unit, one.drift) for one in found)


def _had(found: list[Singular], root: Singular) -> bool:
    return any(abs(root.p - one.p) < SAME * abs(one.p) for one in found)


def _nearer(system: AeroelasticSystem, start: complex, speed: float, wake: Wake) -> complex:
    """Freeze the wake at the guess and take the nearest root, a few times."""
    for _ in range(ROUNDS):
        near = frozen_roots(system, speed, wake, start)
        if not len(near):
            break
        start = complex(near[np.abs(near - start).argmin()])
    return start


def assumed_root(system: AeroelasticSystem, start: complex, speed: float, wake: Wake) -> complex | None:
    """Find the root near a start by the p-k method: C is read at the frequency alone.

    Parameters
    ----------
    system : AeroelasticSystem
    start : complex
        [1/s]
    speed : float
        [m/s]
    wake : callable

    Returns
    -------
    complex or None
        Equal to the true root where that neither grows nor dies out, an approximation elsewhere; None if the
        rounds do not settle.

    Notes
    -----
    p-k method (Hassig 1971, from memory of the publication): p² (M + Ma) + p (...) + ... with C(i Im p b/U).
    """
    plain, _ = scaled(merged(system))
    root = before = start
    for _ in range(200):
        near = frozen_roots(plain, speed, wake, 1j * root.imag)
        if not len(near):
            return None
        before, root = root, complex(near[np.abs(near - root).argmin()])
        if abs(root - before) < 1e-13 * abs(root):
            return root
    return root if abs(root - before) < 1e-10 * abs(root) else None


def follow_root(system: AeroelasticSystem, root: Singular, speed: float, wake: Wake) -> Singular | None:
    """Follow one root to another speed by its tangent, in steps as short as it takes.

    Parameters
    ----------
    system : AeroelasticSystem
        The one the root belongs to.
    root : Singular
    speed : float
        [m/s]
    wake : callable

    Returns
    -------
    Singular or None
        None where it stops oscillating on the way, or cannot be followed.
    """
    step = speed - root.speed
    while root.speed != speed:
        to = speed if abs(speed - root.speed) <= abs(step) else root.speed + step
        guess = root.p + root.drift * (to - root.speed)
        then = refine_root(system, guess, to, wake) if guess.imag > 0 else None
        if then is None or abs(then.p - guess) > 0.02 * abs(then.p):
            step /= 2
            if abs(step) < SHORTEST_STEP * speed:
                return None
            continue
        if then.p.imag < OSCILLATES * abs(then.p):
            return None
        root, step = then, 1.5 * step
    return root


def roots_by_speed(
    system: AeroelasticSystem, speeds: Sequence[float], wake: Wake, loops: CompiledLoops | None = None
) -> tuple[dict[int, complex], ...]:
    """Give the roots at several speeds, each under the number of its mode.

    Parameters
    ----------
    system : AeroelasticSystem
    speeds : sequence of float
        Rising [m/s].
    wake : callable
    loops : CompiledLoops, optional
        From ``which_way``: the same answer, a thousand times sooner. The compiler's start costs as much as a few
        sweeps by NumPy, so that it pays for many of them only.

    Returns
    -------
    tuple of dict
        For each speed, root [1/s] by mode. Modes are numbered by frequency at the first speed, the highest
        is the number of freedoms; a mode that does not oscillate there is missing.
    """
    followed = None if loops is None else _by_loops(loops, system, speeds, wake)
    if followed is not None:
        return followed
    plain, _ = scaled(merged(system))
    size = len(system.freedoms)
    fresh = find_roots(plain, speeds[0], wake)
    now = {size - len(fresh) + 1 + index: root for index, root in enumerate(fresh[-size:])}
    result = [_values(now)]
    for speed in speeds[1:]:
        now = _next(plain, now, speed, wake)
        result.append(_values(now))
    return tuple(result)


def _by_loops(
    loops: CompiledLoops, system: AeroelasticSystem, speeds: Sequence[float], wake: Wake
) -> tuple[dict[int, complex], ...] | None:
    """Follow all roots in compiled loops; None where they do not take the model, or a root was lost."""
    plain = merged(system)
    if len(plain.wakes) != 1 or len(plain.mass) not in (2, 3) or not loops.take(wake):
        return None
    rows = loops.follow_roots(plain, speeds, wake)
    return None if rows is None else tuple(dict(enumerate(row, 1)) for row in rows.tolist())


def _values(roots: dict[int, Singular]) -> dict[int, complex]:
    return {number: root.p for number, root in sorted(roots.items())}


def _next(system: AeroelasticSystem, now: dict[int, Singular], speed: float, wake: Wake) -> dict[int, Singular]:
    """Follow every root; give a free number to one that appears."""
    then: dict[int, Singular] = {}
    for number, root in now.items():
        moved = follow_root(system, root, speed, wake)
        if moved is not None and not _had(list(then.values()), moved):
            then[number] = moved
    free = [number for number in range(1, len(system.freedoms) + 1) if number not in then]
    if free:
        new = [root for root in find_roots(system, speed, wake) if not _had(list(then.values()), root)]
        then.update(zip(free, new, strict=False))
    return then


def speed_of_zero_growth(system: AeroelasticSystem, near: Singular, wake: Wake) -> Singular | None:
    """Find the speed at which a complex root neither grows nor dies out: the second way to a neutral point.

    Parameters
    ----------
    system : AeroelasticSystem
    near : Singular
        A root beside the neutral point, such as one followed from elsewhere.
    wake : callable

    Returns
    -------
    Singular or None
        Root and speed with Re p = 0 to 1e-12 |p|; None if the rounds do not settle.
    """
    root = near
    for _ in range(30):
        if root.drift.real == 0 or not np.isfinite(root.drift):
            return None
        step = -root.p.real / root.drift.real
        if abs(step) > 0.2 * root.speed:
            return None
        then = refine_root(system, root.p + root.drift * step, root.speed + step, wake)
        if then is None:
            return None
        root = then
        if abs(step) < 1e-13 * root.speed:
            break
    return root if abs(root.p.real) < 1e-11 * abs(root.p) else None
