"""The mixed-integer programme, and the one door to its solver (HiGHS, through scipy)."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from hingeline.balance.ballast.aim import Aim
from hingeline.balance.ballast.columns import GRAMS, MILLIMETRES, Columns, Form, Row
from hingeline.balance.ballast.model import BallastTask
from hingeline.errors import HingelineError

NODES = 20_000  # a count, not a time: the same input then gives the same plan on every machine
OPTIMAL, STOPPED, INFEASIBLE = 0, 1, 2  # the solver's words for how it ended
SQUARE = 1e6 / GRAMS  # kg mm² for a gram at a square metre


class Attempt(NamedTuple):
    """One way to ask the solver: with its presolving or without, the unknowns forwards or backwards."""

    presolve: bool
    backwards: bool


# About one programme in three thousand ends in an error of the solver, which another way of asking avoids.
ATTEMPTS = (Attempt(True, False), Attempt(False, False), Attempt(True, True), Attempt(False, True))


@dataclass(frozen=True, slots=True)
class Found:
    """The solver's unknowns, none where it found no plan; ``proven`` where it could show that nothing is better."""

    unknowns: tuple[float, ...]
    proven: bool


@dataclass(frozen=True, slots=True)
class Programme:
    """The unknowns of a task with an aim, and which sets of places are not to be used whole again."""

    task: BallastTask
    columns: Columns
    aim: Aim
    excluded: tuple[frozenset[int], ...] = ()

    def moment(self) -> Form:
        """Give the change of the static moment over local gravity [g mm]."""
        return self.columns.weighted("mass", [place.x * MILLIMETRES for place in self.task.places])

    def sizes(self) -> Form:
        """Give Σ |changes| [g]."""
        return self.columns.weighted("size", [1.0] * len(self.task.places))

    def inertia(self) -> Form:
        """Give the change of the moment of inertia [kg mm²]."""
        return self.columns.weighted("mass", [SQUARE * place.x**2 for place in self.task.places])

    def product(self) -> Form:
        """Give the change of the product of inertia [kg mm²]."""
        return self.columns.weighted("mass", [SQUARE * p.x * (p.spanwise or 0.0) for p in self.task.places])

    def shift(self, moment: float) -> float:
        """Give the change that brings the surface to a moment [g mm]."""
        return (moment - self.task.moment.value) / self.task.local_gravity * GRAMS * MILLIMETRES

    def rows(self) -> list[Row]:
        """Give the rows that every plan keeps: the places, the band, the sets that are excluded."""
        low = -math.inf if self.aim.low is None else self.shift(self.aim.low)
        high = math.inf if self.aim.high is None else self.shift(self.aim.high)
        band = [] if self.aim.low is None and self.aim.high is None else [Row(self.moment(), low, high)]
        return [*self.columns.rows, *band, *(self._leaves_one_out(each) for each in self.excluded)]

    def _leaves_one_out(self, used: frozenset[int]) -> Row:
        places = [self.columns.places[index] for index in sorted(used)]
        return Row({column: 1.0 for each in places for column in (each.adds, each.takes)}, 0.0, len(places) - 1.0)

    def away(self, column: int) -> list[Row]:
        """Tie an unknown to be at least the distance from the moment aimed at [g mm]."""
        wanted = self.shift(self.aim.moment)
        return [
            Row(self.moment() | {column: -1.0}, -math.inf, wanted),
            Row(self.moment() | {column: 1.0}, wanted, math.inf),
        ]


def nearest_possible(programme: Programme) -> float:
    """Give a distance that no plan can be nearer than, since the moments of whole steps lie on a grid [g mm].

    The solver then sees at once that a plan at this distance is the best. 0 where nothing is known.
    """
    if not programme.columns.discrete:
        return 0.0
    units = [Fraction(value).limit_denominator(10**6) for value in programme.moment().values()]
    values = programme.moment().values()
    if not units or any(abs(float(unit) - v) > 1e-12 * abs(v) for unit, v in zip(units, values, strict=True)):
        return 0.0
    grid = float(_common(units))
    wanted = programme.shift(programme.aim.moment)
    beside = math.fmod(abs(wanted), grid)
    return max(0.0, min(beside, grid - beside) - 1e-9 * max(1.0, abs(wanted)))


