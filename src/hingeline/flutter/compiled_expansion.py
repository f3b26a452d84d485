"""The determinants of many samples as polynomials, in compiled loops: the sums of ``determinants`` in their order.

Only nought is left out, and nothing is contracted: each coefficient is the one of NumPy's way, to the last bit.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from hingeline.flutter.compiling import compiled_exactly
from hingeline.flutter.system import Array

CIRCULATIONS, PLACES = 4, 7
"""How many powers of C and x a determinant has."""
POWERS = ((0, 0, 0), (1, 0, 0), (1, 0, 1), (1, 0, 2), (1, 1, 1), (1, 1, 2))
"""Powers of z, C and x that each part of an entry has."""
ORDER = np.array(POWERS, dtype=np.int64)
FIRST_ROW = np.array(((0, 1, 2), (1, 2, 0), (2, 0, 1)), dtype=np.int64)


def expanded(parts: Sequence[Array], dtype: Any) -> Any:
    """Expand 3 x 3 determinants of polynomials.

    Parameters
    ----------
    parts : sequence of array (s, 3, 3)
        What stands at 1, z, z x, z x², z C x and z C x² in each entry.
    dtype : type
        Float, or complex with structural damping.

    Returns
    -------
    array (4, 4, 7, s)
        Coefficients of z^j C^c x^m.
    """
    entries = np.ascontiguousarray(np.stack([np.asarray(part, dtype=dtype) for part in parts], axis=-1))
    found = np.zeros((len(entries), 4, CIRCULATIONS, PLACES), dtype=dtype)
    _expand(entries, found, np.zeros((2, 3, 3, 5), dtype=dtype), np.zeros((3, 4, 4, 7), dtype=dtype))
    return found.transpose(1, 2, 3, 0)


@compiled_exactly
def _expand(entries: Any, found: Any, pair: Any, rows: Any) -> None:
    """Expand each sample by its first row."""
    for sample in range(len(entries)):
        rows[:] = 0
        for place in range(3):
            column, i, j = FIRST_ROW[place]
            pair[:] = 0
            _product(entries[sample, 1, i], entries[sample, 2, j], pair[0])
            _product(entries[sample, 1, j], entries[sample, 2, i], pair[1])
            pair[0] -= pair[1]
            _times_entry(entries[sample, 0, column], pair[0], rows[column])
        for z in range(4):
            for c in range(CIRCULATIONS):
                for x in range(PLACES):
                    found[sample, z, c, x] = rows[0, z, c, x] + rows[1, z, c, x] + rows[2, z, c, x]


@compiled_exactly
def _product(first: Any, second: Any, out: Any) -> None:
    """Add the product of two entries."""
    for i in range(len(ORDER)):
        if first[i] != 0:
            for j in range(len(ORDER)):
                out[ORDER[i, 0] + ORDER[j, 0], ORDER[i, 1] + ORDER[j, 1], ORDER[i, 2] + ORDER[j, 2]] += (
                    first[i] * second[j]
                )


@compiled_exactly
def _times_entry(entry: Any, minor: Any, out: Any) -> None:
    """Add the product of an entry and a minor."""
    for i in range(len(ORDER)):
        if entry[i] != 0:
            for z in range(3):
                for c in range(3):
                    for x in range(5):
                        out[z + ORDER[i, 0], c + ORDER[i, 1], x + ORDER[i, 2]] += entry[i] * minor[z, c, x]
