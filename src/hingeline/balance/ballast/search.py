"""The best plans, in their order: in the band, then nearest to the target, then lightest, then least |K/I|."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from hingeline.balance.ballast.aim import Aim, aim_of
from hingeline.balance.ballast.choice import (
    Choice,
    Choices,
    coefficient,
    inertia_after,
    moment_after,
    prediction,
    product_after,
    rounding_of,
    sum_of_changes,
)
from hingeline.balance.ballast.columns import GRAMS, MILLIMETRES, Columns, Row, choices_from, columns_of
from hingeline.balance.ballast.model import BallastTask
from hingeline.balance.ballast.programme import Found, Programme, nearest_possible, solve

MOST_PLANS = 3
MOST_ROUNDS = 12
SAME_MASS = 1e-7  # kg: sums that differ by less are equally light
SAME_COEFFICIENT = 1e-9
LARGE_COEFFICIENT = 1e3

# Plans nearer to the target than this count as equally near [N m], by how many plans there are. The first
# is below any weighing; with more places than can be told apart by moment, ever finer sums would be found.
SAME_MOMENT = ((2e7, 1e-9), (1e12, 1e-6), (math.inf, 1e-5))


@dataclass(frozen=True, slots=True)
class Best:
    """The best choice, with the aim it was made for."""

    choices: Choices
    aim: Aim
    feasible: bool
    from_target: float
    proven: bool = True

    @property
    def used(self) -> frozenset[int]:
        """Which places are changed, by number."""
        return frozenset(index for index, each in enumerate(self.choices) if each.size)


def same_moment(task: BallastTask, columns: Columns | None = None) -> float:
    """Give the distance from the target up to which plans count as equally near [N m]."""
    columns = columns or columns_of(task)
    count = columns.combinations if columns.discrete else 0.0
    return next(same for most, same in SAME_MOMENT if count <= most)


def best_plans(task: BallastTask) -> tuple[Best, ...]:
    """Find up to three plans in the band, each of which does without a place that every better one uses.

    Where not even the best lies in the band, it alone is given, as the nearest.
    """
    found: list[Best] = []
    excluded: list[frozenset[int]] = []
    while len(found) < MOST_PLANS:
        best = best_plan(task, tuple(excluded))
        if best is None or (found and not best.feasible):
            break
        found.append(best)
        if not best.used or not best.feasible:
            break
        excluded.append(best.used)
    return tuple(found)


def best_plan(task: BallastTask, excluded: tuple[frozenset[int], ...] = ()) -> Best | None:
    """Find the best plan; the guarded band is drawn in by the plan's own U, again until it holds.

    None where even the places' own limits cannot be kept.
    """
    columns, expanded, widest = columns_of(task), task.moment.expanded_uncertainty, 0.0
    best: Best | None = None
    for _ in range(MOST_ROUNDS):
        aim = aim_of(task, expanded)
        best = _still_best(task, best, aim) or _for_aim(task, columns, aim, excluded)
        if best is None or expanded is None or task.limits.rule == "simple":
            return best
        own = prediction(task, best.choices)[0].expanded_uncertainty or 0.0
        if abs(own - expanded) <= 1e-12 * own:
            return best
        # The widest of all is kept, so that it cannot swing for ever.
        expanded = widest = max(widest, own)
    return best


def _still_best(task: BallastTask, best: Best | None, aim: Aim) -> Best | None:
    """Give the best plan of a wider band that aimed at the same moment, where it lies in the narrower one too.

    Among fewer plans, measured by the same, none can be better.
    """
    if best is None or not best.feasible or aim.moment != best.aim.moment or not aim.within(best.aim):
        return None
    inside = aim.narrower().holds(moment_after(task, best.choices))
    return replace(best, aim=aim) if inside else None


def _for_aim(task: BallastTask, columns: Columns, aim: Aim, excluded: tuple[frozenset[int], ...]) -> Best | None:
    """Find the best plan for a fixed band; without one in it, the one nearest to the target."""
    proven = True
    for tried in [] if aim.empty else [aim, aim.narrower()]:
        choices, shown = _in_order(Programme(task, columns, tried, excluded))
        proven = proven and shown
        if choices is not None and aim.holds(moment_after(task, choices), rounding_of(task, choices)):
            return _best(task, choices, aim, proven, feasible=True)
        if choices is None:
            break  # else the solver's tolerance let it slip beyond the band
    choices, shown = _in_order(Programme(task, columns, aim.open(), excluded))
    return None if choices is None else _best(task, choices, aim, proven and shown, feasible=False)


def _best(task: BallastTask, choices: Choices, aim: Aim, proven: bool, *, feasible: bool) -> Best:
    return Best(choices, aim, feasible, abs(moment_after(task, choices) - aim.moment), proven)


def _in_order(programme: Programme) -> tuple[Choices | None, bool]:
    """Solve one order after the other, each time holding the ones before."""
    nothing = _nothing_to_do(programme)
    if nothing is not None:
        return nothing, True
    columns, task = programme.columns, programme.task
    same = same_moment(task, columns) / task.local_gravity * GRAMS * MILLIMETRES
    distance = len(columns.ends)
    rows, ends = [*programme.rows(), *programme.away(distance)], [(max(same, nearest_possible(programme)), math.inf)]
    nearest = solve({distance: 1.0}, columns, rows, ends)
    if not nearest.unknowns:
        return None, nearest.proven
    best, proven = _polished(programme, nearest), nearest.proven
    ends = [(0.0, max(same, _away(programme, best) + 1e-3 * same))]
    lightest = solve(programme.sizes(), columns, rows, ends)
    proven = proven and lightest.proven
    if lightest.unknowns:
        best = _better(programme, best, _polished(programme, lightest), same)
    for found in _least_coefficient(programme, best, rows, ends):
        best = _better(programme, best, _polished(programme, found), same)
    return best, proven


def _nothing_to_do(programme: Programme) -> Choices | None:
    """Give the plan that changes nothing, where it is already exactly as wanted."""
    task = programme.task
    musts = any(each.room.must_add or each.room.must_take for each in programme.columns.places)
    if musts or task.moment.value != programme.aim.moment:
        return None
    return tuple(Choice(place) for place in task.places)


def _away(programme: Programme, choices: Choices) -> float:
    """Give the distance from the moment aimed at [g mm]."""
    task = programme.task
    away = abs(moment_after(task, choices) - programme.aim.moment)
    return away / task.local_gravity * GRAMS * MILLIMETRES


def _better(programme: Programme, one: Choices, other: Choices, same: float) -> Choices:
    """Give the better of two plans; what a solver's tolerance gained is lost again when it is recomputed."""
    nearness = [max(same, _away(programme, each)) for each in (one, other)]
    task = programme.task
    if not _in_band(programme, other) or nearness[1] > nearness[0] + 2e-3 * same:
        return one
    masses = [sum_of_changes(each) for each in (one, other)]
    if masses[1] > masses[0] + SAME_MASS:
        return one
    if masses[1] < masses[0] - SAME_MASS:
        return other
    sizes = [abs(coefficient(product_after(task, each), inertia_after(task, each)) or 0.0) for each in (one, other)]
    return other if sizes[1] < sizes[0] else one


