"""``hingeline limits``: parse, one call, present."""

from __future__ import annotations

import click

from hingeline.balance import check_rows
from hingeline.document import to_document
from hingeline_app.cli.options import job_file
from hingeline_app.cli.output import with_about, write_json
from hingeline_app.cli.run import Run
from hingeline_app.files.limits_file import read_limits


@click.command("limits", short_help="Look for contradictions in printed rows of limits.")
@job_file
@click.pass_obj
def command(run: Run, file: str, as_json: bool) -> None:
    """Look for contradictions in printed rows of limits.

    FILE holds rows of approved data as printed, or is - for standard input. A row
    that states one limit twice (a force at an arm, a second unit) is compared with
    itself; the moment is what governs.

    Each quantity carries its unit, as "21.4 N cm", and its sign as printed: in each row
    positive says which way the document's plus points, tail heavy or nose heavy. What comes
    out is positive tail-heavy: the trailing edge drops.

    Example: hingeline limits examples/07-limits-that-disagree.toml
    """
    document = with_about(to_document(check_rows(read_limits(run.read(file)))))
    if as_json:
        write_json(document)
        return
    from hingeline_app.cli.limits_page import show_limits

    show_limits(document)
