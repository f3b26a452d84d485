"""Several kept recordings at several speeds or weights, put together and judged as one series."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Literal, Protocol, cast

from hingeline.document import to_document
from hingeline.errors import InputRefused, Refusal
from hingeline.motion import OnsetTask, RecordingAt, onset_of
from hingeline.motion.onset_model import Against, Play, Rest
from hingeline.units import read
from hingeline_app.evidence.answer import recording_of_kept
from hingeline_app.evidence.asked import Asked, asked_of

MOST = 60
DIMENSIONS: Mapping[Against, Literal["speed", "mass"]] = {"airspeed": "speed", "weight": "mass"}


@dataclass(frozen=True, slots=True)
class Member:
    """One recording of a series, as it was read when it was judged alone.

    Parameters
    ----------
    number : int
        Of the recording.
    name, digest : str
        Of its file.
    finding : str
        Which reading of it.
    at : str
        Speed or weight with its unit, as typed.
    file, tracks : Path
    asked : Asked
    """

    number: int
    name: str
    digest: str
    finding: str
    at: str
    file: Path
    tracks: Path | None
    asked: Asked


class Kept(Protocol):
    """A recording with one reading of it, as the records give it."""

    @property
    def finding(self) -> object:
        """Which reading."""

    @property
    def number(self) -> int:
        """Of the recording."""

    @property
    def name(self) -> str:
        """Of its file."""

    @property
    def digest(self) -> str:
        """Of its file."""

    @property
    def file(self) -> Path:
        """Where it lies."""

    @property
    def tracks(self) -> Path | None:
        """Where each mark was seen; none of a table."""

    @property
    def asked(self) -> Mapping[str, Any]:
        """How it was read."""


def member_of(kept: Kept, at: str) -> Member:
    """Give a kept recording as a member of a series, at a speed or weight as typed."""
    asked = asked_of(kept.asked)
    return Member(kept.number, kept.name, kept.digest, str(kept.finding), at, kept.file, kept.tracks, asked)


@dataclass(frozen=True, slots=True)
class AskedSeries:
    """What was asked of a series beside its recordings."""

    against: Against = "airspeed"
    rest: Rest = "not stated"
    play: Play = "not stated"

    def plain(self, members: Sequence[Member]) -> dict[str, Any]:
        """Give it as plain data that is kept."""
        listed = [
            {"finding": each.finding, "recording": each.number, "sha256": each.digest, "at": each.at}
            for each in members
        ]
        return {"against": self.against, "rest": self.rest, "play": self.play, "members": listed}


def asked_series_of(plain: Mapping[str, Any]) -> AskedSeries:
    """Read what was kept."""
    return AskedSeries(cast(Against, plain["against"]), cast(Rest, plain["rest"]), cast(Play, plain["play"]))


def answer_of_series(members: Sequence[Member], asked: AskedSeries) -> dict[str, Any]:
    """Judge a series.

    Raises
    ------
    InputRefused
        There are too many, or one of them cannot be used; each fault names the recording.
    """
    if len(members) > MOST:
        remedy = "Take the best of each speed or weight."
        raise InputRefused.of("recordings", len(members), f"at most {MOST} recordings in a series", remedy)
    recordings = tuple(RecordingAt(_at(each, asked.against), _recording(each)) for each in members)
    try:
        return to_document(onset_of(OnsetTask(recordings, asked.against, "", asked.rest, asked.play)))
    except InputRefused as refused:
        raise InputRefused(_named(each, members) for each in refused.refusals) from None


def _at(member: Member, against: Against) -> float:
    return float(read(member.at, DIMENSIONS[against], field=field_of(member.number)))


def _recording(member: Member) -> Any:
    try:
        return recording_of_kept(member.file, member.tracks, member.asked, member.name)
    except InputRefused as refused:
        words = f"recording {member.number}, "
        raise InputRefused(replace(each, field=words + each.field) for each in refused.refusals) from refused


def field_of(number: int) -> str:
    """Name the place where the speed or weight of a recording is typed."""
    return f"at_{number}"


def _named(refusal: Refusal, members: Sequence[Member]) -> Refusal:
    """Name the recording that a fault is about by its number; the library counts them."""
    found = re.match(r"recordings\[([0-9]+)\]\.?", refusal.field)
    return replace(refusal, field=field_of(members[int(found[1])].number)) if found else refusal
