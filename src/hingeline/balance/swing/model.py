"""How a surface was swung, and the moment of inertia that follows.

x is positive aft of the hinge line; a mass moment is positive where the centre
of gravity lies aft.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from hingeline.document import MeasuredLength, document_format
from hingeline.fields import Acceleration, Length, Mass, Unit
from hingeline.surface import Side
from hingeline.uncertainty import BudgetRow, Measured
from hingeline.uncertainty.stated import Stated
from hingeline.units import STANDARD_GRAVITY

Method = Literal["own weight", "added mass", "two wires", "spring"]
Hangs = Literal["tail down", "nose down"]

Time = Annotated[float, Unit("s")]
Angle = Annotated[float, Unit("rad")]
MassMoment = Annotated[float, Unit("kg m", moment=True)]
SpringRate = Annotated[float, Unit("N/m")]
MeasuredInertia = Annotated[Measured, Unit("kg m^2")]
MeasuredTime = Annotated[Measured, Unit("s")]


@document_format("hingeline/swing-record/1")
@dataclass(frozen=True, slots=True)
class SwingTask:
    """One surface that was swung, by one of four methods.

    Parameters
    ----------
    method : {"own weight", "added mass", "two wires", "spring"}
        Hung from its hinge line; the same with a known mass clipped on; hung on two equal wires with the
        hinge line upright; held by a spring about a hinge line that is upright, or with the surface balanced.
    periods : tuple of float
        Times taken, each over ``swings_per_period`` swings there and back [s].
    swings_per_period : int
    amplitude : float, optional
        Angle to one side, the middle of those between start and end [rad]. Without it the swing counts as small.
    name : str
        Of the surface.
    surface_mass : float, optional
        Two wires: needed [kg].
    surface_mass_moment : float, optional
        S, centre of gravity aft of the hinge line positive: static moment over gravity [kg m]. Needed but
        for the spring.
    hangs : {"tail down", "nose down"}
        Own weight and added mass: which edge hung below the hinge line.
    added_mass : float, optional
        Clipped on [kg].
    added_arm : float, optional
        Of its centre from the hinge line [m].
    added_side : {"aft", "forward"}
    wire_spacing : float, optional
        From wire to wire, the centre of gravity midway between them [m].
    wire_length : float, optional
        [m]
    spring_rate : float, optional
        Of all springs together [N/m].
    spring_arm : float, optional
        From the hinge line to where they pull [m].
    timing_uncertainty : Stated, optional
        Of each time taken, common to all of them [s, or a fraction].
    amplitude_uncertainty, surface_mass_uncertainty, surface_mass_moment_uncertainty : Stated, optional
        In the unit of the quantity or as a fraction of it.
    added_mass_uncertainty, added_arm_uncertainty, wire_spacing_uncertainty : Stated, optional
        The same.
    wire_length_uncertainty, spring_rate_uncertainty, spring_arm_uncertainty : Stated, optional
        The same.
    coverage : float
        Coverage probability of U.
    k : float, optional
        Coverage factor, instead of ``coverage``.
    local_gravity : float
        [m/s^2]
    """

    method: Method
    periods: tuple[Time, ...]
    swings_per_period: int = 1
    amplitude: Angle | None = None
    name: str = ""
    surface_mass: Mass | None = None
    surface_mass_moment: MassMoment | None = None
    hangs: Hangs = "tail down"
    added_mass: Mass | None = None
    added_arm: Length | None = None
    added_side: Side = "aft"
    wire_spacing: Length | None = None
    wire_length: Length | None = None
    spring_rate: SpringRate | None = None
    spring_arm: Length | None = None
    timing_uncertainty: Stated | None = None
    amplitude_uncertainty: Stated | None = None
    surface_mass_uncertainty: Stated | None = None
    surface_mass_moment_uncertainty: Stated | None = None
    added_mass_uncertainty: Stated | None = None
    added_arm_uncertainty: Stated | None = None
    wire_spacing_uncertainty: Stated | None = None
    wire_length_uncertainty: Stated | None = None
    spring_rate_uncertainty: Stated | None = None
    spring_arm_uncertainty: Stated | None = None
    coverage: float = 0.95
    k: float | None = None
    local_gravity: Acceleration = STANDARD_GRAVITY


@document_format("hingeline/swing-result/1")
@dataclass(frozen=True, slots=True)
class SwingResult:
    """The moment of inertia that follows from a swing.

    Parameters
    ----------
    name : str
    method : str
    inertia : Measured
        About the hinge line, I [kg m²].
    inertia_with_added_mass : float, optional
        Of all that swung, where a mass was clipped on [kg m²].
    inertia_about_centre : float, optional
        About the centre of gravity, where it hung on two wires [kg m²].
    radius_of_gyration : Measured, optional
        √(I/m) about the hinge line, where the mass is known [m].
    period : Measured
        Of one swing there and back, as timed [s].
    period_at_zero : float
        The same brought to zero amplitude [s].
    amplitude_factor : float
        Period over period at zero amplitude; 1 for a spring [1].
    budget : tuple of BudgetRow
        What the U of the inertia is made of, largest first.
    local_gravity : float
        [m/s^2]
    notes, cautions : tuple of str
    """

    name: str
    method: Method
    inertia: MeasuredInertia
    inertia_with_added_mass: Annotated[float, Unit("kg m^2")] | None
    inertia_about_centre: Annotated[float, Unit("kg m^2")] | None
    radius_of_gyration: MeasuredLength | None
    period: MeasuredTime
    period_at_zero: Time
    amplitude_factor: float
    budget: tuple[BudgetRow, ...]
    local_gravity: Acceleration
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
