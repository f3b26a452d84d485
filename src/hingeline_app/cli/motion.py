"""``hingeline motion``: parse, one call, present."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import click

from hingeline.document import to_document
from hingeline.errors import InputRefused, Refusal
from hingeline.motion import judge, modes_by_tap, onset_of
from hingeline.units import read
from hingeline_app.cli.motion_reading import Reader, columns_named, true_rate
from hingeline_app.cli.motion_series import faults_of_series, series_of
from hingeline_app.cli.options import picture_file
from hingeline_app.cli.output import say, with_about, write_json, write_what_was_written
from hingeline_app.cli.progress import working
from hingeline_app.cli.run import Run
from hingeline_app.cli.whole_file import put_whole

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
@picture_file("Draw the swing with its envelope, and pitch against plunge.")
@click.option("--into", "into", multiple=True, metavar="FIELD",
              help="Tap: lines for a flutter file, as tailplane.support_frequency; strongest mode first.")  # fmt: skip
@click.option("--sheet", metavar="OUT.pdf", help="Write a sheet of marks to print and cut out; takes no FILE.")
@click.option("--side", default="30 mm", show_default=True, metavar="LENGTH", help="Sheet: side of a marker.")
@click.option("--dot", default="10 mm", show_default=True, metavar="LENGTH", help="Sheet: diameter of a dot.")
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="Sheet: its size.")
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
    picture: str | None,
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

    The name of a column carries its unit. Positive are: plunge down, pitch nose up, surface
    trailing edge down.

    Example: hingeline motion examples/motion/01-knock-in-the-wind.csv
    """
    if sheet is not None:
        _write_sheet(sheet, words, side, dot, paper)
        if as_json:
            write_what_was_written(sheet)
        return
    job, names = (words[0], words[1:]) if words and words[0] in JOBS else ("", words)
    _refuse_options(job, names, airspeeds, against, weights, picture)
    if into and (job != "tap" or as_json):
        raise InputRefused.of("--into", ", ".join(into), "a tap, and no --json", "Write: hingeline motion tap FILE.")
    if marks is not None and job:
        raise InputRefused.of("--marks", marks, "one video that is judged", f"Leave it out, or leave {job} out.")
    known = _known(job, changed, loose)
    reader = Reader(run, columns_named(columns), true_rate(captured_at))
    if marks is not None:
        document = _followed(reader, names[0], marks)
    else:
        with working("Reading the motion"):
            document = _answered(job, names, reader, against, airspeeds or weights, known)
    if picture is not None:
        _draw(picture, document, reader)
    if into:
        _write_lines(document, into, reader)
    elif as_json:
        write_json(document)
    else:
        _show(job, document)
    if picture is not None:
        say(f"The picture was written to {picture}.")


def _write_sheet(out: str, words: tuple[str, ...], side: str, dot: str, paper: str) -> None:
    """Write the sheet of printed marks."""
    from hingeline_app.cli.motion_video import write_marks_sheet

    if words:
        raise InputRefused.of("FILE", words[0], "no file beside --sheet", "Leave it out, or leave --sheet out.")
    sizes = [1000.0 * float(read(text, "length", field=name)) for name, text in (("--side", side), ("--dot", dot))]
    write_marks_sheet(out, sizes[0], sizes[1], "letter" if paper == "letter" else "a4")
    say(f"The sheet was written to {out}. Measure its ruler line after printing.")


def _write_lines(document: Mapping[str, Any], fields: tuple[str, ...], reader: Reader) -> None:
    """Write lines for a flutter file."""
    import hashlib

    from hingeline_app.evidence.flutter_lines import flutter_lines

    click.echo(flutter_lines(document, fields, hashlib.sha256(reader.data).hexdigest()), nl=False)


def _followed(reader: Reader, name: str, marks: str) -> dict[str, Any]:
    """Follow the marks of a video and judge what they did."""
    from hingeline.motion.marks import section_tracks
    from hingeline_app.cli.motion_video import judged_video

    result, tracks = judged_video(reader.run, name, marks, reader.rate)
    reader.last = section_tracks(tracks, reader.rate).recording
    return with_about(to_document(result))


def _answered(
    job: str,
    names: tuple[str, ...],
    reader: Reader,
    against: str,
    given: tuple[str, ...],
    known: Mapping[str, Any],
) -> dict[str, Any]:
    """Make the one call."""
    if job == "onset":
        series = replace(series_of(names, reader, against, given), **known)
        return with_about(to_document(onset_of(series)))
    recording = reader.read(names[0])
    return with_about(to_document(modes_by_tap(recording) if job == "tap" else judge(recording)))


def _known(job: str, changed: bool, loose: bool) -> dict[str, str]:
    """Give what is known of the surface of a series."""
    if job != "onset" and (changed or loose):
        raise InputRefused.of("--changed, --play-above-limits", "given", "nothing here", "They belong to onset.")
    return ({"rest": "changed"} if changed else {}) | ({"play": "above its limits"} if loose else {})


def _refuse_options(
    job: str, names: tuple[str, ...], airspeeds: tuple[str, ...], against: str, weights: tuple[str, ...],
    picture: str | None,
) -> None:  # fmt: skip
    faults = []
    if not names:
        faults.append(Refusal("FILE", "missing", "the file to work on, or - for standard input", "Name it."))
    if job != "onset" and len(names) > 1:
        remedy = "For several files at several speeds write: hingeline motion onset FILE…"
        faults.append(Refusal("COMMAND", " ".join(names), "one FILE and no more", remedy))
    if job and picture is not None:
        faults.append(
            Refusal("--picture", picture, "one recording that is judged", f"Leave it out, or leave {job} out.")
        )
    if job != "onset" and (airspeeds or weights):
        faults.append(Refusal("--airspeed, --weight", "given", "nothing here", "They belong to onset."))
    if job == "onset":
        faults += faults_of_series(len(names), airspeeds, against, weights)
    if faults:
        raise InputRefused(faults)


def _draw(out: str, document: Mapping[str, Any], reader: Reader) -> None:
    from hingeline_app.evidence.strip import evidence_svg

    assert reader.last is not None
    put_whole(out, evidence_svg(document, reader.last).encode("utf-8"), "--picture")


def _show(job: str, document: Mapping[str, Any]) -> None:
    from hingeline_app.cli.motion_page import show_motion, show_onset, show_tap

    {"": show_motion, "onset": show_onset, "tap": show_tap}[job](document)
