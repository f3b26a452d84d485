"""A check was done: it is entered on the word of a release made here, or of a paper that was signed. Or it was put off.

Entering it is no signature: the release it names, or the paper, bears that. A sign-off on a job counts only while the
job's release stands.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any, TypeVar
from uuid import UUID
from zoneinfo import ZoneInfo

from hingeline import due
from hingeline.due.tolerances import may_be_extended
from hingeline.errors import InputRefused
from hingeline_app.records.actions.contradictions import nothing_new_contradicts
from hingeline_app.records.actions.counters import described_count
from hingeline_app.records.actions.entrance import NotAllowed, acting, signed_in
from hingeline_app.records.actions.tasks import owner_of_task, standing_task
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible, remark
from hingeline_app.records.models import Aircraft, CounterReading, Deferral, Fitting, Job, Part, Person, SignOff, Task
from hingeline_app.records.queries.counters import HOURS, LANDINGS, total_of
from hingeline_app.records.queries.matter import RELEASE, RELEASED, standing_signature
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.task_rules import task_of
from hingeline_app.records.write_door import Actor, Command, OpenEntry

Number = TypeVar("Number", Decimal, int)


@dataclass(frozen=True)
class DoneAs:
    """That a check was done, as somebody enters it.

    Parameters
    ----------
    done_on : date, optional
        The day of the release; of a job made here it is the release's own.
    hours, landings : Decimal, optional
        What the aircraft's meters showed then; kept as readings too.
    due_hours, due_landings, due_date : optional
        Where it was due, where a paper says so.
    job : UUID, optional
        A job that was released here.
    paper, signer : str
        What else it rests on: a paper by its name and number, and who signed it.
    """

    done_on: date | None = None
    hours: Decimal | None = None
    landings: Decimal | None = None
    due_hours: Decimal | None = None
    due_landings: int | None = None
    due_date: date | None = None
    job: UUID | None = None
    paper: str = ""
    signer: str = ""


def sign_off(actor: Actor, task: UUID, done: DoneAs, command: Command | None = None) -> SignOff:
    """Enter that a check was done: its next due point follows from it.

    Raises
    ------
    NotAllowed
        The actor may not; the job is not released.
    InputRefused
        It rests on nothing; a counter that it needs is missing or contradicts the others; it stands there already.
    """
    with acting(actor, Act.SIGN_OFF, "check signed off", command=command) as entry:
        person = signed_in(actor)
        kept = standing_task(person, task)
        row = _rests_on(person, kept, done)
        with nothing_new_contradicts(owner_of_task(kept), about=kept):
            place, total, landings = _counted(entry, person, kept, row.done_on, done)
            row.hours = total if kept.part is None else part_total(kept.part, row.done_on, place, total)
            row.landings = landings if kept.part is None else part_landings(kept.part, row.done_on, place, landings)
            row.due_hours, row.due_landings, row.due_date = done.due_hours, done.due_landings, done.due_date
            _refuse_missing_counters(kept, row, place)
            _keep_done(entry, kept, row)
    return row


def _keep_done(entry: OpenEntry, task: Task, row: SignOff) -> None:
    rule = task_of(task.rule, task.name, aircraft="-")
    due.sign_off(rule, due.Done(row.done_on, row.hours, row.landings, row.due_hours, row.due_landings, row.due_date))
    entry.keep(row)


def withdraw_sign_off(actor: Actor, identifier: UUID, reason: str) -> SignOff:
    """Withdraw a sign-off that was wrong, with the reason; it stays readable and no longer counts."""
    says = {"reason": remark("reason", reason, needed=True)}
    with acting(actor, Act.SIGN_OFF, "sign-off withdrawn", says) as entry:
        kept = found(signed_in(actor), SignOff, identifier)
        if kept.withdrawn_because:
            raise NotAllowed("This sign-off was withdrawn before.")
        kept.withdrawn_because = says["reason"]
        with nothing_new_contradicts(owner_of_task(kept.task), about=kept.task):
            entry.keep(kept)
    return kept


def put_off(
    actor: Actor,
    task: UUID,
    *,
    approval: str,
    reason: str,
    until_date: date | None = None,
    until_hours: Decimal | None = None,
    until_landings: int | None = None,
    command: Command | None = None,
) -> Deferral:
    """Enter that an approval lets a check wait once. It is shown; the due point stays where the approved data has it.

    Raises
    ------
    InputRefused
        It is a directive or a limitation, which only its own text moves; or there is no end.
    """
    with acting(actor, Act.SIGN_OFF, "check put off", command=command) as entry:
        person = signed_in(actor)
        kept = standing_task(person, task)
        _refuse_unmovable(kept)
        if until_date is None and until_hours is None and until_landings is None:
            raise InputRefused.of("until date", "missing", "a date, hours or landings", "Say up to where it may wait.")
        row = Deferral(
            task=kept,
            entered_by=person,
            entered_on=today(actor.workshop),
            until_date=until_date,
            until_hours=until_hours,
            until_landings=until_landings,
            approval=legible("approval", approval, longest=200),
            reason=remark("reason", reason, needed=True),
        )
        entry.keep(row)
    return row


def withdraw_deferral(actor: Actor, identifier: UUID, reason: str) -> Deferral:
    """Withdraw what was put off, with the reason."""
    says = {"reason": remark("reason", reason, needed=True)}
    with acting(actor, Act.SIGN_OFF, "putting off withdrawn", says) as entry:
        kept = found(signed_in(actor), Deferral, identifier)
        if kept.withdrawn_because:
            raise NotAllowed("This was withdrawn before.")
        kept.withdrawn_because = says["reason"]
        entry.keep(kept)
    return kept


def _refuse_unmovable(task: Task) -> None:
    rule = task_of(task.rule, task.name)
    if not may_be_extended(rule):
        remedy = "An approved other way changes its text: correct the task, with the approval as its reference."
        raise InputRefused.of("task", rule.source or "no source", "a task whose source lets it wait", remedy)


def _rests_on(person: Person, task: Task, done: DoneAs) -> SignOff:
    row = SignOff(task=task, entered_by=person, entered_on=today(person.workshop))
    if done.job is not None:
        row.job = found(person, Job, done.job)
        row.done_on = _released_on(row.job, task)
        return row
    row.paper = legible("paper", done.paper, longest=200)
    row.signer = legible("signer", done.signer)
    if done.done_on is None or done.done_on > today(person.workshop):
        raise InputRefused.of("done on", done.done_on, "a day that has been", "Give the day of its release.")
    row.done_on = done.done_on
    return row


def _released_on(job: Job, task: Task) -> date:
    signature = standing_signature(job, RELEASE)
    if job.state != RELEASED or signature is None:
        raise NotAllowed("This job is not released: a check is done when its job is.")
    on = signature.signed_at.astimezone(ZoneInfo(job.workshop.zone)).date()
    place = host_on(task, on)
    if place is None or job.surface.aircraft_id != place.pk:
        raise InputRefused.of("job", job, f"a job of {place or 'its aircraft'}", "Choose the job this was done in.")
    return on


def host_on(task: Task, on: date) -> Aircraft | None:
    """Give the aircraft that a task belonged to on a day: a part's is the one it was fitted to."""
    if task.part is None:
        return task.aircraft
    fitting = _fitting_on(task.part, on)
    return None if fitting is None else fitting.aircraft


