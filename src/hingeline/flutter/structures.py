"""What a model is made from: a strip, an all-moving tailplane, a wing with aileron, or measured modes.

Signs: x aft, plunge down, pitch nose up, surface and tab trailing edge down; a static moment is
positive where the centre of gravity lies aft. Static moments here are mass moments. A place on
the chord is given in semichords aft of mid-chord where nothing else is said.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from hingeline.fields import Length, Mass, Unit

Freedom = Literal["plunge", "pitch", "surface", "tab"]

MassPerLength = Annotated[float, Unit("kg/m")]
MassMoment = Annotated[float, Unit("kg m")]
MassMomentPerLength = Annotated[float, Unit("kg")]
Inertia = Annotated[float, Unit("kg m^2")]
InertiaPerLength = Annotated[float, Unit("kg m")]
StiffnessPerLength = Annotated[float, Unit("N/m^2")]
TurningStiffnessPerLength = Annotated[float, Unit("N")]
TurningStiffness = Annotated[float, Unit("N m/rad")]
SpringRate = Annotated[float, Unit("N/m")]
BeamStiffness = Annotated[float, Unit("N m^2")]
Frequency = Annotated[float, Unit("Hz")]
Speed = Annotated[float, Unit("m/s")]
Density = Annotated[float, Unit("kg/m^3")]
Angle = Annotated[float, Unit("rad")]
LiftSlopeSource = Literal["assumed", "measured"]
WakeName = Literal["theodorsen", "two-lag", "quasi-steady", "steady"]


@dataclass(frozen=True, slots=True)
class Section:
    """A strip of one metre of span.

    Parameters
    ----------
    freedoms : tuple of {"plunge", "pitch", "surface", "tab"}
        Two or more; the order of everything that counts freedoms.
    semichord : float
        Half the chord, b [m].
    elastic_axis : float
        Where plunge is counted and pitch turns, a [1].
    mass : float
        [kg/m]
    hinge_line : float
        Of the control surface, c [1].
    plunging_mass : float, optional
        All that moves in plunge, with fixtures that do not pitch [kg/m]. Default: ``mass``.
    pitch_static_moment, surface_static_moment : float
        About the elastic axis, the surface included; about the hinge line, the tab included [kg].
    pitch_inertia, surface_inertia : float
        The same [kg m].
    plunge_stiffness : float
        [N/m²]
    pitch_stiffness, surface_stiffness : float
        [N]; 0: free.
    tab_hinge_line : float, optional
        d [1].
    tab_static_moment, tab_inertia, tab_stiffness : float
        About the tab's hinge [kg, kg m, N].
    tab_gear : float
        G of the spring energy k (δ - G β)²/2 [1]: below 0 it lags (servo), above 0 it leads (anti-servo).
    tab_rigid_gear : float, optional
        G without slack, δ = G β [1]: the tab is then no freedom.
    """

    freedoms: tuple[Freedom, ...]
    semichord: Length
    elastic_axis: float
    mass: MassPerLength
    hinge_line: float = 0.5
    plunging_mass: MassPerLength | None = None
    pitch_static_moment: MassMomentPerLength = 0.0
    surface_static_moment: MassMomentPerLength = 0.0
    pitch_inertia: InertiaPerLength = 0.0
    surface_inertia: InertiaPerLength = 0.0
    plunge_stiffness: StiffnessPerLength = 0.0
    pitch_stiffness: TurningStiffnessPerLength = 0.0
    surface_stiffness: TurningStiffnessPerLength = 0.0
    tab_hinge_line: float | None = None
    tab_static_moment: MassMomentPerLength = 0.0
    tab_inertia: InertiaPerLength = 0.0
    tab_stiffness: TurningStiffnessPerLength = 0.0
    tab_gear: float = 0.0
    tab_rigid_gear: float | None = None


@dataclass(frozen=True, slots=True)
class TailplaneWeight:
    """A balance weight of an all-moving tailplane; rigid where neither frequency nor stiffness is given.

    Parameters
    ----------
    mass : float
        [kg]
    arm : float
        Ahead of the hinge line, positive [m].
    arm_frequency : float, optional
        Of the weight on its arm, clamped at the pivot [Hz].
    arm_stiffness : float, optional
        The same as a spring rate at the weight [N/m].
    """

    mass: Mass
    arm: Length
    arm_frequency: Frequency | None = None
    arm_stiffness: SpringRate | None = None


@dataclass(frozen=True, slots=True)
class Tailplane:
    """A rigid all-moving tailplane on a springy rear fuselage; all numbers without the weights.

    Parameters
    ----------
    span, chord : float
        [m]
    hinge_line, centre_of_gravity : float
        Part of the chord from the leading edge [1]: 0.25 is a quarter.
    mass : float
        [kg]
    inertia : float
        About the hinge line [kg m²].
    support_mass : float
        Of the rear fuselage that moves with it [kg].
    support_frequency : float
        Of ``support_mass + mass`` on the rear fuselage [Hz].
    circuit_stiffness : float, optional
        [N m/rad]; 0: free.
    circuit_frequency : float, optional
        Of the tailplane about its clamped hinge line [Hz], instead of the stiffness.
    weights : tuple of TailplaneWeight
    part_of_span_in_jet : float
        For a bench section [1]: air on that part only, mass in full.
    support_damping_ratio, circuit_damping_ratio : float
        Viscous, of each spring with the mass it was tuned with, weights off [1].
    """

    span: Length
    chord: Length
    hinge_line: float
    centre_of_gravity: float
    mass: Mass
    inertia: Inertia
    support_mass: Mass
    support_frequency: Frequency
    circuit_stiffness: TurningStiffness | None = None
    circuit_frequency: Frequency | None = None
    weights: tuple[TailplaneWeight, ...] = ()
    part_of_span_in_jet: float = 1.0
    support_damping_ratio: float = 0.0
    circuit_damping_ratio: float = 0.0


@dataclass(frozen=True, slots=True)
class AileronWeight:
    """A balance weight of an aileron.

    Parameters
    ----------
    mass : float
        [kg]
    arm : float
        Ahead of the hinge line, positive [m].
    spanwise : float
        From the root of the wing [m].
    """

    mass: Mass
    arm: Length
    spanwise: Length


@dataclass(frozen=True, slots=True)
class Aileron:
    """An aileron, added to the wing; totals, about its hinge line, without the weights.

    Parameters
    ----------
    from_root, to : float
        Ends, from the root of the wing [m].
    hinge_line : float
        c [1].
    mass : float
        [kg]
    static_moment : float
        S [kg m].
    inertia : float
        I [kg m²].
    product_of_inertia : float, optional
        K = ∫ x y dm, x aft of the hinge line, y from the root [kg m²]. Default: even along the span.
    stiffness : float
        Of its circuit [N m/rad]; 0: free.
    locked : bool
        To the wing: it is no freedom.
    weights : tuple of AileronWeight
    """

    from_root: Length
    to: Length
    hinge_line: float
    mass: Mass
    static_moment: MassMoment
    inertia: Inertia
    product_of_inertia: Inertia | None = None
    stiffness: TurningStiffness = 0.0
    locked: bool = False
    weights: tuple[AileronWeight, ...] = ()


@dataclass(frozen=True, slots=True)
class Wing:
    """A uniform cantilever wing by strips; all numbers without the aileron.

    Parameters
    ----------
    length : float
        Root to tip [m].
    semichord : float
        b [m].
    elastic_axis : float
        a [1].
    mass : float
        [kg/m]
    static_offset : float
        Centre of gravity aft of the elastic axis [semichords].
    inertia : float
        About the elastic axis [kg m].
    bending_stiffness, torsion_stiffness : float
        EI, GJ [N m²].
    bending_modes, torsion_modes : int
        How many shapes of the bare beam are used.
    aileron : Aileron, optional
    """

    length: Length
    semichord: Length
    elastic_axis: float
    mass: MassPerLength
    static_offset: float
    inertia: InertiaPerLength
    bending_stiffness: BeamStiffness
    torsion_stiffness: BeamStiffness
    bending_modes: int = 4
    torsion_modes: int = 4
    aileron: Aileron | None = None


@dataclass(frozen=True, slots=True)
class MeasuredMode:
    """One mode, measured or computed with the control locked and its weights off.

    Parameters
    ----------
    generalised_mass : float
        Of the shape as it is given at the strips [kg].
    frequency : float
        [Hz]
    """

    generalised_mass: Mass
    frequency: Frequency


@dataclass(frozen=True, slots=True)
class ModeStrip:
    """One strip of the surface and what each mode does there.

    Parameters
    ----------
    width, semichord : float
        [m]
    axis, hinge_line : float
        Where plunge is counted, a; hinge line of the control, c [1].
    plunge : tuple of float
        Of the axis, by mode, down positive [1]; for a rudder positive to one side.
    pitch : tuple of float
        By mode, nose up positive [rad per unit of the mode].
    surface : float
        1 where the control is, 0 where it is not [1].
    horn : bool
        The whole chord turns with the control.
    surface_static_moment, surface_inertia : float
        Of the control about its hinge line, for one metre of span [kg, kg m].
    """

    width: Length
    semichord: Length
    axis: float
    hinge_line: float
    plunge: tuple[float, ...]
    pitch: tuple[float, ...]
    surface: float = 1.0
    horn: bool = False
    surface_static_moment: MassMomentPerLength = 0.0
    surface_inertia: InertiaPerLength = 0.0


@dataclass(frozen=True, slots=True)
class ModeWeight:
    """A balance weight on the control, and what each mode does where it is.

    Parameters
    ----------
    mass : float
        [kg]
    arm : float
        Ahead of the hinge line, positive [m].
    axis_to_weight : float
        Aft of the axis, signed [m].
    plunge, pitch : tuple of float
        Of the axis at its station, by mode.
    on_when_measured : bool
        It was on when the modes were measured: the generalised masses hold it already.
    """

    mass: Mass
    arm: Length
    axis_to_weight: Length
    plunge: tuple[float, ...]
    pitch: tuple[float, ...]
    on_when_measured: bool = False


@dataclass(frozen=True, slots=True)
class Modes:
    """Measured or computed modes and a control, by strips.

    Parameters
    ----------
    modes : tuple of MeasuredMode
    strips : tuple of ModeStrip
    surface_stiffness : float
        Of the circuit [N m/rad]; 0: free.
    weights : tuple of ModeWeight
    """

    modes: tuple[MeasuredMode, ...]
    strips: tuple[ModeStrip, ...]
    surface_stiffness: TurningStiffness = 0.0
    weights: tuple[ModeWeight, ...] = ()
