"""The rooms of the library with a good input for each, and a second way to the same numbers where there is one."""

from __future__ import annotations

import math
import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from typing import Any

from hingeline.arm import examine
from hingeline.balance import Weighing, check_rows, plan_weighing, weigh
from hingeline.balance.aircraft_line import aircraft_line
from hingeline.balance.ballast import BallastTask, plan_ballast
from hingeline.balance.coating import predict_coating
from hingeline.balance.drift import look_for_drift
from hingeline.balance.simulate import simulate
from hingeline.balance.spread import dynamic_balance
from hingeline.balance.swing import inertia_by_swing
from hingeline.due import what_is_due
from hingeline.flutter import FlutterTask, analyse
from hingeline.flutter.stick import at_the_stick
from hingeline.motion import Recording, fit_tones, judge, modes_by_tap, onset_of
from hingeline.uncertainty import (
    Contribution,
    combine,
    combine_decimal,
    coverage_factor,
    decimal_contribution,
    guarded,
    probability_within,
    simple,
    student_cumulative,
    student_quantile,
    type_a,
)
from hingeline.units import read
from hingeline_app.files.arm_file import read_arm
from hingeline_app.files.ballast_file import read_ballast
from hingeline_app.files.coating_file import read_coating
from hingeline_app.files.due_file import read_due
from hingeline_app.files.dynamic_file import read_dynamic
from hingeline_app.files.flutter_file import read_flutter
from hingeline_app.files.limits_file import read_limits
from hingeline_app.files.recordings import read_recording
from hingeline_app.files.stick_file import read_stick
from hingeline_app.files.swing_file import read_swing
from hingeline_app.files.weighing_file import read_weighing
from tests.doors.checkouts import ROOT
from tests.faults.fuzzing import doors_beside, glances, second_ways

EXAMPLES = ROOT / "examples"


@dataclass(frozen=True)
class Room:
    """A room: its good inputs, what it makes of one, and what must hold between an input and its result."""

    inputs: Callable[[], tuple[Any, ...]]
    answer: Callable[[Any], Any]
    # Looks at results that came out; raises AssertionError.
    second_way: Callable[[Any, Any], None] = lambda asked, found: None
    # Looks at every result, where the second way is dear and in a campaign goes along with one of so many.
    glance: Callable[[Any, Any], None] = lambda asked, found: None
    one_of: int = 1
    # How many are tried in the ordinary check, and in a campaign.
    few: int = 300
    many: int = 1_000_000


def examples(pattern: str, read_it: Callable[[bytes], Any]) -> Callable[[], tuple[Any, ...]]:
    """Read the examples that a pattern names, once."""

    @cache
    def found() -> tuple[Any, ...]:
        return tuple(read_it(path.read_bytes()) for path in sorted(EXAMPLES.glob(pattern)))

    return found


# ------------------------------------------------------------------ small ones beside the whole: many can be tried


def corrections() -> tuple[BallastTask, ...]:
    """The correction of the examples with all its places and with two of them, and many times with one: it is quick."""
    (whole,) = examples("09*.toml", lambda data: read_ballast(data).task)()
    ones = [whole.places[:1], whole.places[1:2], whole.places[2:]]
    some = [whole.places[:2], whole.places[1:], *ones * 6]
    return whole, *(replace(whole, places=places) for places in some)


def recordings() -> tuple[Recording, ...]:
    """The recordings of the examples, and many short parts of them: what is short is judged a hundred times as fast."""
    whole = examples("motion/0[46]*.csv", read_recording)()
    parts = [part_of(each, start, count) for each in whole for start in range(0, 340, 20) for count in (40, 80, 120)]
    return *whole, *parts


def part_of(recording: Recording, start: int, count: int) -> Recording:
    """Cut so many samples out of a recording."""
    end = start + count
    channels = tuple(replace(each, values=each.values[start:end]) for each in recording.channels)
    return replace(recording, times=recording.times[start:end], channels=channels)


def models() -> tuple[FlutterTask, ...]:
    """The section of the examples with its three freedoms, and with two of them in narrow ranges of speeds."""
    (whole,) = examples("flutter/01*.toml", read_flutter)()
    assert whole.section is not None
    pairs = (("plunge", "pitch"), ("plunge", "surface"), ("pitch", "surface"))
    return whole, *(
        replace(whole, section=replace(whole.section, freedoms=pair), speeds=speeds)
        for pair in pairs
        for speeds in ((60.0, 90.0), (20.0, 40.0))
    )


