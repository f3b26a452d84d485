"""What stands on a worksheet beside the weighing itself."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime

from hingeline_app.said import AsTyped

# As the records name a row of limits: "DS 7, issue C, page 3". A text that somebody typed stays as it was typed.
AS_THE_RECORDS_NAME_IT = re.compile(r", issue [^,]+, page [^,]+$")


@dataclass(frozen=True, slots=True)
class SheetDetails:
    """Who, what and when, as free text; what is empty is left as a blank to fill in by hand.

    Parameters
    ----------
    workshop, aircraft, part, serial, job, weighing : str
        Whose sheet it is, and of which piece of work.
    date : str
        Of the weighing.
    scale_calibrated : str
        When the scale was last calibrated.
    document : str
        The approved data, with page and issue.
    """

    workshop: str = ""
    aircraft: str = ""
    part: str = ""
    serial: str = ""
    job: str = ""
    weighing: str = ""
    date: str = ""
    scale_calibrated: str = ""
    document: str = ""

    def approved_data(self, stated: object) -> str:
        """Give the approved data of the limits: what the sheet names, else what the result was stated with."""
        named = self.document or str(stated or "")
        return named if AS_THE_RECORDS_NAME_IT.search(named) else AsTyped(named)


def made_parts(made_at: datetime) -> list[int]:
    """Give when a sheet was made as its template takes it: year, month, day, hour, minute, second."""
    return [made_at.year, made_at.month, made_at.day, made_at.hour, made_at.minute, made_at.second]


def made_words(made_at: datetime) -> str:
    """Write when a sheet was made, with the zone: 2027-03-12 09:41 UTC; without one where none is known."""
    return f"{made_at:%Y-%m-%d %H:%M}" + (f"\u00a0{made_at.tzname()}" if made_at.tzname() else "")
