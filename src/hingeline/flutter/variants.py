"""Onset speeds of models that differ in anything: what a picture over a moved weight or a softened arm needs.

The air's matrices depend on the plan form and the air alone. Where only masses and stiffnesses differ they
are made once.
"""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import replace

import numpy as np

from hingeline.errors import InputRefused
from hingeline.flutter.build import build_system, damped_frame
from hingeline.flutter.checks import refuse_unusable
from hingeline.flutter.coalescence import is_undamped
from hingeline.flutter.dotted import fields_of
from hingeline.flutter.model import FlutterTask, Section, Tailplane, Wing
from hingeline.flutter.onsets import Onsets, one_by_one, onsets_of_stack
from hingeline.flutter.stacks import is_straight, joined, stack_of, stackable, stacked
from hingeline.flutter.system import AeroelasticSystem, Array, Wake
from hingeline.flutter.tailplane import is_flexible
from hingeline.flutter.wake import wake_named
from hingeline.flutter.which_way import CompiledLoops, loops_for


def onsets_of_variants(
    tasks: Sequence[FlutterTask], *, looked_at: bool = False, compiled: bool | None = None
) -> Onsets:
    """Find the onset of each of several models.

    Parameters
    ----------
    tasks : sequence of FlutterTask
        With one wake and one range of speeds; everything else may differ.
    looked_at : bool
        True: the caller made them from a task that can be computed, by changes that leave it so.
    compiled : bool, optional
        Whether by compiled loops, if there is a compiler; left out, where there are models enough to pay for its
        start. A program that runs on has paid for it once. Both ways agree to a part in 10^12.

    Returns
    -------
    Onsets
        In the order of the tasks.

    Raises
    ------
    InputRefused
        A task cannot be computed, or wake or range differ.

    Examples
    --------
    >>> from dataclasses import replace
    >>> from hingeline.flutter.model import Air, Section
    >>> strip = Section(("plunge", "pitch"), 0.3, -0.4, 12.0, pitch_static_moment=0.55, pitch_inertia=0.33,
    ...                 plunge_stiffness=12800.0, pitch_stiffness=1300.0)
    >>> given = FlutterTask(Air(density=1.225), (2.0, 100.0), section=strip, structural_damping=(0.02,))
    >>> ahead = replace(given, section=replace(strip, pitch_static_moment=-0.5))
    >>> [bool(np.isfinite(speed)) for speed in onsets_of_variants([given, ahead]).speeds]
    [True, False]
    """
    if not tasks:
        return Onsets(np.empty(0), np.empty(0, dtype=bool))
    if not looked_at:
        _refuse_mixed(tasks)
    wake, speeds = wake_named(tasks[0].wake), (tasks[0].speeds[0], tasks[0].speeds[1])
    systems = _systems(tasks)
    loops = loops_for(len(tasks), compiled)
    onsets, growing = np.full(len(tasks), np.inf), np.zeros(len(tasks), dtype=bool)
    for quick, indices in _sorted_out(systems, wake):
        chosen = [systems[index] for index in indices]
        found = _at_once(chosen, speeds, wake, loops) if quick else one_by_one(chosen, speeds, wake)
        onsets[indices], growing[indices] = found.speeds, found.growing
    return Onsets(onsets, growing)


def onsets_of_multiples(
    tasks: Sequence[FlutterTask], names: Sequence[str], factors: Array, *, compiled: bool | None = None
) -> Onsets | None:
    """Find the onsets of several models, each with some of its fields multiplied, where that is a short way.

    Parameters
    ----------
    tasks : sequence of FlutterTask
        With one wake and one range of speeds, all of which can be computed.
    names : sequence of str
        Dotted names of the fields.
    factors : array (s, f)
        What each is multiplied by [1].
    compiled : bool, optional
        As in :func:`onsets_of_variants`.

    Returns
    -------
    Onsets or None
        Of every row of the first task, then of the second. None where a matrix is no straight line in a field, or
        the fast scan cannot take the systems.
    """
    wake, speeds = wake_named(tasks[0].wake), (tasks[0].speeds[0], tasks[0].speeds[1])
    systems = [build_system(task) for task in tasks]
    if not all(is_straight(task, names) for task in tasks) or any(
        not stackable(system) or is_undamped(system, wake) for system in systems
    ):
        return None
    known = [fields_of(task) for task in tasks]
    now = [np.array([fields[name] for name in names]) for fields in known]
    stacks = [stack_of(task, names, factors * values) for task, values in zip(tasks, now, strict=True)]
    joint = joined([stack for stack in stacks if stack is not None])
    return onsets_of_stack(joint, speeds, wake, loops_for(len(joint.mass), compiled))


def _refuse_mixed(tasks: Sequence[FlutterTask]) -> None:
    first = tasks[0]
    for task in tasks:
        refuse_unusable(task)
        if (task.wake, task.speeds) != (first.wake, first.speeds):
            raise InputRefused.of("speeds", str(task.speeds), "one range and one wake for all", "Ask for each apart.")


def _systems(tasks: Sequence[FlutterTask]) -> list[AeroelasticSystem]:
    """Build every system; the air of one plan form is made once."""
    made: dict[Hashable, AeroelasticSystem] = {}
    systems = []
    for task in tasks:
        plan = _plan(task)
        if plan is None:
            systems.append(build_system(task))
            continue
        if plan not in made:
            made[plan] = build_system(task)
        frame = damped_frame(task)
        systems.append(replace(made[plan], mass=frame.mass, damping=frame.damping, stiffness=frame.stiffness))
    return systems


def _plan(task: FlutterTask) -> Hashable | None:
    """Give what the air's matrices depend on; None where that is not told apart."""
    shared = (task.air, task.wake, task.lift_slope_factor, task.structural_damping)
    part = task.structure
    if isinstance(part, Tailplane):
        flexible = tuple(is_flexible(weight) for weight in part.weights)
        return shared, part.span, part.chord, part.hinge_line, part.part_of_span_in_jet, flexible
    if isinstance(part, Section):
        place = (part.semichord, part.elastic_axis, part.hinge_line, part.tab_hinge_line)
        return shared, part.freedoms, place, part.tab_rigid_gear
    if isinstance(part, Wing):
        aileron = part.aileron
        ends = aileron and (aileron.from_root, aileron.to, aileron.hinge_line, aileron.locked)
        return shared, part.length, part.semichord, part.elastic_axis, part.bending_modes, part.torsion_modes, ends
    return None


def _sorted_out(systems: Sequence[AeroelasticSystem], wake: Wake) -> list[tuple[bool, list[int]]]:
    """Group the systems: those of one size that the fast scan takes, and the rest."""
    groups: dict[tuple[bool, int, bool], list[int]] = {}
    for index, system in enumerate(systems):
        quick = stackable(system) and not is_undamped(system, wake)
        groups.setdefault((quick, len(system.mass), bool(system.structural_damping.any())), []).append(index)
    return [(quick, indices) for (quick, _, _), indices in groups.items()]


def _at_once(
    systems: Sequence[AeroelasticSystem], speeds: tuple[float, float], wake: Wake, loops: CompiledLoops | None
) -> Onsets:
    return onsets_of_stack(stacked(systems), speeds, wake, loops)
