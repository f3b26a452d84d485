"""What is asked: aircraft with their counters, parts with their fittings, tasks with their rules."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date as Date
from decimal import Decimal
from typing import Literal

from hingeline.document import document_format

Source = Literal["directive", "limitation", "manual", "programme", "own"]
Join = Literal["first", "later"]
MonthsAre = Literal["anniversary", "calendar"]
CountsFrom = Literal["done", "due", "late from due, early from done", "inside from due, outside from done"]


@dataclass(frozen=True, slots=True)
class MeterChange:
    """An hour meter was changed, or set anew.

    Parameters
    ----------
    date : date
        The day. A reading of that day is one of the new meter.
    old, new : Decimal
        What the old meter showed last, and the new one first [h].
    """

    date: Date
    old: Decimal
    new: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class Reading:
    """What the counters showed on a day.

    Parameters
    ----------
    date : date
        The day.
    hours : Decimal, optional
        On the meter [h].
    landings : int, optional
        In all.
    """

    date: Date
    hours: Decimal | None = None
    landings: int | None = None


@dataclass(frozen=True, slots=True)
class Aircraft:
    """An aircraft and its counters.

    Parameters
    ----------
    name : str
        Registration, or what the workshop calls it.
    hours : Decimal, optional
        What the meter shows now [h]; total = meter + sum over changes of (old - new) + before the meter.
    landings : int, optional
        In all.
    counted_on : date, optional
        The day that hours and landings are of; left out: the day that is asked about.
    hours_before_meter : Decimal
        Flown before the first meter that is known [h].
    meter_changes : tuple of MeterChange
        In any order.
    readings : tuple of Reading
        Earlier ones, in any order; for a forecast, and for totals on a day.
    """

    name: str
    hours: Decimal | None = None
    landings: int | None = None
    counted_on: Date | None = None
    hours_before_meter: Decimal = Decimal(0)
    meter_changes: tuple[MeterChange, ...] = ()
    readings: tuple[Reading, ...] = ()


@dataclass(frozen=True, slots=True)
class Fitting:
    """A part was on an aircraft; without ``to`` it still is.

    Parameters
    ----------
    aircraft : str
        Its name.
    from_, to : Decimal, optional
        Total hours of the aircraft when the part was fitted and removed [h].
    from_landings, to_landings : int, optional
        The same in landings.
    """

    aircraft: str
    from_: Decimal
    to: Decimal | None = None
    from_landings: int | None = None
    to_landings: int | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """A part that takes its hours along.

    Parameters
    ----------
    name : str
        Its designation and serial number.
    hours_when_new_fitted : Decimal, optional
        It had flown so much when it was fitted for the first time that is listed [h]; None: unknown.
    landings_when_new_fitted : int, optional
        The same in landings.
    fitted : tuple of Fitting
        In any order; at most one still open.
    """

    name: str
    hours_when_new_fitted: Decimal | None = None
    landings_when_new_fitted: int | None = None
    fitted: tuple[Fitting, ...] = ()


@dataclass(frozen=True, slots=True)
class Interval:
    """How often.

    Parameters
    ----------
    hours : Decimal, optional
        [h]
    landings, months, days : int, optional
        Months or days, not both.
    """

    hours: Decimal | None = None
    landings: int | None = None
    months: int | None = None
    days: int | None = None


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How much a task may be early or late.

    Parameters
    ----------
    hours : Decimal, optional
        [h]
    landings, months, days : int, optional
        Months or days, not both.
    percent : Decimal, optional
        Of the interval, for every counter that has no amount of its own; a month counts 30 days; landings
        and days are rounded down.
    at_most_hours, at_most_landings, at_most_days : optional
        What a percentage gives at most.
    """

    hours: Decimal | None = None
    landings: int | None = None
    months: int | None = None
    days: int | None = None
    percent: Decimal | None = None
    at_most_hours: Decimal | None = None
    at_most_landings: int | None = None
    at_most_days: int | None = None


