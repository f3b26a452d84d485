"""From tasks, counters and a day to what is due, and why."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date as Date
from decimal import Decimal

from hingeline.due import reasons
from hingeline.due.checks import refuse_unusable
from hingeline.due.counters import Counted, count_aircraft, count_part
from hingeline.due.forecast import NoRate, Rate, as_forecast
from hingeline.due.history_checks import in_order, place_of
from hingeline.due.limits import NO_LIMIT, Limit, Limits, limits_of_repetition, limits_of_start
from hingeline.due.model import Aircraft, Done, Happening, Part, Task
from hingeline.due.reached import Reached, binding, expected, reached, together
from hingeline.due.results import (
    AircraftTotals,
    Binding,
    DuePoint,
    DueResult,
    Forecast,
    PartTotals,
    Remaining,
    State,
    TaskState,
    Window,
    WindowEnd,
)
from hingeline.due.tolerances import amounts_of

NOWHERE, NOTHING_LEFT, NO_WINDOW = DuePoint(), Remaining(), Window()


def what_is_due(aircraft: Sequence[Aircraft], parts: Sequence[Part], tasks: Sequence[Task], on: Date) -> DueResult:
    """Say what is due on a day, and why, for every task.

    Parameters
    ----------
    aircraft : sequence of Aircraft
        With their counters.
    parts : sequence of Part
        That take their hours along.
    tasks : sequence of Task
        Each of one aircraft or part, with its rule and history.
    on : date
        The day that is asked about.

    Returns
    -------
    DueResult
        A state for each task, in the order given; totals of every aircraft and part.

    Raises
    ------
    InputRefused
        With one refusal for every fault: a date in the future, a counter that runs backwards without a change
        of the meter, a name that stands twice or is not known, and so on.

    Notes
    -----
    An hours limit is reached when it is equal, and a date is usable to the end of its day. Whether a task was
    never done, or nobody knows, comes to the same: before the next flight. Sources: at each rule.

    Examples
    --------
    >>> from datetime import date as Date
    >>> from decimal import Decimal
    >>> from hingeline.due import Aircraft, Done, Interval, Task, what_is_due
    >>> arm = Task("arm crack check", "T2-03", source="directive", every=Interval(hours=Decimal(100)),
    ...     counts_from="done", done=(Done(Date(2026, 11, 2), Decimal("512.3")),))
    >>> (state,) = what_is_due([Aircraft("T2-03", Decimal("613.0"))], [], [arm], Date(2027, 3, 12)).tasks
    >>> state.state, state.remaining.hours
    ('overdue', Decimal('-0.7'))
    """
    refuse_unusable(aircraft, parts, tasks, on)
    flown = {each.name: count_aircraft(each, on) for each in aircraft}
    carried = {each.name: count_part(each, flown, on) for each in parts}
    return DueResult(
        on=on,
        tasks=tuple(state_of(task, carried[task.part] if task.part else flown[task.aircraft], on) for task in tasks),
        aircraft=tuple(_aircraft_totals(each) for each in flown.values()),
        parts=tuple(PartTotals(each.whose, each.hours, _landings(each), each.aircraft) for each in carried.values()),
    )


def state_of(task: Task, whose: Counted, on: Date) -> TaskState:
    """Say the state of one task that was found usable."""
    if not task.applies:
        return _plain(task, whose, "not applicable", reasons.not_applicable(task))
    history = task.done if in_order(task.done) else sorted(task.done, key=place_of)
    ending = task.ends_with
    if ending is not None and ending.reopened is None:
        return _plain(task, whose, "closed", reasons.closed(task, history), history)
    if ending is not None and ending.reopened is not None:
        again = ending.reopened
        history = [done for done in history if _after(done, again)]
        if not history:
            return _plain(task, whose, "due", reasons.before_next_flight(task, reopened=True), task.done, "event")
    if task.before_next_flight and not any(task.event is None or _after(done, task.event) for done in history):
        return _plain(task, whose, "due", reasons.before_next_flight(task, reopened=False), history, "event")
    if history and task.every is None:
        return _plain(task, whose, "closed", reasons.closed(task, history), history)
    if not history and task.start is None:
        return _plain(task, whose, "unknown", reasons.never_recorded(task))
    return _by_limits(task, history, whose, on)


def _after(done: Done, happening: Happening) -> bool:
    """Whether a task was done after something happened; on the same day only the hours can tell."""
    if done.date != happening.date:
        return done.date > happening.date
    return done.hours is not None and happening.hours is not None and done.hours >= happening.hours


def _plain(
    task: Task,
    whose: Counted,
    state: State,
    because: str,
    history: Sequence[Done] = (),
    binds: Binding | None = None,
) -> TaskState:
    """Give a state that no limit leads to."""
    last = max((done.date for done in history), default=None)
    return _task_state(task, whose, state, binds, NOWHERE, None, NOTHING_LEFT, NO_WINDOW, None, last, because, ())


def _by_limits(task: Task, history: Sequence[Done], whose: Counted, on: Date) -> TaskState:
    tolerance = amounts_of(task)
    if history and task.every is not None:
        limits = limits_of_repetition(task, task.every, history, whose, tolerance)
    else:
        assert task.start is not None
        limits = limits_of_start(task.start, whose, tolerance)
    today = Decimal(on.toordinal())
    found = [reached(limit, whose, today) for limit in limits.all]
    state = together(found, limits)
    decides = binding(found, limits, state, whose)
    forecast = _forecast(found, limits, whose) if state == "coming" else None
    return _task_state(
        task, whose, state, decides.limit.counter,
        *_numbers(found, limits, whose, on),
        forecast if isinstance(forecast, Forecast) else None,
        history[-1].date if history else None,
        reasons.because(task, state, decides, found, limits, whose),
        tuple(reasons.notes_of(task, found, whose, tolerance, forecast, on)),
    )  # fmt: skip


def _forecast(found: Sequence[Reached], limits: Limits, whose: Counted) -> Forecast | str | None:
    # On the shelf the hours stand still: a date is all that can come.
    span = expected(found, limits, whose) if whose.aircraft else None
    if span is None:
        return None
    if isinstance(span, NoRate):
        return span.why
    return as_forecast(span, whose.counted_on) or "at the past rate of use it lies more than a hundred years off"


def _numbers(
    found: Sequence[Reached], limits: Limits, whose: Counted, on: Date
) -> tuple[DuePoint, Date | None, Remaining, Window]:
    """Give the due point, what is left, and the window, each counter by itself."""
    places = _places(found, limits)
    hours, landings, date = places.get("hours"), places.get("landings"), places.get("date")
    due_date = _day(_of(date).at)
    return (
        _point(hours, landings, whose),
        due_date,
        Remaining(
            None if hours is None else hours.left,
            None if landings is None else _whole(landings.left),
            None if due_date is None else (due_date - on).days,
        ),
        _window(hours, landings, date),
    )


def _point(hours: Reached | None, landings: Reached | None, whose: Counted) -> DuePoint:
    if hours is None and landings is None:
        return NOWHERE
    at, landed = _of(hours).at, _of(landings).at
    return DuePoint(
        hours=at,
        landings=_whole(landed),
        aircraft_hours=_ahead(at, whose.ahead_hours),
        aircraft_landings=_whole(_ahead(landed, whose.ahead_landings)),
        hours_on_meter=_ahead(at, None if whose.ahead_hours is None else whose.ahead_hours - whose.ahead_meter),
    )


def _window(hours: Reached | None, landings: Reached | None, date: Reached | None) -> Window:
    """Give both ends of the window; where nothing is allowed they are one."""
    by_hours, by_landings, by_date = _of(hours), _of(landings), _of(date)
    early = WindowEnd(by_hours.early, _whole(by_landings.early), _day(by_date.early))
    if by_hours.early == by_hours.late and by_landings.early == by_landings.late and by_date.early == by_date.late:
        return Window(early, early)
    return Window(early, WindowEnd(by_hours.late, _whole(by_landings.late), _day(by_date.late)))


def _of(each: Reached | None) -> Limit:
    return NO_LIMIT if each is None else each.limit


def _places(found: Sequence[Reached], limits: Limits) -> dict[str, Reached]:
    """Give the limit of each counter: of several in the group the first or the later, then what holds in any case."""
    places: dict[str, Reached] = {}
    size, first = len(limits.group), limits.join == "first"
    for number, each in enumerate(found):
        at, there = each.limit.at, places.get(each.limit.counter)
        if at is None:
            continue
        if there is None or (at < _at(there) if first or number >= size else at > _at(there)):
            places[each.limit.counter] = each
    return places


def _at(each: Reached) -> Decimal:
    assert each.limit.at is not None
    return each.limit.at


def _ahead(at: Decimal | None, ahead: Decimal | None) -> Decimal | None:
    return None if at is None or ahead is None else at + ahead if ahead else at


def _whole(number: Decimal | None) -> int | None:
    return None if number is None else int(number)


def _day(ordinal: Decimal | None) -> Date | None:
    return None if ordinal is None else Date.fromordinal(int(ordinal))


def _task_state(
    task: Task,
    whose: Counted,
    state: State,
    binds: Binding | None,
    due_at: DuePoint,
    due_date: Date | None,
    remaining: Remaining,
    window: Window,
    forecast: Forecast | None,
    last_done: Date | None,
    because: str,
    notes: tuple[str, ...],
) -> TaskState:
    return TaskState(
        task.name, whose.aircraft, task.part, task.source, task.reference, task.applies_to, state, binds,
        due_at, due_date, remaining, window, forecast, last_done, because, notes,
    )  # fmt: skip


def _landings(counted: Counted) -> int | None:
    return _whole(counted.landings)


def _aircraft_totals(counted: Counted) -> AircraftTotals:
    rate, landings = counted.hours_rate, counted.landings_rate
    return AircraftTotals(
        name=counted.whose,
        hours=counted.hours,
        landings=_landings(counted),
        counted_on=counted.counted_on,
        hours_per_day=rate.per_day if isinstance(rate, Rate) else None,
        landings_per_day=landings.per_day if isinstance(landings, Rate) else None,
        note="" if isinstance(rate, Rate) else f"No forecast in hours: {rate.why}.",
    )
