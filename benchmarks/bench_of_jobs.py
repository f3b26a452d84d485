"""How long the bench and a job's steps take with 10,000 jobs and 20 people, beside the same pages of a dozen jobs.

    python benchmarks/bench_of_jobs.py [JOBS] [PEOPLE]

The invented workshop in a throw-away folder; its jobs are copied with their weighings, readings and results until
there are so many, a tenth of them open. Then so many people look at pages for half a minute, each about every two
seconds, all within this process. Aim: of each page 95 of 100 within 0.2 s. What a page waits depends on what else the
machine does; "its work" is the time its own thread computed, and the ratio is of that. It reports; nothing fails.
"""

from __future__ import annotations

import os
import random
import statistics
import sys
import tempfile
import threading
import time
import uuid
from collections.abc import Iterable
from pathlib import Path
from typing import Any

SECONDS, THINKS, AIM = 30.0, 2.0, 0.2
LISTS = ("/bench", "/bench?show=mine", "/bench?show=done&page=40", "/bench?show=done&q=T2-07+rudder", "/order/1")


def main() -> None:
    """Make the jobs, look at the pages before and after, and print the times."""
    jobs, people = (int(each) for each in [*sys.argv[1:], *("10000", "20")[len(sys.argv) - 1 :]])
    with tempfile.TemporaryDirectory(prefix="hingeline-bench-", ignore_cleanup_errors=True) as folder:
        workshop(Path(folder) / "records")
        few = looked_at(people)
        numbers = copied(jobs)
        many = looked_at(people, numbers)
    print(f"{jobs} jobs, {people} people; aim {AIM:.1f} s for 95 of 100")
    print(
        f"{'page':<36} {'looks':>6} {'median':>9} {'95 of 100':>10} {'most':>9} {'its work':>9} {'to few jobs x':>14}"
    )
    for page, times in many.items():
        waited, worked = (sorted(each) for each in zip(*times, strict=True))
        work = statistics.median(worked)
        ratio = work / statistics.median(each for _wait, each in few[page]) if page in few else float("nan")
        marks = (statistics.median(waited), waited[int(0.95 * (len(waited) - 1))], waited[-1], work)
        print(f"{page:<36} {len(times):6d} " + " ".join(f"{1000 * each:6.0f} ms" for each in marks) + f" {ratio:9.1f}")


def workshop(folder: Path) -> None:
    """Open the invented workshop in an empty folder."""
    from datetime import UTC, datetime

    from hingeline_app.serving.options import ServeOptions
    from hingeline_app.serving.surroundings import set_up_django

    set_up_django(ServeOptions(folder, None, loopback=True), ("localhost", "testserver"))
    os.environ["PYTHONWARNINGS"] = "ignore"
    from hingeline_app.demo.story import tell
    from hingeline_app.records.updating import bring_up_to_date

    bring_up_to_date(datetime.now(UTC))
    tell(print)


def copied(jobs: int) -> list[int]:
    """Copy the jobs of the story, past the write door: this is no record, only weight."""
    from hingeline_app.records.models import Job

    models = list(Job.objects.exclude(state="voided").order_by("number"))
    number = Job.objects.order_by("-number").first().number  # type: ignore[union-attr]
    new = []
    while number < jobs:
        number += 1
        new.append((models[number % len(models)], number))
    for start in range(0, len(new), 1000):
        _copy(new[start : start + 1000])
    return [number for _job, number in new]


def _copy(pairs: Iterable[tuple[Any, int]]) -> None:
    from hingeline_app.records.models import Job, Measurement, Reading, Result

    rows: dict[Any, list[Any]] = {Job: [], Measurement: [], Reading: [], Result: []}
    for model, number in pairs:
        job = _again(model, number=number, work_order_id=None, state="open" if number % 10 == 0 else "released")
        rows[Job].append(job)
        for measurement in model.measurements.all():
            begun = _again(measurement, job=job)
            rows[Measurement].append(begun)
            rows[Reading] += [_again(each, job=job, measurement=begun) for each in measurement.readings.all()]
            rows[Result] += [_again(each, job=job, measurement=begun) for each in measurement.results.all()]
    for table, listed in rows.items():
        table.objects.bulk_create(listed, batch_size=500)


def _again(row: Any, **other: Any) -> Any:
    """Give a copy of a row under another identifier."""
    values = {field.attname: getattr(row, field.attname) for field in row._meta.concrete_fields}
    return type(row)(**{**values, "identifier": uuid.uuid4(), **_names(other)})


def _names(other: dict[str, Any]) -> dict[str, Any]:
    return {
        name if not hasattr(value, "pk") else f"{name}_id": getattr(value, "pk", value) for name, value in other.items()
    }


def looked_at(people: int, numbers: list[int] | None = None) -> dict[str, list[tuple[float, float]]]:
    """Let people look at pages for a while; give the times by page."""
    from django.db import connections

    times: dict[str, list[tuple[float, float]]] = {}
    lock = threading.Lock()

    clients = [_signed_in(("mara", "jon", "ines")[seed % 3]) for seed in range(people)]
    until = time.monotonic() + SECONDS

    def look(seed: int) -> None:
        chance, client = random.Random(seed), clients[seed]
        while time.monotonic() < until:
            name, address = _page(chance, numbers or [1, 3, 6])
            started, worked = time.perf_counter(), time.thread_time()
            answer = client.get(address)
            taken = time.perf_counter() - started, time.thread_time() - worked
            assert answer.status_code == 200, (address, answer.status_code)
            with lock:
                times.setdefault(name, []).append(taken)
            time.sleep(chance.uniform(0.5, 1.5) * THINKS)
        connections.close_all()

    threads = [threading.Thread(target=look, args=(seed,)) for seed in range(people)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return dict(sorted(times.items()))


def _page(chance: random.Random, numbers: list[int]) -> tuple[str, str]:
    if chance.random() < 0.5:
        page = chance.choice(LISTS)
        return page, page
    step = chance.choice(("arrive", "limits"))
    return f"/job/…/{step}", f"/job/{chance.choice(numbers)}/{step}"


def _signed_in(name: str) -> Any:
    from django.test import Client

    from hingeline_app.demo.cast import PASSWORD

    client = Client(headers={"host": "localhost"})
    answer = client.post("/sign-in/password", {"sign_in_name": name, "password": PASSWORD})
    assert answer.status_code == 302, answer.content[:300]
    return client


if __name__ == "__main__":
    main()
