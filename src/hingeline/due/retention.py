"""How long the record of a release is kept, and by when the aircraft's own record has it."""

from __future__ import annotations

from datetime import date as Date
from datetime import timedelta

from hingeline.due.months import add_months

# Regulation (EU) No 1321/2014, Annex II, 145.A.55(a)(3): three years from the date of the release.
YEARS_KEPT = 3
# The same, Annex I, M.A.305(a): no more than 30 days after the day of the maintenance.
DAYS_TO_ENTER = 30


def kept_until(released: Date, years: int = YEARS_KEPT) -> Date:
    """Give the day until which a workshop keeps the record of a release, at the least.

    Parameters
    ----------
    released : date
        The day of the release.
    years : int
        How many years the authority asks for [years].

    Returns
    -------
    date
        The same day so many years on; 28 February for a 29th that the year lacks.

    Notes
    -----
    Source: Regulation (EU) No 1321/2014, Annex II, 145.A.55(a)(3). Another authority asks for another time, and an
    owner keeps some records for as long as the aircraft flies; the workshop's own rule governs where it is longer.

    Examples
    --------
    >>> str(kept_until(Date(2026, 3, 15)))
    '2029-03-15'
    """
    return add_months(released, 12 * years)


def entered_by(done: Date, days: int = DAYS_TO_ENTER) -> Date:
    """Give the last day on which the aircraft's own record must have what was done.

    Parameters
    ----------
    done : date
        The day of the maintenance.
    days : int
        How many days the authority gives [days].

    Returns
    -------
    date
        So many days on.

    Notes
    -----
    Source: Regulation (EU) No 1321/2014, Annex I, M.A.305(a): "as soon as practicable" comes before it.

    Examples
    --------
    >>> str(entered_by(Date(2026, 3, 15)))
    '2026-04-14'
    """
    return done + timedelta(days)
