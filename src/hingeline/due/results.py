"""What comes out: for every task its state, its due point, and why."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date as Date
from decimal import Decimal
from typing import Literal

from hingeline.document import document_format

State = Literal["overdue", "due", "coming", "unknown", "not applicable", "closed"]
Binding = Literal["hours", "landings", "date", "event"]

CAUTIONS = (
    "Worked out from what was typed in. The approved data and the records govern: compare before you fly or extend.",
    "A forecast plans the work. It is an estimate from past use, and never the due point.",
    "A task that is not due yet says nothing about the condition of the aircraft.",
)


@dataclass(frozen=True, slots=True)
class DuePoint:
    """Where a task is due, without tolerance: totals of the aircraft, or of the part where it belongs to one."""

    hours: Decimal | None = None
    landings: int | None = None
    aircraft_hours: Decimal | None = None
    aircraft_landings: int | None = None
    hours_on_meter: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Remaining:
    """What is left until the due point; below 0 it is passed."""

    hours: Decimal | None = None
    landings: int | None = None
    days: int | None = None


@dataclass(frozen=True, slots=True)
class WindowEnd:
    """One end of the window, by each counter."""

    hours: Decimal | None = None
    landings: int | None = None
    date: Date | None = None


@dataclass(frozen=True, slots=True)
class Window:
    """From where to where the task may be done: the due point less and plus the tolerance that is allowed."""

    from_: WindowEnd = WindowEnd()
    to: WindowEnd = WindowEnd()


@dataclass(frozen=True, slots=True)
class Forecast:
    """When the due point will be reached, by past use: an estimate, never the due point itself.

    ``high`` is None where the use is too uncertain for an upper end. ``coverage`` is how often the interval
    is to hold what comes.
    """

    low: Date
    mid: Date
    high: Date | None
    coverage: float = 0.95


@dataclass(frozen=True, slots=True)
class TaskState:
    """The state of one task, and why."""

    name: str
    aircraft: str
    part: str
    source: str | None
    reference: str
    applies_to: str
    state: State
    binding: Binding | None
    due_at: DuePoint
    due_date: Date | None
    remaining: Remaining
    window: Window
    forecast: Forecast | None
    last_done: Date | None
    because: str
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class AircraftTotals:
    """What an aircraft has flown, and how it is used."""

    name: str
    hours: Decimal | None
    landings: int | None
    counted_on: Date
    hours_per_day: float | None
    landings_per_day: float | None
    note: str


@dataclass(frozen=True, slots=True)
class PartTotals:
    """What a part has flown, and where it is; on no aircraft the name is empty."""

    name: str
    hours: Decimal | None
    landings: int | None
    aircraft: str


@document_format("hingeline/due-result/1")
@dataclass(frozen=True, slots=True)
class DueResult:
    """What is due on a day, and why, for every task in the order given."""

    on: Date
    tasks: tuple[TaskState, ...]
    aircraft: tuple[AircraftTotals, ...]
    parts: tuple[PartTotals, ...]
    cautions: tuple[str, ...] = CAUTIONS
