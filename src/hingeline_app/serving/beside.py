"""What runs beside the pages, in their process: certificate renewed, backups by the clock, what is over cleared.

Where several processes serve the pages, one of them makes the backups: the one that holds a lock.
"""

from __future__ import annotations

import fcntl
import logging
import threading
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import IO

from hingeline_app.serving.backup_apart import made_apart
from hingeline_app.serving.certificate import certificate_in
from hingeline_app.serving.options import ServeOptions

HOUR, LOOKS_EVERY = 3600.0, 30.0
BACKUPS_LOCK, CERTIFICATE_LOCK = "backups.lock", "certificate.lock"
log = logging.getLogger(__name__)
_stop = threading.Event()
_held: list[IO[str]] = []


def start_beside(options: ServeOptions) -> None:
    """Start the thread that looks once an hour; it ends with the process."""
    threading.Thread(target=_each_hour, args=(options,), name="beside", daemon=True).start()
    if not options.read_only:
        threading.Thread(target=back_up_by_the_clock, name="backups", daemon=True).start()


def back_up_by_the_clock() -> None:
    """Back up once an hour, each one opened and restored as a trial."""
    from django.conf import settings

    from hingeline_app.records.backing_up.schedule import keep_backing_up

    if not _is_the_one(Path(settings.DATA_FOLDER)):
        return
    place = Path(settings.BACKUP_FOLDER)
    keep_backing_up(place, now=_now, stopped=_stop.wait, say=log.warning, made=made_apart)


def _is_the_one(data: Path) -> bool:
    """Wait until no other process makes the backups; False when told to stop. Held until this process ends."""
    _held.append((data / BACKUPS_LOCK).open("w"))
    while True:
        try:
            fcntl.flock(_held[-1], fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            if _stop.wait(LOOKS_EVERY):
                return False
        else:
            return True


def _now() -> datetime:
    return datetime.now(UTC)


def _each_hour(options: ServeOptions) -> None:
    while not _stop.wait(HOUR):
        for each in hourly_tasks(options):
            try:
                each()
            except Exception:
                log.exception("a task beside the pages failed; it is tried again in an hour")


def hourly_tasks(options: ServeOptions) -> list[Callable[[], object]]:
    """Name what is done each hour."""
    from django.conf import settings

    tasks: list[Callable[[], object]] = [clear_ended_sessions, clear_files_left_behind]
    if not options.loopback:
        tasks.append(lambda: renew_certificate(options))
    if settings.LONG_WORK == "workers":
        tasks.append(clear_ended_work)
    return tasks


def renew_certificate(options: ServeOptions) -> datetime:
    """Look whether the certificate still serves; answer to the machine's names of now."""
    from django.conf import settings

    with (options.data / CERTIFICATE_LOCK).open("w") as one_at_a_time:
        fcntl.flock(one_at_a_time, fcntl.LOCK_EX)
        certificate = certificate_in(options.data)
    settings.ALLOWED_HOSTS[:] = certificate.names.hosts()
    return certificate.ends


def clear_files_left_behind() -> None:
    """Take away pieces of recordings that nobody went on with for a day."""
    from django.conf import settings

    from hingeline_app.evidence.arriving import clear_left_behind

    clear_left_behind(Path(settings.DATA_FOLDER))


def clear_ended_work() -> None:
    """Take out the rows of long work that ended weeks ago."""
    from hingeline_app.longwork.queue import prune

    prune()


def clear_ended_sessions() -> None:
    """Take out the sessions that are over."""
    from hingeline_app.records.sessions import SessionStore

    SessionStore.clear_expired()
