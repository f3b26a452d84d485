"""``hingeline dynamic``: parse, one call, present."""

from __future__ import annotations

import click

from hingeline.balance.spread import dynamic_balance
from hingeline.document import to_document
from hingeline_app.cli.options import job_file
from hingeline_app.cli.output import with_about, write_json
from hingeline_app.cli.run import Run
from hingeline_app.files.dynamic_file import read_dynamic


@click.command("dynamic", short_help="Set static balance beside dynamic balance.")
@job_file
@click.pass_obj
def command(run: Run, file: str, as_json: bool) -> None:
    """Set static balance beside dynamic balance.

    FILE says how the mass of a surface is spread, by points and plates, and may name
    a weight to try at several places along the span; or is - for standard input.
    The page shows what each place makes of the static moment and of K/I.

    Example: hingeline dynamic examples/15-aileron-dynamic-balance.toml
    """
    document = with_about(to_document(dynamic_balance(read_dynamic(run.read(file)))))
    if as_json:
        write_json(document)
        return
    from hingeline_app.cli.dynamic_page import show_dynamic

    show_dynamic(document)
