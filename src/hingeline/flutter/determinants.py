"""The determinant of many small systems as one polynomial each: in z = -p², x = -1/s and C, s = p b/U.

    det A = det( K + z [-(M + Ma) + x b (Bn + C Bc) - x² b² (Kn + C Kc)] )

Without viscous damping that is exact. One strip's circulation is one force and one downwash, so that there C
comes in once only; along a wing it acts on each shape apart, and C² and C³ come in too. On p = i ω, z = ω² is
real and x = i/k. With the coefficients known, the determinants of thousands of samples at hundreds of reduced
frequencies are one product of two matrices.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from hingeline.flutter.stacks import Stack
from hingeline.flutter.system import Array

CUBE, POWERS, LEAST_WAKES = 4, 7, 2
NO_MORE_WAKE = 1e-11
"""Of the largest coefficient: what C² leaves, where one circulation does everything, is rounding."""

Coefficients = np.ndarray[Any, np.dtype[Any]]
Expansion = Callable[..., Coefficients]
Indices = np.ndarray[Any, np.dtype[np.int64]]


@dataclass(frozen=True, slots=True)
class Determinants:
    """Coefficients of z^j C^c x^m, j to 3, c to 1, 2 or 3, m to 6.

    Parameters
    ----------
    values : array (4, c + 1, 7, s)
        Real without structural damping.
    semichord : array (s,)
        b [m].
    unit : array (s,)
        z is counted in this [rad²/s²].
    """

    values: Coefficients
    semichord: Array
    unit: Array

    @property
    def free(self) -> Indices:
        """How many motions nothing holds: so many of the lowest powers of z are missing."""
        nothing = np.asarray(~np.any(self.values, axis=(1, 2)))
        return np.asarray(nothing[0].astype(int) + (nothing[0] & nothing[1]), dtype=np.int64)

    def chosen(self, index: Indices) -> Determinants:
        """Give some of the samples."""
        return Determinants(self.values[..., index], self.semichord[index], self.unit[index])

    def by_power(self, x: Any, wake: Any) -> Coefficients:
        """Give the coefficients of 1, z, z², z³, at one x and C a sample: (4, s)."""
        return _at_wake(_at_place(self.values, np.asarray(x) ** np.arange(POWERS)[:, None]), wake)

    def on_grid(self, x: Any, wake: Any) -> tuple[Array, Array]:
        """Give real and imaginary parts of the coefficients at g places for all samples: (4, g, s) each."""
        powers, delay = np.asarray(x)[:, None] ** np.arange(POWERS), np.asarray(wake)[:, None]
        basis = np.hstack([powers * delay**power if power else powers for power in range(self.values.shape[1])])
        flat = self.values.reshape(CUBE, basis.shape[1], -1)
        real, imaginary = basis.real @ flat.real, basis.imag @ flat.real
        if np.iscomplexobj(flat):
            real, imaginary = real - basis.imag @ flat.imag, imaginary + basis.real @ flat.imag
        return real, imaginary


def _at_place(values: Coefficients, powers: Coefficients) -> Coefficients:
    """Put in x, whose powers are given: what is left by power of C, (c + 1, 4, s)."""
    return np.asarray([np.einsum("jms,ms->js", values[:, part], powers) for part in range(values.shape[1])])


def _at_wake(parts: Coefficients, delay: Any) -> Coefficients:
    """Put in C (Horner): (4, s)."""
    found = parts[-1]
    for part in parts[-2::-1]:
        found = part + delay * found
    return np.asarray(found)


@dataclass(frozen=True, slots=True)
class Local:
    """The determinant, over z^free, and its derivatives by z (in its unit), x and C."""

    value: Coefficients
    by_square: Coefficients
    by_place: Coefficients
    by_wake: Coefficients


def local(whole: Determinants, free: int, square: Array, x: Coefficients, delay: Coefficients) -> Local:
    """Give the determinant and its derivatives, each sample at its own z (in its unit), x and C.

    Parameters
    ----------
    whole : Determinants
    free : int
        Powers of z that every sample lacks; they are left out.
    square, x, delay : array (s,)
        z, x, C.

    Returns
    -------
    Local
    """
    powers = np.arange(CUBE)[:, None] - free
    held = np.where(powers >= 0, square ** np.maximum(powers, 0), 0.0)
    slope = np.where(powers >= 1, powers * square ** np.maximum(powers - 1, 0), 0.0)
    places = x ** np.arange(POWERS)[:, None]
    by_place = np.arange(POWERS)[:, None] * x ** np.maximum(np.arange(POWERS) - 1, 0)[:, None]
    parts = _at_place(whole.values, places)
    delayed = _at_wake(parts[1:] * np.arange(1, len(parts))[:, None, None], delay)
    both, moved = _at_wake(parts, delay), _at_wake(_at_place(whole.values, by_place), delay)
    return Local((held * both).sum(0), (slope * both).sum(0), (held * moved).sum(0), (held * delayed).sum(0))


def expand(stack: Stack, expanded: Expansion | None = None) -> Determinants:
    """Expand the determinants of a stack.

    Parameters
    ----------
    stack : Stack
        Two or three freedoms.
    expanded : callable, optional
        Of the compiled loops of ``which_way``: the same coefficients, sooner.

    Returns
    -------
    Determinants
        With as many powers of C as circulations act, one at least. Two freedoms get a third that does nothing.
    """
    size = stack.mass.shape[-1]
    mass_unit = 1 / np.sqrt(np.einsum("sii->si", stack.mass))
    both = mass_unit[:, :, None] * mass_unit[:, None, :]
    unit = np.maximum(np.abs(stack.stiffness * both).max(axis=(1, 2)), np.finfo(float).tiny)
    b = stack.semichord[:, None, None]
    held = stack.stiffness * both / unit[:, None, None]
    plain = (-stack.mass * both, b * stack.air_damping * both, -b * b * stack.air_stiffness * both)
    delayed = (b * stack.wake_damping * both, -b * b * stack.wake_stiffness * both)
    parts = [_of_three(part, size) for part in (held, *plain, *delayed)]
    if size == 2:
        parts[1][:, 2, 2] = -1.0
    whole = _expanded(_entries(parts)) if expanded is None else expanded(parts, held.dtype)
    sizes = np.abs(whole).max(axis=(0, 2, 3), initial=0.0)
    wakes = max(LEAST_WAKES, 1 + int(np.flatnonzero(sizes > NO_MORE_WAKE * sizes.max()).max(initial=0)))
    kept = whole[:, :wakes]
    return Determinants(np.ascontiguousarray(kept) if expanded is None else kept, stack.semichord, unit)


def _of_three(part: Coefficients, size: int) -> Coefficients:
    """Give two freedoms a row and a column that do nothing."""
    return part if size == CUBE - 1 else np.pad(part, ((0, 0), (0, 1), (0, 1)))


def _entries(parts: Sequence[Coefficients]) -> Coefficients:
    """Put the parts of each entry where their powers of z, C and x are: (3, 3, 2, 2, 3, s)."""
    held, *plain = (part.transpose(1, 2, 0) for part in parts)
    entries = np.zeros((3, 3, 2, 2, 3, held.shape[-1]), dtype=held.dtype)
    entries[:, :, 0, 0, 0] = held
    for power, part in enumerate(plain[:3]):
        entries[:, :, 1, 0, power] = part
    for power, part in enumerate(plain[3:], 1):
        entries[:, :, 1, 1, power] = part
    return entries


def _expanded(entries: Coefficients) -> Coefficients:
    """Expand 3 x 3 determinants of polynomials by their first row."""
    minors = [
        _times(entries[1, i], entries[2, j]) - _times(entries[1, j], entries[2, i]) for i, j in ((1, 2), (2, 0), (0, 1))
    ]
    return sum((_times(entries[0, i], minors[i]) for i in (1, 2)), _times(entries[0, 0], minors[0]))


def _times(first: Coefficients, second: Coefficients) -> Coefficients:
    """Multiply polynomials in three variables, sample by sample."""
    sizes = [a + b - 1 for a, b in zip(first.shape[:3], second.shape[:3], strict=True)]
    product = np.zeros((*sizes, first.shape[3]), dtype=first.dtype)
    z, c, x = second.shape[:3]
    for i, j, k in np.ndindex(first.shape[:3]):
        if first[i, j, k].any():
            product[i : i + z, j : j + c, k : k + x] += first[i, j, k] * second
    return product
