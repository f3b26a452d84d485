"""What is due for 200 aircraft with 20,000 tasks: our call, a plain script, and the floor, in one run.

Run ``python benchmarks/due.py [rounds]``. The plain script knows hours, months and "first", in floats, and checks
nothing. The floor goes through the tasks once and compares one number. Prints medians, ratios, and how the time of
our call grows from a tenth of the tasks to all of them.
"""

from __future__ import annotations

import random
import statistics
import sys
import time
from calendar import monthrange
from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal

from hingeline.due import Aircraft, Done, Fitting, Interval, Part, Reading, Task, Tolerance, what_is_due

AIRCRAFT, TASKS_EACH = 200, 100
ON = date(2027, 3, 12)
RULES = ("done", "due", "late from due, early from done", "inside from due, outside from done")
Fleet = tuple[list[Aircraft], list[Part], list[Task]]


def fleet(aircraft: int) -> Fleet:
    """Invent a fleet, the same on every run."""
    drawn = random.Random(1)
    planes, parts, tasks = [], [], []
    for number in range(aircraft):
        name, hours = f"T2-{number:03d}", Decimal(drawn.randrange(8_000, 60_000)) / 10
        readings = tuple(
            Reading(ON - timedelta(30 * back), hours - Decimal(5 * back) - Decimal(drawn.randrange(5)), 900 - 9 * back)
            for back in range(12, 0, -1)
        )
        planes.append(Aircraft(name, hours, 900, readings=readings))
        parts.append(Part(f"arm {number:04d}", Decimal("12.5"), 10, (Fitting(name, Decimal("100.0"), None, 90),)))
        tasks += [task(drawn, name, place, hours) for place in range(TASKS_EACH)]
    return planes, parts, tasks


def task(drawn: random.Random, name: str, place: int, hours: Decimal) -> Task:
    """Invent a task with four sign-offs."""
    last = [hours - 80 - Decimal(drawn.randrange(600)) / 10 - 95 * back for back in (3, 2, 1, 0)]
    done = tuple(
        Done(ON - timedelta(400 + 300 * back), max(Decimal(0), at), 500 - 50 * back)
        for back, at in zip((3, 2, 1, 0), last, strict=True)
    )
    return Task(
        f"check {place}", name, source=drawn.choice(("directive", "manual", "programme")),  # type: ignore[arg-type]
        every=Interval(Decimal(100), 500 if place % 5 == 0 else None, 24 if place % 2 else None),
        months_are="anniversary", join="first", tolerance=Tolerance(hours=Decimal(5)),
        counts_from=RULES[place % 4], done=done,  # type: ignore[arg-type]
    )  # fmt: skip


def plain(every: Fleet) -> list[tuple[bool, float | None, date | None]]:
    """As one would write it in an afternoon."""
    hours, found = {each.name: float(each.hours or 0) for each in every[0]}, []
    for each in every[2]:
        last, limit = each.done[-1], each.every
        assert limit is not None
        due = None if limit.hours is None or last.hours is None else float(last.hours) + float(limit.hours)
        day = None
        if limit.months is not None:
            year, month = divmod(last.date.year * 12 + last.date.month - 1 + limit.months, 12)
            day = date(year, month + 1, min(last.date.day, monthrange(year, month + 1)[1]))
        late = (due is not None and hours[each.aircraft] > due) or (day is not None and day < ON)
        found.append((late, due, day))
    return found


def floor(every: Fleet) -> int:
    """Go through the tasks once."""
    return sum(each.done[-1].date < ON for each in every[2])


def seconds(run: Callable[[], object]) -> float:
    """Time one call."""
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


def main() -> None:
    """Print medians and ratios."""
    rounds = int(sys.argv[1]) if len(sys.argv) > 1 else 7
    whole, tenth = fleet(AIRCRAFT), fleet(AIRCRAFT // 10)
    calls = (
        lambda: what_is_due(*whole, ON), lambda: what_is_due(*tenth, ON), lambda: plain(whole), lambda: floor(whole)
    )  # fmt: skip
    for call in calls:
        call()
    times = [[seconds(call) for call in calls] for _ in range(rounds)]
    ours, small, script, least = (statistics.median(column) for column in zip(*times, strict=True))
    print(f"aircraft {len(whole[0])}, tasks {len(whole[2]):,}, rounds {rounds}")
    print(f"ours   {ours:.3f} s, {1e6 * ours / len(whole[2]):.0f} µs a task (aim: well under 1 s)")
    print(f"plain  {script:.3f} s; ours over plain {statistics.median(row[0] / row[2] for row in times):.1f}")
    print(f"floor  {least:.4f} s; ours over floor {statistics.median(row[0] / row[3] for row in times):.0f}")
    print(f"growth {ours / small:.1f} for ten times the tasks (linear: 10)")


if __name__ == "__main__":
    main()
