"""Which reading lies so far from the others that it is asked about. It counts until a person withdraws it."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median

# Iglewicz and Hoaglin, How to Detect and Handle Outliers (ASQC 1993); NIST/SEMATECH e-Handbook, section 1.3.5.17.
MODIFIED_Z, NORMAL = 3.5, 0.6745
FEWEST = 4


def odd_readings(values: Sequence[float], step: float = 0.0) -> tuple[int, ...]:
    """Give the places of readings whose modified z-score exceeds 3.5.

    Parameters
    ----------
    values : sequence of float
        Readings of one support, in one unit.
    step : float
        What the scale resolves: readings scatter by no less than half of it, and a reading within two
        steps of the middle is never odd (common practice, no source).

    Returns
    -------
    tuple of int
        Empty with fewer than four readings: too few to tell which one is odd.
    """
    if len(values) < FEWEST:
        return ()
    middle = median(values)
    deviations = [abs(value - middle) for value in values]
    scatter = max(median(deviations), step / 2.0)
    if scatter == 0.0:
        return tuple(index for index, each in enumerate(deviations) if each > 0.0)
    near = 2.0 * step * (1.0 + 1e-9)
    return tuple(index for index, each in enumerate(deviations) if NORMAL * each / scatter > MODIFIED_Z and each > near)