def _fitting_on(part: Part, on: date) -> Fitting | None:
    begun = part.fittings.filter(fitted_on__lte=on).select_related("aircraft").order_by("fitted_on", "pk")
    last = begun.last()
    return last if last is not None and (last.removed_on is None or on <= last.removed_on) else None


def _counted(
    entry: OpenEntry, person: Person, task: Task, on: date, done: DoneAs
) -> tuple[Aircraft | None, Decimal | None, int | None]:
    """Keep what the meters showed as readings, and give the totals."""
    place = host_on(task, on)
    if place is None:
        return None, None, None
    hours = None if done.hours is None else _read(entry, place, HOURS, done.hours, on, person)
    landings = None if done.landings is None else _read(entry, place, LANDINGS, done.landings, on, person)
    return place, hours, None if landings is None else int(landings)


def _read(entry: OpenEntry, place: Aircraft, counter: str, shown: Decimal, on: date, person: Person) -> Decimal:
    reading = described_count(place, counter, shown, on, person)
    there = CounterReading.objects.filter(
        aircraft=place, counter=counter, read_on=on, meter=reading.meter, shown=shown, withdrawn_because=""
    )
    if not there.exists():
        entry.keep(reading)
    return total_of(reading)


def part_total(part: Part, on: date, place: Aircraft | None, total: Decimal | None) -> Decimal | None:
    """Give the hours of a part on a day, its aircraft's total being known; None where a number is missing.

    On the day that it was moved, what it was fitted to last counts.
    """
    stretches = [(each.fitted_at_hours, end) for each, end in _stretches(part, on, place, total, "removed_at_hours")]
    return _sum_of(part.hours_when_new_fitted, stretches)


def part_landings(part: Part, on: date, place: Aircraft | None, total: int | None) -> int | None:
    """Give the landings of a part on a day in the same way."""
    stretches = [
        (each.fitted_at_landings, end) for each, end in _stretches(part, on, place, total, "removed_at_landings")
    ]
    return _sum_of(part.landings_when_new_fitted, stretches)


def _stretches(
    part: Part, on: date, place: Aircraft | None, total: Number | None, removed: str
) -> Iterator[tuple[Fitting, Number | None]]:
    """Give where a part was up to a day, with the total at the end of each stretch: of the last one, that day's."""
    last = _fitting_on(part, on)
    for fitting in part.fittings.filter(fitted_on__lte=on):
        is_last = last is not None and fitting.pk == last.pk and place is not None
        yield fitting, total if is_last else getattr(fitting, removed)


def _sum_of(new: Number | None, stretches: Iterable[tuple[Number | None, Number | None]]) -> Number | None:
    found = new
    for begun, ended in stretches:
        if found is None or begun is None or ended is None:
            return None
        found += ended - begun
    return found


def _refuse_missing_counters(task: Task, row: SignOff, place: Aircraft | None) -> None:
    every: dict[str, Any] = task.rule.get("every") or {}
    for name, value in (("hours", row.hours), ("landings", row.landings)):
        if every.get(name) is not None and value is None and _can_be_known(task, name, row.done_on, place):
            remedy = "The next one counts from it: read it off the paper or the meter."
            raise InputRefused.of(name, "missing", f"the {name} at which it was done", remedy)


def _can_be_known(task: Task, name: str, on: date, place: Aircraft | None) -> bool:
    """Say whether it can be: a part whose own count nobody knows is signed off all the same, and stays unknown."""
    if task.part is None:
        return True
    if name == HOURS:
        return part_total(task.part, on, place, Decimal(0)) is not None
    return part_landings(task.part, on, place, 0) is not None
