"""A flutter question and its answer, as frozen records.

The structures stand in ``structures``, the answers in ``results``; they are named here too, so that
this is the one place to look. Every speed is a true airspeed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hingeline.document import document_format
from hingeline.fields import Length
from hingeline.flutter.results import (
    Crossing,
    Direction,
    Divergence,
    FlutterResult,
    Harmonic,
    LimitCycle,
    ModeAtOnset,
    Onset,
    Quantiles,
    Reversal,
    Root,
    RootsAtSpeed,
    Sensitivity,
    ShapePart,
    SpeedDistribution,
    StatedSource,
    SweepPoint,
    Variation,
)
from hingeline.flutter.structures import (
    Aileron,
    AileronWeight,
    Angle,
    Density,
    LiftSlopeSource,
    MeasuredMode,
    Modes,
    ModeStrip,
    ModeWeight,
    Section,
    Speed,
    Tailplane,
    TailplaneWeight,
    WakeName,
    Wing,
)

__all__ = [
    "Aileron",
    "AileronWeight",
    "Air",
    "Crossing",
    "Direction",
    "Divergence",
    "FieldSource",
    "FlutterResult",
    "FlutterTask",
    "FreePlay",
    "Harmonic",
    "LimitCycle",
    "MeasuredMode",
    "ModeAtOnset",
    "ModeStrip",
    "ModeWeight",
    "Modes",
    "Onset",
    "Quantiles",
    "Reversal",
    "Root",
    "RootsAtSpeed",
    "ScatteredField",
    "Section",
    "Sensitivity",
    "ShapePart",
    "Speed",
    "SpeedDistribution",
    "StatedSource",
    "Structure",
    "SweepPoint",
    "Tailplane",
    "TailplaneWeight",
    "Variation",
    "WakeName",
    "Wing",
]

Structure = Section | Tailplane | Wing | Modes


@dataclass(frozen=True, slots=True)
class Air:
    """The air: its density, or the altitude in the standard atmosphere that gives it.

    Parameters
    ----------
    density : float, optional
        [kg/m³]
    altitude : float, optional
        Geopotential, up to 11 km [m].
    """

    density: Density | None = None
    altitude: Length | None = None


@dataclass(frozen=True, slots=True)
class ScatteredField:
    """An input that is uncertain: Gaussian, independent of the others; one of the two is stated, once a field.

    Parameters
    ----------
    field : str
        Dotted name, such as ``"section.surface_static_moment"`` or ``"tailplane.weight[0].mass"``.
    relative : float, optional
        Standard deviation over the value [1]: from the table ``[scatter]``.
    standard_uncertainty : float, optional
        Standard deviation [SI unit of the field]: stated at the number itself, as of a weighing.
    """

    field: str
    relative: float | None = None
    standard_uncertainty: float | None = None

    def deviation(self, value: float) -> float:
        """Give the standard deviation of the field at a value [SI unit of the field]; 0 where none is stated."""
        if self.relative is not None:
            return abs(value) * self.relative
        return self.standard_uncertainty or 0.0


@dataclass(frozen=True, slots=True)
class FieldSource:
    """Where an input comes from: a weighing, a tap test, a drawing, a guess."""

    field: str
    source: str


@dataclass(frozen=True, slots=True)
class FreePlay:
    """Slack in one spring.

    Parameters
    ----------
    half_gap : float
        [rad]
    place : {"circuit", "surface", "tab"}
        The spring that has it.
    starts : tuple of float
        Amplitudes to start the march from [half-gaps].
    """

    half_gap: Angle
    place: Literal["circuit", "surface", "tab"]
    starts: tuple[float, ...] = (1.5, 6.0)


@document_format("hingeline/flutter-record/1")
@dataclass(frozen=True, slots=True)
class FlutterTask:
    """One model, its air, and the range of speeds to search.

    Parameters
    ----------
    air : Air
    speeds : (float, float)
        Lowest and highest true airspeed searched [m/s].
    section, tailplane, wing, modes
        Exactly one of them.
    wake : {"theodorsen", "two-lag", "quasi-steady", "steady"}
    structural_damping : tuple of float
        g, one for all or one a freedom [1].
    damping_ratios : tuple of float
        Viscous, of the in-vacuo modes in order of frequency [1]; empty: none.
    lift_slope_factor : float
        On all circulatory forces, for a finite span [1]: 1 is the strip of an endless wing.
    lift_slope_source : {"assumed", "measured"}
    scatter : tuple of ScatteredField
    sources : tuple of FieldSource
    free_play : FreePlay, optional
    name : str
    """

    air: Air
    speeds: tuple[Speed, ...]
    section: Section | None = None
    tailplane: Tailplane | None = None
    wing: Wing | None = None
    modes: Modes | None = None
    wake: WakeName = "theodorsen"
    structural_damping: tuple[float, ...] = (0.0,)
    damping_ratios: tuple[float, ...] = ()
    lift_slope_factor: float = 1.0
    lift_slope_source: LiftSlopeSource = "assumed"
    scatter: tuple[ScatteredField, ...] = ()
    sources: tuple[FieldSource, ...] = ()
    free_play: FreePlay | None = None
    name: str = ""

    @property
    def structure(self) -> Structure:
        """The one structure that is given; ``checks`` sees to it that it is one."""
        given: list[Structure | None] = [self.section, self.tailplane, self.wing, self.modes]
        (structure,) = (one for one in given if one is not None)
        return structure
