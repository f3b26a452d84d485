"""The process that follows one video, and keeps what it has."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from hingeline_app.evidence.answer import read_tracks, write_tracks
from hingeline_app.evidence.asked import asked_of
from hingeline_app.evidence.runs import TRACKS
from hingeline_app.files.marks_file import read_marks
from hingeline_app.longwork.folder import write_bytes_whole
from hingeline_app.longwork.inside import Inside, work_inside
from hingeline_app.recordings.follow import Progress, follow


def main(folder: str) -> None:
    """Follow the video of a folder."""
    work_inside(folder, follow_it)


def follow_it(inside: Inside) -> bool:
    """Follow, from where it was stopped; say whether it came to the end."""
    task, path = inside.task, inside.folder / TRACKS
    # A path of the data's own folder: a worker on another machine has that elsewhere.
    video = inside.folder.parents[1] / task["video"]
    # The file lies under its digest; it is told by the name it came with.
    inside.names = (Path(task["video"]).name, task["name"])
    before = read_tracks(path.read_bytes()) if path.is_file() else None
    marks = read_marks(asked_of(task["asked"]).marks.encode())

    def progress(far: Progress) -> None:
        inside.far(far.followed, far.expected)

    tracks = follow(video, marks, progress, inside.is_to_stop, before=before)
    write_bytes_whole(path, write_tracks(replace(tracks, name=task["name"])))
    inside.far(len(tracks.ticks), tracks.expected)
    return tracks.finished