@dataclass(frozen=True, slots=True)
class Start:
    """When a task is due for the first time.

    Parameters
    ----------
    total_hours : Decimal, optional
        In all [h]: of the part where the task belongs to one.
    total_landings : int, optional
        In all.
    within_hours : Decimal, optional
        From the effective date [h].
    within_landings, within_months, within_days : int, optional
        From the effective date.
    effective : date, optional
        From when the rule holds; needed with ``within``.
    hours_at_effective : Decimal, optional
        Total on that day [h]; left out: the last one known up to it, which errs on the early side.
    landings_at_effective : int, optional
        The same in landings.
    not_later_than : date, optional
        In any case, whatever ``join`` says of the others.
    join : {'first', 'later'}, optional
        Which of several counts; None: first, and a note.
    """

    total_hours: Decimal | None = None
    total_landings: int | None = None
    within_hours: Decimal | None = None
    within_landings: int | None = None
    within_months: int | None = None
    within_days: int | None = None
    effective: Date | None = None
    hours_at_effective: Decimal | None = None
    landings_at_effective: int | None = None
    not_later_than: Date | None = None
    join: Join | None = None


@dataclass(frozen=True, slots=True)
class Done:
    """A task was done.

    Parameters
    ----------
    date : date
        The day of its release.
    hours : Decimal, optional
        Total of the aircraft, or of the part where the task belongs to one [h].
    landings : int, optional
        The same.
    due_hours, due_landings, due_date : optional
        Where it was due, without tolerance; left out: worked out from what stands before.
    """

    date: Date
    hours: Decimal | None = None
    landings: int | None = None
    due_hours: Decimal | None = None
    due_landings: int | None = None
    due_date: Date | None = None


@dataclass(frozen=True, slots=True)
class Happening:
    """Something that calls for a task before the next flight.

    Parameters
    ----------
    date : date
        The day.
    what : str
        In the trade's words: "hard landing".
    hours : Decimal, optional
        Total [h]: tells what was done before from what was done after on that day.
    """

    date: Date
    what: str
    hours: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Ending:
    """What ended a task.

    Parameters
    ----------
    date : date
        The day.
    by : str
        What was done: "new arm fitted".
    reopened : Happening, optional
        What opened it again: the part that was concerned is back.
    """

    date: Date
    by: str
    reopened: Happening | None = None


@dataclass(frozen=True, slots=True)
class Task:
    """A check with its rule, and when it was done.

    Parameters
    ----------
    name : str
        Unique for its aircraft or part.
    aircraft, part : str
        The name of one of them; the other is empty.
    source : str, optional
        directive, limitation, manual, programme or own. A directive, a limitation and None give no tolerance
        unless ``allows_tolerance``.
    reference : str
        Document, revision and page.
    applies_to : str
        Shown.
    applies : bool
        False: not applicable.
    start : Start, optional
        Until it was done once.
    every : Interval, optional
        Without it the task is done once.
    months_are : {'anniversary', 'calendar'}, optional
        To the same day, or to the end of the month; None: anniversary, and a note.
    join : {'first', 'later'}, optional
        Which of several counters counts; None: first, and a note.
    tolerance : Tolerance, optional
        Of the approved data.
    allows_tolerance : bool
        The text of the directive or limitation itself allows it.
    counts_from : str, optional
        done; due; late from due, early from done; or inside from due, outside from done (of the tolerance).
        None: done, and a note.
    done : tuple of Done
        In any order.
    ends_with : Ending, optional
        Closes it.
    before_next_flight : bool
        Due at once, until it is done.
    event : Happening, optional
        What ``before_next_flight`` follows.
    """

    name: str
    aircraft: str = ""
    part: str = ""
    source: Source | None = None
    reference: str = ""
    applies_to: str = ""
    applies: bool = True
    start: Start | None = None
    every: Interval | None = None
    months_are: MonthsAre | None = None
    join: Join | None = None
    tolerance: Tolerance | None = None
    allows_tolerance: bool = False
    counts_from: CountsFrom | None = None
    done: tuple[Done, ...] = ()
    ends_with: Ending | None = None
    before_next_flight: bool = False
    event: Happening | None = None


@document_format("hingeline/due-record/1")
@dataclass(frozen=True, slots=True)
class DueQuestion:
    """What is due on a day.

    Parameters
    ----------
    on : date
        The day that is asked about.
    aircraft : tuple of Aircraft
        With distinct names.
    parts : tuple of Part
        With distinct names.
    tasks : tuple of Task
        Each of one of these.
    """

    on: Date
    aircraft: tuple[Aircraft, ...] = ()
    parts: tuple[Part, ...] = ()
    tasks: tuple[Task, ...] = ()
