"""``hingeline replay``: the record inside a worksheet, worked out again."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import click

from hingeline_app.cli.options import job_file
from hingeline_app.cli.output import with_about, write_json
from hingeline_app.cli.quiet import quiet_solver
from hingeline_app.cli.run import Run
from hingeline_app.replaying.sheets import sheet_replayed
from hingeline_app.report import ReadWorksheet, read_worksheets

SEVERAL = "hingeline/replays/1"


@click.command("replay", short_help="Work a worksheet out again and say what differs.")
@job_file
@click.pass_obj
def command(run: Run, file: str, as_json: bool) -> None:
    """Work a worksheet out again and say what differs.

    FILE is a sheet made by 'hingeline weigh … --pdf', or by ballast, coating, swing,
    dynamic or arm. The input inside it is computed anew and compared with the result
    inside it, to the last digit; the check sum is to be compared with the printed one.
    Sentences that this version words otherwise are listed beside it.

    The sheets of a work order are worked out one after the other.

    Example: hingeline replay worksheet.pdf
    """
    documents = [_replayed(sheet) for sheet in read_worksheets(run.read(file))]
    if as_json:
        write_json(documents[0] if len(documents) == 1 else _together(documents))
        return
    from hingeline_app.cli.replay_page import show_replay

    for document in documents:
        show_replay(document)


def _together(documents: Sequence[dict[str, Any]]) -> dict[str, Any]:
    """Give the sheets of a work order as one document."""
    same = all(each["same"] and each["check_sum_holds"] for each in documents)
    return with_about({"format": SEVERAL, "same": same, "sheets": list(documents)})


def _replayed(sheet: ReadWorksheet) -> dict[str, Any]:
    with quiet_solver():
        return with_about(sheet_replayed(sheet))