def _in_band(programme: Programme, choices: Choices) -> bool:
    return programme.aim.holds(moment_after(programme.task, choices), rounding_of(programme.task, choices))


def _least_coefficient(
    programme: Programme, best: Choices, rows: list[Row], ends: list[tuple[float, float]]
) -> Iterator[Found]:
    """Make |K/I| least among the nearest and lightest plans, by Dinkelbach's rounds.

    With λ the |K/I| found so far, |K| - λ I is made least; where it cannot be brought below 0, λ is the
    least. Each round is a linear programme, and they end exactly: W. Dinkelbach, On nonlinear fractional
    programming, Management Science 13 (1967), 492 (from memory).
    """
    task, columns = programme.task, programme.columns
    if task.inertia is None or task.product_of_inertia is None:
        return
    size = len(columns.ends) + 1  # the unknown that is |K|
    inertia, product = programme.inertia(), programme.product()
    i_before, k_before = task.inertia * 1e6, task.product_of_inertia * 1e6
    rows = [
        *rows,
        Row(programme.sizes(), 0.0, (sum_of_changes(best) + 0.5 * SAME_MASS) * GRAMS),
        Row(product | {size: -1.0}, -math.inf, -k_before),
        Row(product | {size: 1.0}, -k_before, math.inf),
    ]
    ratio = abs(coefficient(product_after(task, best), inertia_after(task, best)) or 0.0)
    for _ in range(MOST_ROUNDS):
        # A coefficient that dwarfs all else would be beyond the solver's numbers: the whole is made smaller by it.
        scale = 1.0 if ratio < LARGE_COEFFICIENT else 1.0 / ratio
        objective = {column: -ratio * scale * each for column, each in inertia.items()} | {size: scale}
        found = solve(objective, columns, rows, [*ends, (0.0, math.inf)])
        if not found.unknowns:
            return
        smaller = _coefficient_of(found, inertia, product, i_before, k_before)
        if smaller >= ratio * (1.0 - SAME_COEFFICIENT) - SAME_COEFFICIENT:
            return
        yield found
        ratio = smaller


def _coefficient_of(
    found: Found, inertia: dict[int, float], product: dict[int, float], i_before: float, k_before: float
) -> float:
    i = i_before + math.fsum(each * found.unknowns[column] for column, each in inertia.items())
    k = k_before + math.fsum(each * found.unknowns[column] for column, each in product.items())
    return abs(k) / i


def _polished(programme: Programme, found: Found) -> Choices:
    """Round what is whole, then let one continuous amount bring the moment onto the target exactly."""
    choices = choices_from(programme.columns, found.unknowns)
    order = sorted(range(len(choices)), key=lambda index: -programme.task.places[index].arm)
    for index in order:
        moved = _moved(programme, choices, index)
        if moved is not None:
            return moved
    return choices


def _moved(programme: Programme, choices: Choices, index: int) -> Choices | None:
    each, columns, task = choices[index], programme.columns.places[index], programme.task
    amounts = columns.adding if each.added else columns.taking if each.taken else ()
    if not amounts or amounts[0].whole:
        return None
    missing = programme.aim.moment - moment_after(task, choices)
    more = missing / (task.local_gravity * each.place.x)
    room, added, taken = columns.room, each.added, each.taken
    if added:
        added = min(max(added + more, room.least_added), room.most_added)
    else:
        taken = min(max(taken - more, room.least_taken), room.most_taken)
    changed = replace(each, added=added, taken=taken)
    moved = (*choices[:index], changed, *choices[index + 1 :])
    near = abs(programme.aim.moment - moment_after(task, moved)) <= rounding_of(task, moved)
    return moved if near else None
