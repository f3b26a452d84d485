"""What a job's worksheet is printed from: plain texts and documents, so that no database is needed to print."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from hingeline_app.report.sheet import SheetDetails

OPEN, RELEASED, VOIDED = "open", "released", "voided"
SECOND, AGAIN, RELEASE = "second inspection", "inspected again by the same person", "release"


@dataclass(frozen=True, slots=True)
class WithdrawnReading:
    """A reading that was withdrawn: it stays readable, with its reason."""

    reading: str
    place: str
    why: str
    by: str = ""


@dataclass(frozen=True, slots=True)
class ChangeMade:
    """What was changed on the surface: where, how much, which part. Signed texts carry their sense word."""

    place: str
    arm: str
    mass: str
    moment: str = ""
    part_number: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class ArmPoint:
    """A check point of the weight arm: what was seen and measured there."""

    point: str
    seen: str
    measured: str = ""
    method: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class RefitValue:
    """Something checked after the surface was hung again, against its limit."""

    what: str
    measured: str
    limit: str = ""
    finding: str = ""
    instrument: str = ""
    by: str = ""


@dataclass(frozen=True, slots=True)
class LookedAt:
    """An item of the second inspection."""

    item: str
    finding: str
    note: str = ""
    by: str = ""
    # What the worker said of it: only once the second person has signed.
    first: str = ""


@dataclass(frozen=True, slots=True)
class ToldLine:
    """What was entered at a step, in one line."""

    step: str
    what: str
    said: str
    by: str = ""


@dataclass(frozen=True, slots=True)
class Signed:
    """A signature as the records hold it; one that was withdrawn, or that later changes ended, does not hold."""

    purpose: str
    name: str
    number: str
    at: str
    proved_by: str = ""
    reason: str = ""
    notes: tuple[str, ...] = ()
    holds: bool = True
    ended_because: str = ""


@dataclass(frozen=True, slots=True)
class OtherWeighing:
    """A weighing of the same job, in short: its own worksheet has it in full."""

    number: str
    date: str
    moment: str
    statement: str


@dataclass(frozen=True, slots=True)
class MarkedSpot:
    """A place marked on a photograph: its number, where (% across, % down), what is seen there."""

    number: int
    across: str
    down: str
    words: str
    by: str = ""


@dataclass(frozen=True, slots=True)
class MarkedPhotograph:
    """A photograph with marked places: the digest is that of the file as it came."""

    words: str
    digest: str
    marks: tuple[MarkedSpot, ...]
    by: str = ""


@dataclass(frozen=True, slots=True)
class GivenHead:
    """The ledger's head as it was given away with this print: short to type, full for the square code."""

    short: str
    full: str
    at: str


@dataclass(frozen=True, slots=True)
class JobRecord:
    """A job with one of its weighings, as it is printed on two sides.

    Parameters
    ----------
    sheet : SheetDetails
        The title block.
    weighing_text : str
        The weighing file, as ``hingeline weigh`` reads it.
    result : mapping
        A document ``hingeline/weighing-result/1``.
    state : {"open", "released", "voided"}
    in_the_way : tuple of str
        What keeps the job from its release, in sentences.
    weighed_by, weighed_on : str
        Whose readings these are; no signature.
    withdrawn, changes, arm, refit, items, signatures, weighings : tuple
        Of side 2; empty: nothing was entered, and that is printed.
    remarks : tuple of str
        Said under the notes, for instance that the result is older than its readings.
    not_used : str
        Why the statement is not used, in a sentence; empty where nothing speaks against it.
    told : tuple
        What was entered at the steps beside all this.
    photographs, pictures : tuple
        Photographs with marked places, and each drawn as SVG with the picture inside, in the same order.
    head : GivenHead or None
        None: the sheet says that it carries none.
    again : str
        What the square code "work it out again" holds; empty: record number, version and check sum.
    """

    sheet: SheetDetails
    weighing_text: str
    result: Mapping[str, Any]
    state: str = OPEN
    in_the_way: tuple[str, ...] = ()
    weighed_by: str = ""
    weighed_on: str = ""
    withdrawn: tuple[WithdrawnReading, ...] = ()
    changes: tuple[ChangeMade, ...] = ()
    arm: tuple[ArmPoint, ...] = ()
    refit: tuple[RefitValue, ...] = ()
    items: tuple[LookedAt, ...] = ()
    signatures: tuple[Signed, ...] = ()
    weighings: tuple[OtherWeighing, ...] = ()
    remarks: tuple[str, ...] = ()
    not_used: str = ""
    told: tuple[ToldLine, ...] = ()
    photographs: tuple[MarkedPhotograph, ...] = ()
    pictures: tuple[str, ...] = ()
    head: GivenHead | None = None
    again: str = ""

    @property
    def number(self) -> str:
        """Give the record's number: job and weighing."""
        return "-".join(part for part in (self.sheet.job, self.sheet.weighing) if part)

    def signed(self, purpose: str) -> Signed | None:
        """Give the last signature of a purpose; one that holds before one that does not."""
        own = [each for each in self.signatures if each.purpose == purpose]
        return next((each for each in reversed(own) if each.holds), own[-1] if own else None)
