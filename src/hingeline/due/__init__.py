"""What is due, when, and why: tasks, counters and dates in, due points and reasons out.

Hours are exact decimals, dates have no time zone, and "now" is an argument. A date limit is usable to
the end of that day; a limit in hours or landings is reached when it is equal.

Files
-----
model        frozen inputs
results      frozen results
months       months added to a date, the anchor day kept
counters     totals of aircraft and parts: meters that were changed, parts that moved
tolerances   what a task may be early or late
next_point   which point the next one is counted from: the rule that belongs to the task
limits       the limits of a task as they stand now: of its start, or of its repetition
reached      how far each limit is reached, and what they say together
forecast     the rate of use, and when a limit will be reached, with its interval
words        dates, amounts and intervals in the trade's words
windows      what a visit could take along
entries      whether an entry of hours is plausible
events       signing a task off
retention    until when a release is kept, and by when the aircraft's record has it
reasons      the sentence for each state
checks       what is refused; of counters, tasks and histories, each in its own file
solve        puts it together
"""

from __future__ import annotations

from hingeline.due.entries import EntryJudged, judge_entry
from hingeline.due.events import sign_off
from hingeline.due.model import (
    Aircraft,
    Done,
    DueQuestion,
    Ending,
    Fitting,
    Happening,
    Interval,
    MeterChange,
    Part,
    Reading,
    Start,
    Task,
    Tolerance,
)
from hingeline.due.results import DueResult, Forecast, TaskState
from hingeline.due.solve import what_is_due
from hingeline.due.windows import Visit, falls_together

__all__ = [
    "Aircraft",
    "Done",
    "DueQuestion",
    "DueResult",
    "Ending",
    "EntryJudged",
    "Fitting",
    "Forecast",
    "Happening",
    "Interval",
    "MeterChange",
    "Part",
    "Reading",
    "Start",
    "Task",
    "TaskState",
    "Tolerance",
    "Visit",
    "falls_together",
    "judge_entry",
    "sign_off",
    "what_is_due",
]
