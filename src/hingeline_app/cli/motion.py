"""``hingeline motion``: parse, one call, present."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import replace
from typing import Any

import click

from hingeline.document import to_document
from hingeline.errors import InputRefused, Refusal
from hingeline.motion import OnsetTask, Recording, RecordingAt, judge, modes_by_tap, onset_of
from hingeline.units import read
from hingeline_app.cli.output import say, with_about, write_json
from hingeline_app.cli.progress import working
from hingeline_app.cli.run import Run
from hingeline_app.cli.whole_file import put_whole
from hingeline_app.files.recordings import read_recording

JOBS = ("onset", "tap")


@click.command("motion", short_help="Say what a recording of a shaking surface shows.")
@click.argument("words", nargs=-1, metavar="[onset|tap] FILE…")
@click.option("--json", "as_json", is_flag=True, help="Write one JSON document instead of a page.")
@click.option("--column", "columns", multiple=True, metavar="NAME=HEADER", help='As pitch_deg="Angle"; may come again.')
@click.option("--marks", metavar="FILE", help="For a video: which marks to follow.")
@click.option("--captured-at", type=float, metavar="FPS", help="True rate, where the times come from slow motion.")
@click.option("--airspeed", "airspeeds", multiple=True, metavar="SPEED", help='Onset: of each file, as "62 kn".')
@click.option("--against", type=click.Choice(["airspeed", "weight"]), default="airspeed", show_default=True,
              help="Onset: what was changed between the files.")  # fmt: skip
@click.option("--weight", "weights", multiple=True, metavar="MASS", help='Onset: fitted for each file, as "250 g".')
@click.option(
    "--changed", is_flag=True, help="Onset: mass, fuel, balance weight or altitude changed between the files."
)
@click.option("--play-above-limits", "loose", is_flag=True, help="Onset: free play above its limits was recorded.")
@click.option("--plot", metavar="OUT.svg", help="Draw the swing with its envelope, and pitch against plunge.")
@click.option("--into", "into", multiple=True, metavar="FIELD",
              help="Tap: lines for a flutter file, as tailplane.support_frequency; strongest mode first.")  # fmt: skip
@click.option("--sheet", metavar="OUT.pdf", help="Write a sheet of marks to print and cut out; takes no FILE.")
@click.option("--side", default="30 mm", show_default=True, metavar="LENGTH", help="Sheet: side of a marker.")
@click.option("--dot", default="10 mm", show_default=True, metavar="LENGTH", help="Sheet: diameter of a dot.")
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="Of the sheet.")
@click.pass_obj
def command(
    run: Run,
    words: tuple[str, ...],
    as_json: bool,
    columns: tuple[str, ...],
    marks: str | None,
    captured_at: float | None,
    airspeeds: tuple[str, ...],
    against: str,
    weights: tuple[str, ...],
    changed: bool,
    loose: bool,
    plot: str | None,
    into: tuple[str, ...],
    sheet: str | None,
    side: str,
    dot: str,
    paper: str,
) -> None:
    """Say what a recording of a shaking surface shows.

    FILE is a table (CSV, columns such as time_s, plunge_m, pitch_deg), a WAV file, a
    video with --marks, or - for standard input. With onset, several files at several speeds or weights; with
    tap, the modes of a free decay on the ground. A file called onset or tap is named
    ./onset or ./tap. Nothing here shows that an aircraft is free of flutter.

    Example: hingeline motion examples/motion/01-knock-in-the-wind.csv
    """
    if sheet is not None:
        _write_sheet(sheet, words, side, dot, paper)
        return
    job, names = (words[0], words[1:]) if words and words[0] in JOBS else ("", words)
    _refuse_options(job, names, airspeeds, against, weights, plot)
    if into and (job != "tap" or as_json):
        raise InputRefused.of("--into", ", ".join(into), "a tap, and no --json", "Write: hingeline motion tap FILE.")
    if marks is not None and job:
        raise InputRefused.of("--marks", marks, "one video that is judged", f"Leave it out, or leave {job} out.")
    known = _known(job, changed, loose)
    reader = _Reader(run, _columns(columns), _rate(captured_at))
    if marks is not None:
        document = _followed(reader, names[0], marks)
    else:
        with working("Reading the motion"):
            document = _answered(job, names, reader, against, airspeeds or weights, known)
    if plot is not None:
        _draw(plot, document, reader)
    if into:
        _write_lines(document, into, reader)
    elif as_json:
        write_json(document)
    else:
        _show(job, document)
    if plot is not None:
        say(f"The plot was written to {plot}.")


def _write_sheet(out: str, words: tuple[str, ...], side: str, dot: str, paper: str) -> None:
    """Write the sheet of printed marks."""
    from hingeline_app.cli.motion_video import write_marks_sheet

    if words:
        raise InputRefused.of("FILE", words[0], "no file beside --sheet", "Leave it out, or leave --sheet out.")
    sizes = [1000.0 * float(read(text, "length", field=name)) for name, text in (("--side", side), ("--dot", dot))]
    write_marks_sheet(out, sizes[0], sizes[1], "letter" if paper == "letter" else "a4")
    say(f"The sheet was written to {out}. Measure its ruler line after printing.")


def _write_lines(document: Mapping[str, Any], fields: tuple[str, ...], reader: _Reader) -> None:
    """Write lines for a flutter file."""
    import hashlib

    from hingeline_app.evidence.flutter_lines import flutter_lines

    click.echo(flutter_lines(document, fields, hashlib.sha256(reader.data).hexdigest()), nl=False)


class _Reader:
    """Reads the files of one run; keeps the last, for its picture."""

    def __init__(self, run: Run, columns: Mapping[str, str], rate: float | None) -> None:
        self.run, self.columns, self.rate = run, columns, rate
        self.last: Recording | None = None
        self.data = b""

    def read(self, name: str) -> Recording:
        """Read one recording, under the file's own name; a video needs its marks."""
        _refuse_video(name)
        shown = "" if name == "-" else name.replace("\\", "/").rpartition("/")[2]
        self.data = self.run.read(name)
        self.last = read_recording(self.data, self.columns, self.rate, shown[:120])
        return self.last


