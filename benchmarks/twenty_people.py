"""What a real server does under twenty people: errors, memory, and how long 95 of 100 answers take.

    python benchmarks/twenty_people.py [--minutes 10] [--jobs 10000] [--readings 100000] [--people 20] [--postgresql]

The invented workshop in a throw-away folder, served by ``hingeline serve`` as anybody starts it: one process on a
file, or two processes and two workers on a PostgreSQL server of its own. Its jobs are copied, past the write door,
until there are so many with so many readings: weight, no record. Then so many people look at pages and enter remarks
over the wire, each about every two seconds. Every entry that was acknowledged is looked for at the end.
The last line is the whole as JSON. It reports; tests/hingeline_app/longwork/test_twenty_people.py asks.
"""

from __future__ import annotations

import argparse
import contextlib
import html
import http.cookiejar
import json
import os
import random
import re
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
import urllib.error
import urllib.parse
import urllib.request
import uuid
from collections.abc import Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT), str(ROOT / "src"), str(ROOT / "benchmarks")]
THINKS, WRITES, AIM = 2.0, 0.2, 0.2
LISTS = ("/bench", "/bench?show=mine", "/bench?show=done&page=40", "/fleet", "/records", "/recordings", "/why-balance")
STEPS = ("arrive", "limits", "weigh", "correct")


def main() -> None:
    """Fill, serve, let people work, and tell."""
    asked = _asked()
    with (
        tempfile.TemporaryDirectory(prefix="hingeline-load-", ignore_cleanup_errors=True) as folder,
        _database(asked.postgresql),
        _served(Path(folder) / "records") as server,
    ):
        numbers = _filled(asked.jobs, asked.readings)
        told = _worked(server, asked, numbers)
        told["lost"] = _lost(told.pop("kept"))
    _tell(told)


def _asked() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("--minutes", type=float, default=10.0)
    parser.add_argument("--jobs", type=int, default=10_000)
    parser.add_argument("--readings", type=int, default=100_000)
    parser.add_argument("--people", type=int, default=20)
    parser.add_argument("--postgresql", action="store_true")
    return parser.parse_args()


@contextlib.contextmanager
def _database(on_a_server: bool) -> Iterator[None]:
    os.environ.pop("HINGELINE_DATABASE", None)
    if not on_a_server:
        yield
        return
    from tests.private_postgresql import private_server

    with private_server() as server:
        os.environ["HINGELINE_DATABASE"] = server.create("load")
        yield


@contextlib.contextmanager
def _served(data: Path) -> Iterator[tuple[str, int]]:
    """Tell the story into an empty folder, and serve it; give address and process."""
    from bench_of_jobs import workshop

    workshop(data)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "hingeline_app", "serve", "--data", str(data), "--loopback", "--port", str(port)]
    surroundings = os.environ | {"PYTHONPATH": str(ROOT / "src")}
    surroundings.pop("DJANGO_SETTINGS_MODULE")
    with subprocess.Popen(command, env=surroundings, stderr=subprocess.DEVNULL) as process:
        try:
            _answers(port)
            yield f"http://localhost:{port}", process.pid
        finally:
            process.send_signal(signal.SIGTERM)


def _answers(port: int) -> None:
    until = time.monotonic() + 120
    while time.monotonic() < until:
        with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", port), 1):
            return
        time.sleep(0.1)
    raise SystemExit("the server does not answer")


def _filled(jobs: int, readings: int) -> list[int]:
    """Copy jobs and readings until there are so many; give the numbers of the open ones."""
    from bench_of_jobs import copied
    from django.db import connection

    from hingeline_app.records.models import Job, Reading

    copied(jobs)
    models, new = list(Reading.objects.all()[:2000]), []
    for index in range(max(0, readings - Reading.objects.count())):
        row = models[index % len(models)]
        values = {field.attname: getattr(row, field.attname) for field in row._meta.concrete_fields}
        new.append(Reading(**values | {"identifier": uuid.uuid4()}))
    Reading.objects.bulk_create(new, batch_size=500)
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("ANALYZE")
    return list(Job.objects.filter(state="open", number__gt=30).values_list("number", flat=True))


