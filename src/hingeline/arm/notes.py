"""What the reader of an arm's model must know beside its numbers: notes, assumptions, cautions. Sentences."""

from __future__ import annotations

from collections.abc import Iterator

from hingeline.arm.carried import MEASURABLE, stated_of, wall_left
from hingeline.arm.model import FITTING_FACTOR, ArmTask, Crack
from hingeline.arm.results import ArmResult, CrackResult

STANDING = "An estimate never makes the approved interval longer."
EXPLAINS = (
    "This model explains, compares and ranks. The approved data decides: limits of removal, methods, intervals. No "
    "margin, frequency or life shown here permits anything."
)
FOUND = (
    "A crack that was found is for the manual or the type's design organisation: nothing here clears it, and no life "
    "of it is worked out. After flutter, a hard landing or any shaking the arm and its root count as overstressed."
)
WEIGH = "Whatever was taken off or put on ahead of the hinge line changes the balance: weigh again."
THINNEST = 25.0
"""Mean radius over wall beyond which a wall may buckle before it yields (common practice, no source)."""


def cautions_of(task: ArmTask, result: ArmResult) -> tuple[str, ...]:
    """Give the standing cautions, and those that the numbers call for."""
    found = [STANDING, *_of_strength(result), *_of_motion(result), *_of_crack(task, result.crack), EXPLAINS, FOUND]
    return (*found, WEIGH) if task.loss is not None else tuple(found)


def _of_strength(result: ArmResult) -> Iterator[str]:
    below = [
        case.direction for case in result.loads if min(case.margin_yield or 0.0, case.margin_ultimate or 0.0) < 0.0
    ]
    if below:
        yield (
            f"By this estimate the design load {', '.join(below)} leaves less than nothing: ask the type's design "
            "organisation before the next flight."
        )
    if result.wall is not None and result.wall.statement_simple == "outside":
        yield "The wall that is left is below the smallest that the approved data allows: the part goes by that."


def _of_motion(result: ArmResult) -> Iterator[str]:
    found = result.effectiveness
    if found is not None and found.frequency_ratio > 1.0:
        yield (
            "This oscillation lies above the arm's own frequency: there the weight feeds the motion that it should "
            "stop. Ask the type's design organisation."
        )


def _of_crack(task: ArmTask, found: CrackResult | None) -> Iterator[str]:
    crack = task.crack
    if crack is None or found is None:
        return
    if found.largest_stress < found.limit_stress:
        yield _of_largest_stress(found)
    yield from _of_no_growth(found)
    if found.shorter_than_approved:
        yield "By this estimate growth takes less than the approved interval: ask the design holder before flight."


def _of_no_growth(found: CrackResult) -> Iterator[str]:
    """Say what is at its end from the start: at a size at the end that was given, or at the critical one."""
    by_given = found.size_is != "depth" and found.final_size < found.critical_size
    if not found.cycles and by_given:
        yield "The crack that is assumed at the start has the size given for the end already: no growth is left."
    elif not found.cycles:
        yield "The crack that is assumed at the start is critical already: no growth separates the two."
    elif _not_found(found) and by_given:
        yield "The method of detection is planned for a size beyond the one given for the end: it comes too late here."
    elif _not_found(found):
        yield "The method of detection is planned for a size that is critical already: it comes too late here."


def _of_largest_stress(found: CrackResult) -> str:
    return (
        f"The largest stress given, {found.largest_stress / 1e6:.4g} MPa, is less than the limit load's by this "
        f"estimate, {found.limit_stress / 1e6:.4g} MPa: under the limit load a smaller crack than this is critical."
    )


def _not_found(found: CrackResult) -> bool:
    return found.detection is not None and found.detection.cycles_from_planning_size == 0.0


def notes_of(task: ArmTask) -> tuple[str, ...]:
    """Gather what belongs beside the numbers."""
    return (*_of_uncertainty(task), *_of_section(task), *_of_frequency(task), *_from_memory(task))


def _of_uncertainty(task: ArmTask) -> Iterator[str]:
    stated = {place for place, _ in stated_of(task)}
    missing = [
        words for place, words in MEASURABLE.items() if place not in stated and getattr(task, place[0]) is not None
    ]
    if not stated:
        yield (
            "No uncertainty is stated of any measured number, so none is given and none is invented. State the "
            'gauge\'s: wall = {value = "2.11 mm", standard = "0.03 mm"}.'
        )
    elif missing:
        yield f"Not stated, so counted as nothing: uncertainty of {', '.join(missing)}. The real one is larger."


