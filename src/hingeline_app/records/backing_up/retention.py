"""Which backups are kept: the newest of each of the last hours, days and months."""

from __future__ import annotations

import shutil
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from hingeline_app.records.backing_up.manifest import backups_in, time_of

HALF, LEFT_FOR = ".part", timedelta(days=1)
HOURS, DAYS, MONTHS = 24, 30, 12
SPANS = {"%Y%m%d%H": HOURS, "%Y%m%d": DAYS, "%Y%m": MONTHS}


def to_keep(times: Iterable[datetime]) -> set[datetime]:
    """Choose the newest backup of each of the last 24 hours, 30 days and 12 months that have one."""
    ordered, kept = sorted(times), set()
    for span, most in SPANS.items():
        newest = {at.strftime(span): at for at in ordered}
        kept |= set(list(newest.values())[-most:])
    return kept


def thin_out(folder: Path, now: datetime | None = None) -> list[Path]:
    """Take away the backups that are kept no longer, and name them. Attachments stay.

    With them goes what a program that was killed left half copied, once a day has passed.
    """
    times = {path: at for path in backups_in(folder) if (at := time_of(path.name))}
    kept = to_keep(times.values())
    gone = [path for path, at in times.items() if at not in kept]
    gone += list(_left_half_copied(folder, now or datetime.now(UTC)))
    for path in gone:
        shutil.rmtree(path)
    return gone


def _left_half_copied(folder: Path, now: datetime) -> Iterator[Path]:
    for path in sorted(folder.glob(f"*{HALF}")):
        at = time_of(path.name.removesuffix(HALF))
        if at and now - at > LEFT_FOR:
            yield path
