"""Which backups are kept: the newest of each of the last hours, days and months."""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

from hingeline_app.records.backing_up.manifest import backups_in, time_of

HOURS, DAYS, MONTHS = 24, 30, 12
SPANS = {"%Y%m%d%H": HOURS, "%Y%m%d": DAYS, "%Y%m": MONTHS}


def to_keep(times: Iterable[datetime]) -> set[datetime]:
    """Choose the newest backup of each of the last 24 hours, 30 days and 12 months that have one."""
    ordered, kept = sorted(times), set()
    for span, most in SPANS.items():
        newest = {at.strftime(span): at for at in ordered}
        kept |= set(list(newest.values())[-most:])
    return kept


def thin_out(folder: Path) -> list[Path]:
    """Take away the backups that are kept no longer, and name them. Attachments stay."""
    times = {path: at for path in backups_in(folder) if (at := time_of(path.name))}
    kept = to_keep(times.values())
    gone = [path for path, at in times.items() if at not in kept]
    for path in gone:
        shutil.rmtree(path)
    return gone