def _of_section(task: ArmTask) -> Iterator[str]:
    if task.loss is not None and task.loss.where != "local" and task.tube is not None:
        yield "For pits the all-round figure of the deepest one is the cautious one, unless their extent was mapped."
    if task.tube is not None and task.tube.hole is None:
        yield "No bolt hole is counted: one through the root can take a third of its second moment."
    elif task.tube is not None:
        yield "The bolt hole lies in the plane of the bending, the worst way; no stress concentration is in it."
    left = wall_left(task)
    if left and task.tube is not None and task.tube.outside_diameter / 2.0 / left > THINNEST:
        yield "So thin a wall may buckle before it yields, which is not worked out."


def _of_frequency(task: ArmTask) -> Iterator[str]:
    if task.root.stiffness is None:
        yield "The root counts as rigid: a slack or corroded clamp lowers the frequency more than a lost wall does."
    if task.oscillation is not None and task.oscillation.amplitude is not None:
        yield "The stress of the oscillation leaves out what the hinge itself does: that comes on top."


def _from_memory(task: ArmTask) -> Iterator[str]:
    """Say what rests on memory of its source alone."""
    crack = task.crack
    if crack is not None and crack.geometry in ("tube through", "surface"):
        yield (
            "From memory: the factor of a through crack in a bent tube (Zahoor) was not read again. Confirm it before "
            "anything rests on it."
        )
    if crack is not None and crack.geometry == "surface":
        yield (
            "Partly from memory: the factor of a surface crack (Newman and Raju, TP-1578) was read as coded by others."
        )
    if crack is not None:
        yield f"From memory: a factor of {crack.factor:g} on the cycles, where 3 is usual for a single load path."
        yield "From memory: growth lives scatter by a factor of 2 between heats, laboratories and loads."
    if task.stress_life is not None:
        yield "From memory: stress life after Basquin, mean stress after Goodman, adding up after Palmgren and Miner."
    if task.surface_frequencies:
        yield (
            "From memory: 1.5 times the highest frequency of the fixed surface, as a guide (Airframe and Equipment "
            "Engineering Report 45). It judges nothing: the type's own basis rules."
        )
    if task.bolts is not None and task.bolts.fitting_factor == FITTING_FACTOR:
        yield "From memory: the fitting factor of 1.15 (14 CFR 23.625)."


def assumptions_of(task: ArmTask) -> tuple[str, ...]:
    """Say what the model takes for granted."""
    return (*_assumed_of_arm(task), *_assumed_of_crack(task.crack), *_assumed_of_detection(task))


def _assumed_of_arm(task: ArmTask) -> Iterator[str]:
    yield "A straight arm of one section, clamped at its root; no dent, bend, weld zone or ovalised clamp."
    yield (
        "Load factors as given or, by default, 24, 12 and 12 g (14 CFR 23.659 before 2017), three separate cases, "
        f"taken as {task.loads.are} loads. The rule does not say which; the type's own basis does."
    )
    if task.loss is not None:
        yield "What is lost at the worst place is taken as lost along the whole arm, its own mass included."
    if task.loss is not None and task.loss.where == "local":
        yield "The local loss lies at the most stressed fibre of every load case."
    if task.weight.inertia == 0.0:
        yield "The weight is a point."
    if task.weight.off_axis == 0.0:
        yield "The weight's centre lies on the axis of the arm: fore and aft loads only pull."


def _assumed_of_crack(crack: Crack | None) -> Iterator[str]:
    if crack is None:
        return
    yield "The crack is assumed, at the most stressed fibre of the root."
    yield "Growth by C ΔK^m, the whole stress range counted, nothing taken off for a threshold: corrosion removes it."
    yield "Every cycle has the same stress range; the order of loads plays no part."
    if crack.geometry == "constant":
        yield "For collapse the size counts as half the length of a through crack round the tube (of a bar: as depth)."
    yield "Plastic collapse as of a thin ring, at its flow stress throughout (of a bar: of the height that is left)."
    if crack.geometry == "surface":
        yield "Even stress through the wall, so the factors of tension; then a through crack of the same length."


def _assumed_of_detection(task: ArmTask) -> Iterator[str]:
    how = task.detection
    if task.crack is not None and how is not None and how.method is not None and task.bar is not None:
        yield "On a bar a crack that can be found is taken to be as deep as half its length."
