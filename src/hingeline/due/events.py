"""Signing a task off: an event that resets it."""

from __future__ import annotations

from dataclasses import replace

from hingeline.due.history_checks import done_faults
from hingeline.due.model import Done, Task
from hingeline.due.refusing import LATEST, fault
from hingeline.errors import InputRefused


def sign_off(task: Task, done: Done) -> Task:
    """Give the task with one more time that it was done.

    Parameters
    ----------
    task : Task
        As it stands.
    done : Done
        When it was done, with the counters.

    Returns
    -------
    Task
        A new one. In which order sign-offs are entered makes no difference: what follows from them is worked
        out from their dates and hours.

    Raises
    ------
    InputRefused
        It stands there already, the task is closed, or its numbers cannot be. What has to fit the counters is
        looked at when somebody asks what is due.

    Examples
    --------
    >>> from hingeline.due import Done, Task, sign_off
    >>> from datetime import date
    >>> sign_off(Task("paint", "T2-03", before_next_flight=True), Done(date(2027, 3, 12))).done[0].date.year
    2027
    """
    refusals = list(done_faults("done", done, LATEST))
    if done in task.done:
        refusals.append(fault("done", done.date, "each time once", "It is signed off already."))
    ending = task.ends_with
    closed = ending is not None and (ending.reopened is None or done.date < ending.reopened.date)
    if closed and ending is not None and done.date > ending.date:
        refusals.append(fault("done.date", done.date, f"a day up to {ending.date}", f"It was closed by {ending.by}."))
    if refusals:
        raise InputRefused(refusals)
    return replace(task, done=(*task.done, done))
