"""From the times of a swing to the moment of inertia about the hinge line."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from hingeline.balance.measured import measured
from hingeline.balance.swing import equations
from hingeline.balance.swing.checks import QUANTITIES, refuse_impossible, refuse_unusable
from hingeline.balance.swing.methods import Swung, swung
from hingeline.balance.swing.model import SwingResult, SwingTask
from hingeline.balance.swing.notes import CAUTIONS, notes_of
from hingeline.uncertainty import Budget, Contribution, Measured, combine, type_a


def inertia_by_swing(task: SwingTask) -> SwingResult:
    """Say what moment of inertia about the hinge line a swing shows.

    Own weight: I = g S T²/(4π²). Added mass: I = g (S + m x) T²/(4π²) - m x². Two wires:
    I = m g D² T²/(16 π² L) + S²/m. Spring: I = k r² T²/(4π²). T is brought to zero amplitude first.

    Parameters
    ----------
    task : SwingTask
        SI floats.

    Returns
    -------
    SwingResult
        Inertia [kg m²] with its uncertainty and the budget.

    Raises
    ------
    InputRefused
        With one refusal for every fault of the input; also where the surface would not hang as it is
        said to have hung, or no body could have the inertia.

    Notes
    -----
    Equations and sources: ``equations.py`` beside this file. Uncertainty after JCGM 100:2008 (GUM) 5.1.2,
    from the scatter of the times and from what is stated. Air is not corrected for.

    Examples
    --------
    >>> from hingeline.balance.swing import SwingTask, inertia_by_swing
    >>> result = inertia_by_swing(
    ...     SwingTask("own weight", (16.38, 16.40, 16.36), swings_per_period=20, surface_mass_moment=0.234375)
    ... )
    >>> f"{result.inertia.value:.4f} kg m^2"
    '0.0391 kg m^2'
    """
    refuse_unusable(task)
    factor = _factor(task)
    timed = type_a(task.periods)
    period = timed.value / task.swings_per_period
    found = swung(task, period / factor)
    refuse_impossible(task, found.inertia)
    causes = [*_timing(task, found, timed), *_amplitude(task, found, factor), *_quantities(task, found)]
    budget = _combined(task, causes)
    return SwingResult(
        name=task.name,
        method=task.method,
        inertia=measured(found.inertia, budget),
        inertia_with_added_mass=found.swinging if task.method == "added mass" else None,
        inertia_about_centre=found.swinging if task.method == "two wires" else None,
        radius_of_gyration=_radius(task, found, causes),
        period=_period(task, timed),
        period_at_zero=period / factor,
        amplitude_factor=factor,
        budget=budget.rows if budget.standard_uncertainty else (),
        local_gravity=task.local_gravity,
        notes=notes_of(task),
        cautions=CAUTIONS,
    )


def _factor(task: SwingTask) -> float:
    if task.method == "spring" or task.amplitude is None:
        return 1.0
    return equations.period_factor(task.amplitude)


def _combined(task: SwingTask, causes: list[Contribution]) -> Budget:
    return combine(causes, coverage=task.coverage, k=task.k)


def _timing(task: SwingTask, found: Swung, timed: Measured) -> Iterator[Contribution]:
    """List what makes the time uncertain; the inertia goes with its square, and changes by 2 I/T."""
    sensitivity = 2.0 * found.swinging / timed.value
    if timed.standard_uncertainty is not None:
        yield Contribution("times", timed.standard_uncertainty, "s", sensitivity, timed.degrees_of_freedom)
    stated = task.timing_uncertainty
    if stated is not None:
        yield Contribution("timing", stated.of(timed.value), "s", sensitivity, stated.degrees_of_freedom)


def _amplitude(task: SwingTask, found: Swung, factor: float) -> Iterator[Contribution]:
    stated, amplitude = task.amplitude_uncertainty, task.amplitude
    if stated is None or amplitude is None or task.method == "spring":
        return
    slope = -2.0 * found.swinging * equations.period_factor_slope(amplitude) / factor
    yield Contribution("amplitude", stated.of(amplitude), "rad", slope, stated.degrees_of_freedom)


def _quantities(task: SwingTask, found: Swung) -> Iterator[Contribution]:
    for name, sensitivity in found.sensitivities.items():
        stated, quantity = getattr(task, f"{name}_uncertainty"), QUANTITIES[name]
        if stated is not None:
            size = stated.of(getattr(task, name))
            yield Contribution(quantity.words, size, quantity.unit, sensitivity, stated.degrees_of_freedom)


def _period(task: SwingTask, timed: Measured) -> Measured:
    """Give the time of one swing, with its uncertainty."""
    causes = [
        Contribution(name, size, "s", 1.0 / task.swings_per_period, freedom)
        for name, size, freedom in (
            ("times", timed.standard_uncertainty, timed.degrees_of_freedom),
            ("timing", *_stated_timing(task, timed.value)),
        )
        if size is not None
    ]
    return measured(timed.value / task.swings_per_period, _combined(task, causes))


def _stated_timing(task: SwingTask, value: float) -> tuple[float | None, float | None]:
    stated = task.timing_uncertainty
    return (None, None) if stated is None else (stated.of(value), stated.degrees_of_freedom)


def _radius(task: SwingTask, found: Swung, causes: list[Contribution]) -> Measured | None:
    """Give √(I/m). The mass acts twice where it also went into the inertia."""
    mass = task.surface_mass
    if mass is None:
        return None
    radius = math.sqrt(found.inertia / mass)
    words = QUANTITIES["surface_mass"].words
    carried = [
        replace(cause, sensitivity=cause.sensitivity / (2.0 * radius * mass))
        for cause in causes
        if cause.source != words
    ]
    stated = task.surface_mass_uncertainty
    if stated is not None:
        by_mass = found.sensitivities.get("surface_mass", 0.0) - found.inertia / mass
        slope = by_mass / (2.0 * radius * mass)
        carried.append(Contribution(words, stated.of(mass), "kg", slope, stated.degrees_of_freedom))
    return measured(radius, _combined(task, carried))
