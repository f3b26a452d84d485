"""From the course of an assumed crack to what is shown beside the approved interval: never a longer one."""

from __future__ import annotations

from collections.abc import Iterator

from hingeline.arm.crack_course import Course, course_of
from hingeline.arm.detection import Method, chance_in_visits, chance_to_find, methods, size_found
from hingeline.arm.model import ArmTask, Crack, Detection
from hingeline.arm.results import CoursePoint, CrackResult, DetectionResult
from hingeline.errors import RoutesDisagree

HOUR = 3600.0
MOST_VISITS = 1000
SHOWN_POINTS = 24
_ROUTES_AGREE = 1e-6


def interval_by_growth(cycles: float, factor: float, cycles_per_hour: float) -> float:
    """Give the time in which so many cycles, divided by the factor, are flown [s].

    Parameters
    ----------
    cycles : float
        From what can be found to what is critical [1].
    factor : float
        3 for a single load path, 2 for several (common practice, from memory) [1].
    cycles_per_hour : float
        [1/h]

    Examples
    --------
    >>> round(interval_by_growth(2113921.967, 3.0, 3000.0) / 3600.0, 4)
    234.8802
    """
    return cycles / (factor * cycles_per_hour) * HOUR


def not_longer(approved: float | None, *computed: float | None) -> float | None:
    """Give the interval that is shown: the approved one, or less. Without an approved one there is none.

    Examples
    --------
    >>> not_longer(300.0, 352.3), not_longer(300.0, 234.9), not_longer(None, 352.3)
    (300.0, 234.9, None)
    """
    if approved is None:
        return None
    return float(min([approved, *(one for one in computed if one is not None)]))


def crack_life(task: ArmTask, limit_stress: float) -> CrackResult | None:
    """Follow the crack of a task, if it has one, by two ways that must agree.

    Raises
    ------
    RoutesDisagree
        They do not.
    """
    crack = task.crack
    if crack is None:
        return None
    largest = limit_stress if crack.largest_stress is None else crack.largest_stress
    course = course_of(task, crack, largest)
    _refuse_disagreement(course)
    found = _detection(task, crack, course)
    computed = interval_by_growth(course.cycles, crack.factor, crack.cycles_per_hour)
    by_method = None if found is None else _interval_by_method(crack, found)
    shown = not_longer(crack.approved_interval, computed, by_method)
    return CrackResult(
        critical_size=course.critical_size,
        governed_by=course.governed_by,
        size_is=course.size_is,
        fracture_size=course.critical.fracture,
        collapse_size=course.critical.collapse,
        initial_size=course.start,
        final_size=course.end,
        largest_stress=largest,
        limit_stress=limit_stress,
        cycles=course.cycles,
        cycles_second_way=course.second,
        second_way=course.second_way,
        approved_interval=crack.approved_interval,
        interval_shown=shown,
        shorter_than_approved=None if shown is None else shown < (crack.approved_interval or 0.0),
        course=tuple(_thinned(course)),
        detection=found,
        distribution=None,
    )


def _refuse_disagreement(course: Course) -> None:
    allowed = _ROUTES_AGREE * course.cycles
    if abs(course.cycles - course.second) > allowed:
        raise RoutesDisagree("cycles of the crack", repr(course.cycles), repr(course.second), f"{allowed:.3g}")


def _thinned(course: Course) -> Iterator[CoursePoint]:
    """Give a part of the points, both ends among them: enough to draw."""
    last = len(course.points) - 1
    every = max(1, -(-last // SHOWN_POINTS))
    for number, (size, cycles) in enumerate(course.points):
        if number % every == 0 or number == last:
            yield CoursePoint(size, cycles)


def _interval_by_method(crack: Crack, found: DetectionResult) -> float | None:
    left = found.cycles_from_planning_size
    return None if left is None else interval_by_growth(left, crack.factor, crack.cycles_per_hour)


def _detection(task: ArmTask, crack: Crack, course: Course) -> DetectionResult | None:
    how = task.detection
    if how is None:
        return None
    method = None if how.method is None else methods()[how.method]
    visits, chances = _visits(how, crack, course)
    return DetectionResult(
        method=how.method,
        planning_size=None if method is None else method.size,
        planning_source=None if method is None else method.source,
        planning_provenance=None if method is None else method.provenance,
        cycles_from_planning_size=None if method is None else _cycles_from(method, course),
        size_found_nine_in_ten=_nine_in_ten(how),
        visits=visits[-SHOWN_POINTS:],
        chance_at_best_visit=None if chances is None else max(chances, default=0.0),
        chance_if_independent=None if chances is None else chance_in_visits(chances),
    )


def _cycles_from(method: Method, course: Course) -> float:
    """Give the cycles from the size that the method is planned for; the part before it is not seen."""
    return course.cycles_from(max(method.size, course.start))


def _nine_in_ten(how: Detection) -> float | None:
    if how.half_found is None or how.spread is None:
        return None
    return size_found(0.9, how.half_found, how.spread)


def _visits(how: Detection, crack: Crack, course: Course) -> tuple[tuple[CoursePoint, ...], list[float] | None]:
    """Meet the crack at every visit of the approved interval, the first one interval after its start."""
    if how.half_found is None or how.spread is None or crack.approved_interval is None:
        return (), None
    apart = crack.approved_interval / HOUR * crack.cycles_per_hour
    count = min(int(course.cycles / apart), MOST_VISITS)
    met = [CoursePoint(course.size_after(apart * visit), apart * visit) for visit in range(1, count + 1)]
    return tuple(met), [chance_to_find(point.size, how.half_found, how.spread) for point in met]
