"""The course of an assumed crack, by its geometry: where it begins and ends, and the cycles between, two ways."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from hingeline.arm.crack_geometry import WIDEST, through_crack_intensity
from hingeline.arm.critical_size import (
    bar_collapse_depth,
    constant_fracture_size,
    through_collapse_angle,
    through_fracture_angle,
)
from hingeline.arm.detection import methods
from hingeline.arm.growth import (
    MEGA,
    closed_form_cycles,
    cycles_along,
    growth_constant_in_metres,
    integrated_cycles,
)
from hingeline.arm.model import ArmTask, Crack
from hingeline.arm.results import GovernedBy, SizeIs
from hingeline.arm.surface_crack import Stage, SurfaceCrack, through_the_wall, through_the_wall_again
from hingeline.arm.worked import radii, sides

Points = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Critical:
    """Sizes at which the limit load breaks the arm [m]; fracture None: not within the model's range."""

    fracture: float | None
    collapse: float
    range_end: float | None = None

    @property
    def size(self) -> float:
        """The smallest of them."""
        return min(size for size in (self.fracture, self.collapse, self.range_end) if size is not None)

    @property
    def governed_by(self) -> GovernedBy:
        """Which of them that is."""
        if self.size == self.fracture:
            return "fracture"
        return "plastic collapse" if self.size == self.collapse else "end of the model's range"


@dataclass(frozen=True, slots=True)
class Course:
    """How a crack grows: points of size [m] and cycles, both ways to the sum, and where it ends."""

    points: Points
    cycles: float
    second: float
    second_way: str
    critical: Critical
    critical_size: float
    governed_by: GovernedBy
    size_is: SizeIs
    start: float
    end: float

    def size_after(self, cycles: float) -> float:
        """Give the size after so many cycles [m], between the points by its logarithm."""
        return math.exp(_between([(done, math.log(size)) for size, done in self.points], cycles))

    def cycles_from(self, size: float) -> float:
        """Give the cycles that are left from a size on [1]; 0 from the end on."""
        if size >= self.points[-1][0]:
            return 0.0
        return self.cycles - _between([(math.log(at), done) for at, done in self.points], math.log(size))


def _between(pairs: Sequence[tuple[float, float]], place: float) -> float:
    """Interpolate in a straight line; beyond the ends, the end."""
    at = bisect_right(pairs, (place, math.inf))
    if at == 0:
        return pairs[0][1]
    if at == len(pairs):
        return pairs[-1][1]
    (low, first), (high, last) = pairs[at - 1], pairs[at]
    return first + (last - first) * (place - low) / (high - low)


@dataclass(frozen=True, slots=True)
class Driven:
    """An arm and its crack, as the growth sees them [SI; C for m and MPa √m]."""

    crack: Crack
    largest_stress: float
    flow_stress: float
    constant: float
    mean_radius: float | None
    wall: float | None
    height: float | None

    def grown(self, intensity_of_one: Callable[[float], float]) -> Callable[[float], float]:
        """Give the growth in a cycle by the intensity that a stress of 1 Pa makes at a size."""
        stress, exponent = self.crack.stress_range / MEGA, self.crack.growth_exponent
        return lambda size: self.constant * (stress * intensity_of_one(size)) ** exponent

    def ring(self) -> tuple[float, float]:
        """Give mean radius and wall of a tube."""
        assert self.mean_radius is not None
        assert self.wall is not None
        return self.mean_radius, self.wall


def driven(task: ArmTask, crack: Crack, largest_stress: float) -> Driven:
    """Gather what the growth depends on; the section where most is lost."""
    outer, inner = (None, None) if task.tube is None else radii(task.tube, task.loss)
    material = task.material
    mean = (material.yield_strength + material.ultimate_strength) / 2.0
    return Driven(
        crack=crack,
        largest_stress=largest_stress,
        flow_stress=mean if material.flow_stress is None else material.flow_stress,
        constant=growth_constant_in_metres(crack.growth_constant, crack.growth_exponent, crack.growth_units),
        mean_radius=None if outer is None or inner is None else (outer + inner) / 2.0,
        wall=None if outer is None or inner is None else outer - inner,
        height=None if task.bar is None else sides(task.bar, task.loss)[1],
    )


def start_of(task: ArmTask, crack: Crack) -> float | None:
    """Give the size at the start [m]: as stated, else what the method of detection is planned for."""
    if crack.geometry == "surface":
        return crack.half_length
    if crack.geometry == "constant" and crack.initial is not None:
        return crack.initial
    if crack.geometry == "tube through" and crack.half_angle is not None and task.tube is not None:
        return crack.half_angle * sum(radii(task.tube, task.loss)) / 2.0
    method = None if task.detection is None else task.detection.method
    return None if method is None else methods()[method].size


