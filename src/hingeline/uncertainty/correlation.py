"""Correlation between inputs: given by pairs, checked as a whole.

>>> from hingeline.uncertainty import Contribution, combine
>>> one, other = Contribution("one", 3.0, "g", 1.0), Contribution("other", 4.0, "g", 1.0)
>>> together: Correlation = {(0, 1): 1.0}
>>> combine([one, other]).standard_uncertainty, combine([one, other], correlation=together).standard_uncertainty
(5.0, 7.0)
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from hingeline.errors import InputRefused
from hingeline.uncertainty.measured import type_a

Correlation = Mapping[tuple[int, int], float]
"""Correlation coefficients by pairs of positions, counted from 0, from -1 to 1 [1]; pairs left out are 0."""

Matrix = tuple[tuple[float, ...], ...]

_ROUNDING = 1e-9


def sample_correlation(first: Sequence[float], second: Sequence[float]) -> float:
    """Correlation coefficient of two means from readings taken together.

    Parameters
    ----------
    first, second : sequence of float
        As many readings in each, taken in pairs [any unit], at least two.

    Returns
    -------
    float
        r, from -1 to 1 [1]; 0 where one of them did not vary.

    Raises
    ------
    InputRefused
        For lists of different length, fewer than two readings, NaN or infinity.

    Notes
    -----
    r = Σ (x - mean)(y - mean) / √(Σ (x - mean)² Σ (y - mean)²): JCGM 100:2008 (GUM) 5.2.2 and
    5.2.3, equations 14 and 17.

    Examples
    --------
    >>> from hingeline.uncertainty import sample_correlation
    >>> sample_correlation([1.0, 2.0, 3.0], [2.0, 4.0, 6.0])
    1.0
    """
    if len(first) != len(second) or len(first) < 2:
        raise InputRefused.of(
            "second",
            len(second),
            f"as many readings as the first, {len(first)}, and at least two",
            "Pair them.",
        )
    deviations = [_scaled_deviations(readings) for readings in (first, second)]
    crossed = math.fsum(x * y for x, y in zip(*deviations, strict=True))
    squares = [math.fsum(x * x for x in one) for one in deviations]
    if 0 in squares:
        return 0.0
    return max(-1.0, min(1.0, crossed / math.sqrt(squares[0] * squares[1])))


def _scaled_deviations(readings: Sequence[float]) -> list[float]:
    mean = type_a(readings).value
    deviations = [reading - mean for reading in readings]
    largest = max(abs(deviation) for deviation in deviations)
    return [deviation / largest if largest else 0.0 for deviation in deviations]


def correlation_matrix(correlation: Correlation | None, count: int) -> Matrix:
    """Fill the symmetric matrix and refuse what cannot be one.

    Parameters
    ----------
    correlation : mapping of (int, int) to float, or None
        Coefficients by pairs of positions, counted from 0 [1].
    count : int
        Number of inputs.

    Returns
    -------
    tuple of tuple of float
        The matrix [1], 1 on its diagonal.

    Raises
    ------
    InputRefused
        For a pair that does not exist, a coefficient beyond ±1, two coefficients for one pair, or
        coefficients that contradict each other (the matrix is not positive semi-definite).

    Notes
    -----
    JCGM 100:2008 (GUM) 5.2.2, equation 14; positive semi-definite: JCGM 102:2011 3.11 (from memory).
    """
    matrix = [[float(row == column) for column in range(count)] for row in range(count)]
    pairs = correlation or {}
    for (row, column), coefficient in pairs.items():
        _check_pair(row, column, coefficient, count, pairs)
        matrix[row][column] = matrix[column][row] = coefficient
    if any(pairs.values()):
        _check_semidefinite(matrix)
    return tuple(tuple(row) for row in matrix)


def _check_pair(row: int, column: int, coefficient: float, count: int, pairs: Correlation) -> None:
    field = f"correlation[{row}, {column}]"
    if row == column or not (0 <= row < count and 0 <= column < count):
        raise InputRefused.of(
            field,
            f"{row}, {column}",
            f"two different positions from 0 to {count - 1}",
            "Count the inputs from 0.",
        )
    if not -1 <= coefficient <= 1:  # NaN fails this too
        raise InputRefused.of(field, coefficient, "a number from -1 to 1", "A correlation cannot be larger.")
    if pairs.get((column, row), coefficient) != coefficient:
        raise InputRefused.of(field, coefficient, "one coefficient for one pair", "Give each pair once.")


def _check_semidefinite(matrix: list[list[float]]) -> None:
    """Cholesky's elimination: every pivot must be zero or positive, but for rounding."""
    rest = [list(row) for row in matrix]
    for step, row in enumerate(rest):
        pivot = row[step]
        below = range(step + 1, len(rest))
        stuck = pivot <= _ROUNDING and any(abs(rest[index][step]) > math.sqrt(_ROUNDING) for index in below)
        if pivot < -_ROUNDING or stuck:
            raise InputRefused.of(
                "correlation",
                "the coefficients together",
                "coefficients that can hold at once",
                "Two inputs that both follow a third must also follow each other. Check each coefficient.",
            )
        if pivot > _ROUNDING:
            for index in below:
                factor = rest[index][step] / pivot
                rest[index] = [value - factor * top for value, top in zip(rest[index], row, strict=True)]


def quadratic_form(first: Sequence[float], second: Sequence[float], matrix: Matrix) -> float:
    """Σ Σ a_i r_ij b_j, added exactly.

    Parameters
    ----------
    first, second : sequence of float
        Signed contributions of each input to two results.
    matrix : tuple of tuple of float
        Correlation [1].

    Returns
    -------
    float
        The covariance of the two results; the variance, where both are the same one.

    Notes
    -----
    JCGM 100:2008 (GUM) 5.2.2, equation 16, and H.2.3, equation H.9 (number from memory).
    """
    return math.fsum(a * r * b for a, row in zip(first, matrix, strict=True) for r, b in zip(row, second, strict=True))
