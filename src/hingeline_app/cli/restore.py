"""``hingeline restore``: a backup into a new folder, every file compared first."""

from __future__ import annotations

from pathlib import Path

import click

from hingeline_app.cli.options import FOLDER, as_document
from hingeline_app.cli.records_answer import answer


@click.command("restore", short_help="Restore a backup into a new folder.")
@click.argument("backup", metavar="BACKUP", type=FOLDER)
@click.option("--to", metavar="DIR", type=FOLDER, required=True, help="A new folder for the records.")
@as_document
def command(backup: Path, to: Path, as_json: bool) -> None:
    """Restore a backup into a new folder.

    BACKUP is a folder that 'hingeline backup' made. Every file is compared with its check sum,
    every chain followed, every row compared with the ledger; then it is put in place in one
    step. Nothing is written over.

    Example: hingeline restore stick/hingeline-20270312T070000Z --to records
    """
    from hingeline_app.records.opening import nothing_opened

    with nothing_opened():
        from hingeline_app.records.backing_up import restore_backup

        findings = restore_backup(backup.absolute(), to.absolute())
    document = {"format": "hingeline/restored/1", "folder": str(to), "look": findings.document()}
    answer(document, as_json, "show_restored")
