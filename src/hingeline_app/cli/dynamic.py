"""``hingeline dynamic``: parse, one call, present."""

from __future__ import annotations

from typing import Any

import click

from hingeline.balance.spread import dynamic_balance
from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline_app.cli.options import job_file, sheet
from hingeline_app.cli.output import say, with_about, write_json
from hingeline_app.cli.run import Run
from hingeline_app.files.dynamic_file import read_dynamic


@click.command("dynamic", short_help="Set static balance beside dynamic balance.")
@job_file
@click.option("--picture", metavar="OUT.svg", help="Draw the weight at each place into an SVG file.")
@sheet
@click.pass_obj
def command(run: Run, file: str, as_json: bool, picture: str | None, pdf: str | None, paper: str) -> None:
    """Set static balance beside dynamic balance.

    FILE says how the mass of a surface is spread, by points and plates. It may name
    a weight to try at several places along the span. FILE is - for standard input.
    The page shows what each place makes of the static moment and of K/I.

    Each quantity carries its unit, as "620 mm". Positive are: aft of the hinge line,
    outboard of the flapping or roll axis, a tail-heavy moment.

    Example: hingeline dynamic examples/15-aileron-dynamic-balance.toml
    """
    data = run.read(file)
    document = with_about(to_document(dynamic_balance(read_dynamic(data))))
    if pdf is not None:
        _write_sheet(pdf, data, document, paper)
    if picture is not None:
        _draw(document, picture)
    if as_json:
        write_json(document)
    else:
        from hingeline_app.cli.dynamic_page import show_dynamic

        show_dynamic(document)
    if picture is not None:
        say(f"The picture was written to {picture}.")


def _draw(document: dict[str, Any], out: str) -> None:
    if document["weight"] is None:
        raise InputRefused.of("--picture", out, "a file that names a weight to try", "Add [weight], or leave it out.")
    from hingeline_app.cli.picture import three_places_svg
    from hingeline_app.cli.whole_file import put_whole

    put_whole(out, three_places_svg(document).encode("utf-8"), "--picture")


def _write_sheet(out: str, data: bytes, document: dict[str, Any], paper: str) -> None:
    from hingeline_app.cli.dynamic_page import fill_dynamic
    from hingeline_app.cli.worksheet import write_job_sheet

    write_job_sheet(out, data, document, paper, fill_dynamic)
    say(f"The sheet was written to {out}.")
