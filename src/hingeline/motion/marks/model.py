"""What to follow in a video, and where it was seen: as frozen records.

Places are pixels of the picture as it is shown: x to the right, y down, from the middle of its upper left
pixel. Plunge is positive down, pitch nose up, the angle of a control trailing edge down.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from hingeline.document import document_format
from hingeline.fields import Length, Unit

Kind = Literal["dot", "marker", "patch"]
Body = Literal["section", "surface", "background"]
Hand = Literal["left", "right"]
Camera = Literal["held", "on a stand"]

Pixel = Annotated[float, Unit("pixel")]
Seconds = Annotated[float, Unit("s")]
Rate = Annotated[float, Unit("1/s")]


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark: a printed dot, a printed marker, or a patch of the picture.

    Parameters
    ----------
    name : str
    kind : {"dot", "marker", "patch"}
    on : {"section", "surface", "background"}
        What it is fixed to: the section; the control surface; something that does not move.
    at : tuple of float, optional
        Where it is in the first picture [pixel]; a marker is found by its number.
    number : int, optional
        Of a printed marker.
    size : float, optional
        Side of a patch [pixel].
    """

    name: str
    kind: Kind
    on: Body
    at: tuple[float, ...] | None = None
    number: int | None = None
    size: float | None = None


@dataclass(frozen=True, slots=True)
class KnownLength:
    """A length in the picture that is known: what makes pixels metres.

    Parameters
    ----------
    length : float
        [m]
    between : tuple of str
        The two marks it lies between, in the plane of the section; or one printed marker, whose black
        square is so wide.
    """

    length: Length
    between: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Marks:
    """What to follow, and what it stands for.

    Parameters
    ----------
    marks : tuple of Mark
    nose : {"left", "right"}
        Where the leading edge is in the picture.
    scale : KnownLength, optional
        Left out: angles only.
    reference : tuple of float, optional
        The point whose plunge is told, as a rule the elastic axis or the hinge, in the first picture [pixel].
        Left out: the middle of the section's marks.
    camera : {"held", "on a stand"}
    readout : float, optional
        Time the shutter takes from the first line to the last [s, true].
    name : str
    """

    marks: tuple[Mark, ...]
    nose: Hand = "left"
    scale: KnownLength | None = None
    reference: tuple[float, ...] | None = None
    camera: Camera = "held"
    readout: Seconds | None = None
    name: str = ""


@dataclass(frozen=True, slots=True)
class PixelTrack:
    """Where one mark was seen.

    Parameters
    ----------
    mark : str
    x, y : tuple of float or None
        At each time [pixel]; None where it was lost.
    size : float
        Its diameter or side in the first picture [pixel].
    contrast : float
        Between it and its surroundings [grey level of 255].
    """

    mark: str
    x: tuple[float | None, ...]
    y: tuple[float | None, ...]
    size: Pixel
    contrast: float


@document_format("hingeline/pixel-tracks-record/1")
@dataclass(frozen=True, slots=True)
class PixelTracks:
    """Where every mark of a video was seen, and when.

    Parameters
    ----------
    marks : Marks
    ticks : tuple of int
        Presentation times of the pictures, as the file has them.
    tick : tuple of int
        Seconds of the file in a tick: numerator and denominator.
    tracks : tuple of PixelTrack
    width, height : float
        Of the picture as shown [pixel].
    turn : int
        By how many degrees the stored picture is turned, anticlockwise, before it is shown.
    capture_rate : float, optional
        Pictures a second that were taken, where the file says so [1/s].
    expected : int
        How many pictures the file announces.
    missing : int
        How many of them could not be decoded.
    finished : bool
        False: somebody stopped it.
    doubts : tuple of str
        What the file's own structure leaves open.
    container, codec : str
    sha256 : str
        Of the file.
    going_on : str
        What a later run needs to go on from here, as JSON.
    name : str
    """

    marks: Marks
    ticks: tuple[int, ...]
    tick: tuple[int, ...]
    tracks: tuple[PixelTrack, ...]
    width: Pixel
    height: Pixel
    turn: int = 0
    capture_rate: Rate | None = None
    expected: int = 0
    missing: int = 0
    finished: bool = True
    doubts: tuple[str, ...] = ()
    container: str = ""
    codec: str = ""
    sha256: str = ""
    going_on: str = ""
    name: str = ""
