"""What can be seen of an answer at a glance: sums, senses, bounds and orders, in a few thousandths of its own cost.

Where a second way is dear, every answer is looked at so, and the second way goes along with one of many.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from hingeline.arm import ArmTask
from hingeline.balance import Weighing
from hingeline.balance.model import Support
from hingeline.flutter import FlutterTask
from hingeline.motion import Recording
from tests.faults.fuzzing.second_ways import ALIKE, aft_of, alike

STATEMENTS = ("inside", "outside", "too close to tell", None)


# ------------------------------------------------------------------ weighing


def moment_added_up(asked: Weighing, found: Any) -> None:
    """The moment is what the pushes and the known masses make at their arms; U is k times u; no band is overstepped."""
    terms = [*map(lambda each: push_at_arm(each, asked.local_gravity), asked.supports)]
    signs = [(each, -1.0) for each in asked.hung]
    signs += [(each, 1.0 if each.state == "not fitted" else -1.0) for each in asked.parts]
    terms += [(sign * each.mass * asked.local_gravity * aft_of(each),) * 2 for each, sign in signs]
    moment, size = found.static_moment, sum(abs(of) for _, of in terms)
    alike(sum(term for term, _ in terms), moment.value, size)
    alike(found.mass_moment.value * asked.local_gravity, moment.value)
    if moment.expanded_uncertainty is not None:
        alike(moment.coverage_factor * moment.standard_uncertainty, moment.expanded_uncertainty)
    not_beyond(moment.value, found, size)


def push_at_arm(support: Support, gravity: float) -> tuple[float, float]:
    """Give the moment that a support shows, and the size of what it was added up from."""
    series = [each for each in (support.readings, support.rising, support.falling) if each]
    middle = sum(sum(each) / len(each) for each in series) / len(series)
    way = (1.0 if support.pushes == "up" else -1.0) * (gravity if support.reading_unit == "kg" else 1.0)
    return way * aft_of(support) * (middle - support.tare), way * support.arm * (abs(middle) + support.tare)


def not_beyond(value: float, found: Any, size: float) -> None:
    """What lies beyond a limit by more than rounding is not called inside, and every word is one of the four."""
    lower, upper = found.limits.lower, found.limits.upper
    beyond = (upper is not None and value > upper + ALIKE * (abs(upper) + size)) or (
        lower is not None and value < lower - ALIKE * (abs(lower) + size)
    )
    assert not (beyond and found.statement_simple == "inside"), (value, lower, upper)
    assert not (beyond and found.statement_guarded == "inside"), (value, lower, upper)
    assert {found.statement, found.statement_simple, found.statement_guarded} <= set(STATEMENTS)


# ------------------------------------------------------------------ limits, tasks


def row_by_row(asked: Sequence[Any], found: Any) -> None:
    """As many rows as were asked, of the same surfaces; limits that are swapped are said to contradict each other."""
    assert [each.surface for each in found.rows] == [each.surface for each in asked]
    for each in found.rows:
        swapped = None not in (each.lower, each.upper) and each.lower > each.upper
        assert swapped == any(gap.between == "lower and upper" for gap in each.contradictions), each


def in_the_order_asked(asked: Any, found: Any) -> None:
    """A state for each task, in the order given; what still comes is not past its due point."""
    assert [each.name for each in found.tasks] == [each.name for each in asked.tasks]
    for each in found.tasks:
        left = {"hours": each.remaining.hours, "landings": each.remaining.landings, "date": each.remaining.days}
        if each.state == "overdue":
            assert any(some is not None and some < 0 for some in left.values()), each
        if each.state == "coming":
            assert left[each.binding] is None or left[each.binding] >= 0, each


# ------------------------------------------------------------------ an arm


def margins_of_stresses(asked: ArmTask, found: Any) -> None:
    """Each margin is of its stress; Rayleigh's frequency is not below the exact one; no interval is too long."""
    factor = 1.0 if found.loads_are == "limit" else 1.5
    for each in found.loads:
        assert each.stress.value > 0.0
        alike((each.margin_yield + 1.0) * each.stress.value / factor, asked.material.yield_strength)
    frequency = found.natural_frequency
    assert frequency.unit == "Hz"
    assert 0.0 < frequency.value <= frequency.rayleigh * (1.0 + 1e-6), frequency
    crack = found.crack
    if crack is not None and crack.interval_shown is not None:
        assert crack.interval_shown <= crack.approved_interval
    if crack is not None:
        assert crack.cycles >= 0.0
        assert crack.course == tuple(sorted(crack.course, key=lambda point: point.cycles))


# ------------------------------------------------------------------ flutter, movements


def speeds_in_order(asked: FlutterTask, found: Any) -> None:
    """Every point lies in the range, rising; the onset is the first into growth; frequencies rise."""
    low, high = asked.speeds
    speeds = [each.speed for each in found.crossings]
    assert speeds == sorted(speeds)
    assert all(low * (1 - ALIKE) <= each <= high * (1 + ALIKE) for each in speeds), speeds
    assert list(found.natural_frequencies) == sorted(found.natural_frequencies)
    assert all(each >= 0.0 for each in found.natural_frequencies)
    into = [each for each in found.crossings if each.direction == "into"]
    if found.flutter is not None:
        assert not found.growing_at_lowest_speed
        assert (found.flutter.speed, found.flutter.frequency) == (into[0].speed, into[0].frequency)
        reduced = 2.0 * math.pi * found.flutter.frequency * asked.section.semichord / found.flutter.speed
        alike(reduced, found.flutter.reduced_frequency)
        assert max(part.magnitude for part in found.flutter.mode.shape) == 1.0
    else:
        assert found.growing_at_lowest_speed or not into


def senses_of_a_movement(asked: Recording, found: Any) -> None:
    """What grows has a rate above nought and a damping below, what dies out the other way round; ends hold values."""
    rate, damping = found.growth_rate, found.damping_ratio
    sign = {"growing": 1.0, "dying out": -1.0}.get(found.statement)
    if sign is None:
        assert rate is None
        assert damping is None
    for each, way in ((rate, 1.0), (damping, -1.0)):
        if each is not None:
            assert way * (sign or 0.0) * each.value > 0.0, (found.statement, each)
    for each in (found.frequency, rate, damping):
        if each is not None and each.low is not None and each.high is not None:
            assert each.low <= each.value <= each.high, each
    assert found.frequency is None or found.frequency.value >= 0.0
    assert found.cycles >= 0.0
    assert found.phase is None or -180.0 <= found.phase <= 180.0