def _refuse_video(name: str) -> None:
    """Refuse a video whose marks nobody named, before it is taken for a table."""
    from hingeline_app.evidence.kinds import is_video

    with suppress(OSError), open(name, "rb") as file:
        if is_video(file.read(16)):
            remedy = "Say which marks to follow: --marks marks.toml. docs/guide/filming.md tells how."
            raise InputRefused.of("FILE", name, "a table or a sound, or a video with its marks", remedy)


def _followed(reader: _Reader, name: str, marks: str) -> dict[str, Any]:
    """Follow the marks of a video and judge what they did."""
    from hingeline.motion.marks import section_tracks
    from hingeline_app.cli.motion_video import judged_video

    result, tracks = judged_video(reader.run, name, marks, reader.rate)
    reader.last = section_tracks(tracks, reader.rate).recording
    return with_about(to_document(result))


def _answered(
    job: str,
    names: tuple[str, ...],
    reader: _Reader,
    against: str,
    given: tuple[str, ...],
    known: Mapping[str, Any],
) -> dict[str, Any]:
    """Make the one call."""
    if job == "onset":
        series = replace(_series(names, reader, against, given), **known)
        return with_about(to_document(onset_of(series)))
    recording = reader.read(names[0])
    return with_about(to_document(modes_by_tap(recording) if job == "tap" else judge(recording)))


def _known(job: str, changed: bool, loose: bool) -> dict[str, str]:
    """Give what is known of the surface of a series."""
    if job != "onset" and (changed or loose):
        raise InputRefused.of("--changed, --play-above-limits", "given", "nothing here", "They belong to onset.")
    return ({"rest": "changed"} if changed else {}) | ({"play": "above its limits"} if loose else {})


