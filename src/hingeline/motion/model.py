"""A recording and what it shows, as frozen records.

The answers stand in ``results``; they are named here too, so that this is the one place to look.
Plunge is positive down, pitch nose up, the angle of a control trailing edge down.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Literal

import numpy as np
from numpy.typing import ArrayLike

from hingeline.document import document_format
from hingeline.errors import InputRefused
from hingeline.fields import Unit

Quantity = Literal["plunge", "pitch", "surface", "acceleration", "sound"]
Source = Literal["table", "video", "sound", "sensor"]
From = Literal["metadata", "given", "unknown"]

UNITS: dict[str, str] = {"plunge": "m", "pitch": "rad", "surface": "rad", "acceleration": "m/s^2", "sound": "1"}
"""SI unit of each quantity that a channel can hold."""

DISPLACEMENTS = ("plunge", "pitch", "surface")
"""Quantities that are places or angles, not accelerations."""

Seconds = Annotated[float, Unit("s")]


@dataclass(frozen=True, slots=True)
class Channel:
    """One quantity over the times of a recording.

    Parameters
    ----------
    quantity : {"plunge", "pitch", "surface", "acceleration", "sound"}
        Plunge [m, positive down], pitch [rad, positive nose up], angle of the control [rad, positive
        trailing edge down], acceleration [m/s^2], sound pressure in an unknown scale [1].
    values : tuple of float or None
        One for each time; None where it was lost.
    label : str
        Its name in the file, or the mark that was followed.
    """

    quantity: Quantity
    values: tuple[float | None, ...]
    label: str = ""


@dataclass(frozen=True, slots=True)
class TimeScale:
    """How a second of the file relates to a true one.

    Parameters
    ----------
    true_over_file : float, optional
        True seconds in one second of the file: 1/8 for 240 frames/s stored at 30. None: not known.
    from_ : {"metadata", "given", "unknown"}
        Who says so: the file, the user, nobody.
    """

    true_over_file: float | None = 1.0
    from_: From = "given"


@document_format("hingeline/motion-record/1")
@dataclass(frozen=True, slots=True)
class Recording:
    """Tracks over time: what a camera, a sensor or a table recorded of a moving surface.

    Parameters
    ----------
    times : tuple of float
        As in the file, in any order, never a frame counter [s of the file].
    channels : tuple of Channel
    airspeed : tuple of float or None, optional
        True airspeed at each time [m/s].
    time_scale : TimeScale
    row_skew : float
        Largest time by which two channels of one row were taken apart, as by a shutter that reads line
        after line [s of the file]. Phase between channels is not told finer than this.
    source : {"table", "video", "sound", "sensor"}
    name : str
    """

    times: tuple[float, ...]
    channels: tuple[Channel, ...]
    airspeed: tuple[float | None, ...] | None = None
    time_scale: TimeScale = TimeScale()
    row_skew: Seconds = 0.0
    source: Source = "table"
    name: str = ""


def recording_of(
    times: ArrayLike,
    tracks: Mapping[str, ArrayLike],
    *,
    airspeed: ArrayLike | None = None,
    time_scale: TimeScale | None = None,
    row_skew: float = 0.0,
    source: Source = "table",
    name: str = "",
) -> Recording:
    """Make a recording from arrays.

    Parameters
    ----------
    times : array_like, shape (n,)
        [s of the file]
    tracks : mapping of str to array_like, shape (n,)
        By quantity, or ``"acceleration x"`` where one quantity comes more than once: the first word is the
        quantity, the whole is the label. NaN where a value was lost.
    airspeed : array_like, shape (n,), optional
        [m/s]
    time_scale : TimeScale, optional
        Left out: a second of the file is a true second, as given.
    row_skew : float
        [s of the file]
    source : {"table", "video", "sound", "sensor"}
    name : str

    Returns
    -------
    Recording

    Raises
    ------
    InputRefused
        A track is of no known quantity.

    Examples
    --------
    >>> from hingeline.motion import recording_of
    >>> recording_of([0.0, 0.1], {"pitch": [0.01, float("nan")]}).channels[0].values
    (0.01, None)
    """
    return Recording(
        times=tuple(np.asarray(times, dtype=float).tolist()),
        channels=tuple(Channel(_quantity(label), _values(track), label) for label, track in tracks.items()),
        airspeed=None if airspeed is None else _values(airspeed),
        time_scale=TimeScale() if time_scale is None else time_scale,
        row_skew=row_skew,
        source=source,
        name=name,
    )


def _quantity(label: str) -> Quantity:
    word = label.split(" ")[0]
    if word not in UNITS:
        raise InputRefused.of("channel", label, f"one of {', '.join(UNITS)}", "Name the quantity first.")
    return word  # type: ignore[return-value]


def _values(track: ArrayLike) -> tuple[float | None, ...]:
    values: Sequence[float] = np.asarray(track, dtype=float).tolist()
    return tuple(value if value == value else None for value in values)
