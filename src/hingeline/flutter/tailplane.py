"""A rigid all-moving tailplane on a springy rear fuselage, with weights on rigid or flexible arms."""

from __future__ import annotations

import numpy as np

from hingeline.flutter.assembling import Frame, Stations, point_mass
from hingeline.flutter.strip_air import whole_chord_forces
from hingeline.flutter.structures import Tailplane, TailplaneWeight
from hingeline.flutter.system import Array

TWO_PI = 2.0 * float(np.pi)


def tailplane_frame(tailplane: Tailplane) -> Frame:
    """Give mass, damping and stiffness of a tailplane.

    Parameters
    ----------
    tailplane : Tailplane

    Returns
    -------
    Frame
        Freedoms: plunge of the hinge line (down), pitch about it (nose up), and the downward deflection
        of each weight on a flexible arm against the rigid arm.

    Notes
    -----
    A weight m on an arm l ahead has v = [1, -l] on a rigid arm, [1, -l, 1] on a flexible one. Driven
    at ω a flexible arm makes it act as m/(1 - (ω/ω_a)²): larger than life below its own frequency,
    negative above (own derivation).
    """
    flexible = [index for index, weight in enumerate(tailplane.weights) if is_flexible(weight)]
    size = 2 + len(flexible)
    mass, damping, stiffness = (np.zeros((size, size)) for _ in range(3))
    mass[:2, :2] = bare_mass(tailplane)
    stiffness[0, 0], stiffness[1, 1] = support_stiffness(tailplane), circuit_stiffness(tailplane)
    damping[:2, :2] = bare_damping(tailplane)
    for index, weight in enumerate(tailplane.weights):
        displacement = np.zeros(size)
        displacement[:2] = 1.0, -weight.arm
        if index in flexible:
            own = 2 + flexible.index(index)
            displacement[own], stiffness[own, own] = 1.0, arm_stiffness(weight)
        mass += point_mass(weight.mass, displacement)
    return Frame(freedoms_with(len(flexible)), mass, damping, stiffness)


def freedoms_with(flexible: int) -> tuple[str, ...]:
    """Name the freedoms; several weights on flexible arms are numbered."""
    if flexible == 1:
        return ("plunge", "pitch", "weight on its arm")
    return ("plunge", "pitch", *(f"weight {number} on its arm" for number in range(1, flexible + 1)))


def static_moment(tailplane: Tailplane) -> float:
    """Give S about the hinge line without the weights, positive where the centre of gravity lies aft [kg m]."""
    return tailplane.mass * (tailplane.centre_of_gravity - tailplane.hinge_line) * tailplane.chord


def bare_mass(tailplane: Tailplane) -> Array:
    """Give M without the weights."""
    moment = static_moment(tailplane)
    return np.array([[tailplane.support_mass + tailplane.mass, moment], [moment, tailplane.inertia]])


def support_stiffness(tailplane: Tailplane) -> float:
    """Give the rear fuselage's spring rate: (2 π f)² times all that moves on it [N/m]."""
    return (tailplane.support_mass + tailplane.mass) * (TWO_PI * tailplane.support_frequency) ** 2


def circuit_stiffness(tailplane: Tailplane) -> float:
    """Give the circuit's stiffness, as stated or from its frequency with the hinge line held [N m/rad]."""
    if tailplane.circuit_stiffness is not None:
        return tailplane.circuit_stiffness
    return tailplane.inertia * (TWO_PI * (tailplane.circuit_frequency or 0.0)) ** 2


def arm_stiffness(weight: TailplaneWeight) -> float:
    """Give the spring rate of an arm at its weight, as stated or from its frequency [N/m]."""
    if weight.arm_stiffness is not None:
        return weight.arm_stiffness
    return weight.mass * (TWO_PI * (weight.arm_frequency or 0.0)) ** 2


def is_flexible(weight: TailplaneWeight) -> bool:
    """Whether the weight has a freedom of its own."""
    return weight.arm_stiffness is not None or weight.arm_frequency is not None


def bare_damping(tailplane: Tailplane) -> Array:
    """Give the viscous dampers beside the two springs: 2 ζ √(k m), weights off."""
    springs = np.array([support_stiffness(tailplane), circuit_stiffness(tailplane)])
    ratios = np.array([tailplane.support_damping_ratio, tailplane.circuit_damping_ratio])
    inertias = np.array([tailplane.support_mass + tailplane.mass, tailplane.inertia])
    return np.diag(2.0 * ratios * np.sqrt(springs * inertias))


def tailplane_air(tailplane: Tailplane, density: float) -> list[Stations]:
    """Give the air on a tailplane: one strip as wide as the span, or as the part of it in a jet.

    Parameters
    ----------
    tailplane : Tailplane
    density : float
        [kg/m³]

    Returns
    -------
    list of Stations
        One.
    """
    semichord = tailplane.chord / 2.0
    air = whole_chord_forces(semichord, 2.0 * tailplane.hinge_line - 1.0, density)
    size = 2 + sum(is_flexible(weight) for weight in tailplane.weights)
    motion = np.eye(2, size)
    width = tailplane.span * tailplane.part_of_span_in_jet
    return [Stations(air, np.array([semichord]), motion[None, :, :], np.array([width]))]