# ------------------------------------------------------------------ weighing


def weighed_by_hand(asked: Weighing, found: Any) -> None:
    """Twice every mass gives twice the moment, and a reading more to the mean changes nothing but its place."""
    turned = replace(asked, supports=tuple(replace(each, readings=each.readings[::-1]) for each in asked.supports))
    again = weigh(turned).static_moment.value
    assert math.isclose(again, found.static_moment.value, rel_tol=1e-9, abs_tol=1e-9), (again, found.static_moment)
    statement, lower, upper = found.statement_simple, found.limits.lower, found.limits.upper
    value = found.static_moment.value
    beyond = (upper is not None and value > upper * (1 + 1e-9) + 1e-9) or (
        lower is not None and value < lower - abs(lower) * 1e-9 - 1e-9
    )
    assert not (beyond and statement == "inside"), (value, lower, upper, statement)


# ------------------------------------------------------------------ uncertainty


@dataclass(frozen=True)
class Causes:
    """What the rooms of uncertainty are asked: sizes, degrees, a value between limits, readings."""

    sizes: tuple[float, ...] = (0.01, 0.003, 0.02)
    degrees: tuple[float, ...] = (4.0, 50.0, 9.0)
    value: float = 1.4
    lower: float = 0.0
    upper: float = 2.1
    coverage: float = 0.95
    readings: tuple[float, ...] = (0.84, 0.845, 0.84)


def said_of(asked: Causes) -> Any:
    """Ask each door of the room."""
    causes = [
        Contribution(f"cause {n}", size, "kg", 1.0, degrees)
        for n, (size, degrees) in enumerate(zip(asked.sizes, asked.degrees, strict=False))
    ]
    budget = combine(causes, coverage=asked.coverage)
    expanded = budget.expanded_uncertainty
    return (
        budget,
        simple(asked.value, asked.lower, asked.upper),
        guarded(asked.value, expanded, asked.lower, asked.upper),
        probability_within(asked.value, budget.standard_uncertainty, asked.lower, asked.upper),
        type_a(asked.readings),
        coverage_factor(asked.coverage, asked.degrees[0] if asked.degrees else None),
    )


def combined_in_decimals(asked: Causes, found: Any) -> None:
    """The same budget in exact decimals; the quantile put back into the distribution; inside means between."""
    budget, statement, with_guard, chance = found[:4]
    exact = combine_decimal(
        [decimal_contribution(repr(float(size)), None) for size in asked.sizes[: len(asked.degrees)]]
    )
    assert math.isclose(budget.standard_uncertainty, float(exact.standard_uncertainty), rel_tol=1e-9, abs_tol=1e-300)
    if statement == "inside":
        assert asked.lower <= asked.value <= asked.upper
    if with_guard == "inside":
        assert statement == "inside"
    assert chance is None or 0.0 <= chance <= 1.0
    quantile = student_quantile(0.975, 4.0)
    assert math.isclose(student_cumulative(quantile, 4.0), 0.975, rel_tol=1e-12)


# ------------------------------------------------------------------ units


@dataclass(frozen=True)
class Words:
    """A text as somebody types it, and what it should be."""

    text: str
    dimension: str


UNITS = {
    "mass": ("g", "kg", "lb", "oz"),
    "length": ("mm", "m", "in", "cm"),
    "moment": ("N m", "kg cm", "in-lb", "g mm"),
    "angle": ("deg", "rad", "\u00b0"),
}
STRANGE = (0x0, 0x661, 0xFF11, 0x202E, 0x2212, 0x27, 0x5F, 0x41)


def typed(seed: int) -> Words:
    """Type something: a quantity, or what looks like one."""
    draw = random.Random(seed)
    dimension = draw.choice(tuple(UNITS))
    digits = "".join(draw.choice("0123456789") for _ in range(draw.choice((0, 1, 2, 3, 3, 4, 5, 9, 12))))
    mark = draw.choice(("", ".", ".", ",", "..", "_"))
    number = draw.choice(("", "", "-", "\u2212", "+")) + digits[:3] + mark + digits[3:]
    unit = draw.choice((*UNITS[dimension] * 3, "", "x", "fl oz", "N m"))
    text = number + draw.choice(("", " ", "\u00a0", "\t")) + unit + draw.choice(("", "", "", " tail-heavy"))
    at = draw.randrange(len(text) + 1)
    strange = chr(draw.choice(STRANGE)) if draw.random() < 0.2 else ""
    return Words(text[:at] + strange + text[at:], dimension)


