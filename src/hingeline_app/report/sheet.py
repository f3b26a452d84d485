"""What stands on a worksheet beside the weighing itself."""

from __future__ import annotations

from dataclasses import dataclass


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
