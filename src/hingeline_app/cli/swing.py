"""``hingeline swing``: parse, one call, present."""

from __future__ import annotations

from typing import Any

import click

from hingeline.balance.swing import inertia_by_swing
from hingeline.document import to_document
from hingeline_app.cli.options import job_file, sheet
from hingeline_app.cli.output import say, with_about, write_json
from hingeline_app.cli.run import Run
from hingeline_app.files.swing_file import read_swing


@click.command("swing", short_help="Find the inertia about the hinge line from a swing.")
@job_file
@sheet
@click.pass_obj
def command(run: Run, file: str, as_json: bool, pdf: str | None, paper: str) -> None:
    """Find the inertia about the hinge line from a swing.

    FILE says how the surface swung: by its own weight, with an added mass, on two
    wires, or on a spring. It gives the times that were taken. FILE is - for standard
    input. The times are brought to zero amplitude; air is not corrected for.

    Each quantity carries its unit, as "14.82 s". Sides are words, forward or aft of the
    hinge line; a mass moment is positive aft. The inertia comes in kg m².

    Example: hingeline swing examples/14-rudder-swung-with-a-mass.toml
    """
    data = run.read(file)
    document = with_about(to_document(inertia_by_swing(read_swing(data))))
    if pdf is not None:
        _write_sheet(pdf, data, document, paper)
    if as_json:
        write_json(document)
        return
    from hingeline_app.cli.swing_page import show_swing

    show_swing(document)


def _write_sheet(out: str, data: bytes, document: dict[str, Any], paper: str) -> None:
    from hingeline_app.cli.swing_page import fill_swing
    from hingeline_app.cli.worksheet import write_job_sheet

    write_job_sheet(out, data, document, paper, fill_swing)
    say(f"The sheet was written to {out}.")
