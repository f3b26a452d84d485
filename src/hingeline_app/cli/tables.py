"""``hingeline tables``: tables of people, aircraft, parts and history, looked at first, then taken in whole."""

from __future__ import annotations

from pathlib import Path

import click

from hingeline.errors import InputRefused
from hingeline_app.cli.acting import acting_as, actor_named, allowed
from hingeline_app.cli.options import FOLDER, as_document, data_folder
from hingeline_app.cli.records_answer import answer

FORMAT = "hingeline/onboarded/1"


@click.command("tables", short_help="Take tables of people, aircraft and history in.")
@click.argument("file", metavar="FILE", type=FOLDER)
@acting_as
@click.option("--take-in", is_flag=True, help="Enter it; without this, it is only looked at.")
@data_folder
@as_document
def command(file: Path, sign_in_name: str | None, take_in: bool, data: Path | None, as_json: bool) -> None:
    """Take tables of people, aircraft and history in.

    FILE is a CSV file in UTF-8 with one kind of rows, or a workbook (.xlsx) with a sheet
    for each. It is looked at first: every cell that stands against it is named, and
    nothing is entered. With --take-in all of it is entered, or none.

    Example: hingeline tables aircraft.csv --as mara
    """
    from hingeline_app.records.opening import open_records

    open_records(data, up_to_date=True)
    from hingeline_app.files.onboarding_file import read_tables
    from hingeline_app.records.actions.onboarding import onboard, preview

    tables = read_tables(_bytes(file), file.name)
    actor = actor_named(sign_in_name)
    found = allowed(lambda: onboard(actor, tables) if take_in else preview(actor, tables))
    document = {"format": FORMAT, "file": str(file), "taken_in": take_in, "rows": dict(found.rows)}
    answer(document | {"receipt": found.receipt.short if found.receipt else None}, as_json, "show_onboarded")


def _bytes(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as fault:
        remedy = "Check the name, and that it may be read."
        raise InputRefused.of("FILE", str(file), "a file that can be read", remedy) from fault
