"""The invented workshop for browser tests: copied, served, stopped and started again; its ledger read."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import signal
import sqlite3
import subprocess
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Error, Page

from hingeline_app.demo.cast import CAST, PASSWORD
from tests.browser.conftest import TABLET, Serving, answers, free_port, served
from tests.browser.demonstration import copied

PINS = {each.short: each.pin for each in CAST}
NAMES = {each.short: each.name for each in CAST}
ENTER = """([address, fields]) => {
  const form = new FormData();
  for (const name in fields) form.append(name, fields[name]);
  return entries.enter(address, form).then(() => true); }"""


@dataclass
class Bench:
    """The served workshop: where, its folder, its tablet."""

    browser: Browser
    data: Path
    port: int
    tablet: str

    @property
    def address(self) -> str:
        """Give the server's address."""
        return f"http://localhost:{self.port}"

    @contextlib.contextmanager
    def serving(self) -> Iterator[Serving]:
        """Serve it until the block ends."""
        with served(self.data, "--loopback", port=self.port) as server:
            assert answers(server.address)
            yield server

    def context(self, size: dict[str, int] = TABLET, **more: Any) -> BrowserContext:
        """Give a browser that is the enrolled tablet."""
        context = self.browser.new_context(viewport=size, base_url=self.address, **more)  # type: ignore[arg-type]
        context.add_cookies([{"name": "tablet", "value": self.tablet, "url": self.address}])
        return context

    @staticmethod
    def killed(server: Serving) -> None:
        """Take the power away from a server: it and those that it forked end at once."""
        below = subprocess.run(["pgrep", "-P", str(server.process.pid)], capture_output=True, text=True, check=False)
        for each in [*below.stdout.split(), server.process.pid]:
            os.kill(int(each), signal.SIGKILL)
        server.process.wait()

    def asked(self, question: str, *values: Any) -> list[Any]:
        """Ask the records' own file, which a server may be writing."""
        with contextlib.closing(sqlite3.connect(f"file:{self.data / 'records.sqlite3'}?mode=ro", uri=True)) as base:
            return base.execute(question, values).fetchall()

    @property
    def weighing(self) -> tuple[int, str]:
        """Give the job that is being weighed, and the weighing: a rudder or an aileron without a statement yet."""
        found = self.asked(
            "SELECT job.number, measurement.identifier FROM records_measurement measurement JOIN records_job job"
            " ON job.identifier = measurement.job_id WHERE measurement.kind = 'weighing' AND NOT EXISTS"
            " (SELECT 1 FROM records_result WHERE measurement_id = measurement.identifier)"
        )
        return int(found[0][0]), str(found[0][1])

    def readings(self) -> list[str]:
        """Give the readings that count of that weighing, in their order."""
        rows = self.asked(
            "SELECT typed FROM records_reading WHERE measurement_id = ? AND withdrawn_because = '' ORDER BY change",
            self.weighing[1],
        )
        return [str(typed) for (typed,) in rows]

    def come_to(self, readings: list[str], seconds: float = 20.0) -> bool:
        """Wait until the readings that count are these; whether they are."""
        end = time.monotonic() + seconds
        while self.readings() != readings and time.monotonic() < end:
            time.sleep(0.1)
        return self.readings() == readings

    def said(self, kind: str) -> list[dict[str, Any]]:
        """Give what the entries of a kind say, in the ledger's order."""
        rows = self.asked("SELECT body FROM records_entry WHERE kind = ? ORDER BY position", kind)
        return [json.loads(body)["says"] for (body,) in rows]


@contextlib.contextmanager
def bench_in(folder: Path, browser: Browser) -> Iterator[Bench]:
    """Give a folder of the invented workshop, and leave nothing behind."""
    data = folder / "records"
    yield Bench(browser, data, free_port(), copied(data))
    shutil.rmtree(data, ignore_errors=True)


def sign_in(page: Page, who: str = "jon") -> None:
    """Tap one's name, type the PIN."""
    page.goto("/sign-in")
    page.get_by_role("link", name=NAMES[who]).click()
    page.get_by_label("PIN", exact=True).fill(PINS[who])
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(lambda address: "/sign-in" not in address)


def enter(page: Page, number: int, **fields: str) -> None:
    """Enter one thing as a form of the page does; given back once it is on the tablet."""
    assert page.evaluate(ENTER, [f"/job/{number}/entry", fields])


def detail(page: Page, number: int, place: str, was: str, value: str) -> None:
    """Set a detail of the job."""
    enter(page, number, kind="detail", place=place, was=was, value=value)


def keeps_pages(page: Page) -> None:
    """Wait until the tablet's worker has the page that stands open."""
    until(
        page,
        "async () => navigator.serviceWorker.controller !== null && await caches.match(location.href) !== undefined",
    )


def until(page: Page, holds: str, seconds: float = 20.0) -> None:
    """Wait until what a page works out holds; the browser's driver itself does not wait for what is worked out late."""
    end = time.monotonic() + seconds
    while not _holds(page, holds):
        assert time.monotonic() < end, holds
        page.wait_for_timeout(100)


def _holds(page: Page, holds: str) -> bool:
    """Ask the page; one that is just being left cannot say."""
    try:
        return bool(page.evaluate(holds))
    except Error as fault:
        if "context was destroyed" not in str(fault):
            raise
        return False


__all__ = ["NAMES", "PASSWORD", "Bench", "bench_in", "detail", "enter", "keeps_pages", "sign_in", "until"]
