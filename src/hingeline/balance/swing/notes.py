"""What the reader of an inertia by swinging must know beside the number: sentences."""

from __future__ import annotations

from collections.abc import Iterator

from hingeline.balance.notes import CAUTIONS as OF_A_WEIGHING
from hingeline.balance.swing.checks import NEEDS, PENDULUMS, QUANTITIES
from hingeline.balance.swing.model import SwingTask

CAUTIONS = (
    OF_A_WEIGHING[0],
    "An inertia says nothing of whether the surface is safe: it goes into an assessment of dynamic balance, which "
    "the approved data or the type's design organisation makes.",
    OF_A_WEIGHING[2],
)
AIR = (
    "The air that swings along is not corrected for: a light, wide surface comes out somewhat too heavy to turn. "
    "Swing slowly and small, away from air currents."
)
LARGE_AMPLITUDE = 0.35  # 20 deg: beyond it damping and the wires' lift begin to count (common practice, no source)
WIDE_WIRES = 0.5


def notes_of(task: SwingTask) -> tuple[str, ...]:
    """Gather the notes of a swing."""
    return (AIR, *_of_times(task), *_of_amplitude(task), *_of_method(task), *_of_statements(task))


def _of_times(task: SwingTask) -> Iterator[str]:
    if len(task.periods) == 1:
        yield "One time only: its scatter is not known and not counted. Take it again, from a new start."
    if task.timing_uncertainty is None:
        yield "Nothing is stated of the timing: an error common to all times, such as a late start, is not in it."


def _of_amplitude(task: SwingTask) -> Iterator[str]:
    if task.method == "spring":
        yield "A linear spring swings in the same time at any amplitude: nothing is corrected."
    elif task.amplitude is None:
        yield "No amplitude is given, so it counts as small: a swing of 10 deg to each side makes I 0.4 % too large."
    elif task.amplitude > LARGE_AMPLITUDE:
        yield "The swing is wide: friction and air change the period along the way. Small swings are surer."


def _of_method(task: SwingTask) -> Iterator[str]:
    if task.method in PENDULUMS:
        yield "Rods and clamps that swing along count as the surface's own: keep them light, or take them off."
    if task.method == "added mass":
        yield "The clipped-on mass is taken as a point: keep it small beside its arm."
    if task.method == "two wires":
        yield "Hung with the hinge line upright, on equal wires with the centre of gravity midway between them."
        spacing, length = task.wire_spacing or 0.0, task.wire_length or 1.0
        if spacing > WIDE_WIRES * length:
            yield "The wires are short beside their spacing: the amplitude's correction then holds only roughly."
    if task.method == "spring":
        yield "Holds with the hinge line upright, or the surface balanced; the spring's own mass is not counted."


def _of_statements(task: SwingTask) -> Iterator[str]:
    names = [QUANTITIES[name].words for name in NEEDS[task.method] if getattr(task, f"{name}_uncertainty") is None]
    if task.amplitude and task.method != "spring" and task.amplitude_uncertainty is None:
        names.append("amplitude")
    if names:
        yield f"Not stated, so counted as nothing: uncertainty of {', '.join(names)}. The real uncertainty is larger."
    if task.method != "spring":
        yield "Local gravity is taken as exact."
