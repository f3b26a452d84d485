"""What runs beside the pages, in their process: certificate renewed, backups by the clock, what is over cleared."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from hingeline_app.serving.certificate import certificate_in
from hingeline_app.serving.options import ServeOptions

HOUR = 3600.0
log = logging.getLogger(__name__)
_stop = threading.Event()


def start_beside(options: ServeOptions) -> None:
    """Start the thread that looks once an hour; it ends with the process."""
    threading.Thread(target=_each_hour, args=(options,), name="beside", daemon=True).start()
    threading.Thread(target=back_up_by_the_clock, name="backups", daemon=True).start()


def back_up_by_the_clock() -> None:
    """Back up once an hour, each one opened and restored as a trial."""
    from django.conf import settings

    from hingeline_app.records.backing_up.schedule import keep_backing_up

    keep_backing_up(Path(settings.BACKUP_FOLDER), now=_now, stopped=_stop.wait, say=log.warning)


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
    tasks: list[Callable[[], object]] = [clear_ended_sessions, clear_files_left_behind]
    if not options.loopback:
        tasks.append(lambda: renew_certificate(options))
    return tasks


def renew_certificate(options: ServeOptions) -> datetime:
    """Look whether the certificate still serves; answer to the machine's names of now."""
    from django.conf import settings

    certificate = certificate_in(options.data)
    settings.ALLOWED_HOSTS[:] = certificate.names.hosts()
    return certificate.ends


def clear_files_left_behind() -> None:
    """Take away pieces of recordings that nobody went on with for a day."""
    from django.conf import settings

    from hingeline_app.evidence.arriving import clear_left_behind

    clear_left_behind(Path(settings.DATA_FOLDER))


def clear_ended_sessions() -> None:
    """Take out the sessions that are over."""
    from hingeline_app.records.sessions import SessionStore

    SessionStore.clear_expired()
