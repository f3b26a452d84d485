"""From what is known of an arm to what a model says of it: estimates, beside the approved data."""

from __future__ import annotations

import cmath
from dataclasses import replace

from hingeline.arm import loading, stress_life
from hingeline.arm.carried import Carried, carried, wall_left
from hingeline.arm.checks import refuse_unusable
from hingeline.arm.crack_life import crack_life
from hingeline.arm.model import ArmTask, Bolts
from hingeline.arm.notes import assumptions_of, cautions_of, notes_of
from hingeline.arm.results import (
    ArmResult,
    BoltResult,
    Direction,
    Effectiveness,
    FrequencyGuide,
    LoadCase,
    LoadLife,
    NaturalFrequency,
    OscillationStress,
    SectionResult,
    StressLifeResult,
    WallResult,
)
from hingeline.arm.scatter import scatter_of_life
from hingeline.arm.vibration import apparent_mass, rayleigh_frequency
from hingeline.arm.wall import depth_word
from hingeline.arm.wall_readings import ROUNDING, readings_told
from hingeline.arm.worked import DIRECTIONS, WorkedOut, factor_of, limit_stress, own_frequency, sound, work_out
from hingeline.uncertainty import BudgetRow, probability_within

GUIDE_FACTOR = 1.5
GUIDE_PROVENANCE = "from memory: Airframe and Equipment Engineering Report 45, of which only the opening was read"
AT_RESONANCE = (
    "The oscillation is at the arm's own frequency and no damping is given: the apparent mass has no finite size."
)


def examine(task: ArmTask, *, samples: int | None = None, seed: int = 0) -> ArmResult:
    """Say what a model makes of an arm: strength, frequency, and the growth of an assumed crack.

    Parameters
    ----------
    task : ArmTask
        SI floats.
    samples : int, optional
        Draw the life of the crack so many times.
    seed : int
        For the draws: the same seed gives the same result.

    Returns
    -------
    ArmResult
        Estimates, with the uncertainty that follows from what is stated. ``interval_shown`` is never longer
        than the approved one.

    Raises
    ------
    InputRefused
        With one refusal for every fault of the input.
    RoutesDisagree
        Two ways to the cycles of a crack differ.

    Notes
    -----
    Equations and sources: the files of this room, each named by its question.

    Examples
    --------
    >>> from hingeline.arm import ArmTask, ArmWeight, Material, Root, Tube, examine
    >>> steel = Material(200e9, 7833.0, 517.1e6, 655e6)
    >>> arm = ArmTask(steel, Root(0.260), ArmWeight(1.4), Tube(19.05e-3, 0.889e-3))
    >>> result = examine(arm)
    >>> f"{result.loads[0].stress.value / 1e6:.1f} MPa, {result.natural_frequency.value:.2f} Hz"
    '403.7 MPa, 35.67 Hz'
    """
    refuse_unusable(task)
    worked, whole, found = work_out(task), work_out(sound(task)), carried(task)
    effect = _effectiveness(task, worked)
    result = ArmResult(
        name=task.name,
        basis="estimate",
        section=_section(task, found, worked, whole),
        wall=_wall(task, found),
        arm_mass=worked.mass,
        loads=tuple(_load(task, found, whole, direction) for direction in DIRECTIONS),
        loads_are=task.loads.are,
        natural_frequency=_frequency(found, worked, whole),
        effectiveness=effect,
        oscillation=_oscillation(task, worked, effect),
        frequency_guide=_guide(task, worked),
        bolts=_bolts(task, worked, task.bolts),
        stress_life=_stress_life(task),
        crack=crack_life(task, limit_stress(task, worked)),
        budget=_rows(found),
        local_gravity=task.local_gravity,
        notes=_notes(task, effect),
        assumptions=assumptions_of(task),
        cautions=(),
        readings=readings_told(task),
    )
    result = replace(result, cautions=cautions_of(task, result))
    return result if samples is None else _scattered(task, result, samples, seed)


def _scattered(task: ArmTask, result: ArmResult, samples: int, seed: int) -> ArmResult:
    if result.crack is None:
        no_crack = "There is no crack in the file, so there is no life to draw."
        return replace(result, notes=(*result.notes, no_crack))
    drawn = scatter_of_life(task, result.crack.largest_stress, samples, seed)
    return replace(result, crack=replace(result.crack, distribution=drawn))


def _section(task: ArmTask, found: Carried, worked: WorkedOut, whole: WorkedOut) -> SectionResult:
    loss = task.loss
    return SectionResult(
        area=found.measured("area"),
        second_moment=found.measured("second_moment"),
        section_modulus=found.measured("section_modulus"),
        ratio_to_sound=worked.root.section_modulus / whole.root.section_modulus,
        wall_left=None if task.tube is None else found.measured("wall_left"),
        part_of_wall_lost=None if task.tube is None or loss is None else loss.depth / task.tube.wall,
        depth_word=None if loss is None else depth_word(loss.depth),
    )


def _wall(task: ArmTask, found: Carried) -> WallResult | None:
    limit, left = task.wall_limit, wall_left(task)
    if limit is None or left is None or task.tube is None:
        return None
    uncertainty = found.measured("wall_left").standard_uncertainty
    # 0.889 mm less 0.189 mm is 0.700 mm, which floats miss by a last digit: on the limit is inside.
    margin = left - limit.smallest
    margin = 0.0 if abs(margin) <= ROUNDING * task.tube.wall else margin
    return WallResult(
        smallest=limit.smallest,
        source=limit.source,
        margin=margin,
        probability_within=None if not uncertainty else probability_within(left, uncertainty, limit.smallest, None),
        statement_simple="inside" if margin >= 0.0 else "outside",
    )


