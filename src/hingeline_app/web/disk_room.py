"""Whether the disk has room: what a page says before it is full, and which request waits then."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from django.conf import settings

from hingeline_app.settings import room_on_disk

AS_LARGE_AS_A_FILE = 256 * 1024
"""No form of ours is so large without a file in it [byte]."""


@dataclass(frozen=True, slots=True)
class DiskRoom:
    """What is free on the fullest disk of the records [byte]."""

    free: int

    @property
    def is_short(self) -> bool:
        """Whether the pages warn."""
        return self.free < room_on_disk.WARN_BELOW

    @property
    def files_wait(self) -> bool:
        """Whether what is free is kept for entries."""
        return self.free < room_on_disk.RESERVE

    @property
    def free_megabytes(self) -> int:
        """Give it as people say it."""
        return self.free // 1_000_000

    def has_room_for(self, size: int) -> bool:
        """Whether a request of so many bytes leaves the reserve; entries, which are small, always may come."""
        return size < AS_LARGE_AS_A_FILE or self.free - size >= room_on_disk.RESERVE


def disk_room() -> DiskRoom:
    """Look now."""
    return DiskRoom(room_on_disk.least_free([Path(settings.DATA_FOLDER), Path(settings.JOURNAL_FOLDER)]))
