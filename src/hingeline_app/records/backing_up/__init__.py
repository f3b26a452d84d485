"""Backups: made while others write, opened and checked before they count, restored as a trial.

manifest    what a backup holds, file by file
make        from the records in use to a folder, in one step
restore     from a backup to a new data folder, all checks first
retention   which backups are kept: hours, days, months
schedule    when the next one is due; the loop of the server
"""

from __future__ import annotations

from hingeline_app.records.backing_up.make import Backup, back_up
from hingeline_app.records.backing_up.manifest import backups_in
from hingeline_app.records.backing_up.restore import restore_backup, try_to_restore
from hingeline_app.records.backing_up.schedule import keep_backing_up, state_of_backups

__all__ = [
    "Backup",
    "back_up",
    "backups_in",
    "keep_backing_up",
    "restore_backup",
    "state_of_backups",
    "try_to_restore",
]
