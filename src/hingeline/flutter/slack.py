"""A model with slack in one spring: which spring, how much, and what is left of it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from hingeline.errors import InputRefused
from hingeline.flutter.build import build_system
from hingeline.flutter.model import FlutterTask
from hingeline.flutter.natural import modal_damping, natural_modes
from hingeline.flutter.system import AeroelasticSystem, Array
from hingeline.flutter.tailplane import circuit_stiffness


@dataclass(frozen=True, slots=True)
class Slack:
    """A system whose one spring does nothing inside a gap.

    Parameters
    ----------
    system : AeroelasticSystem
        With the whole spring in its stiffness; damping viscous only.
    direction : array (n,)
        v: the spring's angle is θ = v · q.
    stiffness : float
        k of the spring beyond the gap.
    half_gap : float
        e [rad].
    """

    system: AeroelasticSystem
    direction: Array
    stiffness: float
    half_gap: float

    def with_part(self, part: float) -> AeroelasticSystem:
        """Give the system with part r of the spring: K - (1 - r) k v vᵀ."""
        gone = (1.0 - part) * self.stiffness * np.outer(self.direction, self.direction)
        return replace(self.system, stiffness=self.system.stiffness - gone)


def slack_of(task: FlutterTask) -> Slack:
    """Give the model of a task with free play.

    Parameters
    ----------
    task : FlutterTask
        With ``free_play``.

    Returns
    -------
    Slack

    Raises
    ------
    InputRefused
        There is no free play, or its spring has no stiffness.

    Notes
    -----
    Structural damping g has no meaning but in a motion at one frequency; here it becomes the viscous damping
    g/2 of each in-vacuo mode (common practice, no source), the spring taken whole.
    """
    if task.free_play is None:
        raise InputRefused.of("free_play", "nothing", "half_gap and place", "Say where the free play is, and how much.")
    system = viscous(build_system(task))
    stiffness, direction = spring(task, system.freedoms)
    if not stiffness > 0.0:
        raise InputRefused.of(
            "free_play",
            stiffness,
            "a spring with a stiffness beyond the gap",
            "A free control has no free play to take up.",
        )
    return Slack(system, direction, stiffness, task.free_play.half_gap)


def viscous(system: AeroelasticSystem) -> AeroelasticSystem:
    """Turn structural damping into viscous damping of the in-vacuo modes."""
    if not system.structural_damping.any():
        return system
    modes = natural_modes(system.mass, system.stiffness)
    energy = system.structural_damping @ (modes.shapes**2 * np.diag(system.stiffness)[:, None])
    stored = np.maximum(np.diag(system.stiffness) @ modes.shapes**2, np.finfo(float).tiny)
    added = modal_damping(system.mass, modes, (energy / stored / 2.0).tolist())
    return replace(system, damping=system.damping + added, structural_damping=np.zeros(len(system.mass)))


def spring(task: FlutterTask, freedoms: tuple[str, ...]) -> tuple[float, Array]:
    """Give the stiffness of the spring that has slack, and the direction of its angle."""
    play = task.free_play
    assert play is not None
    direction = np.zeros(len(freedoms))
    if task.tailplane is not None:
        direction[freedoms.index("pitch")] = 1.0
        return circuit_stiffness(task.tailplane), direction
    if task.section is not None and play.place == "tab":
        direction[freedoms.index("tab")] = 1.0
        if "surface" in freedoms:
            direction[freedoms.index("surface")] = -task.section.tab_gear
        return task.section.tab_stiffness, direction
    direction[control_index(freedoms)] = 1.0
    return control_stiffness(task), direction


def control_index(freedoms: tuple[str, ...]) -> int:
    """Find the control among the freedoms."""
    for name in ("surface", "aileron"):
        if name in freedoms:
            return freedoms.index(name)
    raise InputRefused.of(
        "free_play", ", ".join(freedoms), "a model whose control is a freedom", "A locked control has no free play."
    )


def control_stiffness(task: FlutterTask) -> float:
    """Give the stiffness of a control's circuit."""
    if task.section is not None:
        return task.section.surface_stiffness
    if task.modes is not None:
        return task.modes.surface_stiffness
    assert task.wing is not None
    return 0.0 if task.wing.aileron is None else task.wing.aileron.stiffness