def _series(names: tuple[str, ...], reader: _Reader, against: str, given: tuple[str, ...]) -> OnsetTask:
    """Put the files of a series together, each with its speed or weight."""
    recordings = []
    for index, name in enumerate(names):
        recording = reader.read(name)
        if given:
            dimension, option = ("speed", "--airspeed") if against == "airspeed" else ("mass", "--weight")
            at = float(read(given[index], dimension, field=option))
        else:
            at = _own_airspeed(recording, name)
        recordings.append(RecordingAt(at, recording))
    return OnsetTask(tuple(recordings), "weight" if against == "weight" else "airspeed")


def _own_airspeed(recording: Recording, name: str) -> float:
    """Take the airspeed from the file's own column: its mean, if it hardly changes."""
    known = [speed for speed in recording.airspeed or () if speed is not None]
    if not known:
        remedy = 'Add a column airspeed_m_s, or write --airspeed "62 kn" once for each file.'
        raise InputRefused.of("airspeed", name, "a file with its airspeed", remedy)
    mean = sum(known) / len(known)
    if max(known) - min(known) > 0.1 * mean:
        shown = f"{min(known):.4g} to {max(known):.4g} m/s in {name}"
        raise InputRefused.of("airspeed", shown, "a steady airspeed in each file", "Cut out a steady part.")
    return mean


def _refuse_options(
    job: str, names: tuple[str, ...], airspeeds: tuple[str, ...], against: str, weights: tuple[str, ...],
    plot: str | None,
) -> None:  # fmt: skip
    faults = []
    if not names:
        faults.append(Refusal("FILE", "missing", "the file to work on, or - for standard input", "Name it."))
    if job != "onset" and len(names) > 1:
        remedy = "For several files at several speeds write: hingeline motion onset FILE…"
        faults.append(Refusal("COMMAND", " ".join(names), "one FILE and no more", remedy))
    if job and plot is not None:
        faults.append(Refusal("--plot", plot, "one recording that is judged", f"Leave it out, or leave {job} out."))
    if job != "onset" and (airspeeds or weights):
        faults.append(Refusal("--airspeed, --weight", "given", "nothing here", "They belong to onset."))
    if job == "onset":
        faults += _faults_of_series(len(names), airspeeds, against, weights)
    if faults:
        raise InputRefused(faults)


def _faults_of_series(count: int, airspeeds: tuple[str, ...], against: str, weights: tuple[str, ...]) -> list[Refusal]:
    given, option = (airspeeds, "--airspeed") if against == "airspeed" else (weights, "--weight")
    other = weights if against == "airspeed" else airspeeds
    if other:
        return [Refusal("--against", against, "what the files differ in", "Give speeds or weights, and say which.")]
    if against == "weight" and not weights:
        return [Refusal("--weight", "missing", f"{count}, one for each file", 'Write --weight "0 g" and so on.')]
    if given and len(given) != count:
        return [Refusal(option, f"{len(given)} of them", f"{count}, one for each file", "In the order of the files.")]
    return []


def _columns(given: tuple[str, ...]) -> dict[str, str]:
    found = {}
    for each in given:
        ours, sign, theirs = each.partition("=")
        if not sign or not ours or not theirs:
            raise InputRefused.of("--column", each, "our name, =, the file's header", 'As --column pitch_deg="Angle".')
        found[ours.strip()] = theirs.strip()
    return found


def _rate(given: float | None) -> float | None:
    if given is not None and not 1.0 <= given <= 100_000.0:
        raise InputRefused.of("--captured-at", given, "1 to 100000 frames a second", "As the camera was set: 240.")
    return given


def _draw(out: str, document: Mapping[str, Any], reader: _Reader) -> None:
    from hingeline_app.evidence.strip import evidence_svg

    assert reader.last is not None
    put_whole(out, evidence_svg(document, reader.last).encode("utf-8"), "--plot")


def _show(job: str, document: Mapping[str, Any]) -> None:
    from hingeline_app.cli.motion_page import show_motion, show_onset, show_tap

    {"": show_motion, "onset": show_onset, "tap": show_tap}[job](document)