def course_of(task: ArmTask, crack: Crack, largest_stress: float) -> Course:
    """Follow a crack from its start to its end."""
    found = driven(task, crack, largest_stress)
    start = start_of(task, crack)
    assert start is not None
    if crack.geometry == "constant":
        return _constant(found, start)
    if crack.geometry == "tube through":
        return _through(found, start)
    return _surface(found)


def constant_critical(found: Driven) -> Critical:
    """Give the critical sizes for a constant factor; a tube collapses as if the size were half a through crack's."""
    factor = found.crack.geometry_factor or 1.0
    fracture = constant_fracture_size(found.crack.toughness, factor, found.largest_stress)
    if found.mean_radius is None:
        assert found.height is not None
        return Critical(fracture, bar_collapse_depth(found.largest_stress, found.flow_stress, found.height))
    angle = through_collapse_angle(found.largest_stress, found.flow_stress)
    return Critical(fracture, found.mean_radius * angle)


def through_critical(found: Driven) -> Critical:
    """Give the critical half lengths of a crack through the wall."""
    radius, wall = found.ring()
    fracture = through_fracture_angle(found.crack.toughness, found.largest_stress, radius, wall)
    collapse = through_collapse_angle(found.largest_stress, found.flow_stress)
    end = WIDEST * math.pi * radius
    return Critical(None if fracture is None else radius * fracture, radius * collapse, end)


def _ended(found: Driven, critical: Critical) -> float:
    final = found.crack.final
    return critical.size if final is None else min(final, critical.size)


def _whole(found: Driven, critical: Critical, start: float, size_is: SizeIs, rate: Callable[[float], float]) -> Course:
    """Follow a crack of one size to its end; one that is there already takes no cycles."""
    end = _ended(found, critical)
    common = (critical, critical.size, critical.governed_by, size_is, start, end)
    if start >= end:
        return Course(((start, 0.0),), 0.0, 0.0, "none was needed", *common)
    points = tuple(cycles_along(rate, start, end))
    return Course(points, points[-1][1], integrated_cycles(rate, start, end), "integration", *common)


def _constant(found: Driven, start: float) -> Course:
    """Take the closed form, and an integration beside it."""
    crack = found.crack
    factor = crack.geometry_factor or 1.0
    course = _whole(found, constant_critical(found), start, "size", constant_rate(found))
    if not course.cycles:
        return course
    closed = closed_form_cycles(
        start, course.end, constant=found.constant, exponent=crack.growth_exponent, factor=factor,
        stress_range=crack.stress_range,
    )  # fmt: skip
    return replace(course, cycles=closed, second_way="integration, beside the closed form")


def constant_rate(found: Driven) -> Callable[[float], float]:
    """Give the growth in a cycle for a constant factor."""
    factor = found.crack.geometry_factor or 1.0
    return found.grown(lambda size: factor * math.sqrt(math.pi * size))


def through_rate(found: Driven) -> Callable[[float], float]:
    """Give the growth of the half length in a cycle for a crack through the wall."""
    radius, wall = found.ring()
    return found.grown(lambda size: through_crack_intensity(1.0, radius, wall, min(size / radius, WIDEST * math.pi)))


def _through(found: Driven, start: float) -> Course:
    return _whole(found, through_critical(found), start, "half length round the tube", through_rate(found))


def _surface(found: Driven) -> Course:
    """Follow a crack through the wall, then round the tube."""
    crack, critical = found.crack, through_critical(found)
    _, wall = found.ring()
    assert crack.depth is not None
    assert crack.half_length is not None
    growing = SurfaceCrack(
        crack.depth, crack.half_length, wall, found.constant, crack.growth_exponent, crack.stress_range
    )

    def breaks(stage: Stage) -> bool:
        worst = growing.worst_intensity(found.largest_stress, stage.depth, stage.half_length)
        return worst >= crack.toughness or stage.half_length >= critical.collapse

    stages = through_the_wall(growing, breaks)
    last = stages[-1]
    points = tuple((stage.half_length, stage.cycles) for stage in stages)
    second = through_the_wall_again(growing, last.depth).cycles if last.cycles else 0.0
    if breaks(last):
        by: GovernedBy = "plastic collapse" if last.half_length >= critical.collapse else "fracture"
        way = "integration by another routine"
        return Course(
            points, last.cycles, second, way, critical, last.depth, by, "depth", crack.half_length, last.half_length
        )
    rest = _through(found, last.half_length)
    along = tuple((size, last.cycles + cycles) for size, cycles in rest.points[1:])
    return Course(
        points + along, last.cycles + rest.cycles, second + rest.second, "integration by other routines", critical,
        critical.size, critical.governed_by, "half length round the tube", crack.half_length, rest.end,
    )  # fmt: skip
