"""``hingeline move``: the records from one kind of database to the other."""

from __future__ import annotations

from pathlib import Path

import click

from hingeline_app.cli.options import as_document, data_folder
from hingeline_app.cli.records_answer import answer


@click.command("move", short_help="Move the records to another kind of database.")
@click.option("--to", metavar="PLACE", required=True, help="postgresql://user@host/name, or a folder for a file.")
@data_folder
@as_document
def command(to: str, data: Path | None, as_json: bool) -> None:
    """Move the records to another kind of database.

    Stop the server first. Everything is copied, looked at where it arrived, and the heads of
    all chains compared; only then is the old file put aside. Back again: set
    HINGELINE_DATABASE to the server and name the data folder,
    where photographs and keys lie.

    Example: hingeline move --to postgresql://hingeline@localhost/hingeline
    """
    if "://" in to:
        _look_for_the_driver()
    from hingeline_app.records.opening import open_records

    open_records(data, up_to_date=True)
    from hingeline_app.records.moving import move_records
    from hingeline_app.records.reaching import without_password

    findings = move_records(to)
    server = "://" in to
    told = "From now on, start with HINGELINE_DATABASE set to it." if server else "Start without HINGELINE_DATABASE."
    document = {"format": "hingeline/moved/1", "to": without_password(to), "next": told, "look": findings.document()}
    answer(document, as_json, "show_moved")


def _look_for_the_driver() -> None:
    """Let a driver of the server that is not installed be said, by its extra, before anything is opened."""
    import psycopg  # noqa: F401
