"""Run as a program on a server's settings: workers race for rows; rows of an age are taken out. Writes one document.

claiming.py DATA ROWS WORKERS
"""

from __future__ import annotations

import json
import sys
import threading
import time
from contextlib import ExitStack
from datetime import timedelta
from pathlib import Path
from typing import Any
from unittest.mock import patch

from hingeline_app.records.opening import open_records


def main(data: Path, count: int, workers: int) -> None:
    open_records(data)
    from django.core.management import call_command

    call_command("migrate", verbosity=0, interactive=False)
    told = {"claimed": raced(data, count, workers), "held": held_by_the_dead(data), "many": many_held(data)}
    told |= {"clocks": clocks_differ(data)}
    print(json.dumps(told | {"left": pruned(data)}))


def raced(data: Path, count: int, workers: int) -> list[list[str]]:
    """Let workers take what waits, all at once; give what each got."""
    from django.db import connection

    from hingeline_app.longwork import queue

    for number in range(count):
        queue.Workers().take_on(data / "following" / f"piece-{number}", 0)
    got: list[list[str]] = [[] for _ in range(workers)]
    line = threading.Barrier(workers)

    def work(which: int) -> None:
        connection.ensure_connection()
        line.wait()
        while (row := queue.claim(f"{which}-worker")) is not None:
            got[which].append(queue.folder_of(row).name)
            row.set_successful("done")
        connection.close()

    threads = [threading.Thread(target=work, args=(which,)) for which in range(workers)]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    return got


def held_by_the_dead(data: Path) -> dict[str, Any]:
    """Let a worker come four times to what another process still has; give how often that counts as tried.

    What came later is taken in between, each time.
    """
    from django.utils import timezone
    from django_tasks_db.models import DBTaskResult

    from hingeline_app.longwork import queue, worker
    from hingeline_app.longwork.folder import held

    worker.HELD_SECONDS = 0.1
    folder, said, between = data / "following" / "held", [], []
    row = DBTaskResult.objects.filter(args_kwargs__args=["following/held"])
    with held(folder, "held"):
        queue.Workers().take_on(folder, 0)
        for number in range(4):
            queue.Workers().take_on(data / "following" / f"later-{number}", 0)
            worker.Worker(threading.Event(), said.append).work(queue.claim("next"))
            other = queue.claim("next")
            between.append(queue.folder_of(other).name)
            other.set_successful("done")
            row.update(run_after=timezone.now() - timedelta(seconds=1))
    one = row.get()
    return {"status": one.status, "tries": len(one.worker_ids), "between": between, "said": len(said)}


def many_held(data: Path) -> dict[str, Any]:
    """Let seven pieces be held by others; give the order in which one worker takes them and what was asked beside them.

    One was asked for before the held ones went to the end of the line, two after. The while of each is over then, as
    though all of it had been earlier. A while that a clock since put back left a day ahead keeps nothing back.
    """
    from django.db.models import F
    from django.utils import timezone
    from django_tasks_db.models import DBTaskResult

    from hingeline_app.longwork import queue, worker
    from hingeline_app.longwork.folder import held

    DBTaskResult.objects.all().delete()
    worker.HELD_SECONDS = 0.2
    folders, said, order = data / "following", [], []
    at_work = worker.Worker(threading.Event(), said.append)

    def wait(name: str) -> None:
        queue.Workers().take_on(folders / name, 0)

    def take(count: int) -> float:
        begun = time.monotonic()
        for _ in range(count):
            row = queue.claim("next")
            order.append(queue.folder_of(row).name)
            at_work.work(row)
        return time.monotonic() - begun

    with ExitStack() as stack:
        for name in (f"held-{each}" for each in range(7)):
            stack.enter_context(held(folders / name, name))
            wait(name)
        wait("before")
        first = take(7)
        wait("after-0")
        soon = DBTaskResult.objects.filter(run_after__lte=timezone.now() + timedelta(days=1))
        soon.update(run_after=F("run_after") - timedelta(seconds=queue.HELD_WAITS_SECONDS))
        wait("after-1")
        again = take(10)
        none_left = queue.claim("next") is None
        ahead = DBTaskResult.objects.filter(args_kwargs__args=["following/held-3"])
        ahead.update(run_after=timezone.now() + timedelta(days=1))
        take(1)
    told = {"order": order, "said": len(said), "none left": none_left}
    return told | {"first": first, "again": again}


def clocks_differ(data: Path) -> list[str]:
    """Let two workers take in turns what is held, the clock of one a minute ahead; give what each found, by name."""
    from django.utils import timezone
    from django_tasks_db.models import DBTaskResult

    from hingeline_app.longwork import queue, worker
    from hingeline_app.longwork.folder import held

    DBTaskResult.objects.all().delete()
    worker.HELD_SECONDS = 0.1
    folder, found, own = data / "following" / "between", [], timezone.now
    at_work = worker.Worker(threading.Event(), lambda _words: None)
    with held(folder, "between"):
        queue.Workers().take_on(folder, 0)
        for ahead in (0, 60, 0, 60):
            with patch.object(timezone, "now", lambda ahead=ahead: own() + timedelta(seconds=ahead)):
                row = queue.claim(f"{ahead} s ahead")
                found.append("nothing" if row is None else queue.folder_of(row).name)
                if row is not None:
                    at_work.work(row)
    return found


def pruned(data: Path) -> list[str]:
    """Date ended work back by so many days, take out what is old, and name what is left."""
    from django.utils import timezone
    from django_tasks_db.models import DBTaskResult

    from hingeline_app.longwork import queue

    DBTaskResult.objects.all().delete()
    ages = {
        "SUCCESSFUL 13": 13,
        "SUCCESSFUL 15": 15,
        "FAILED 59": 59,
        "FAILED 61": 61,
        "READY 99": 99,
        "RUNNING 99": 99,
    }
    for name, days in ages.items():
        queue.Workers().take_on(data / "following" / name, 0)
        status, days = name.split()
        then = timezone.now() - timedelta(days=int(days))
        row = DBTaskResult.objects.filter(args_kwargs__args=[f"following/{name}"])
        row.update(status=status, enqueued_at=then, started_at=then, finished_at=then)
    queue.prune()
    return sorted(queue.folder_of(row).name for row in DBTaskResult.objects.all())


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))
