"""The unknowns of the programme and the rows that tie them, place by place, in grams and millimetres.

The numbers of an ordinary correction then lie between 1 and 100 000, far from a solver's tolerances.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from hingeline.balance.ballast.choice import Choice, Choices
from hingeline.balance.ballast.model import BallastTask, Place
from hingeline.balance.ballast.rooms import ALMOST_WHOLE, Room, room_of, steps_within

GRAMS, MILLIMETRES = 1e3, 1e3
SAME = 1e-6  # of a unknown: below it a solver's digit is noise

Form = dict[int, float]


@dataclass(frozen=True, slots=True)
class Row:
    """A linear form of the unknowns between two ends."""

    form: Form
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Amount:
    """An unknown that counts a mass at one place: so many times ``mass`` grams."""

    column: int
    mass: float
    whole: bool


@dataclass(frozen=True, slots=True)
class PlaceColumns:
    """The unknowns of one place: how much, and whether at all."""

    place: Place
    room: Room
    adding: tuple[Amount, ...]
    taking: tuple[Amount, ...]
    adds: int
    takes: int

    def weights(self) -> Form:
        """Give weights added less weights taken off [g]."""
        signed = [(each, 1.0) for each in self.adding] + [(each, -1.0) for each in self.taking]
        return {each.column: sign * each.mass for each, sign in signed}

    def mass(self) -> Form:
        """Give the change of mass at the place, bracket included [g]."""
        return self.weights() | {self.adds: self.place.bracket_to_fit * GRAMS}

    def size(self) -> Form:
        """Give the same, each part counted positive [g]."""
        return {column: abs(each) for column, each in self.mass().items()}


@dataclass(slots=True)
class Columns:
    """All unknowns with their ends, and the rows that every plan keeps."""

    places: list[PlaceColumns] = field(default_factory=list)
    ends: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)

    def new(self, end: float, *, whole: bool) -> int:
        """Add an unknown from 0 to ``end``."""
        self.ends.append(end)
        self.whole.append(whole)
        return len(self.ends) - 1

    def weighted(self, kind: str, factors: Sequence[float]) -> Form:
        """Give Σ factor × (mass or size at the place), over the places."""
        form: Form = {}
        for each, factor in zip(self.places, factors, strict=True):
            form |= {column: factor * mass for column, mass in getattr(each, kind)().items() if mass}
        return form

    @property
    def discrete(self) -> bool:
        """Whether every amount goes in steps or pieces."""
        return all(amount.whole for each in self.places for amount in (*each.adding, *each.taking))

    @property
    def combinations(self) -> float:
        """Give how many plans there are; as if every unknown were whole."""
        amounts = [amount for each in self.places for amount in (*each.adding, *each.taking)]
        return math.prod(self.ends[amount.column] + 1.0 for amount in amounts)


def columns_of(task: BallastTask) -> Columns:
    """Lay out the unknowns of a task, with what each place keeps to."""
    columns = Columns()
    for place in task.places:
        _lay_out(columns, place, room_of(place, task))
    return columns


def _lay_out(columns: Columns, place: Place, room: Room) -> None:
    adding = tuple(_adding(columns, place, room)) if room.can_add else ()
    taking = tuple(_taking(columns, place, room)) if room.can_take else ()
    adds, takes = columns.new(float(bool(adding)), whole=True), columns.new(float(bool(taking)), whole=True)
    columns.places.append(PlaceColumns(place, room, adding, taking, adds, takes))
    _tie(columns, adding, adds, room.least_added, room.most_added)
    _tie(columns, taking, takes, room.least_taken, room.most_taken)
    columns.rows.append(Row({adds: 1.0, takes: 1.0}, float(bool(room.must_add or room.must_take)), 1.0))
    if room.must_add:
        columns.rows.append(Row({adds: 1.0}, 1.0, 1.0))
    if room.must_take:
        columns.rows.append(Row({takes: 1.0}, 1.0, 1.0))


def _adding(columns: Columns, place: Place, room: Room) -> list[Amount]:
    if place.pieces:
        stock = Counter(place.pieces)
        fitting = {mass: count for mass, count in sorted(stock.items()) if mass <= room.most_added * (1.0 + 1e-12)}
        return [Amount(columns.new(float(n), whole=True), mass * GRAMS, whole=True) for mass, n in fitting.items()]
    return [_amount(columns, place.smallest_step, room.most_added)]


def _taking(columns: Columns, place: Place, room: Room) -> list[Amount]:
    return [_amount(columns, place.smallest_step, room.most_taken)]


def _amount(columns: Columns, step: float | None, most: float) -> Amount:
    if step is None:
        return Amount(columns.new(most * GRAMS, whole=False), 1.0, whole=False)
    count = float(steps_within(most, step))
    return Amount(columns.new(count, whole=True), step * GRAMS, whole=True)


def _tie(columns: Columns, amounts: tuple[Amount, ...], used: int, least: float, most: float) -> None:
    """Tie the amount to whether there is any: between the least and the most, or nothing."""
    if not amounts:
        return
    form, unit, slack = {each.column: each.mass for each in amounts}, GRAMS, 1e-9 * most * GRAMS
    if len(amounts) == 1 and amounts[0].whole:
        # Steps are counted: whole numbers are no trouble to a solver, and there is nothing to round.
        form, unit, slack = {amounts[0].column: 1.0}, 1.0, 0.0
        least, most = _count(least, amounts[0]), _count(most, amounts[0], down=True)
    columns.rows.append(Row(form | {used: -most * unit - slack}, -math.inf, 0.0))
    columns.rows.append(Row(form | {used: -least * unit + slack}, 0.0, math.inf))


def _count(mass: float, amount: Amount, *, down: bool = False) -> float:
    """Give the fewest whole amounts that make a mass, or the most that fit in it."""
    count = mass * GRAMS / amount.mass
    return float(math.floor(count + ALMOST_WHOLE) if down else max(1, math.ceil(count - ALMOST_WHOLE)))


def choices_from(columns: Columns, found: Sequence[float]) -> Choices:
    """Read the choice at each place from the solver's numbers: whole ones rounded, noise left out."""
    return tuple(_choice(each, found) for each in columns.places)


def _choice(columns: PlaceColumns, found: Sequence[float]) -> Choice:
    added, pieces = _sum(columns.place, columns.adding, found)
    taken, _ = _sum(columns.place, columns.taking, found, adding=False)
    room = columns.room
    if added > taken and added > 0.5 * room.least_added:
        return Choice(columns.place, _snapped(added, room.least_added, room.most_added), 0.0, pieces)
    if taken > 0.5 * room.least_taken:
        return Choice(columns.place, 0.0, _snapped(taken, room.least_taken, room.most_taken))
    return Choice(columns.place)


def _sum(
    place: Place, amounts: tuple[Amount, ...], found: Sequence[float], *, adding: bool = True
) -> tuple[float, tuple[float, ...]]:
    if adding and place.pieces:
        pieces = tuple(each.mass / GRAMS for each in amounts for _ in range(round(found[each.column])))
        return math.fsum(pieces), pieces
    mass = 0.0
    for each in amounts:
        step = place.smallest_step
        mass += found[each.column] / GRAMS if step is None else round(found[each.column]) * step
    return mass, ()


def _snapped(mass: float, least: float, most: float) -> float:
    """Put a mass that a solver left just beside an end onto it."""
    for end in (least, most):
        if abs(mass - end) <= SAME / GRAMS:
            return end
    return min(max(mass, least), most)
