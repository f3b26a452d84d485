"""What a recording is found to say, as frozen records."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from hingeline.document import document_format
from hingeline.fields import Unit
from hingeline.motion.model import Source, TimeScale
from hingeline.motion.verdict import Statement

PointsTo = Literal["self-excited", "a steady tone", "shaken", "dying out", "cannot tell", "neither"]
Role = Literal["decides", "shown"]
Degrees = Annotated[float, Unit("deg")]
Seconds = Annotated[float, Unit("s")]
Hertz = Annotated[float, Unit("Hz")]


@dataclass(frozen=True, slots=True)
class Interval:
    """A number with its interval at 95 %; an end that cannot be stated is null, and a note says why.

    Parameters
    ----------
    value : float
        In ``unit``.
    low, high : float, optional
    unit : str
    """

    value: float
    low: float | None
    high: float | None
    unit: str


@dataclass(frozen=True, slots=True)
class Evidence:
    """One thing that was measured.

    Parameters
    ----------
    measure : str
        In words.
    value : float, optional
        In ``unit``; None where it does not exist.
    unit : str
    points_to : {"self-excited", "a steady tone", "shaken", "dying out", "cannot tell", "neither"}
    role : {"decides", "shown"}
        Whether the statement hangs on it.
    """

    measure: str
    value: float | None
    unit: str
    points_to: PointsTo
    role: Role


@dataclass(frozen=True, slots=True)
class Stretch:
    """The part of the recording that was used: from, to [s of the recording, true where the scale is known]."""

    from_: Seconds
    to: Seconds


@dataclass(frozen=True, slots=True)
class Mode:
    """One damped swing of a free decay.

    Parameters
    ----------
    frequency : Interval
        Damped [Hz].
    damping_ratio : Interval
        [1]
    """

    frequency: Interval
    damping_ratio: Interval


@document_format("hingeline/motion-result/1")
@dataclass(frozen=True, slots=True)
class MotionResult:
    """What one recording says.

    Parameters
    ----------
    name : str
    source : {"table", "video", "sound", "sensor"}
    statement : {"growing", "sustained", "irregular", "dying out", "cannot tell"}
    ground : str
        Which rule spoke.
    frequency : Interval, optional
        Dominant [Hz]; None where the time scale is not known.
    frequency_per_file_second : float, optional
        The same, in cycles for each second of the file; only where the scale is not known.
    damping_ratio : Interval, optional
        Only for growing (negative) and dying out [1].
    growth_rate : Interval, optional
        Only for growing and dying out [1/s].
    phase : float, optional
        Of pitch behind plunge, -180 to 180, positive when pitch lags [deg].
    phase_limit : float, optional
        No finer than this, for a camera that reads line after line [deg].
    coherence : float, optional
        Of plunge and pitch at the frequency [1].
    cycles : float
        In the part used.
    stretch : Stretch
    signal_to_noise : float
        Loudest half second over the noise, root mean squares.
    time_scale : TimeScale
    evidence : tuple of Evidence
    reasons : tuple of str
    next : tuple of str
        What recording would make it surer.
    notes, cautions : tuple of str
    """

    name: str
    source: Source
    statement: Statement
    ground: str
    frequency: Interval | None
    frequency_per_file_second: float | None
    damping_ratio: Interval | None
    growth_rate: Interval | None
    phase: Degrees | None
    phase_limit: Degrees | None
    coherence: float | None
    cycles: float
    stretch: Stretch
    signal_to_noise: float
    time_scale: TimeScale
    evidence: tuple[Evidence, ...]
    reasons: tuple[str, ...]
    next: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]


@document_format("hingeline/tap-result/1")
@dataclass(frozen=True, slots=True)
class TapResult:
    """The modes that a free decay shows.

    Parameters
    ----------
    name : str
    modes : tuple of Mode
        Strongest first; empty where the recording is no free decay, with the reason.
    refused : str, optional
        Why there are none.
    cycles : float
        Of the strongest.
    stretch : Stretch
    signal_to_noise : float
    explained : float
        Part of the motion that the modes make [1].
    time_scale : TimeScale
    notes, cautions : tuple of str
    """

    name: str
    modes: tuple[Mode, ...]
    refused: str | None
    cycles: float
    stretch: Stretch
    signal_to_noise: float
    explained: float
    time_scale: TimeScale
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
