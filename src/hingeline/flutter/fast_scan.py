"""All neutral points of thousands of small systems, by one real function of the reduced frequency.

At a reduced frequency k the determinant is a polynomial in z = ω² with complex coefficients. A neutral
point needs a real z: real and imaginary part must share a root, and their resultant

    R(k) = det of Bézout's matrix of Re P and Im P

changes its sign there. No eigenvectors, no modes to follow. Two crossings within one cell leave no change of
sign; so wherever |R| has a least value that may reach zero the cell is looked at more closely. Each point found
is then refined on the determinant by Newton. That none was missed is shown by the tests on thousands of
wide random strips, not by the scan itself.

Source: elimination (Bézout, Sylvester; common practice, no source), own derivation for flutter.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

import numpy as np

from hingeline.flutter.determinants import Coefficients, Determinants, local
from hingeline.flutter.scan_rules import RULES
from hingeline.flutter.system import Array, Wake
from hingeline.flutter.wake import slope_of
from hingeline.flutter.which_way import CompiledLoops

LOWEST_REDUCED_FREQUENCY = 1e-5
POINTS_A_DECADE = 40
SAME = 1e-7
FAR = 2.0

Indices = np.ndarray[Any, np.dtype[np.int64]]
Flags = np.ndarray[Any, np.dtype[np.bool_]]


@dataclass(frozen=True, slots=True)
class Crossings:
    """Neutral points of many samples, by sample and speed.

    Parameters
    ----------
    sample : array of int
    speed, angular_frequency : array
        [m/s], [rad/s]
    into : array of bool
        A motion goes into growth there with rising speed.
    """

    sample: Indices
    speed: Array
    angular_frequency: Array
    into: Flags


def scan(whole: Determinants, speeds: tuple[float, float], wake: Wake, loops: CompiledLoops | None = None) -> Crossings:
    """Find the neutral points of many systems.

    Parameters
    ----------
    whole : Determinants
    speeds : (float, float)
        Range [m/s].
    wake : callable
    loops : CompiledLoops, optional
        From ``which_way``: the same answer, sooner.

    Returns
    -------
    Crossings
    """
    free = whole.free
    parts = []
    for number in range(3):
        (index,) = np.nonzero(free == number)
        if len(index):
            part = whole.chosen(index)
            logs = _grid(part, speeds[0])
            found, sample = _points(part, number, logs, speeds, wake, loops)
            parts.append(_kept(found, index[sample], speeds))
    return _in_order(parts)


def _points(
    whole: Determinants, free: int, logs: Array, speeds: tuple[float, float], wake: Wake, loops: CompiledLoops | None
) -> tuple[_Found, Indices]:
    """Scan samples of which equally many motions are free; what the compiled loops hand back goes the other way."""
    if loops is None or not loops.take(wake, logs):
        return _scanned(whole, free, logs, speeds, wake)
    counts, points, into = loops.scan_samples(whole, free, logs, (speeds[0] / FAR, speeds[1] * FAR), wake, RULES)
    filled = np.arange(points.shape[1]) < counts[:, None]
    sample = np.nonzero(filled)[0]
    found = _Found(points[filled][:, 1], points[filled][:, 0], into[filled], np.ones(len(sample), dtype=bool))
    (back,) = np.nonzero(counts < 0)
    if not len(back):
        return found, sample
    other, again = _scanned(whole.chosen(back), free, logs, speeds, wake)
    joined = (np.concatenate([getattr(found, one.name), getattr(other, one.name)]) for one in fields(_Found))
    return _Found(*joined), np.concatenate([sample, back[again]])


def _in_order(parts: list[Crossings]) -> Crossings:
    joined = [np.concatenate([getattr(one, field.name) for one in parts]) for field in fields(Crossings)]
    order = np.lexsort((joined[1], joined[0]))
    return Crossings(*(values[order] for values in joined))


def _scanned(
    whole: Determinants, free: int, logs: Array, speeds: tuple[float, float], wake: Wake
) -> tuple[_Found, Indices]:
    """Scan samples of which equally many motions are free."""
    k = np.exp(logs)
    measure = _resultant(*whole.on_grid(1j / k, wake(1j * k)), free)
    negative = measure < 0
    place, sample = np.nonzero(negative[1:] != negative[:-1])
    low, high = logs[place], logs[place + 1]
    more = _hidden(whole, free, measure, logs, wake)
    sample, low, high = (np.concatenate(pair) for pair in zip((sample, low, high), more, strict=True))
    logs = _zeros(whole.chosen(sample), free, low, high, wake)
    square = _shared_root(whole.chosen(sample), free, logs, wake)
    speed = np.sqrt(np.maximum(square, 0.0)) * whole.semichord[sample] / np.exp(logs)
    keep = (square > 0) & (speed > speeds[0] / FAR) & (speed < speeds[1] * FAR)
    return _refined(whole.chosen(sample[keep]), free, logs[keep], square[keep], wake), sample[keep]


def _grid(whole: Determinants, lowest: float) -> Array:
    """Give ln k up to where every motion is slower than the range."""
    still = whole.values[:, 0, 0].real
    with np.errstate(divide="ignore", invalid="ignore"):
        largest = 1 + np.nanmax(np.abs(still[:-1] / still[-1]), axis=0)
    highest = 4 * float((np.sqrt(largest * whole.unit) * whole.semichord).max()) / lowest
    start, end = np.log10(LOWEST_REDUCED_FREQUENCY), np.log10(max(highest, 1.0))
    return np.asarray(np.linspace(start, end, int(POINTS_A_DECADE * (end - start)) + 2) * np.log(10.0))


def _brackets(a: Any, b: Any) -> list[Any]:
    """Give a_i b_j - a_j b_i for (1, 0), (2, 0), (3, 0), (2, 1), (3, 1), (3, 2)."""
    return [a[i] * b[j] - a[j] * b[i] for i, j in ((1, 0), (2, 0), (3, 0), (2, 1), (3, 1), (3, 2))]


def _resultant(a: Any, b: Any, free: int) -> Any:
    """Give R of Re P and Im P, of whose lowest powers so many are missing."""
    if free == 2:
        return a[3] * b[2] - a[2] * b[3]
    if free == 1:
        d21, d31, d32 = (a[i] * b[j] - a[j] * b[i] for i, j in ((2, 1), (3, 1), (3, 2)))
        return d21 * d32 - d31 * d31
    d10, d20, d30, d21, d31, d32 = _brackets(a, b)
    middle = d30 + d21
    return d10 * (middle * d32 - d31 * d31) - d20 * (d20 * d32 - d31 * d30) + d30 * (d20 * d31 - middle * d30)


def _coefficients(whole: Determinants, logs: Array, wake: Wake) -> Coefficients:
    k = np.exp(logs)
    return whole.by_power(1j / k, np.asarray(wake(1j * k)))


def _shared_root(whole: Determinants, free: int, logs: Array, wake: Wake) -> Array:
    """Give the z that real and imaginary part share at a zero of R [rad²/s²].

    Of the polynomial's roots it is the one that needs the least step of ln k to become real: of lightly damped
    motions all roots are nearly real.
    """
    given = _coefficients(whole, logs, wake)[free:]
    degree = len(given) - 1
    companion = np.zeros((len(logs), degree, degree), dtype=complex)
    companion[:, 1:, :-1] = np.eye(degree - 1)
    companion[:, :, -1] = -(given[:-1] / given[-1]).T
    roots = np.linalg.eigvals(companion).T
    reduced = 1j * np.exp(logs)
    delay, slope = wake(reduced), slope_of(wake)(reduced)
    steps = []
    with np.errstate(divide="ignore", invalid="ignore"):
        for root in roots:
            here = local(whole, free, root, -1 / reduced, delay)
            by_log = -(here.by_place / reduced + here.by_wake * slope * reduced) / here.by_square
            steps.append(np.nan_to_num(np.abs(root.imag / by_log.imag), nan=np.inf))
    nearest = np.argmin(steps, axis=0)
    return np.asarray(roots.real[nearest, np.arange(len(logs))] * whole.unit)


@dataclass(frozen=True, slots=True)
class _Windows:
    """Stretches of ln k to look at more closely: which sample, the middle, half the width, zeros known in it."""

    sample: Indices
    middle: Array
    half: Array
    known: Indices

    def with_points(self, points: int) -> Array:
        """Give evenly spaced places in each."""
        return self.middle[:, None] + self.half[:, None] * np.linspace(-1, 1, points)


def _hidden(whole: Determinants, free: int, measure: Array, logs: Array, wake: Wake) -> tuple[Indices, Array, Array]:
    """Find zeros that hide: look closer where |R| may touch zero, and beside each change of sign."""
    suspects, beside = _suspects(measure, logs[:, None]), _beside(measure, logs)
    found = [(suspects.sample[:0], suspects.middle[:0], suspects.middle[:0])]
    for windows, points in ((suspects, RULES.closer), (beside, 2 * RULES.closer + 1)):
        for look in range(RULES.looks):
            if not len(windows.sample):
                break
            new, windows = _looked_at(whole, free, windows, RULES.closer if look else points, wake)
            found.append(new)
    return tuple(np.concatenate(column) for column in zip(*found, strict=True))  # type: ignore[return-value]


def _beside(measure: Array, logs: Array) -> _Windows:
    """Give the cells with a change of sign, their neighbours included."""
    changes = ((measure[1:] < 0) != (measure[:-1] < 0)).astype(np.int64)
    place, sample = np.nonzero(changes)
    known = np.pad(changes, ((1, 1), (0, 0)))
    known = known[:-2] + known[1:-1] + known[2:]
    half = np.full(len(place), 1.5 * (logs[1] - logs[0]))
    return _Windows(sample, (logs[place] + logs[place + 1]) / 2, half, known[place, sample])


def _looked_at(
    whole: Determinants, free: int, windows: _Windows, points: int, wake: Wake
) -> tuple[tuple[Indices, Array, Array], _Windows]:
    """Give the cells of the windows with more changes of sign than known, and the windows to look at next."""
    places = windows.with_points(points)
    given = _coefficients(whole.chosen(np.repeat(windows.sample, points)), places.ravel(), wake)
    fine = _resultant(given.real, given.imag, free).reshape(places.shape)
    changes = (fine[:, 1:] < 0) != (fine[:, :-1] < 0)
    changes &= (changes.sum(axis=1) > windows.known)[:, None]
    row, at = np.nonzero(changes)
    cells = (windows.sample[row], places[row, at], places[row, at + 1])
    again = _suspects(fine.T, places.T)
    return cells, _Windows(windows.sample[again.sample], again.middle, again.half, again.known)


def _suspects(measure: Array, places: Array) -> _Windows:
    """Give windows in which a pair of zeros may hide: about a least |R|, and in a cell that |R| falls steeply into."""
    size, negative = np.abs(measure), measure < 0
    places = np.broadcast_to(places, size.shape)
    same = negative[1:] == negative[:-1]
    least, sample = np.nonzero(
        same[:-1] & same[1:] & (size[1:-1] <= size[:-2]) & (size[1:-1] <= size[2:]) & _may_touch(size)
    )
    cell, other = np.nonzero(same[:-2] & same[1:-1] & same[2:] & _falls_into(size))
    step = places[1] - places[0]
    middle = (places[cell + 1, other] + places[cell + 2, other]) / 2
    return _Windows(
        np.concatenate([sample, other]),
        np.concatenate([places[least + 1, sample], middle]),
        np.concatenate([step[sample], step[other] / 2]),
        np.zeros(len(sample) + len(other), dtype=np.int64),
    )


def _may_touch(size: Array) -> Flags:
    """Say where three neighbouring |R| leave it open: the middle one is small, or their parabola goes much lower."""
    left, middle, right = size[:-2], size[1:-1], size[2:]
    bend, slope = (left + right - 2 * middle) / 2, (right - left) / 2
    lower = (bend > 0) & (slope**2 > 4 * bend * (1 - RULES.may_touch) * middle)
    return np.asarray(lower | (np.minimum(left, right) > RULES.sharp * middle))


def _falls_into(size: Array) -> Flags:
    """Say of each inner cell whether the lines through its neighbours meet low in it, or |R| falls steeply into it."""
    before, left, right, after = size[:-3], size[1:-2], size[2:-1], size[3:]
    falling, rising = before - left, after - right
    # Left line: left - falling t; right line: right - rising (1 - t). They meet at the t where both are equal.
    total = falling + rising
    with np.errstate(divide="ignore", invalid="ignore"):
        at = (left - right + rising) / total
        value = left - falling * at
    low = (total > 0) & (at > 0) & (at < 1) & (value < np.minimum(left, right) * RULES.falls)
    return np.asarray(low | (before > RULES.steep * left) | (after > RULES.steep * right))


@dataclass(frozen=True, slots=True)
class _Found:
    """Refined points of chosen samples, and which of them settled within their cells."""

    angular_frequency: Array
    speed: Array
    into: Flags
    good: Flags


def _refined(whole: Determinants, free: int, logs: Array, square: Array, wake: Wake) -> _Found:
    """Refine by Newton on the determinant, and say which way each point is crossed."""
    logs, square, good = _newton(whole, free, logs, square / whole.unit, wake)
    k, scaled_square = np.exp(logs), np.where(good, square, 1.0)
    frequency = np.sqrt(scaled_square * whole.unit)
    speed = frequency * whole.semichord / k
    reduced = 1j * k
    here = local(whole, free, scaled_square, 1j / k, wake(reduced))
    p, b, slope = 1j * frequency, whole.semichord, slope_of(wake)(reduced)
    by_root = -2 * p * here.by_square / whole.unit
    by_root = by_root + here.by_place * speed / (p * p * b) + here.by_wake * slope * b / speed
    by_speed = -here.by_place / (p * b) - here.by_wake * slope * p * b / speed**2
    return _Found(frequency, speed, (-by_speed / by_root).real > 0, good)


def _zeros(whole: Determinants, free: int, low: Array, high: Array, wake: Wake) -> Array:
    """Find where R is zero between two places of different sign: the chord, the stuck end halved (Illinois)."""

    def measured(places: Array, part: Determinants) -> Array:
        given = _coefficients(part, places, wake)
        return np.asarray(_resultant(given.real, given.imag, free))

    at_low, at_high = measured(low, whole), measured(high, whole)
    best = (low + high) / 2
    active = np.arange(len(low))
    for _ in range(RULES.chords):
        a, b, fa, fb = low[active], high[active], at_low[active], at_high[active]
        with np.errstate(divide="ignore", invalid="ignore"):
            place = np.nan_to_num((a * fb - b * fa) / (fb - fa), nan=0.0)
        place = np.where((place > a) & (place < b), place, (a + b) / 2)
        value = measured(place, whole.chosen(active))
        left = (value < 0) == (fa < 0)
        moved = np.abs(place - best[active])
        low[active], at_low[active] = np.where(left, place, a), np.where(left, value, fa / 2)
        high[active], at_high[active] = np.where(left, b, place), np.where(left, fb / 2, value)
        best[active] = place
        active = active[(moved > RULES.near) & (value != 0)]
        if not len(active):
            break
    return best


def _newton(whole: Determinants, free: int, logs: Array, square: Array, wake: Wake) -> tuple[Array, Array, Flags]:
    """Solve P = 0 for a real z and ln k at once; say where it settled close to its start, on a positive z."""
    start, settled = logs, np.zeros(len(logs), dtype=bool)
    with np.errstate(all="ignore"):
        for _ in range(RULES.steps):
            reduced = 1j * np.exp(logs)
            here = local(whole, free, square, -1 / reduced, wake(reduced))
            by_log = here.by_place / reduced + here.by_wake * slope_of(wake)(reduced) * reduced
            area = (here.by_square.conj() * by_log).imag
            more_square = -(here.value.conj() * by_log).imag / area
            more_log = (here.value.conj() * here.by_square).imag / area
            moving = ~settled & np.isfinite(more_square) & np.isfinite(more_log)
            square = np.where(moving, square + more_square, square)
            logs = np.where(moving, logs + np.clip(more_log, -0.1, 0.1), logs)
            small = np.abs(more_square) < RULES.settled * np.abs(square)
            settled |= moving & small & (np.abs(more_log) < RULES.settled)
            if np.all(settled | ~moving):
                break
    return logs, square, settled & (np.abs(logs - start) < RULES.close) & (square > 0)


def _kept(found: _Found, sample: Indices, speeds: tuple[float, float]) -> Crossings:
    """Keep each point of the range once."""
    keep = found.good & (found.speed >= speeds[0]) & (found.speed <= speeds[1])
    sample, speed, frequency, into = sample[keep], found.speed[keep], found.angular_frequency[keep], found.into[keep]
    order = np.lexsort((speed, sample))
    near = (np.abs(np.diff(values[order])) < SAME * values[order][1:] for values in (speed, frequency))
    twin = np.append(False, (np.diff(sample[order]) == 0) & np.all(list(near), axis=0))
    chosen = order[~twin[: len(order)]]
    return Crossings(sample[chosen], speed[chosen], frequency[chosen], into[chosen])