class Person:
    """Somebody at a tablet: looks at pages, and writes remarks on a job of their own."""

    def __init__(self, address: str, seed: int, job: int) -> None:
        jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        self.address, self.job, self.chance = address, job, random.Random(seed)
        self.opener, self.page, self.remark = urllib.request.build_opener(jar), "", ""
        self.times: list[tuple[str, float]] = []
        self.errors: list[str] = []
        self.kept: list[str] = []

    def sign_in(self, name: str, password: str) -> None:
        """Come in, as anybody does."""
        self.ask("/sign-in/password", "sign in")
        self.ask("/sign-in/password", "sign in", {"sign_in_name": name, "password": password})
        page = self.ask(f"/job/{self.job}/arrive", "sign in")
        there = re.search(r'name="place" value="arrive.remarks"><input type="hidden" name="was" value="([^"]*)"', page)
        self.remark = html.unescape(there.group(1)) if there else ""
        self.times.clear()

    def work(self, until: float, numbers: list[int]) -> None:
        """Look and write until it is over."""
        while time.monotonic() < until:
            if self.chance.random() < WRITES:
                self.write()
            else:
                self.look(numbers)
            time.sleep(self.chance.uniform(0.5, 1.5) * THINKS)

    def look(self, numbers: list[int]) -> None:
        """Look at a list, or at a step of some job."""
        if self.chance.random() < 0.5:
            page = self.chance.choice(LISTS)
            self.ask(page, page.partition("?")[0])
        else:
            step = self.chance.choice(STEPS)
            self.ask(f"/job/{self.chance.choice(numbers)}/{step}", f"/job/…/{step}")

    def write(self) -> None:
        """Write another remark; it counts once the server says that it is kept."""
        value = f"remark {self.chance.randrange(10**9)}"
        said = {"kind": "detail", "step": "arrive", "place": "arrive.remarks", "was": self.remark, "value": value}
        answer = self.ask(f"/job/{self.job}/entry", "an entry", said | {"command_key": uuid.uuid4().hex})
        with contextlib.suppress(ValueError):
            outcome = json.loads(answer)
            if outcome["state"] == "kept":
                self.remark = value
                self.kept.append(value)

    def ask(self, page: str, name: str, said: dict[str, str] | None = None) -> str:
        """Ask for a page, or send to it; note how long it took and what went wrong."""
        headers = {"Referer": self.address, "X-Entry": "1"} if said else {}
        data = urllib.parse.urlencode(said | {"csrfmiddlewaretoken": self._token()}).encode() if said else None
        began = time.perf_counter()
        try:
            with self.opener.open(urllib.request.Request(self.address + page, data, headers), timeout=60) as answer:
                text: str = answer.read().decode()
        except (urllib.error.URLError, OSError) as fault:
            with contextlib.closing(fault) if isinstance(fault, urllib.error.HTTPError) else contextlib.nullcontext():
                self.errors.append(f"{name}: {fault}")
            return ""
        self.times.append((name, time.perf_counter() - began))
        self.page = text if text.startswith("<!doctype") else self.page
        return text

    def _token(self) -> str:
        found = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', self.page)
        return found.group(1) if found else ""


def _worked(server: tuple[str, int], asked: argparse.Namespace, numbers: list[int]) -> dict[str, Any]:
    from hingeline_app.demo.cast import PASSWORD

    address, pid = server
    people = [Person(address, seed, numbers[seed]) for seed in range(asked.people)]
    for seed, person in enumerate(people):
        person.sign_in(("mara", "jon")[seed % 2], PASSWORD)
    until, memory = time.monotonic() + 60.0 * asked.minutes, []
    threads = [threading.Thread(target=person.work, args=(until, numbers)) for person in people]
    for thread in threads:
        thread.start()
    while time.monotonic() < until:
        memory.append(_megabytes(pid))
        time.sleep(min(10.0, max(0.1, until - time.monotonic())))
    for thread in threads:
        thread.join()
    return _counted(people, memory, asked)


def _counted(people: list[Person], memory: list[float], asked: argparse.Namespace) -> dict[str, Any]:
    times: dict[str, list[float]] = {}
    for name, taken in (each for person in people for each in person.times):
        times.setdefault(name, []).append(taken)
    times["all"] = sorted(each for listed in times.values() for each in listed)
    third = max(1, len(memory) // 3)
    return {
        "on": "PostgreSQL, 2 processes, 2 workers" if asked.postgresql else "a file, 1 process",
        "minutes": asked.minutes,
        "people": asked.people,
        "jobs": asked.jobs,
        "readings": asked.readings,
        "answers": len(times["all"]),
        "errors": [each for person in people for each in person.errors],
        "megabytes": [_middle(memory[third : 2 * third] or memory), _middle(memory[-third:])],
        "load": os.getloadavg()[1],
        "seconds": {name: _spread(sorted(each)) for name, each in sorted(times.items())},
        "kept": [each for person in people for each in person.kept],
    }


def _spread(times: list[float]) -> list[float]:
    """Give how many, the middle, 95 of 100, the longest."""
    return [len(times), _middle(times), times[int(0.95 * (len(times) - 1))], times[-1]]


def _middle(values: list[float]) -> float:
    return sorted(values)[len(values) // 2]


def _megabytes(pid: int) -> float:
    """Add up what the server and all below it hold for themselves and share [MB]."""
    found, below = 0.0, [pid]
    while below:
        each = below.pop()
        with contextlib.suppress(OSError):
            status = Path(f"/proc/{each}/status").read_text()
            found += int(re.search(r"VmRSS:\s+(\d+)", status).group(1)) / 1024  # type: ignore[union-attr]
            below += map(int, Path(f"/proc/{each}/task/{each}/children").read_text().split())
    return found


def _lost(remarks: list[str]) -> list[str]:
    """Look in the ledger for every remark that was acknowledged."""
    from hingeline_app.records.models import Entry

    bodies = Entry.objects.filter(body__contains="remark ").values_list("body", flat=True)
    there = {found for body in bodies for found in re.findall(r"remark \d+", body)}
    return [each for each in remarks if each not in there]


def _tell(told: dict[str, Any]) -> None:
    print(f"{told['on']}: {told['people']} people for {told['minutes']:g} minutes on {told['jobs']} jobs, "
          f"{told['readings']} readings; load of the machine {told['load']:.1f}")  # fmt: skip
    print(f"{told['answers']} answers, {len(told['errors'])} errors, {len(told['lost'])} entries lost, "
          f"memory {told['megabytes'][0]:.0f} MB in the middle third, {told['megabytes'][1]:.0f} MB in the last; "
          f"aim {AIM} s for 95 of 100")  # fmt: skip
    print(f"{'':<26} {'asked':>6} {'median':>9} {'95 of 100':>10} {'longest':>9}")
    for name, (count, *marks) in told["seconds"].items():
        print(f"{name:<26} {count:6d} " + " ".join(f"{1000 * each:7.0f} ms" for each in marks))
    print(json.dumps(told))


if __name__ == "__main__":
    main()
