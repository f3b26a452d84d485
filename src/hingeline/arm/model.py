"""What is known of an arm: its section and material, what was lost, its weight, loads and crack.

SI throughout. Numbers that were measured may state their uncertainty in a field of the same name and
``_uncertainty`` behind it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from hingeline.arm.assumed import Crack, CyclicLoad, Detection, StressLife
from hingeline.arm.quantities import Angle, Density, Frequency, Inertia, RootStiffness, Stress
from hingeline.document import document_format
from hingeline.fields import Acceleration, Length, Mass
from hingeline.uncertainty.stated import Stated
from hingeline.units import STANDARD_GRAVITY

Where = Literal["outside", "inside", "local"]
LoadsAre = Literal["limit", "ultimate"]

FITTING_FACTOR = 1.15  # 14 CFR 23.625, from memory

__all__ = [
    "ArmTask",
    "ArmWeight",
    "Bar",
    "Bolts",
    "Crack",
    "CyclicLoad",
    "Detection",
    "LoadFactors",
    "LoadsAre",
    "Loss",
    "Material",
    "Oscillation",
    "Root",
    "StressLife",
    "Tube",
    "WallLimit",
    "WallReading",
    "Where",
]


@dataclass(frozen=True, slots=True)
class Material:
    """What the arm is made of: from the drawing, not from a table of ours.

    Parameters
    ----------
    modulus, yield_strength, ultimate_strength : float
        [Pa]
    density : float
        [kg/m³]
    flow_stress : float, optional
        For plastic collapse [Pa]; without it the mean of yield and ultimate strength.
    """

    modulus: Stress
    density: Density
    yield_strength: Stress
    ultimate_strength: Stress
    flow_stress: Stress | None = None


@dataclass(frozen=True, slots=True)
class Tube:
    """A round tube.

    Parameters
    ----------
    outside_diameter, wall : float
        As drawn or measured where nothing is lost [m].
    outside_diameter_uncertainty, wall_uncertainty : Stated, optional
    hole : float, optional
        Diameter of a bolt hole through both walls at the root [m], its axis in the plane of the bending.
    """

    outside_diameter: Length
    wall: Length
    outside_diameter_uncertainty: Stated | None = None
    wall_uncertainty: Stated | None = None
    hole: Length | None = None


@dataclass(frozen=True, slots=True)
class Bar:
    """A solid rectangular bar.

    Parameters
    ----------
    width, height : float
        Along the hinge line, and normal to the surface [m].
    width_uncertainty, height_uncertainty : Stated, optional
    """

    width: Length
    height: Length
    width_uncertainty: Stated | None = None
    height_uncertainty: Stated | None = None


@dataclass(frozen=True, slots=True)
class Root:
    """How the arm is held and how long it is.

    Parameters
    ----------
    length : float
        Root to the weight's centre [m].
    length_uncertainty : Stated, optional
    stiffness : float, optional
        Of a root that turns under a moment [N m/rad]; without it the root counts as rigid.
    hinge_to_root : float
        Hinge line to root, for the acceleration of an oscillation [m].
    """

    length: Length
    length_uncertainty: Stated | None = None
    stiffness: RootStiffness | None = None
    hinge_to_root: Length = 0.0


@dataclass(frozen=True, slots=True)
class Loss:
    """Metal that is gone, measured.

    Parameters
    ----------
    where : {"outside", "inside", "local"}
        All round from outside or inside; or ground away over a part of the outside, centred on the most
        stressed fibre (of a bar: over the whole of that face).
    depth : float
        [m]
    depth_uncertainty : Stated, optional
    half_angle : float, optional
        Of a local loss of a tube, to one side [rad].
    """

    where: Where
    depth: Length
    depth_uncertainty: Stated | None = None
    half_angle: Angle | None = None


@dataclass(frozen=True, slots=True)
class WallReading:
    """What a wall gauge showed at one place, on bare metal.

    Parameters
    ----------
    position : str
        Where, in the words of the grid.
    wall : float
        [m]
    wall_uncertainty : Stated, optional
        Of the gauge at this place.
    """

    position: str
    wall: Length
    wall_uncertainty: Stated | None = None


@dataclass(frozen=True, slots=True)
class WallLimit:
    """The smallest wall that the approved data allows.

    Parameters
    ----------
    smallest : float
        [m]
    source : str
        Document, page, revision.
    """

    smallest: Length
    source: str = ""


@dataclass(frozen=True, slots=True)
class ArmWeight:
    """The weight at the end of the arm.

    Parameters
    ----------
    mass : float
        [kg]
    mass_uncertainty : Stated, optional
    beyond_tip : float
        End of the tube to the weight's centre [m].
    inertia : float
        About the weight's own centre [kg m²].
    off_axis : float
        The weight's centre from the tube's axis, normal to the surface [m].
    """

    mass: Mass
    mass_uncertainty: Stated | None = None
    beyond_tip: Length = 0.0
    inertia: Inertia = 0.0
    off_axis: Length = 0.0


@dataclass(frozen=True, slots=True)
class LoadFactors:
    """What the arm is designed for, three separate cases, in g.

    Parameters
    ----------
    normal, fore_and_aft, along_hinge : float
        To the surface; in its plane across the hinge line; along the hinge line [1].
    are : {"limit", "ultimate"}
        limit: ultimate is 1.5 times as much; ultimate: yield is checked at stress/1.5.
    """

    normal: float = 24.0
    fore_and_aft: float = 12.0
    along_hinge: float = 12.0
    are: LoadsAre = "limit"


@dataclass(frozen=True, slots=True)
class Oscillation:
    """A motion of the surface that the arm takes part in.

    Parameters
    ----------
    frequency : float
        [Hz]
    damping_ratio : float
        Of the arm itself [1].
    amplitude : float, optional
        Of the surface about its hinge line, to one side [rad].
    """

    frequency: Frequency
    damping_ratio: float = 0.0
    amplitude: Angle | None = None


@dataclass(frozen=True, slots=True)
class Bolts:
    """Two bolts through the tube that hold its root as a couple.

    Parameters
    ----------
    spacing, diameter : float
        [m]
    shear_strength, bearing_strength : float
        [Pa]
    shear_planes : int
    fitting_factor : float
        For a fitting that was not tested; 1.15 is what the regulation asks [1].
    """

    spacing: Length
    diameter: Length
    shear_strength: Stress
    bearing_strength: Stress
    shear_planes: int = 2
    fitting_factor: float = FITTING_FACTOR


@document_format("hingeline/arm-record/1")
@dataclass(frozen=True, slots=True)
class ArmTask:
    """An arm, as it is to be looked at.

    Parameters
    ----------
    material : Material
    root : Root
    weight : ArmWeight
    tube : Tube, optional
        Either this or a bar.
    bar : Bar, optional
    name : str
    loss : Loss, optional
    wall_limit : WallLimit, optional
    loads : LoadFactors
    oscillation : Oscillation, optional
    surface_frequencies : tuple of float
        Natural frequencies of the fixed surface that the weight must control [Hz].
    crack : Crack, optional
    detection : Detection, optional
    stress_life : StressLife, optional
    bolts : Bolts, optional
    coverage : float
        Coverage probability of U.
    k : float, optional
        Coverage factor, instead of ``coverage``.
    local_gravity : float
        [m/s²]
    readings : tuple of WallReading
        Of a wall gauge, shown beside the nominal wall; ``loss`` is what the lowest says (``loss_by_readings``).
    """

    material: Material
    root: Root
    weight: ArmWeight
    tube: Tube | None = None
    bar: Bar | None = None
    name: str = ""
    loss: Loss | None = None
    wall_limit: WallLimit | None = None
    loads: LoadFactors = field(default_factory=LoadFactors)
    oscillation: Oscillation | None = None
    surface_frequencies: tuple[Frequency, ...] = ()
    crack: Crack | None = None
    detection: Detection | None = None
    stress_life: StressLife | None = None
    bolts: Bolts | None = None
    coverage: float = 0.95
    k: float | None = None
    local_gravity: Acceleration = STANDARD_GRAVITY
    readings: tuple[WallReading, ...] = ()
