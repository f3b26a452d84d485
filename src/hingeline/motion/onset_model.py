"""A series of recordings and what it shows of the onset, as frozen records."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from hingeline.document import document_format
from hingeline.fields import Unit
from hingeline.motion.model import Recording
from hingeline.motion.results import Interval
from hingeline.motion.verdict import Statement

Against = Literal["airspeed", "weight"]
Rest = Literal["not stated", "the same", "changed"]
Play = Literal["not stated", "within its limits", "above its limits"]
Speed = Annotated[float, Unit("m/s")]
Hertz = Annotated[float, Unit("Hz")]
Kilograms = Annotated[float, Unit("kg")]


@dataclass(frozen=True, slots=True)
class RecordingAt:
    """One recording of a series.

    Parameters
    ----------
    at : float
        Equivalent airspeed [m/s], or weight fitted [kg].
    recording : Recording
        One knock.
    """

    at: float
    recording: Recording


@document_format("hingeline/onset-record/1")
@dataclass(frozen=True, slots=True)
class OnsetTask:
    """A series of recordings.

    Parameters
    ----------
    recordings : tuple of RecordingAt
        Three knocks or more at each of five speeds or more; nothing else may change between them.
    against : {"airspeed", "weight"}
    name : str
    rest : {"not stated", "the same", "changed"}
        Mass, fuel, balance weight, altitude between the recordings, beside what is named in ``against``.
    play : {"not stated", "within its limits", "above its limits"}
        Free play of the surface.
    """

    recordings: tuple[RecordingAt, ...]
    against: Against = "airspeed"
    name: str = ""
    rest: Rest = "not stated"
    play: Play = "not stated"


@dataclass(frozen=True, slots=True)
class PointModes:
    """One mode at one speed or weight: damped frequency, damping ratio, its scatter between knocks."""

    frequency: Hertz
    damping_ratio: float
    scatter: float | None


@dataclass(frozen=True, slots=True)
class SeenDamping:
    """What one recording of a series says of its main motion.

    Parameters
    ----------
    statement : str
    frequency, damping_ratio : Interval, optional
        [Hz], [1], at 95 %. Damping below zero where it grows; None where the recording states none.
    """

    statement: Statement
    frequency: Interval | None
    damping_ratio: Interval | None


@dataclass(frozen=True, slots=True)
class OnsetPoint:
    """What the recordings at one speed or weight say.

    Parameters
    ----------
    at : float
        [m/s] or [kg]
    recordings, good : int
        In all; with two modes that could be read.
    statement : str
        The worst of them.
    modes : tuple of PointModes
        By frequency.
    margin : float, optional
        Flutter margin, mean of the knocks [(1/s)⁴].
    seen : tuple of SeenDamping
        Recording by recording.
    """

    at: float
    recordings: int
    good: int
    statement: Statement
    modes: tuple[PointModes, ...]
    margin: float | None
    seen: tuple[SeenDamping, ...] = ()


@dataclass(frozen=True, slots=True)
class OnsetRange:
    """Where the onset may lie: it cannot be excluded from ``low`` on; ``high`` is null where it is too wide."""

    low: Speed
    high: Speed | None


@dataclass(frozen=True, slots=True)
class StopsBetween:
    """The largest weight at which the motion fed itself, and the smallest above it at which it died out."""

    low: Kilograms
    high: Kilograms


@document_format("hingeline/onset-result/1")
@dataclass(frozen=True, slots=True)
class OnsetResult:
    """What a series shows of the onset.

    Parameters
    ----------
    name : str
    against : {"airspeed", "weight"}
    points : tuple of OnsetPoint
        By speed or weight.
    onset_speed : OnsetRange, optional
        None where it may not be given; never one number.
    refused : str, optional
        Why there is none.
    stops_between : StopsBetween, optional
        Against weight.
    damping_fell : bool
        The least damping at the last point lies below its largest before: a warning.
    notes, cautions : tuple of str
    """

    name: str
    against: Against
    points: tuple[OnsetPoint, ...]
    onset_speed: OnsetRange | None
    refused: str | None
    stops_between: StopsBetween | None
    damping_fell: bool
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
