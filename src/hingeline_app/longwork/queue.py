"""The job engine's rows: what waits for a worker, and who has it. Only where a server keeps the records.

A row says which folder of the data is to be worked. Each worker holds a lock in the database for as long as its
connection lives: a row whose worker's lock is free was left by a dead one, and waits again. What is worked twice
gives the same answer in the same place, and is kept once.
"""

from __future__ import annotations

import binascii
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.db import connection, transaction
from django.db.models import DateTimeField, Value
from django.db.models.functions import Coalesce, NullIf
from django_tasks import task

QUEUE = "long work"
READY, RUNNING = "READY", "RUNNING"
MOST_TRIES = 3
"""What ends its worker or itself so often is not taken up again: a person has to look."""
HELD_WAITS_SECONDS = 20.0
"""How long a piece whose folder a living process still has lets the others go first."""
WORKERS_LOCK = 0x574F524B
DONE_KEPT_DAYS, FAILED_KEPT_DAYS = 14, 60
"""How long a row stays after its end: what came of the work lies in its folder, the row only says how it went."""


class TriedTooOften(RuntimeError):
    """A piece of work ended without a word again and again."""


@task(queue_name=QUEUE)
def long_work(folder: str) -> str:
    """Name the work of a folder, relative to the data; workers do it in a process of its own, not by this call."""
    return folder


class Workers:
    """The workers beside the pages, on this machine or another that has the same folder."""

    def take_on(self, folder: Path, alive: int) -> None:
        """Let it wait for a worker; asked for twice, it waits once."""
        if not self.has(folder):
            long_work.enqueue(_named(folder))

    def has(self, folder: Path) -> bool:
        """Say whether it waits, or is with a worker."""
        rows = _rows().filter(status__in=(READY, RUNNING), args_kwargs__args=[_named(folder)])
        return bool(rows.exists())


def claim(worker: str) -> Any:
    """Take the row whose turn it is; None where none waits.

    They stand in the order in which they were asked for; one that could not begin goes to the end of the line, and the
    engine's own order would put it in front of all.
    """
    with transaction.atomic():
        row = _in_line().select_for_update(skip_locked=True).first()
        if row is not None:
            row.claim(worker)
    return row


def was_held(row: Any) -> bool:
    """Say whether another process had its folder when it was taken before."""
    return bool(row.run_after != _no_while())


def folder_of(row: Any) -> Path:
    """Give the folder that a row names; never one outside of the data."""
    data = Path(settings.DATA_FOLDER).resolve()
    folder = (data / str(row.args_kwargs["args"][0])).resolve()
    folder.relative_to(data)
    return folder


def put_back(row: Any) -> None:
    """Let it wait again."""
    row.status = READY
    row.save(update_fields=["status"])


def put_back_untried(row: Any) -> None:
    """Let it wait for a while before it is taken again, and do not count who could not begin.

    Else it would be taken again and again before all others, for as long as a process has it: an hour, where a worker
    that follows a video lost the database and did not notice yet.
    """
    row.worker_ids = row.worker_ids[:-1]
    row.status = READY
    row.run_after = _database_now() + timedelta(seconds=HELD_WAITS_SECONDS)
    row.save(update_fields=["status", "worker_ids", "run_after"])


def take_over_from_the_dead() -> int:
    """Let wait again what dead workers had; give how many they were."""
    found = 0
    for row in list(_rows().filter(status=RUNNING)):
        with transaction.atomic():
            mine = _rows().filter(pk=row.pk, status=RUNNING).select_for_update(skip_locked=True).first()
            if mine is not None and not _lives(mine.worker_ids[-1]):
                found += 1
                put_back_or_give_up(mine)
    return found


def put_back_or_give_up(row: Any) -> None:
    """Let it wait again, unless it ended without a word too often."""
    if len(row.worker_ids) < MOST_TRIES:
        put_back(row)
    else:
        row.set_failed(TriedTooOften(f"{len(row.worker_ids)} workers took it, and none came to its end"))


def prune() -> None:
    """Take out the rows of work that ended long ago, by the engine's own command."""
    call_command(
        "prune_db_task_results", queue_name=QUEUE, min_age_days=DONE_KEPT_DAYS, failed_min_age_days=FAILED_KEPT_DAYS,
        verbosity=0,
    )  # fmt: skip


def be_known_as(worker: str) -> None:
    """Hold this worker's lock for as long as the connection lives."""
    with closing(connection.cursor()) as cursor:
        cursor.execute("SELECT pg_advisory_lock(%s, %s)", [WORKERS_LOCK, _number(worker)])


def _lives(worker: str) -> bool:
    with closing(connection.cursor()) as cursor:
        cursor.execute("SELECT pg_try_advisory_lock(%s, %s)", [WORKERS_LOCK, _number(worker)])
        (is_free,) = cursor.fetchone()
        if is_free:
            cursor.execute("SELECT pg_advisory_unlock(%s, %s)", [WORKERS_LOCK, _number(worker)])
    return not is_free


def _number(worker: str) -> int:
    return binascii.crc32(worker.encode()) & 0x7FFFFFFF


def _named(folder: Path) -> str:
    return folder.relative_to(Path(settings.DATA_FOLDER)).as_posix()


def _in_line() -> Any:
    """Give what waits, whose turn it is first.

    A while that is longer than ours was written before the clock was put back: it is over.
    """
    at = _database_now()
    waiting = _rows().filter(status=READY)
    waiting = waiting.exclude(run_after__gt=at, run_after__lte=at + timedelta(seconds=HELD_WAITS_SECONDS))
    since = Coalesce(NullIf("run_after", Value(_no_while(), output_field=DateTimeField())), "enqueued_at")
    return waiting.order_by(since)


def _database_now() -> datetime:
    """Ask the database for the time.

    Workers on machines whose clocks differ would each find the other's while over, and take a held piece in turns.
    """
    with closing(connection.cursor()) as cursor:
        cursor.execute("SELECT clock_timestamp()")
        (now,) = cursor.fetchone()
    return now  # type: ignore[no-any-return]


def _no_while() -> datetime:
    """Give the moment that the engine writes where nothing has to pass first."""
    from django_tasks_db.models import get_date_max

    return get_date_max()


def _rows() -> Any:
    from django_tasks_db.models import DBTaskResult

    return DBTaskResult.objects.filter(queue_name=QUEUE)
