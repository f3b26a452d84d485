"""What is assumed of a crack, how it is looked for, and the loads of a stress life: frozen inputs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hingeline.arm.growth import GrowthUnits
from hingeline.arm.quantities import Angle, Stress, Time, Toughness
from hingeline.fields import Length
from hingeline.uncertainty.stated import Stated

Geometry = Literal["constant", "surface", "tube through"]


@dataclass(frozen=True, slots=True)
class Crack:
    """A crack at the root, assumed, and what drives it.

    Parameters
    ----------
    geometry : {"constant", "surface", "tube through"}
        A constant factor; a crack in the outer surface that grows through the wall and then round the tube; a
        crack through the wall, growing round the tube.
    stress_range : float
        In ordinary flying [Pa].
    toughness : float
        K at fracture, for this thickness [Pa √m].
    growth_constant, growth_exponent : float
        C and m, one pair from one source.
    cycles_per_hour : float
    geometry_factor : float, optional
        constant: Y [1].
    initial : float, optional
        constant: size at the start [m]; without it the size that the method of detection is planned for.
    depth, half_length : float, optional
        surface: at the start [m].
    half_angle : float, optional
        tube through: at the start, to one side [rad]; without it the size of the method of detection.
    final : float, optional
        Size at the end [m]; never beyond the critical one.
    largest_stress : float, optional
        [Pa]; without it the largest stress of the limit loads.
    growth_units : str
        Of the growth constant.
    factor : float
        By which the cycles are divided: 3 for a single load path (common practice, from memory).
    approved_interval : float, optional
        [s]
    growth_log_deviation : float
        Standard deviation of ln C between heats, laboratories and loads: 0.35 is a factor of 2 at 95 % (from
        memory) [1].
    initial_uncertainty, half_angle_uncertainty, stress_range_uncertainty : Stated, optional
        For the scatter.
    largest_stress_uncertainty, toughness_uncertainty : Stated, optional
        The same.
    """

    geometry: Geometry
    stress_range: Stress
    toughness: Toughness
    growth_constant: float
    growth_exponent: float
    cycles_per_hour: float
    geometry_factor: float | None = None
    initial: Length | None = None
    depth: Length | None = None
    half_length: Length | None = None
    half_angle: Angle | None = None
    final: Length | None = None
    largest_stress: Stress | None = None
    growth_units: GrowthUnits = "m, MPa m^0.5"
    factor: float = 3.0
    approved_interval: Time | None = None
    growth_log_deviation: float = 0.35
    initial_uncertainty: Stated | None = None
    half_angle_uncertainty: Stated | None = None
    stress_range_uncertainty: Stated | None = None
    largest_stress_uncertainty: Stated | None = None
    toughness_uncertainty: Stated | None = None


@dataclass(frozen=True, slots=True)
class Detection:
    """How cracks are looked for.

    Parameters
    ----------
    method : str, optional
        One of those with a planning size.
    half_found : float, optional
        Size that is found every second time [m].
    spread : float, optional
        Standard deviation of the logarithm of the size found [1].
    """

    method: str | None = None
    half_found: Length | None = None
    spread: float | None = None


@dataclass(frozen=True, slots=True)
class CyclicLoad:
    """One load that comes again and again.

    Parameters
    ----------
    amplitude, mean : float
        [Pa]
    cycles_per_hour : float
    """

    amplitude: Stress
    cycles_per_hour: float
    mean: Stress = 0.0


@dataclass(frozen=True, slots=True)
class StressLife:
    """Cycles that a sound piece of the material takes.

    Parameters
    ----------
    strength : float
        Fatigue strength coefficient [Pa].
    exponent : float
        Negative [1].
    loads : tuple of CyclicLoad
    """

    strength: Stress
    exponent: float
    loads: tuple[CyclicLoad, ...] = ()
