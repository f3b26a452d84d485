"""The command line's way with a video: follow the marks, say how far it has come, judge what was followed."""

from __future__ import annotations

from datetime import UTC, datetime

import hingeline
from hingeline.motion import MotionResult
from hingeline.motion.marks import PixelTracks, judge_section, section_tracks
from hingeline_app.cli.counted import counted
from hingeline_app.cli.run import Run
from hingeline_app.cli.whole_file import put_whole
from hingeline_app.files.marks_file import read_marks
from hingeline_app.recordings.follow import Progress, follow
from hingeline_app.report.worksheet import Paper


def judged_video(run: Run, file: str, marks: str, captured_at: float | None) -> tuple[MotionResult, PixelTracks]:
    """Follow a video and say what it shows; Ctrl-C ends it with what was followed.

    Parameters
    ----------
    run : Run
    file : str
        The video.
    marks : str
        The marks file, or ``-``.
    captured_at : float, optional
        Pictures a second that were really taken.

    Raises
    ------
    InputRefused
        The video, the marks, or what they show cannot be used.
    """
    wanted = read_marks(run.read(marks))
    stopped: list[bool] = []
    with counted("Following the marks", 100, run) as report:

        def show(progress: Progress) -> None:
            if not report(100 * progress.followed // max(progress.expected, 1), 100):
                stopped.append(True)

        tracks = follow(file, wanted, show, lambda: bool(stopped))
    return judge_section(section_tracks(tracks, captured_at)), tracks


def write_marks_sheet(out: str, side: float, dot: float, paper: Paper) -> None:
    """Print eight markers and a row of dots on a sheet.

    Parameters
    ----------
    out : str
        The PDF's name.
    side, dot : float
        [mm]
    paper : str

    Raises
    ------
    InputRefused
        The sizes do not fit, or the file cannot be written.
    """
    from hingeline_app.recordings.markers import pattern
    from hingeline_app.report.marker_sheet import make_marker_sheet

    now = datetime.now(UTC).replace(microsecond=0)
    marks = {number: pattern(number) for number in range(8)}
    put_whole(out, make_marker_sheet(marks, side, dot, now, hingeline.__version__, paper), "--sheet")
