"""From a file, or from the marks of a video as they were followed, to the answer: as the command line gives it."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from hingeline.document import from_document, to_document
from hingeline.motion import Recording, TimeScale, judge
from hingeline.motion.marks import PixelTracks, SectionTracks, judge_section, section_tracks
from hingeline_app.evidence.asked import Asked
from hingeline_app.files.recordings import read_recording, refuse_a_rate_of_sound


@dataclass(frozen=True, slots=True)
class Answered:
    """An answer with what it was worked out from.

    Parameters
    ----------
    document : dict
        The motion result as a document.
    recording : Recording
        For its pictures.
    """

    document: dict[str, Any]
    recording: Recording


def answer_of_file(data: bytes, asked: Asked, name: str) -> Answered:
    """Judge a table or a sound.

    Raises
    ------
    InputRefused
        With the faults of the file, or of what was asked.
    """
    refuse_a_rate_of_sound(data, asked.captured_at)
    return _judged(_of_file(data, asked, name))


def answer_of_tracks(tracks: PixelTracks, asked: Asked) -> Answered:
    """Judge a video by its marks as they were followed.

    Raises
    ------
    InputRefused
        The marks tell nothing that can be judged.
    """
    section = section_of_tracks(tracks, asked)
    return Answered(to_document(judge_section(section)), section.recording)


def section_of_tracks(tracks: PixelTracks, asked: Asked) -> SectionTracks:
    """Give what the section did, from its marks.

    Raises
    ------
    InputRefused
        The marks tell nothing that can be judged.
    """
    if asked.time_unknown:
        return section_tracks(replace(tracks, capture_rate=None), None)
    return section_tracks(tracks, asked.captured_at)


def answer_of_kept(file: Path, tracks: Path | None, asked: Asked, name: str) -> Answered:
    """Judge a kept recording: a video by the tracks that were kept beside it.

    Raises
    ------
    InputRefused
        As the two above.
    """
    if tracks is not None:
        return answer_of_tracks(read_tracks(tracks.read_bytes()), asked)
    # What an earlier version answered stays readable: a rate beside a sound, which changed nothing.
    return _judged(_of_file(file.read_bytes(), asked, name))


def recording_of_kept(file: Path, tracks: Path | None, asked: Asked, name: str) -> Recording:
    """Give the motion in a kept recording, as it was read when it was judged.

    Raises
    ------
    InputRefused
        As the two above.
    """
    if tracks is not None:
        return section_of_tracks(read_tracks(tracks.read_bytes()), asked).recording
    return _of_file(file.read_bytes(), asked, name)


def _judged(recording: Recording) -> Answered:
    return Answered(to_document(judge(recording)), recording)


def _of_file(data: bytes, asked: Asked, name: str) -> Recording:
    recording = read_recording(data, asked.columns, asked.captured_at, name)
    return replace(recording, time_scale=TimeScale(None, "unknown")) if asked.time_unknown else recording


def read_tracks(data: bytes) -> PixelTracks:
    """Read tracks that were kept."""
    return from_document(json.loads(data), PixelTracks)


def write_tracks(tracks: PixelTracks) -> bytes:
    """Write tracks to be kept."""
    return json.dumps(to_document(tracks), ensure_ascii=False, allow_nan=False).encode()