def _load(task: ArmTask, found: Carried, whole: WorkedOut, direction: Direction) -> LoadCase:
    stress, material = found.measured(f"stress {direction}"), task.material
    to_yield, to_ultimate = (1.0, loading.ULTIMATE_FACTOR)
    if task.loads.are == "ultimate":
        to_yield, to_ultimate = (1.0 / loading.ULTIMATE_FACTOR, 1.0)
    relative = None if stress.expanded_uncertainty is None else stress.expanded_uncertainty / stress.value
    margins = [
        loading.margin(allowable, factor * stress.value)
        for allowable, factor in ((material.yield_strength, to_yield), (material.ultimate_strength, to_ultimate))
    ]
    return LoadCase(
        direction=direction,
        factor=factor_of(task, direction),
        moment=found.measured(f"moment {direction}"),
        stress=stress,
        margin_yield=margins[0],
        margin_ultimate=margins[1],
        margin_yield_uncertainty=None if relative is None else relative * (1.0 + margins[0]),
        margin_ultimate_uncertainty=None if relative is None else relative * (1.0 + margins[1]),
        sound_stress=whole.stresses[direction],
    )


def _frequency(found: Carried, worked: WorkedOut, whole: WorkedOut) -> NaturalFrequency:
    exact = found.measured("frequency")
    return NaturalFrequency(
        value=exact.value,
        unit="Hz",
        standard_uncertainty=exact.standard_uncertainty,
        expanded_uncertainty=exact.expanded_uncertainty,
        coverage_factor=exact.coverage_factor,
        degrees_of_freedom=exact.degrees_of_freedom,
        rayleigh=rayleigh_frequency(worked.beam),
        ratio_to_sound=exact.value / own_frequency(whole),
    )


def _effectiveness(task: ArmTask, worked: WorkedOut) -> Effectiveness | None:
    motion = task.oscillation
    if motion is None:
        return None
    ratio = motion.frequency / own_frequency(worked)
    try:
        apparent = apparent_mass(ratio, motion.damping_ratio)
    except ZeroDivisionError:
        return None
    return Effectiveness(motion.frequency, ratio, abs(apparent), cmath.phase(apparent))


def _notes(task: ArmTask, effect: Effectiveness | None) -> tuple[str, ...]:
    notes = notes_of(task)
    return notes if task.oscillation is None or effect is not None else (*notes, AT_RESONANCE)


def _oscillation(task: ArmTask, worked: WorkedOut, effect: Effectiveness | None) -> OscillationStress | None:
    """Give the stress of an oscillation: that of the normal load, by the accelerations, times what bending adds."""
    motion = task.oscillation
    if motion is None or motion.amplitude is None or effect is None:
        return None
    reach = task.root.hinge_to_root + task.root.length
    acceleration = loading.swing_acceleration(motion.amplitude, motion.frequency, reach)
    per_acceleration = worked.stresses["normal"] / (task.loads.normal * task.local_gravity)
    stress = per_acceleration * acceleration * effect.magnitude
    limit = worked.stresses["normal"]
    if task.loads.are == "ultimate":
        limit /= loading.ULTIMATE_FACTOR
    return OscillationStress(
        amplitude=motion.amplitude,
        acceleration=acceleration,
        stress=stress,
        margin_yield=loading.margin(task.material.yield_strength, stress) if stress else None,
        amplitude_for_limit=motion.amplitude * limit / stress,
    )


def _guide(task: ArmTask, worked: WorkedOut) -> FrequencyGuide | None:
    if not task.surface_frequencies:
        return None
    highest = max(task.surface_frequencies)
    return FrequencyGuide(highest, GUIDE_FACTOR * highest, own_frequency(worked) / highest, GUIDE_PROVENANCE)


def _bolts(task: ArmTask, worked: WorkedOut, bolts: Bolts | None) -> BoltResult | None:
    if bolts is None:
        return None
    acceleration = task.loads.normal * task.local_gravity
    shear = acceleration * (task.weight.mass + worked.mass)
    load = loading.worst_bolt_load(worked.moments["normal"], shear, bolts.spacing)
    if task.loads.are == "limit":
        load *= loading.ULTIMATE_FACTOR
    load *= bolts.fitting_factor
    shear_stress = loading.bolt_shear_stress(load, bolts.diameter, bolts.shear_planes)
    bearing = loading.bearing_stress(load, bolts.diameter, wall_left(task) or 0.0)
    return BoltResult(
        load=load,
        shear_stress=shear_stress,
        margin_shear=loading.margin(bolts.shear_strength, shear_stress),
        bearing_stress=bearing,
        margin_bearing=loading.margin(bolts.bearing_strength, bearing),
    )


def _stress_life(task: ArmTask) -> StressLifeResult | None:
    life = task.stress_life
    if life is None:
        return None
    loads, shares = [], []
    for load in life.loads:
        amplitude = stress_life.without_mean(load.amplitude, load.mean, task.material.ultimate_strength)
        cycles = stress_life.cycles_to_failure(amplitude, life.strength, life.exponent)
        loads.append(LoadLife(amplitude, cycles, load.cycles_per_hour / cycles))
        shares.append((load.cycles_per_hour, cycles))
    used = stress_life.used_up(shares)
    return StressLifeResult(tuple(loads), used)


def _rows(found: Carried) -> tuple[BudgetRow, ...]:
    budget = found.budget("stress normal")
    return budget.rows if budget.standard_uncertainty else ()
