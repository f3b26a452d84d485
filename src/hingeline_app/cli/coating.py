"""``hingeline coating``: parse, one call, present."""

from __future__ import annotations

import click

from hingeline.balance.coating import predict_coating
from hingeline.document import to_document
from hingeline_app.cli.options import job_file
from hingeline_app.cli.output import with_about, write_json
from hingeline_app.cli.run import Run
from hingeline_app.files.coating_file import read_coating


@click.command("coating", short_help="Predict what painting or stripping does to the balance.")
@job_file
@click.pass_obj
def command(run: Run, file: str, as_json: bool) -> None:
    """Predict what painting or stripping does to the balance.

    FILE holds the layers that are put on or stripped off, and the moment as last
    weighed, or is - for standard input. The page shows the change, the predicted
    moment against the limits, and what each layer can still take. Predicted, not
    weighed: only a new weighing decides.

    Example: hingeline coating examples/12-aileron-repaint.toml
    """
    document = with_about(to_document(predict_coating(read_coating(run.read(file)))))
    if as_json:
        write_json(document)
        return
    from hingeline_app.cli.coating_page import show_coating

    show_coating(document)
