"""Energy over one cycle of a harmonic motion: what the air gives, what the structure takes."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from hingeline.flutter.system import AeroelasticSystem, ComplexArray, Wake, dynamic_matrix


@dataclass(frozen=True, slots=True)
class Work:
    """Work over one cycle.

    Parameters
    ----------
    by_air : float
        Given to the motion by the air, above 0 where it feeds it [J, for a strip J/m, at the shape's scale].
    by_structure : float
        Given by the damping of the structure: below 0, it takes.
    scale : float
        π |xᴴ Q x|, against which a small work is small.
    """

    by_air: float
    by_structure: float
    scale: float


def work_over_cycle(
    system: AeroelasticSystem, angular_frequency: float, speed: float, shape: ComplexArray, wake: Wake
) -> Work:
    """Give the work over one cycle of the motion Re (x exp (i ω t)).

    Parameters
    ----------
    system : AeroelasticSystem
    angular_frequency : float
        ω [rad/s].
    speed : float
        True airspeed [m/s].
    shape : array (n,)
        x.
    wake : callable

    Returns
    -------
    Work

    Notes
    -----
    ∮ f dq = π Im (xᴴ f), f = -Q x the air's force and -(i ω D + K (1 + i g)) x the structure's. At a neutral
    point the sum is zero; without damping the air's work alone is.
    """
    nothing = np.zeros_like(system.mass)
    bare = replace(system, apparent_mass=nothing, air_damping=nothing, air_stiffness=nothing, wakes=())
    root = 1j * angular_frequency
    structure = dynamic_matrix(bare, root, speed, wake)
    air = dynamic_matrix(system, root, speed, wake) - structure
    by_air, by_structure = (np.vdot(shape, part @ shape) for part in (air, structure))
    return Work(-np.pi * float(by_air.imag), -np.pi * float(by_structure.imag), np.pi * float(abs(by_air)))