def _common(units: Sequence[Fraction]) -> Fraction:
    denominator = math.lcm(*(unit.denominator for unit in units))
    numerators = [int(unit * denominator) for unit in units]
    return Fraction(math.gcd(*numerators), denominator)


def solve(objective: Form, columns: Columns, rows: Sequence[Row], more: Sequence[tuple[float, float]]) -> Found:
    """Make a linear form of the unknowns least.

    Parameters
    ----------
    objective : mapping
        By column.
    columns : Columns
    rows : sequence of Row
    more : sequence of (float, float)
        Ends of further unknowns, whose columns follow those of ``columns``; they need not be whole.

    Returns
    -------
    Found
        Without unknowns where none keep all rows, or none was found within ``NODES``.
    """
    if any(_out_of_reach(row, columns, more) for row in rows):
        return Found((), proven=True)
    status = STOPPED
    for attempt in ATTEMPTS:
        found, status = _attempt(objective, columns, rows, more, attempt)
        # That there is no plan is believed only when it is found twice.
        if status == OPTIMAL or (status == INFEASIBLE and not attempt.presolve) or (status == STOPPED and found):
            return Found(found, status != STOPPED)
    if status not in (INFEASIBLE, STOPPED):
        raise HingelineError(
            "No plan: the solver gave no answer. This is a fault of the program, not of your work. "
            "A place less, or another step, may let it through."
        )
    return Found((), status == INFEASIBLE)


def _out_of_reach(row: Row, columns: Columns, more: Sequence[tuple[float, float]]) -> bool:
    """Tell whether a row cannot be kept by anything between the ends of its unknowns: the solver need not be asked.

    By far more than the solver's tolerance, so that it would have said the same.
    """
    ends = [*((0.0, end) for end in columns.ends), *more]
    reached = [(factor * ends[column][0], factor * ends[column][1]) for column, factor in row.form.items() if factor]
    least, most = math.fsum(map(min, reached)), math.fsum(map(max, reached))
    slack = 1e-3 + 1e-6 * math.fsum(abs(end) for pair in reached for end in pair if math.isfinite(end))
    return least > row.high + slack or most < row.low - slack


def _attempt(
    objective: Form, columns: Columns, rows: Sequence[Row], more: Sequence[tuple[float, float]], attempt: Attempt
) -> tuple[tuple[float, ...], int]:
    """Ask the solver once; give its unknowns and how it ended."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    count = len(columns.ends) + len(more)
    order = np.arange(count)[:: -1 if attempt.backwards else 1]
    matrix, costs = np.zeros((len(rows), count)), np.zeros(count)
    for index, row in enumerate(rows):
        matrix[index, list(row.form)] = list(row.form.values())
    costs[list(objective)] = list(objective.values())
    lowest = np.array([0.0] * len(columns.ends) + [low for low, _ in more])
    highest = np.array([*columns.ends, *(high for _, high in more)])
    whole = np.array([int(each) for each in columns.whole] + [0] * len(more))
    answer = milp(
        costs[order],
        constraints=LinearConstraint(matrix[:, order], [row.low for row in rows], [row.high for row in rows]),
        integrality=whole[order],
        bounds=Bounds(lowest[order], highest[order]),
        options={"mip_rel_gap": 0.0, "node_limit": NODES, "presolve": attempt.presolve},
    )
    unknowns = () if answer.x is None else tuple(float(each) for each in answer.x[order])
    # At the limit of nodes scipy 1.17 says that it does not know the solver's status; its message tells it.
    return unknowns, STOPPED if "limit reached" in answer.message else int(answer.status)
