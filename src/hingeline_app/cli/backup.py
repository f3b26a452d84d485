"""``hingeline backup``: copied while others write, opened, compared, restored as a trial."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import click

from hingeline_app.cli.options import FOLDER, as_document, data_folder
from hingeline_app.cli.records_answer import answer


@click.command("backup", short_help="Back the records up, and try the backup.")
@click.option("--to", metavar="DIR", type=FOLDER, help="Where to; best on another device. By default DATA/backups.")
@data_folder
@as_document
def command(to: Path | None, data: Path | None, as_json: bool) -> None:
    """Back the records up, and try the backup.

    While others write: copied, brought to the disk, opened, every chain followed, compared
    with the records in use, restored as a trial. Of older ones the newest of each of the
    last 24 hours, 30 days and 12 months is kept.

    Example: hingeline backup --to stick
    """
    from hingeline_app.records.opening import open_records

    folder = open_records(data)
    from hingeline_app.records.backing_up import back_up, try_to_restore
    from hingeline_app.records.backing_up.retention import thin_out

    place = to or folder / "backups"
    backup = back_up(place, datetime.now(UTC))
    try_to_restore(backup.folder)
    gone = [path.name for path in thin_out(place)]
    document = {"format": "hingeline/backup-made/1", "folder": str(backup.folder), "entries": backup.entries}
    document |= {"taken_away": gone, "look": backup.findings.document()}
    answer(document, as_json, "show_backup")
