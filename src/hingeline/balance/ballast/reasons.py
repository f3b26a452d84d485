"""Why no plan reaches the band, and which single change of what is allowed would mend it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from hingeline.balance.ballast.choice import Choices, moment_after, prediction
from hingeline.balance.ballast.columns import GRAMS, choices_from, columns_of
from hingeline.balance.ballast.model import BallastTask, Place, Remedy
from hingeline.balance.ballast.programme import Programme, solve
from hingeline.balance.ballast.search import Best

MOST_LONGER = 2.0  # times the arm there is now: beyond it, it is another place
NOISE = Decimal("1e-8")  # of a number: what LITTLE_MORE and a float add to a round one
LITTLE_MORE = 1.0 + 1e-9  # a remedy is a little larger than the least that would do


def reason_of(task: BallastTask, best: Best) -> str:
    """Say why the band cannot be reached."""
    if best.aim.empty:
        expanded = prediction(task, best.choices)[0].expanded_uncertainty or 0.0
        return (
            f"The guarded band is empty: U of {expanded:.3g} N m, drawn in at both ends, leaves nothing of the limits."
        )
    missing, lies = _missing(moment_after(task, best.choices), best)
    sentence = f"The nearest predicted moment lies {_amount(missing)} N m beyond the band, too {lies}"
    way = _way(task, best)
    if not _helpers(task, way):
        return f"{sentence}: no place can make the surface less {way}."
    if _within_reach(task, best):
        return f"{sentence}: the steps, pieces and brackets pass over the band."
    return f"{sentence}: the places do not reach it."


def remedies_of(task: BallastTask, best: Best) -> tuple[Remedy, ...]:
    """List what would mend it, each on its own; empty where no single change does."""
    if best.aim.empty:
        return tuple(_smaller_uncertainty(task))
    found = [each for index in range(len(task.places)) for each in _at(task, best, index)]
    return tuple(found) or tuple(_new_place(task, best))


def _ends(best: Best) -> tuple[float | None, float | None]:
    """Give the ends of the band; without any, the target is both."""
    low, high = best.aim.low, best.aim.high
    return (best.aim.moment, best.aim.moment) if low is None and high is None else (low, high)


def _missing(moment: float, best: Best) -> tuple[float, str]:
    """Give how far a moment lies beyond the band, and toward which side."""
    low, high = _ends(best)
    if high is not None and moment > high:
        return moment - high, "tail-heavy"
    return (max(0.0, low - moment) if low is not None else 0.0), "nose-heavy"


def _way(task: BallastTask, best: Best) -> str:
    """Say what the surface is too much of: as weighed, or where that is inside, as the nearest plan has it."""
    missing, way = _missing(task.moment.value, best)
    return way if missing else _missing(moment_after(task, best.choices), best)[1]


def _sign(way: str) -> float:
    return -1.0 if way == "tail-heavy" else 1.0


def _helpers(task: BallastTask, way: str) -> list[int]:
    """List the places where adding or taking off turns the surface the right way."""
    columns = columns_of(task).places
    return [
        index
        for index, each in enumerate(columns)
        if (each.adding and each.place.x * _sign(way) > 0.0) or (each.taking and each.place.x * _sign(way) < 0.0)
    ]


def _within_reach(task: BallastTask, best: Best) -> bool:
    """Tell whether some plan lies in the band or on its far side."""
    low, high = _ends(best)
    one_sided = replace(best.aim, low=None, high=high)
    if _way(task, best) == "nose-heavy":
        one_sided = replace(best.aim, low=low, high=None)
    columns = columns_of(task)
    programme = Programme(task, columns, one_sided)
    return bool(solve(programme.sizes(), columns, programme.rows(), ()).unknowns)


def _at(task: BallastTask, best: Best, index: int) -> Iterator[Remedy]:
    place = task.places[index]
    if place.largest_mass is not None:
        yield from _larger_mass(task, best, index)
    if place.smallest_mass is not None:
        yield from _smaller_least(task, best, index)
    if place.smallest_step is not None:
        yield from _finer_step(task, best, index)
    if place.pieces:
        yield from _wider_stock(task, best, index)
    yield from _longer_arm(task, best, index)


def _with(task: BallastTask, index: int, place: Place) -> BallastTask:
    return replace(task, places=(*task.places[:index], place, *task.places[index + 1 :]))


def _reaching(task: BallastTask, best: Best, index: int, sign: float) -> Choices | None:
    """Find a plan in the band that changes one place least (with -1: most); None where there is none."""
    columns = columns_of(task)
    programme = Programme(task, columns, best.aim.narrower() if _wide(best) else best.aim)
    objective = {column: sign * mass for column, mass in columns.places[index].size().items()}
    found = solve(objective, columns, programme.rows(), ())
    return choices_from(columns, found.unknowns) if found.unknowns else None


def _wide(best: Best) -> bool:
    low, high = best.aim.low, best.aim.high
    return low is None or high is None or high - low > 1e-3


def _larger_mass(task: BallastTask, best: Best, index: int) -> Iterator[Remedy]:
    place = task.places[index]
    found = _reaching(_with(task, index, replace(place, largest_mass=None)), best, index, 1.0)
    if found is None or place.largest_mass is None:
        return
    needed = found[index].in_all * LITTLE_MORE
    if needed > place.largest_mass:
        yield _remedy(place, "largest_mass", place.largest_mass, _up(needed), "kg", "a largest mass of {needed}")


def _smaller_least(task: BallastTask, best: Best, index: int) -> Iterator[Remedy]:
    place = task.places[index]
    found = _reaching(_with(task, index, replace(place, smallest_mass=None)), best, index, -1.0)
    if found is None or place.smallest_mass is None:
        return
    needed = found[index].in_all / LITTLE_MORE
    if 0.0 < needed < place.smallest_mass:
        yield _remedy(place, "smallest_mass", place.smallest_mass, _down(needed), "kg", "a least mass of {needed}")


def _finer_step(task: BallastTask, best: Best, index: int) -> Iterator[Remedy]:
    """Find the largest step whose multiple lands in the band, the other places as they would then be."""
    place = task.places[index]
    ends = _amounts(_with(task, index, replace(place, smallest_step=None)), best, index)
    if ends is None or place.smallest_step is None:
        return
    steps = math.floor(ends[1] / place.smallest_step) + 1
    needed = _roundest(ends[0] / steps, ends[1] / steps)
    if needed < place.smallest_step:
        yield _remedy(place, "smallest_step", place.smallest_step, needed, "kg", "steps of {needed}")


def _wider_stock(task: BallastTask, best: Best, index: int) -> Iterator[Remedy]:
    """Find the one piece that would do there, with the others in their places."""
    place = task.places[index]
    ends = _amounts(_with(task, index, replace(place, pieces=())), best, index)
    if ends is not None:
        yield _remedy(place, "pieces", None, _roundest(*ends), "kg", "a piece of {needed}")


def _amounts(task: BallastTask, best: Best, index: int) -> tuple[float, float] | None:
    """Give the least and the most weight to add at one place, as the others stand in the plan that adds least."""
    found, place = _reaching(task, best, index, 1.0), task.places[index]
    if found is None or found[index].added <= 0.0:
        return None
    others = moment_after(task, found) - task.local_gravity * place.x * found[index].added
    ends = [
        (end - others) / (task.local_gravity * place.x) if end is not None else found[index].added
        for end in (best.aim.low, best.aim.high)
    ]
    room = columns_of(task).places[index].room
    low, high = max(min(ends), room.least_added), min(max(ends), room.most_added)
    return (low, high) if low <= high else None


def _roundest(low: float, high: float) -> float:
    """Give a mass between the ends with as few decimals as will do; the largest of them."""
    for places in range(4, 12):
        rounded = math.floor(high * 10.0**places) / 10.0**places
        if rounded >= low > 0.0:
            return rounded
    return (low + high) / 2.0


def _longer_arm(task: BallastTask, best: Best, index: int) -> Iterator[Remedy]:
    """Find the arm at which the mass of the nearest plan would do; only where the reach is short."""
    missing, way = _missing(moment_after(task, best.choices), best)
    place, mass = task.places[index], best.choices[index].mass
    if not mass or mass * place.x * _sign(way) <= 0.0 or _within_reach(task, best):
        return
    needed = (place.arm + missing / (task.local_gravity * abs(mass))) * LITTLE_MORE
    if mass > 0.0 and needed <= MOST_LONGER * place.arm:
        yield _remedy(place, "arm", place.arm, _up(needed), "m", "an arm of {needed} with the same mass")


def _new_place(task: BallastTask, best: Best) -> Iterator[Remedy]:
    """Say what is missing in all, where no single place can mend it."""
    missing, way = _missing(moment_after(task, best.choices), best)
    side = "forward" if way == "tail-heavy" else "aft"
    grams = missing / (task.local_gravity * 0.1) * GRAMS * LITTLE_MORE
    sentence = (
        f"No single change does: {_amount(missing)} N m is still missing, for instance "
        f"{_three_digits(grams, ROUND_CEILING)} g at 100 mm {side} of the hinge line. "
        "Ask the design holder."
    )
    yield Remedy("", "new place", None, missing, "N m", sentence)


def _smaller_uncertainty(task: BallastTask) -> Iterator[Remedy]:
    lower, upper = task.limits.lower, task.limits.upper
    if lower is None or upper is None:
        return
    needed, now = (upper - lower) / 2.0, task.moment.expanded_uncertainty
    most = _three_digits(needed, ROUND_FLOOR)
    sentence = f"Weigh again with a U below {most} N m: better scale, arm and bearings, more readings."
    yield Remedy("", "uncertainty", now, needed, "N m", sentence)


def _three_digits(value: float, rounding: str) -> str:
    """Write what is needed so that what is written does: three digits, never short of it by rounding."""
    exact = Decimal(repr(value))
    step = Decimal(1).scaleb(exact.adjusted() - 2)
    nearest = exact.quantize(step)
    near = abs(nearest - exact) <= NOISE * abs(exact)
    return f"{float(nearest if near else exact.quantize(step, rounding)):.3g}"


def _remedy(place: Place, what: str, now: float | None, needed: float, unit: str, words: str) -> Remedy:
    small = "g" if unit == "kg" else "mm"
    beside = "" if now is None else f" (now {now * 1e3:.6g} {small})"
    sentence = f"{place.name}: {words.format(needed=f'{needed * 1e3:.6g} {small}')}{beside}."
    return Remedy(place.name, what, now, needed, unit, sentence)


def _up(value: float) -> float:
    return math.ceil(value * 1e4 - 1e-5) / 1e4


def _down(value: float) -> float:
    return math.floor(value * 1e4 + 1e-5) / 1e4 or value


def _amount(moment: float) -> str:
    return f"{moment:.3g}" if moment < 1e-3 else f"{moment:.3f}"
