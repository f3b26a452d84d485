"""All marks of a recording, picture by picture, while the decoder works ahead in its own threads."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Protocol

from hingeline_app.recordings.decoding import Picture, Video, pictures
from hingeline_app.recordings.dots import Dot
from hingeline_app.recordings.limits import Unreadable
from hingeline_app.recordings.markers import Marker
from hingeline_app.recordings.orientation import Orientation, orientation
from hingeline_app.recordings.patches import Patch
from hingeline_app.recordings.windows import Place

EVERY = 32
"""How many pictures are reported at once."""
Send = Callable[[Mapping[str, Any]], None]


class Follower(Protocol):
    """What follows one mark."""

    contrast: float
    noise: float

    @property
    def size(self) -> float:
        """How large it is [pixel]."""

    def begin(self, picture: Picture) -> str | None:
        """Find it in the first picture."""

    def follow(self, picture: Picture) -> Place | None:
        """Find it in the next picture."""

    def state(self) -> dict[str, Any]:
        """Give what a later run needs to go on."""

    def restore(self, state: dict[str, Any]) -> None:
        """Go on where an earlier run stopped."""


def follower(mark: Mapping[str, Any], way: Orientation) -> Any:
    """Make what follows one mark."""
    if mark["kind"] == "marker":
        return Marker(int(mark["number"]))
    place = way.stored((float(mark["at"][0]), float(mark["at"][1])))
    return Dot(place) if mark["kind"] == "dot" else Patch(place, float(mark["size"]))


def first_picture(video: Video) -> tuple[Picture, Orientation]:
    """Decode the first picture, and say how it is turned before it is shown.

    Raises
    ------
    Unreadable
        There is none.
    """
    first = next(pictures(video), None)
    if first is None:
        remedy = "Take the original again; pictures that are very large need more memory than they may have."
        raise Unreadable("no picture that can be decoded", "a video that plays", remedy)
    _, picture, frame = first
    video.missing = 0
    stretch = float(video.stream.sample_aspect_ratio or 1.0)
    # A copy, for the frame that holds it goes.
    return picture.copy(), orientation(video.width, video.height, int(frame.rotation), stretch)


class Run:
    """One run through a video.

    Parameters
    ----------
    video : Video
    marks : sequence of mapping
        ``name``, ``kind``, and ``at``, ``number``, ``size`` as the kind needs.
    send : callable
        Takes what there is to report.
    """

    def __init__(self, video: Video, marks: Sequence[Mapping[str, Any]], send: Send) -> None:
        self.video, self.marks, self.send = video, marks, send
        self.followers: list[Follower] = []
        self.ticks: list[int] = []
        self.places: list[list[Place | None]] = []

    def begin(self) -> Orientation:
        """Find every mark in the first picture.

        Raises
        ------
        Unreadable
            A mark is not there; all that are not are named.
        """
        picture, self.way = first_picture(self.video)
        self.followers = [follower(mark, self.way) for mark in self.marks]
        faults = [(mark["name"], each.begin(picture)) for mark, each in zip(self.marks, self.followers, strict=True)]
        wrong = [f"mark {name}: {fault}" for name, fault in faults if fault]
        if wrong:
            remedy = "Look at the first picture and give the places in it again."
            raise Unreadable("; ".join(wrong)[:800], "every mark in the first picture", remedy)
        return self.way

    def follow(self, after: int | None, states: Sequence[dict[str, Any]]) -> None:
        """Follow the marks to the end, from the picture after a time on."""
        for each, state in zip(self.followers, states, strict=False):
            each.restore(state)
        for tick, picture, _ in pictures(self.video, after):
            found = [each.follow(picture) for each in self.followers]
            self.ticks.append(tick)
            self.places.append([None if place is None else self.way.seen(place) for place in found])
            if len(self.ticks) == EVERY:
                self.report()
        self.report()

    def report(self) -> None:
        """Send what was found since the last time, and what a later run would need to go on from here."""
        if not self.ticks:
            return
        states = [each.state() for each in self.followers]
        self.send({"say": "followed", "ticks": self.ticks, "places": self.places, "states": states})
        self.ticks, self.places = [], []
