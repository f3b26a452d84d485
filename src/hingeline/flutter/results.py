"""What a flutter study answers, as frozen records. Every speed is a true airspeed."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from hingeline.document import document_format
from hingeline.flutter.structures import Angle, Density, Frequency, Speed, WakeName

Direction = Literal["into", "out of"]


@dataclass(frozen=True, slots=True)
class ShapePart:
    """What one freedom does in a mode: magnitude over the largest, phase against it."""

    freedom: str
    magnitude: float
    phase: Angle


@dataclass(frozen=True, slots=True)
class ModeAtOnset:
    """The mode that starts to grow: its number by frequency in still air, in words, and its shape."""

    number: int
    words: str
    shape: tuple[ShapePart, ...]


@dataclass(frozen=True, slots=True)
class Onset:
    """The lowest speed at which a mode starts to grow.

    Parameters
    ----------
    speed : float
        True airspeed [m/s].
    frequency : float
        [Hz]
    reduced_frequency : float
        ω b/U with the (largest) semichord [1].
    mode : ModeAtOnset
    """

    speed: Speed
    frequency: Frequency
    reduced_frequency: float
    mode: ModeAtOnset


@dataclass(frozen=True, slots=True)
class Crossing:
    """A neutral point: a mode goes into growth there with rising speed, or out of it."""

    speed: Speed
    frequency: Frequency
    direction: Direction


@dataclass(frozen=True, slots=True)
class Divergence:
    """Where the static stiffness vanishes."""

    speed: Speed


@dataclass(frozen=True, slots=True)
class Reversal:
    """Where the control no longer gives lift (or roll) of its own sense."""

    speed: Speed


@dataclass(frozen=True, slots=True)
class Root:
    """One root at one speed, by the p-method.

    Parameters
    ----------
    mode : int
    frequency : float
        |Im p|/2π [Hz].
    damping_ratio : float
        -Re p/|p| [1]: above 0 it dies out.
    """

    mode: int
    frequency: Frequency
    damping_ratio: float


@dataclass(frozen=True, slots=True)
class RootsAtSpeed:
    """All roots that were followed to one speed."""

    speed: Speed
    roots: tuple[Root, ...]


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """How the onset moves with one input.

    Parameters
    ----------
    field : str
        Dotted name.
    derivative : float
        dU/dfield [m/s per SI unit].
    elasticity : float
        (field/U) dU/dfield [1].
    frequency_derivative : float, optional
        Of the frequency at the onset [Hz per SI unit]; none in a document of before it was told.
    """

    field: str
    derivative: float
    elasticity: float
    frequency_derivative: float | None = None


@dataclass(frozen=True, slots=True)
class Quantiles:
    """The onset speeds below which these parts of them lie; in a document each stands under its part.

    Parameters
    ----------
    low, middle, high : float, optional
        Under "0.025", "0.5" and "0.975" [m/s]; none where no draw has an onset.
    """

    low: Speed | None = field(metadata={"key": "0.025"})
    middle: Speed | None = field(metadata={"key": "0.5"})
    high: Speed | None = field(metadata={"key": "0.975"})


@dataclass(frozen=True, slots=True)
class SpeedDistribution:
    """Onset speeds of many draws.

    Parameters
    ----------
    samples, drawn_again : int
        Draws used; draws replaced because a positive field came out at zero or below.
    flutter_fraction, growing_at_lowest_fraction : float
        Of all samples [1].
    quantiles : Quantiles
        Of those with a crossing: the lowest of each, whatever grows above it.
    below : float, optional
        The speed asked about [m/s].
    fraction_below : float, optional
        Of all samples, those that grow at the lowest speed included [1].
    seed : int
    begins_again_fraction : float, optional
        Of all samples, those whose growth ends within the range and begins again at a higher speed [1]; none in a
        document of before it was counted.
    """

    samples: int
    drawn_again: int
    flutter_fraction: float
    growing_at_lowest_fraction: float
    quantiles: Quantiles
    below: Speed | None
    fraction_below: float | None
    seed: int
    begins_again_fraction: float | None = None


@dataclass(frozen=True, slots=True)
class SweepPoint:
    """What one variant of a model does.

    Parameters
    ----------
    values : tuple of float
        Of the fields that vary [SI].
    speed : float, optional
        Lowest crossing into growth [m/s]; none in the range where it is left out.
    growing_at_lowest_speed : bool
        Something grows at the lowest speed already; there is then no crossing to give.
    """

    values: tuple[float, ...]
    speed: Speed | None
    growing_at_lowest_speed: bool


@dataclass(frozen=True, slots=True)
class Variation:
    """How the onset moves when one number of the model is varied, or two.

    Parameters
    ----------
    fields, units : tuple of str
        Dotted names, and the SI symbol of each.
    points : tuple of SweepPoint
        Of two fields the second varies fastest.
    """

    fields: tuple[str, ...]
    units: tuple[str, ...]
    points: tuple[SweepPoint, ...]


@dataclass(frozen=True, slots=True)
class Harmonic:
    """One harmonic of a limit cycle, in half-gaps: of a march the even ones too."""

    order: int
    amplitude: float


@dataclass(frozen=True, slots=True)
class LimitCycle:
    """A motion that free play keeps going at one speed, from one start, by one way.

    Parameters
    ----------
    speed : float
        [m/s]
    start : float, optional
        Amplitude that the march was started from [half-gaps], of harmonic balance too, which goes on from the
        marched cycle; one harmonic has none.
    method : {"one harmonic", "harmonic balance", "marching"}
    outcome : {"cycle", "dies out", "not periodic", "grows"}
    amplitude_in_gaps, amplitude : float, optional
        Of the fundamental [half-gaps], [rad].
    peak_in_gaps : float, optional
        [half-gaps]
    frequency : float, optional
        [Hz]
    harmonics : tuple of Harmonic
    """

    speed: Speed
    start: float | None
    method: Literal["one harmonic", "harmonic balance", "marching"]
    outcome: Literal["cycle", "dies out", "not periodic", "grows"]
    amplitude_in_gaps: float | None = None
    amplitude: Angle | None = None
    peak_in_gaps: float | None = None
    frequency: Frequency | None = None
    harmonics: tuple[Harmonic, ...] = ()


@dataclass(frozen=True, slots=True)
class StatedSource:
    """Where a number of the model comes from: a weighing, a tap test, a drawing, a guess.

    Parameters
    ----------
    field : str
        Dotted name.
    source : str
    value : float
        As it was used [SI].
    unit : str
        SI symbol.
    standard_uncertainty : float, optional
        In the same unit; none where none was stated.
    """

    field: str
    source: str
    value: float
    unit: str
    standard_uncertainty: float | None


@document_format("hingeline/flutter-result/1")
@dataclass(frozen=True, slots=True)
class FlutterResult:
    """What a model says; never a proof that an aircraft is free of flutter.

    Parameters
    ----------
    name : str
    speeds : (float, float)
        Range searched [m/s].
    flutter : Onset, optional
        None: none found in the range, or a mode grows already at the lowest speed.
    growing_at_lowest_speed : bool
    crossings : tuple of Crossing
        Every neutral point of the range, by speed.
    divergence : Divergence, optional
        The lowest of all, where it lies in the range; a note says where else.
    divergences : tuple of Divergence
        Every one of the model by speed, in the range or not: none is won back at a higher speed.
    reversal : Reversal, optional
        Control reversal, the lowest in the range.
    natural_frequencies : tuple of float
        In vacuo, coupled, by frequency [Hz].
    density : float
        [kg/m³]
    wake : str
    roots, sensitivities, limit_cycles : tuple, optional
        Where they were asked for.
    speed_distribution : SpeedDistribution, optional
    variation : Variation, optional
        Where a number of the model was varied.
    sources : tuple of StatedSource
    airspeed : {"true"}
    assumptions, notes, cautions : tuple of str
    """

    name: str
    speeds: tuple[Speed, ...]
    flutter: Onset | None
    growing_at_lowest_speed: bool
    crossings: tuple[Crossing, ...]
    divergence: Divergence | None
    reversal: Reversal | None
    natural_frequencies: tuple[Frequency, ...]
    density: Density
    wake: WakeName
    assumptions: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    roots: tuple[RootsAtSpeed, ...] | None = None
    sensitivities: tuple[Sensitivity, ...] | None = None
    speed_distribution: SpeedDistribution | None = None
    limit_cycles: tuple[LimitCycle, ...] | None = None
    sources: tuple[StatedSource, ...] = ()
    airspeed: Literal["true"] = "true"
    variation: Variation | None = None
    divergences: tuple[Divergence, ...] = ()
