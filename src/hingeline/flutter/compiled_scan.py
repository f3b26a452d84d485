"""The fast scan of one sample after another as compiled loops: what ``fast_scan`` does, by the same rules.

What rounding alone could move by a part in 10^12, and what does not fit into the space set aside,
is handed back to it. So an answer does not depend on which way was taken.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from hingeline.flutter.compiled_polynomial import (
    at_square,
    coefficients_at,
    divided,
    every_root,
    resultant_at,
    resultants,
)
from hingeline.flutter.compiled_wake import HIGHEST, LOWEST, along_the_line, kind_of, table_of
from hingeline.flutter.compiling import compiled
from hingeline.flutter.determinants import Determinants
from hingeline.flutter.scan_rules import Rules
from hingeline.flutter.system import Array, ComplexArray, Wake

MOST_POINTS, MOST_WINDOWS, MOST_CELLS, MOST_FINE = 16, 128, 64, 19
HANDED_BACK = -1
ROUNDING, TOO_UNSURE = 2.5e-16, 1e-12
"""Of each term of the determinant; and of z or ln k: what is less sure is handed back."""


class Space(NamedTuple):
    """Room to work in, for one sample after the other."""

    rows: Array
    measure: Array
    places: Array
    fine: Array
    wake: Array
    windows: Array
    cells: Array
    coefficients: ComplexArray
    roots: ComplexArray


def _space(grid: int) -> Space:
    return Space(
        np.empty((4, 4, grid)), np.empty(grid), np.empty(MOST_FINE), np.empty(MOST_FINE), np.empty((3, MOST_FINE)),
        np.empty((2, MOST_WINDOWS, 3)), np.empty((MOST_CELLS, 2)),
        np.empty((3, 4), dtype=np.complex128), np.empty(3, dtype=np.complex128),
    )  # fmt: skip


def take(wake: Wake, logs: Array | None = None) -> bool:
    """Say whether the loops know this wake function, and all of these ln k."""
    known = kind_of(wake) >= 0
    return known and (logs is None or bool(logs[0] - 1 > np.log(LOWEST) and logs[-1] + 1 < np.log(HIGHEST)))


def scan_samples(
    whole: Determinants, free: int, logs: Array, speeds: tuple[float, float], wake: Wake, rules: Rules
) -> tuple[Any, Any, Any]:
    """Find the neutral points of samples of which equally many motions are free.

    Parameters
    ----------
    whole : Determinants
    free : int
        Powers of z that every sample lacks.
    logs : array
        The grid of ln k.
    speeds : (float, float)
        Speeds beyond which nothing is kept [m/s].
    wake : callable
        One of ``wake``.
    rules : Rules

    Returns
    -------
    array (s,)
        How many points; -1 where the sample is handed back.
    array (s, 16, 2)
        Speed [m/s] and frequency [rad/s] of each.
    array of bool (s, 16)
        Whether a motion goes into growth there.
    """
    values = np.ascontiguousarray(whole.values.transpose(3, 0, 1, 2))
    k = np.exp(logs)
    delay = np.asarray(wake(1j * k))
    grid = np.ascontiguousarray(np.stack([1 / k, delay.real, delay.imag]))
    size = values.shape[0]
    counts, points = np.zeros(size, dtype=np.int64), np.zeros((size, MOST_POINTS, 2))
    into = np.zeros((size, MOST_POINTS), dtype=np.bool_)
    real = np.ascontiguousarray(values.real)
    turned = np.ascontiguousarray(values.imag) if np.iscomplexobj(values) else real[:0]
    _scan(
        real, turned, free, np.stack([whole.unit, whole.semichord]), logs, grid, table_of(wake),
        (float(speeds[0]), float(speeds[1])), rules, _space(len(logs)), (counts, points, into),
    )  # fmt: skip
    return counts, points, into


@compiled
def _scan(
    real: Any, turned: Any, free: int, units: Any, logs: Any, grid: Any, table: Any, speeds: Any, rules: Any,
    space: Any, found: Any,
) -> None:  # fmt: skip
    """Scan every sample."""
    counts, points, into = found
    for sample in range(len(real)):
        values = (real[sample], turned[sample] if len(turned) else turned[:0].reshape(0, real.shape[2], 7))
        resultants(values, free, grid, space.rows, space.measure)
        number = _cells(values, free, logs, table, rules, space)
        kept = 0
        for cell in range(number):
            low, high = space.cells[cell]
            log = _zero(values, free, low, high, table, rules)
            place = _refined(values, free, log, units[:, sample], table, speeds, rules, space)
            if place.kept < 0 or kept == MOST_POINTS:
                kept = HANDED_BACK
                break
            if place.kept:
                points[sample, kept, 0], points[sample, kept, 1] = place.speed, place.frequency
                into[sample, kept] = place.into
                kept += 1
        counts[sample] = HANDED_BACK if number < 0 else kept


@compiled
def _cells(values: Any, free: int, logs: Any, table: Any, rules: Any, space: Any) -> int:
    """Write down every cell of ln k in which R changes its sign, hidden ones too; give how many, or -1."""
    measure, number = space.measure, 0
    windows = _suspects(measure, logs, len(logs), rules, space.windows[0], 0)
    number = _look_closer(values, free, table, rules, space, windows, rules.closer, number)
    beside = 0
    for place in range(len(logs) - 1):
        # Most cells change nothing: they are passed by without a call.
        if (measure[place] < 0) != (measure[place + 1] < 0):
            if number < 0 or number == MOST_CELLS or beside == MOST_WINDOWS:
                return HANDED_BACK
            space.cells[number, 0], space.cells[number, 1] = logs[place], logs[place + 1]
            space.windows[0, beside, 0] = (logs[place] + logs[place + 1]) / 2
            space.windows[0, beside, 1] = 1.5 * (logs[1] - logs[0])
            space.windows[0, beside, 2] = sum([_changes(measure, place + step, len(logs)) for step in (-1, 0, 1)])
            number, beside = number + 1, beside + 1
    return _look_closer(values, free, table, rules, space, beside, 2 * rules.closer + 1, number)


@compiled
def _changes(measure: Any, place: int, size: int) -> int:
    """Say by 1 or 0 whether the sign changes from a place to the next."""
    return int(0 <= place < size - 1 and (measure[place] < 0) != (measure[place + 1] < 0))


@compiled
def _look_closer(
    values: Any, free: int, table: Any, rules: Any, space: Any, windows: int, points: int, number: int
) -> int:
    """Look at windows, and at those that this opens; write down the cells found; give how many in all, or -1."""
    now, then = 0, 1
    for _ in range(rules.looks):
        opened = 0
        for index in range(windows):
            if number < 0 or opened < 0:
                return HANDED_BACK
            middle, half, known = space.windows[now, index]
            for point in range(points):
                space.places[point] = middle + half * (2.0 * point / (points - 1) - 1.0)
            _measure(values, free, table, space, points)
            number = _new_cells(space, points, known, number)
            opened = _suspects(space.fine, space.places, points, rules, space.windows[then], opened)
        windows, points, now, then = opened, rules.closer, then, now
        if windows <= 0:
            break
    return HANDED_BACK if windows < 0 else number


@compiled
def _measure(values: Any, free: int, table: Any, space: Any, points: int) -> None:
    """Compute R at the places of a window."""
    along_the_line(table, space.places[:points], space.wake[:, :points])
    resultants(values, free, space.wake[:, :points], space.rows, space.fine[:points])


@compiled
def _new_cells(space: Any, points: int, known: float, number: int) -> int:
    """Write down the cells of a window that has more changes of sign than were known."""
    changes, fine = 0, space.fine
    for place in range(points - 1):
        if (fine[place] < 0) != (fine[place + 1] < 0):
            changes += 1
    if changes <= known or number < 0:
        return number
    for place in range(points - 1):
        if (fine[place] < 0) != (fine[place + 1] < 0):
            if number == MOST_CELLS:
                return HANDED_BACK
            space.cells[number, 0], space.cells[number, 1] = space.places[place], space.places[place + 1]
            number += 1
    return number


@compiled
def _suspects(measure: Any, places: Any, size: int, rules: Any, windows: Any, number: int) -> int:
    """Open windows in which a pair of zeros may hide; give how many there are then, or -1."""
    step = places[1] - places[0]
    for place in range(1, size - 1):
        if number < 0 or number + 2 > MOST_WINDOWS:
            return HANDED_BACK
        negative = measure[place] < 0
        if (measure[place - 1] < 0) != negative or (measure[place + 1] < 0) != negative:
            continue
        left, middle, right = abs(measure[place - 1]), abs(measure[place]), abs(measure[place + 1])
        if middle <= left and middle <= right and _may_touch(left, middle, right, rules):
            windows[number, 0], windows[number, 1], windows[number, 2] = places[place], step, 0.0
            number += 1
        after = measure[min(place + 2, size - 1)]
        inner = place + 2 < size and (after < 0) == negative
        if inner and _falls_into(left, middle, right, abs(after), rules):
            windows[number, 0] = (places[place] + places[place + 1]) / 2
            windows[number, 1], windows[number, 2] = step / 2, 0.0
            number += 1
    return number


@compiled
def _may_touch(left: float, middle: float, right: float, rules: Rules) -> bool:
    bend, slope = (left + right - 2 * middle) / 2, (right - left) / 2
    lower = bend > 0 and slope**2 > 4 * bend * (1 - rules.may_touch) * middle
    return lower or min(left, right) > rules.sharp * middle


@compiled
def _falls_into(before: float, left: float, right: float, after: float, rules: Rules) -> bool:
    falling, rising = before - left, after - right
    low = False
    # Where neither line falls so far within the cell they cannot meet so low: that spares most cells the division.
    if falling > (1 - rules.falls) * left and rising > (1 - rules.falls) * right:
        at = (left - right + rising) / (falling + rising)
        low = 0 < at < 1 and left - falling * at < min(left, right) * rules.falls
    return low or before > rules.steep * left or after > rules.steep * right


@compiled
def _zero(values: Any, free: int, low: float, high: float, table: Any, rules: Any) -> float:
    """Find where R is zero in a cell, by inverse parabolas where they can be trusted, else by halving.

    Source: Chandrupatla, A new hybrid quadratic/bisection algorithm, Adv. Eng. Software 28 (1997), from memory.
    """
    a, b, part = low, high, 0.5
    at_a, at_b = resultant_at(values, free, a, table), resultant_at(values, free, b, table)
    for _ in range(rules.chords):
        place = a + part * (b - a)
        value = resultant_at(values, free, place, table)
        if (value < 0) == (at_a < 0):
            c, at_c = a, at_a
        else:
            c, at_c, b, at_b = b, at_b, a, at_a
        a, at_a = place, value
        if value == 0 or abs(b - a) <= rules.near:
            break
        least = 0.5 * rules.near / abs(b - a)
        part = min(max(_part(a, b, c, at_a, at_b, at_c), least), 1 - least)
    return a if abs(at_a) < abs(at_b) else b


@compiled
def _part(a: float, b: float, c: float, at_a: float, at_b: float, at_c: float) -> float:
    """Give where between a and b to look next, as a part."""
    x, y = (a - b) / (c - b), (at_a - at_b) / (at_c - at_b)
    if not (1 - np.sqrt(1 - x) < y < np.sqrt(x)):
        return 0.5
    return at_a / (at_b - at_a) * at_c / (at_b - at_c) + (c - a) / (b - a) * at_a / (at_c - at_a) * at_b / (at_c - at_b)


class Place(NamedTuple):
    """A refined point; kept is 0 for one out of range or not settled, -1 for one to be handed back."""

    kept: int
    speed: float
    frequency: float
    into: bool


@compiled
def _refined(values: Any, free: int, log: float, units: Any, table: Any, speeds: Any, rules: Any, space: Any) -> Place:
    """Refine by Newton on the determinant, and say which way the point is crossed."""
    nothing, start = Place(0, 0.0, 0.0, False), log
    square = _shared_root(values, free, log, table, space)
    speed = np.sqrt(max(square, 0.0) * units[0]) * units[1] / np.exp(log)
    if not (square > 0 and speeds[0] < speed < speeds[1]):
        return nothing
    settled = False
    here = at_square(coefficients_at(values, free, log, table, space.coefficients), square + 0j)
    for _ in range(rules.steps):
        area = (here.by_square.conjugate() * here.by_log).imag
        more = -(here.value.conjugate() * here.by_log).imag / area
        further = (here.value.conjugate() * here.by_square).imag / area
        if not (np.isfinite(more) and np.isfinite(further)):
            return nothing
        square, log = square + more, log + min(max(further, -0.1), 0.1)
        settled = abs(more) < rules.settled * abs(square) and abs(further) < rules.settled
        if settled:
            break
        here = at_square(coefficients_at(values, free, log, table, space.coefficients), square + 0j)
    if not (settled and abs(log - start) < rules.close and square > 0):
        return nothing
    return _placed(here, square, log, units)


@compiled
def _placed(here: Any, square: float, log: float, units: Any) -> Place:
    """Say where a settled point lies, or that rounding could move it too far."""
    area = abs((here.by_square.conjugate() * here.by_log).imag)
    unsure = ROUNDING * here.size * (abs(here.by_log) / (2 * square) + abs(here.by_square)) / area
    frequency = np.sqrt(square * units[0])
    growth = divided(here.by_log, 2 * square * here.by_square + here.by_log)
    return Place(1 if unsure < TOO_UNSURE else HANDED_BACK, frequency * units[1] / np.exp(log), frequency,
                 growth.imag < 0)  # fmt: skip


@compiled
def _shared_root(values: Any, free: int, log: float, table: Any, space: Any) -> float:
    """Give the z that real and imaginary part share: the one that needs the least step of ln k to become real."""
    best, least, given = np.nan, np.inf, coefficients_at(values, free, log, table, space.coefficients)
    for root in every_root(given[0], space.roots):
        here = at_square(given, root)
        needed = abs(root.imag / divided(here.by_log, here.by_square).imag)
        if needed < least or best != best:
            best, least = root.real, needed
    return best
