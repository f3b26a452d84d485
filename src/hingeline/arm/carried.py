"""How the uncertainty of what was measured goes into section, stress, margin and frequency.

Sensitivities by small steps to both sides, since the governing fibre of a section may change from one to another.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from hingeline.arm.model import ArmTask
from hingeline.arm.wall_readings import gauge_uncertainty, lowest
from hingeline.arm.worked import own_frequency, work_out
from hingeline.uncertainty import Budget, Contribution, Measured, combine
from hingeline.uncertainty.stated import Stated

_STEP = 1e-4

MEASURABLE = {
    ("tube", "outside_diameter"): "outside diameter",
    ("tube", "wall"): "wall",
    ("bar", "width"): "width",
    ("bar", "height"): "height",
    ("loss", "depth"): "depth lost",
    ("root", "length"): "length of the arm",
    ("weight", "mass"): "mass of the weight",
}
UNITS = {"mass": "kg"}

Place = tuple[str, str]
Numbers = dict[str, float]


@dataclass(frozen=True, slots=True)
class Carried:
    """Every number that follows, and how it moves with each measured one."""

    numbers: Numbers
    causes: dict[str, tuple[Contribution, ...]]
    coverage: float
    k: float | None

    def budget(self, name: str) -> Budget:
        """Combine the causes of one number."""
        return combine(self.causes[name], coverage=self.coverage, k=self.k)

    def measured(self, name: str, factor: float = 1.0) -> Measured:
        """Give a number, times an exact factor, with its uncertainty; without any cause none is given."""
        value, budget = factor * self.numbers[name], self.budget(name)
        if not budget.standard_uncertainty:
            return Measured(value, None)
        return Measured(
            value, abs(factor) * budget.standard_uncertainty, abs(factor) * budget.expanded_uncertainty,
            budget.coverage_factor, budget.effective_degrees_of_freedom,
        )  # fmt: skip


def carried(task: ArmTask) -> Carried:
    """Work an arm out, with the uncertainty of everything that follows."""
    numbers = numbers_of(task)
    causes: dict[str, list[Contribution]] = {name: [] for name in numbers}
    for place, stated in stated_of(task):
        for name, slope in _slopes(task, place).items():
            causes[name].append(_cause(task, place, stated, slope))
    return Carried(numbers, {name: tuple(found) for name, found in causes.items()}, task.coverage, task.k)


def numbers_of(task: ArmTask) -> Numbers:
    """Give every number that carries an uncertainty, by name."""
    worked = work_out(task)
    section = {
        "area": worked.root.area,
        "second_moment": worked.root.second_moment,
        "section_modulus": worked.root.section_modulus,
    }
    stresses = {f"stress {direction}": stress for direction, stress in worked.stresses.items()}
    moments = {f"moment {direction}": moment for direction, moment in worked.moments.items()}
    return section | stresses | moments | {"frequency": own_frequency(worked), "wall_left": wall_left(task) or 0.0}


def wall_left(task: ArmTask) -> float | None:
    """Give the wall that is left where most is gone [m]; None for a bar."""
    if task.tube is None:
        return None
    return task.tube.wall - (0.0 if task.loss is None else task.loss.depth)


def stated_of(task: ArmTask) -> Iterator[tuple[Place, Stated]]:
    """Go through the measured numbers whose uncertainty is stated."""
    for place in MEASURABLE:
        part = getattr(task, place[0])
        stated = None if part is None else getattr(part, f"{place[1]}_uncertainty")
        if stated is not None:
            yield place, stated
    yield from _of_a_wall_as_drawn(task)


def _of_a_wall_as_drawn(task: ArmTask) -> Iterator[tuple[Place, Stated]]:
    """Give the gauge's uncertainty to the nominal wall where the lowest reading is no loss: it was measured too."""
    if task.tube is None or task.loss is not None or not task.readings:
        return
    stated = gauge_uncertainty(lowest(task.readings))
    if stated is not None:
        yield ("tube", "wall"), stated


def _value(task: ArmTask, place: Place) -> float:
    return float(getattr(getattr(task, place[0]), place[1]))


def _slopes(task: ArmTask, place: Place) -> Numbers:
    value = _value(task, place)
    step = _STEP * value
    above, below = (numbers_of(_with(task, place, value + way * step)) for way in (1.0, -1.0))
    return {name: (above[name] - below[name]) / (2.0 * step) for name in above}


def _with(task: ArmTask, place: Place, value: float) -> ArmTask:
    part = replace(getattr(task, place[0]), **{place[1]: value})
    return replace(task, **{place[0]: part})


def _cause(task: ArmTask, place: Place, stated: Stated, slope: float) -> Contribution:
    size = stated.of(_value(task, place))
    return Contribution(MEASURABLE[place], size, UNITS.get(place[1], "m"), slope, stated.degrees_of_freedom)
