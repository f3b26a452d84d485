"""``hingeline stick``: parse, one call, present."""

from __future__ import annotations

import click

from hingeline.document import to_document
from hingeline_app.cli.options import job_file
from hingeline_app.cli.output import with_about, write_json
from hingeline_app.cli.run import Run


@click.command("stick", short_help="Say what an unbalanced surface does at the stick.")
@job_file
@click.pass_obj
def command(run: Run, file: str, as_json: bool) -> None:
    """Say what an unbalanced surface does at the stick.

    FILE holds the surface's mass moments, how it is geared to the stick, and what the
    aircraft does, or is - for standard input. The page shows hinge moment and stick
    force, and what changes when the balance weight is gone. It shows nothing about
    flutter, which is why the weight is there.

    Each quantity carries its unit, as "25 m/s". Positive are: mass aft, trailing edge down,
    a pull at the stick.

    Example: hingeline stick examples/16-elevator-at-the-stick.toml
    """
    from hingeline.flutter.stick import at_the_stick
    from hingeline_app.files.stick_file import read_stick

    document = with_about(to_document(at_the_stick(read_stick(run.read(file)))))
    if as_json:
        write_json(document)
        return
    from hingeline_app.cli.stick_page import show_stick

    show_stick(document)
