"""An arm worked out in numbers: its sections now and when sound, its mass, stresses and frequency."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hingeline.arm.loading import ULTIMATE_FACTOR, axial_stress, root_moment
from hingeline.arm.model import ArmTask, Bar, Loss, Tube
from hingeline.arm.results import Direction
from hingeline.arm.section import Section, bar_section, locally_thinned_tube, tube_section, with_bolt_hole
from hingeline.arm.vibration import Beam, exact_frequency

DIRECTIONS: tuple[Direction, ...] = ("normal", "fore and aft", "along hinge")


@dataclass(frozen=True, slots=True)
class WorkedOut:
    """The numbers of an arm.

    Parameters
    ----------
    plain : Section
        Along the arm, bolt hole left out.
    root, side : Section
        Where it breaks, for loads normal to the surface and along the hinge line.
    mass : float
        Of the tube or bar [kg].
    moments, stresses : dict
        By direction [N m, Pa].
    beam : Beam
    """

    plain: Section
    root: Section
    side: Section
    mass: float
    moments: dict[Direction, float]
    stresses: dict[Direction, float]
    beam: Beam


def work_out(task: ArmTask) -> WorkedOut:
    """Work an arm out, its loss taken along the whole of it."""
    plain, root, side = sections(task)
    beyond = task.weight.beyond_tip
    length = task.root.length - beyond
    mass = task.material.density * plain.area * length
    flexibility = 0.0 if task.root.stiffness is None else 1.0 / task.root.stiffness
    stiffness = task.material.modulus * plain.second_moment
    beam = Beam(length, stiffness, mass, task.weight.mass, beyond, task.weight.inertia, flexibility)
    moments = {direction: _moment(task, direction, mass, length) for direction in DIRECTIONS}
    pull = axial_stress(_acceleration(task, "fore and aft"), task.weight.mass + mass, root.area)
    stresses: dict[Direction, float] = {
        "normal": moments["normal"] / root.section_modulus,
        "fore and aft": pull + moments["fore and aft"] / root.section_modulus,
        "along hinge": moments["along hinge"] / side.section_modulus,
    }
    return WorkedOut(plain, root, side, mass, moments, stresses, beam)


def factor_of(task: ArmTask, direction: Direction) -> float:
    """Give the load factor of a direction [1]."""
    loads = task.loads
    return {
        "normal": loads.normal,
        "fore and aft": loads.fore_and_aft,
        "along hinge": loads.along_hinge,
    }[direction]


def _acceleration(task: ArmTask, direction: Direction) -> float:
    return factor_of(task, direction) * task.local_gravity


def _moment(task: ArmTask, direction: Direction, mass: float, length: float) -> float:
    acceleration = _acceleration(task, direction)
    if direction == "fore and aft":
        return acceleration * task.weight.mass * task.weight.off_axis
    return root_moment(acceleration, task.weight.mass, task.root.length, mass, length)


def limit_stress(task: ArmTask, worked: WorkedOut) -> float:
    """Give the largest stress of the limit loads [Pa]."""
    largest = max(worked.stresses.values())
    return largest if task.loads.are == "limit" else largest / ULTIMATE_FACTOR


def sound(task: ArmTask) -> ArmTask:
    """Give the same arm with nothing lost."""
    return replace(task, loss=None)


def sections(task: ArmTask) -> tuple[Section, Section, Section]:
    """Give the section along the arm, at its root, and at its root for loads along the hinge line."""
    if task.tube is not None:
        plain = tube_now(task.tube, task.loss)
        root = plain if task.tube.hole is None else with_bolt_hole(*radii(task.tube, task.loss), task.tube.hole)
        return plain, root, root
    assert task.bar is not None
    width, height = sides(task.bar, task.loss)
    return bar_section(width, height), bar_section(width, height), bar_section(height, width)


def tube_now(tube: Tube, loss: Loss | None) -> Section:
    """Give the section of a tube as it is."""
    if loss is not None and loss.where == "local":
        assert loss.half_angle is not None
        return locally_thinned_tube(*radii(tube, None), loss.depth, loss.half_angle)
    return tube_section(*radii(tube, loss))


def radii(tube: Tube, loss: Loss | None) -> tuple[float, float]:
    """Give outer and inner radius where most is lost [m]."""
    outer = tube.outside_diameter / 2.0
    inner = outer - tube.wall
    if loss is None:
        return outer, inner
    return (outer, inner + loss.depth) if loss.where == "inside" else (outer - loss.depth, inner)


def sides(bar: Bar, loss: Loss | None) -> tuple[float, float]:
    """Give width and height of a bar as it is [m]."""
    if loss is None:
        return bar.width, bar.height
    if loss.where == "local":
        return bar.width, bar.height - loss.depth
    return bar.width - 2.0 * loss.depth, bar.height - 2.0 * loss.depth


def own_frequency(worked: WorkedOut) -> float:
    """Give the exact natural frequency [Hz]."""
    return exact_frequency(worked.beam)
