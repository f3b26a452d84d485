"""The hangar's page for 200 aircraft with 20,000 tasks: at first, again, and after an entry; in one run.

Run ``python benchmarks/hangar.py [requests]``. The folder is filled beside the write door, since 20,000 acts would
take longer than what is measured. Prints medians, the 95th percentile, and the number of queries for a tenth of the
aircraft and for all of them.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

PASSWORD = "a long walk to the hangar"
TASKS_EACH = 100


def filled(aircraft: int, folder: Path) -> Any:
    """Make a workshop with so many aircraft, their readings, tasks and sign-offs; give the engineer."""
    from django.core.management import call_command

    from hingeline_app.records.actions.people import add_person
    from hingeline_app.records.actions.rights import give_right
    from hingeline_app.records.actions.workshop import set_up_workshop
    from hingeline_app.records.dates import today
    from hingeline_app.records.models import Aircraft, CounterReading, SignOff, Task
    from hingeline_app.records.write_door import Actor

    call_command("migrate", verbosity=0)
    founded = set_up_workshop("Fenholt", person="Mara Tarrow", initials="MT", sign_in_name="mara", password=PASSWORD)
    boss = Actor(founded.workshop, founded.person, founded.account)
    give_right(boss, founded.person.pk, "engineer")
    assert add_person(boss, "Jon Ashby", "JA")
    shop, person, day = founded.workshop, founded.person, today(founded.workshop)
    planes = [
        Aircraft(workshop=shop, type_name="Merle T2", registration=f"T2-{number:03d}", serial_number=str(number))
        for number in range(aircraft)
    ]
    readings = [
        CounterReading(
            aircraft=plane, counter="hours", read_on=day - timedelta(30 * back), read_by=person,
            shown=Decimal(2000 - 9 * back),
        )
        for plane in planes for back in range(12)
    ]  # fmt: skip
    tasks = [
        Task(
            workshop=shop, aircraft=plane, name=f"check {number}", added_by=person,
            rule={"source": "manual", "every": {"hours": 100 + number, "months": 24}, "join": "first",
                  "months_are": "anniversary", "counts_from": ("done", "due")[number % 2]},
        )
        for plane in planes for number in range(TASKS_EACH)
    ]  # fmt: skip
    done = [
        SignOff(
            task=task, entered_by=person, entered_on=day, done_on=day - timedelta(30 * back),
            hours=Decimal(2000 - 9 * back), paper="CRS", signer="H. Moss",
        )
        for task in tasks for back in (10, 7, 4, 1)
    ]  # fmt: skip
    for table, rows in ((Aircraft, planes), (CounterReading, readings), (Task, tasks), (SignOff, done)):
        table.objects.bulk_create(rows, batch_size=500)  # type: ignore[attr-defined]
    return boss, planes


def seconds(run: Callable[[], object]) -> float:
    """Time one call."""
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


def queries(run: Callable[[], object]) -> int:
    """Count what one call asks the database."""
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    with CaptureQueriesContext(connection) as captured:
        run()
    return len(captured)


def measured(aircraft: int, requests: int) -> None:
    """Fill a folder and print what its page takes."""
    from django.conf import settings
    from django.test import Client

    from hingeline_app.records.actions.counters import read_counter
    from hingeline_app.records.dates import today

    boss, planes = filled(aircraft, Path(settings.DATA_FOLDER))
    client = Client(SERVER_NAME="localhost")
    answer = client.post("/sign-in/password", {"sign_in_name": "mara", "password": PASSWORD}, secure=True)
    assert answer.status_code == 302, answer.content

    def page() -> None:
        assert client.get("/fleet", secure=True).status_code == 200

    first = seconds(page)
    again = [seconds(page) for _ in range(requests)]
    shown = Decimal("2000.5")
    read_counter(boss, planes[0].pk, "hours", shown, today(boss.workshop))
    after = seconds(page)
    p95 = statistics.quantiles(again, n=20)[-1] if len(again) > 1 else again[0]
    print(f"aircraft {aircraft}, tasks {aircraft * TASKS_EACH:,}, requests {requests}")
    print(f"first page      {first:.2f} s")
    print(f"page again      {statistics.median(again):.3f} s, 95 of 100 within {p95:.3f} s (aim: 0.15 s)")
    print(f"after an entry  {after:.2f} s")
    print(f"queries of the page, when it is kept: {queries(page)}")


def main() -> None:
    """Open a folder of its own and measure."""
    requests = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    aircraft = int(sys.argv[2]) if len(sys.argv) > 2 else 200
    from hingeline_app.records.opening import open_records

    with tempfile.TemporaryDirectory() as folder:
        open_records(Path(folder), must_exist=False)
        from django.conf import settings

        settings.ALLOWED_HOSTS = ["localhost"]
        measured(aircraft, requests)


if __name__ == "__main__":
    main()
