"""``hingeline ballast``: parse, one call, present."""

from __future__ import annotations

from typing import Any

import click

from hingeline.balance.ballast import plan_ballast
from hingeline.document import to_document
from hingeline_app.cli.options import job_file
from hingeline_app.cli.output import say, with_about, write_json
from hingeline_app.cli.quiet import quiet_solver
from hingeline_app.cli.run import Run
from hingeline_app.files.ballast_file import BallastJob, read_ballast


@click.command("ballast", short_help="Find the smallest change that the approved data allows.")
@job_file
@click.option("--pdf", metavar="OUT.pdf", help="Write the correction as a worksheet, with input and result attached.")
@click.option(
    "--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="Size of the sheet."
)
@click.option("--picture", metavar="OUT.svg", help="Draw the places and what is changed into an SVG file.")
@click.pass_obj
def command(run: Run, file: str, as_json: bool, pdf: str | None, paper: str, picture: str | None) -> None:
    """Find the smallest change that the approved data allows.

    FILE holds the moment as weighed, its limits, and the places where mass may be
    added or taken off, or is - for standard input. The page shows the predicted
    moment, what to change, what that does to the dynamic balance, and up to two
    other plans; where none is possible, what would mend it. Predicted, not weighed:
    only a new weighing decides.

    Each quantity carries its unit, as "250 g". A moment is positive tail-heavy: the
    trailing edge drops.

    Example: hingeline ballast examples/09-elevator-correction.toml
    """
    text = run.read(file)
    job = read_ballast(text)
    with quiet_solver():
        result = plan_ballast(job.task)
    document = with_about(to_document(result))
    if pdf is not None:
        _write_worksheet(pdf, text, job, document, paper)
    if picture is not None:
        _draw(document, picture)
    if as_json:
        write_json(document)
    else:
        from hingeline_app.cli.ballast_page import show_ballast

        show_ballast(document)
    for written, what in ((pdf, "worksheet"), (picture, "picture")):
        if written is not None:
            say(f"The {what} was written to {written}.")


def _write_worksheet(out: str, text: bytes, job: BallastJob, document: dict[str, Any], paper: str) -> None:
    from hingeline_app.cli.worksheet import write_correction

    write_correction(out, text.decode("utf-8-sig"), job.sheet, document, paper)


def _draw(document: dict[str, Any], out: str) -> None:
    from hingeline_app.cli.whole_file import put_whole
    from hingeline_app.report.correction_pictures import places_svg

    put_whole(out, places_svg(document).encode("utf-8"), "--picture")