def read_by_the_second_reader(asked: Words, found: Any) -> None:
    """The reader of the second route reads the same value, from the text alone, in exact fractions."""
    from hingeline.exact import fraction

    assert math.isfinite(found)
    assert math.isclose(float(fraction(found)), float(found), rel_tol=1e-15, abs_tol=0.0), asked.text


# ------------------------------------------------------------------ what is due


def counted_again(asked: Any, found: Any) -> None:
    """Asked in another order, every task has the state that it had."""
    turned = what_is_due(asked.aircraft[::-1], asked.parts[::-1], asked.tasks[::-1], asked.on)

    def states(of: Any) -> list[str]:
        return sorted(
            str((each.aircraft, each.part, each.name, each.state, each.due_at, each.remaining)) for each in of.tasks
        )

    assert states(turned) == states(found)


def due_now(asked: Any) -> Any:
    """Ask what is due."""
    return what_is_due(asked.aircraft, asked.parts, asked.tasks, asked.on)


ROOMS: dict[str, Room] = {
    "weigh": Room(
        examples("0[1-68]*.toml", lambda data: read_weighing(data).weighing),
        weigh,
        weighed_by_hand,
        glances.moment_added_up,
        20,
        few=200,
    ),
    "limits": Room(examples("07*.toml", read_limits), check_rows, second_ways.mirrored, glances.row_by_row, 10),
    "ballast": Room(cache(corrections), plan_ballast, second_ways.plans_by_hand, few=20, many=10_000),
    "coating": Room(examples("1[23]*.toml", read_coating), predict_coating, second_ways.coats_by_hand),
    "swing": Room(examples("14*.toml", read_swing), inertia_by_swing, second_ways.swung_by_the_integral),
    "dynamic": Room(examples("15*.toml", read_dynamic), dynamic_balance, second_ways.spread_by_points),
    "uncertainty": Room(cache(lambda: (Causes(),)), said_of, combined_in_decimals, few=600),
    "due": Room(
        examples("due/01*.toml", lambda data: read_due(data, date(2027, 3, 12))),
        due_now,
        counted_again,
        glances.in_the_order_asked,
        10,
        few=150,
    ),
    "arm": Room(
        examples("arm/*.toml", read_arm),
        lambda task: examine(task, samples=100),
        second_ways.swings_as_elements,
        glances.margins_of_stresses,
        20,
        few=60,
    ),
    "flutter": Room(cache(models), analyse, second_ways.twice_as_heavy, glances.speeds_in_order, 10, few=6, many=2_000),
    "motion": Room(
        cache(recordings), judge, second_ways.doubled, glances.senses_of_a_movement, 10, few=40, many=20_000
    ),
    # The doors beside the rooms.
    "before": Room(
        examples("0[1-68]*.toml", lambda data: read_weighing(data).weighing),
        plan_weighing,
        doors_beside.shown_by_the_scale,
    ),
    "draws": Room(
        examples("0[1-68]*.toml", lambda data: read_weighing(data).weighing),
        lambda asked: simulate(asked, draws=2_000, seed=1),
        few=60,
        many=100_000,
    ),
    "stick": Room(examples("16*.toml", read_stick), at_the_stick, doors_beside.pulled_by_work),
    "drift": Room(
        cache(lambda: (doors_beside.Series(),)), lambda asked: look_for_drift(asked.weighings), doors_beside.turned_over
    ),
    "line": Room(
        cache(lambda: (doors_beside.Line(),)),
        lambda asked: aircraft_line(asked.changes, asked.hinge_from_datum),
        doors_beside.added_up,
    ),
    "gap": Room(cache(lambda: (doors_beside.Gap(),)), doors_beside.of_gap),
    "entries": Room(
        examples("due/01*.toml", lambda data: read_due(data, date(2027, 3, 12))), doors_beside.of_tasks, few=100
    ),
    "tones": Room(
        doors_beside.samples,
        lambda asked: fit_tones(asked.times, asked.values, asked.frequencies, asked.held),
        doors_beside.twice_as_large,
        few=100,
    ),
    "tap": Room(doors_beside.taps, modes_by_tap, few=10, many=20_000),
    "onset": Room(doors_beside.knocks, onset_of, few=10, many=20_000),
}
read_text = read
