"""When the next backup is due, and the loop that a server keeps running beside its pages."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from pathlib import Path

from django.db import DatabaseError, connections

from hingeline.errors import HingelineError
from hingeline_app.records.backing_up.make import Backup, back_up
from hingeline_app.records.backing_up.manifest import backups_in, time_of
from hingeline_app.records.backing_up.restore import NotTried, try_to_restore
from hingeline_app.records.backing_up.retention import thin_out

EVERY = timedelta(hours=1)
LOOK_EVERY = 30.0
RETRY_AFTER = timedelta(minutes=5)
Making = Callable[[Path, datetime, Callable[[str], None]], bool]


@dataclass(frozen=True)
class BackupState:
    """How the backups of a folder stand."""

    folder: Path
    last: Path | None
    last_at: datetime | None
    count: int
    is_late: bool


def state_of_backups(folder: Path, now: datetime, every: timedelta = EVERY) -> BackupState:
    """Say when the last backup was made, and whether one is late: more than twice the time between two."""
    there = backups_in(folder)
    last_at = time_of(there[-1].name) if there else None
    is_late = last_at is None or now - last_at > 2 * every
    return BackupState(folder, there[-1] if there else None, last_at, len(there), is_late)


def backup_and_trial(folder: Path, now: datetime) -> Backup:
    """Make a backup, restore it as a trial, and thin the older ones out; one that was not tried takes none away."""
    backup = back_up(folder, now)
    try:
        try_to_restore(backup.folder)
    except NotTried as reason:
        return replace(backup, not_tried=str(reason))
    thin_out(folder)
    return backup


def keep_backing_up(
    folder: Path,
    *,
    now: Callable[[], datetime],
    stopped: Callable[[float], bool],
    say: Callable[[str], None],
    every: timedelta = EVERY,
    made: Making | None = None,
) -> None:
    """Make a backup whenever one is due, until told to stop.

    Parameters
    ----------
    folder : Path
        Where to; best on another device.
    now : callable
        The clock.
    stopped : callable
        Waits for so many seconds and says whether to stop: ``threading.Event().wait``.
    say : callable
        Takes a sentence for the log and the status page.
    made : callable, optional
        Makes one backup and says whether it did; by default in this process.
    """
    made = made or made_here
    try_again_at = None
    while not stopped(LOOK_EVERY):
        at = now()
        last_at = state_of_backups(folder, at, every).last_at
        if (last_at and at - last_at < every) or (try_again_at and at < try_again_at):
            continue
        try_again_at = None if made(folder, at, say) else at + RETRY_AFTER


def made_here(folder: Path, at: datetime, say: Callable[[str], None]) -> bool:
    """Make a backup in this process, and say how it went."""
    try:
        backup = backup_and_trial(folder, at)
    except (HingelineError, OSError, DatabaseError) as fault:
        say(f"NO BACKUP was made at {at.isoformat(timespec='minutes')}: {fault}")
        return False
    finally:
        connections.close_all()
    made = f"{backup.folder.name}, {backup.entries} entries"
    if backup.not_tried:
        say(f"backed up, but not restored as a trial: {made}: {backup.not_tried}")
    else:
        say(f"backed up and restored as a trial: {made}")
    return True
