"""``hingeline coating``: parse, one call, present."""

from __future__ import annotations

from typing import Any

import click

from hingeline.balance.coating import predict_coating
from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline_app.cli.options import job_file, sheet
from hingeline_app.cli.output import say, with_about, write_json
from hingeline_app.cli.run import Run
from hingeline_app.files.coating_file import read_coating


@click.command("coating", short_help="Predict what painting or stripping does to the balance.")
@job_file
@click.option(
    "--picture", metavar="OUT.svg", help="Draw weighed and predicted moment against the limits into an SVG file."
)
@sheet
@click.pass_obj
def command(run: Run, file: str, as_json: bool, picture: str | None, pdf: str | None, paper: str) -> None:
    """Predict what painting or stripping does to the balance.

    FILE holds the layers that are put on or stripped off, and the moment as last
    weighed, or is - for standard input. The page shows the change, the predicted
    moment against the limits, and what each layer can still take. Predicted, not
    weighed: only a new weighing decides.

    A moment is positive tail-heavy: the trailing edge drops. Each quantity carries its
    unit, as "180 g/m²".

    Example: hingeline coating examples/12-aileron-repaint.toml
    """
    data = run.read(file)
    document = with_about(to_document(predict_coating(read_coating(data))))
    if pdf is not None:
        _write_sheet(pdf, data, document, paper)
    if picture is not None:
        _draw(document["surfaces"], picture)
    if as_json:
        write_json(document)
    else:
        from hingeline_app.cli.coating_page import show_coating

        show_coating(document)
    if picture is not None:
        say(f"The picture was written to {picture}.")


def _draw(surfaces: list[dict[str, Any]], out: str) -> None:
    if len(surfaces) != 1 or surfaces[0]["moment_after"] is None:
        remedy = "Give the moment as weighed, and one surface in a file; or leave --picture out."
        raise InputRefused.of("--picture", out, "a file with one surface whose moment is predicted", remedy)
    from hingeline_app.cli.picture import limit_change_svg
    from hingeline_app.cli.whole_file import put_whole

    put_whole(out, limit_change_svg(surfaces[0]).encode("utf-8"), "--picture")


def _write_sheet(out: str, data: bytes, document: dict[str, Any], paper: str) -> None:
    from hingeline_app.cli.coating_page import fill_coating
    from hingeline_app.cli.worksheet import write_job_sheet

    write_job_sheet(out, data, document, paper, fill_coating)
    say(f"The sheet was written to {out}.")
