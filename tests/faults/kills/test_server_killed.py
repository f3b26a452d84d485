"""The pages are killed, or the database server under them, while people enter over the wire: nothing told is lost."""

from __future__ import annotations

import http.client
import http.cookiejar
import json
import os
import random
import signal
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import Serving, served
from tests.browser.ports import answers, free_port
from tests.hingeline_app.records.own_folder import hingeline_json, run
from tests.hingeline_app.serving.test_many_at_once import PASSWORD, Visitor
from tests.private_postgresql import Server

PEOPLE = 4
# What is asked here is what was lost, not how soon the pages are back: a campaign has them at low priority.
STARTS_WITHIN = 600.0
NAMES = """
import json
from hingeline_app.records.opening import open_records
open_records()
from hingeline_app.records.models import Person
print(json.dumps(list(Person.objects.values_list("name", flat=True))))
"""


class Stays(urllib.request.HTTPRedirectHandler):
    """Go nowhere: the answer that says where to go next is the acknowledgement."""

    def redirect_request(self, *_arguments: Any) -> None:
        return None


class Clerk(Visitor):
    """Enters people, one after the other, and notes each that the server said it kept."""

    def __init__(self, address: str, letter: str) -> None:
        super().__init__(address)
        jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        self.opener = urllib.request.build_opener(jar, Stays())
        self.letter, self.form, self.number = letter, "", 0
        self.kept: list[str] = []
        self.refused: list[str] = []

    def come_in(self) -> None:
        self.get("/sign-in/password")
        assert self.post("/sign-in/password", sign_in_name="mara", password=PASSWORD) == 302
        assert self.get("/workshop/people/add") == 200
        self.form = self.page

    def enter_until(self, over: threading.Event) -> None:
        while not over.is_set():
            self.number += 1
            name = f"Person {self.letter}{in_letters(self.number)}"
            # A page that tells of a fault has no form to send from.
            self.page = self.form
            try:
                status = self.post("/workshop/people/add", name=name, initials="P", command_key=name)
            except (OSError, http.client.HTTPException, urllib.error.URLError):
                time.sleep(0.05)
                continue
            (self.kept if status == 302 else self.refused).append(name)


def in_letters(number: int) -> str:
    return "".join(chr(97 + int(digit)) for digit in str(number))


def tree(pid: int) -> list[int]:
    """Give a process and all below it."""
    try:
        below = Path(f"/proc/{pid}/task/{pid}/children").read_text().split()
    except OSError:
        return [pid]
    return [pid, *(each for child in below for each in tree(int(child)))]


def killed_with_all_below(server: Serving) -> None:
    for each in tree(server.process.pid):
        os.kill(each, signal.SIGKILL)
    server.process.wait(20)


def killed_alone(server: Serving) -> None:
    """What it started sees that it is gone, and lets the port go."""
    server.process.kill()
    server.process.wait(20)


@contextmanager
def at_work(clerks: list[Clerk]) -> Iterator[None]:
    over = threading.Event()
    threads = [threading.Thread(target=each.enter_until, args=(over,)) for each in clerks]
    for each in threads:
        each.start()
    try:
        yield
    finally:
        over.set()
        for each in threads:
            each.join()


def first_set_up(server: Serving) -> None:
    assert answers(server.address)
    first = Visitor(server.address)
    first.get("/set-up")
    said = {"code": server.code, "workshop": "Fenholt", "local_gravity": "9.81 m/s^2", "zone": "UTC",
            "language": "en", "name": "Mara Tarrow", "initials": "MT", "sign_in_name": "mara",
            "password": PASSWORD}  # fmt: skip
    assert first.post("/set-up", **said) == 200


def expect_everything_kept(clerks: list[Clerk], folder: Path, **more: str) -> int:
    """Each acknowledged name is there once, records and journal are whole; give how many."""
    there = hingeline_names(folder, **more)
    kept = [name for each in clerks for name in each.kept]
    assert [name for name in kept if there.count(name) != 1] == []
    assert len(there) == len(set(there))
    # Killed between the database and the journal, the journal's line is written at the next save: it stops nothing.
    findings = hingeline_json("ledger", "verify", folder=folder, **more)["findings"]
    assert [each for each in findings if each["stops"] != "nothing"] == []
    return len(kept)


def hingeline_names(folder: Path, **more: str) -> list[str]:
    names: list[str] = json.loads(run("-c", NAMES, folder=folder, **more).stdout)
    return names


KILLS = [
    pytest.param(2, "PostgreSQL", marks=pytest.mark.slow),
    pytest.param(20, "PostgreSQL", marks=pytest.mark.campaign),
    pytest.param(20, "a file", marks=pytest.mark.campaign),
]


@pytest.mark.fault("F01")
@pytest.mark.parametrize(("kills", "on"), KILLS)
def test_pages_killed_under_load_lose_nothing_that_they_told(
    kills: int, on: str, tmp_path: Path, request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Four people enter while the server is killed and started again: now it alone, now with all below it."""
    if on == "PostgreSQL":
        monkeypatch.setenv("HINGELINE_DATABASE", request.getfixturevalue("postgresql").create(f"kills-{kills}"))
    more = {name: os.environ[name] for name in ("HINGELINE_DATABASE",) if on == "PostgreSQL"}
    folder, port, draw = tmp_path / "records", free_port(), random.Random(5)
    clerks: list[Clerk] = []
    ways: list[Callable[[Serving], None]] = [killed_alone, killed_with_all_below]
    for number in range(kills):
        with served(folder, "--loopback", port=port, within=STARTS_WITHIN) as server:
            assert answers(server.address)
            if not clerks:
                first_set_up(server)
                clerks = [Clerk(server.address, letter) for letter in "ABCD"[:PEOPLE]]
                for each in clerks:
                    each.come_in()
            before = sum(len(each.kept) for each in clerks)
            with at_work(clerks):
                while sum(len(each.kept) for each in clerks) < before + 4:
                    time.sleep(0.01)
                time.sleep(draw.uniform(0.0, 0.6))
                ways[number % 2](server)
    told = expect_everything_kept(clerks, folder, **more)
    assert [name for each in clerks for name in each.refused] == []
    request.node.user_properties.append(
        ("figure", f"pages on {on}: killed {kills} times under four people, {told} entries acknowledged, 0 lost")
    )


@pytest.mark.fault("F04")
@pytest.mark.campaign
def test_a_database_server_killed_20_times_under_the_pages_loses_nothing_that_they_told(
    postgresql: Server, tmp_path: Path, request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The pages stay; while the database is away each entry is refused, and taken again once it answers."""
    monkeypatch.setenv("HINGELINE_DATABASE", postgresql.create("killed-under-pages"))
    folder, draw, refused = tmp_path / "records", random.Random(7), 0
    with served(folder, "--loopback") as server:
        first_set_up(server)
        clerks = [Clerk(server.address, letter) for letter in "ABCD"[:PEOPLE]]
        for each in clerks:
            each.come_in()
        for _kill in range(20):
            before = sum(len(each.kept) for each in clerks)
            with at_work(clerks):
                until = time.monotonic() + 60
                while sum(len(each.kept) for each in clerks) < before + 4:
                    assert time.monotonic() < until, "the pages did not come back"
                    time.sleep(0.01)
                time.sleep(draw.uniform(0.0, 0.5))
                postgresql.kill()
                postgresql.start()
        refused = sum(len(each.refused) for each in clerks)
    told = expect_everything_kept(clerks, folder, HINGELINE_DATABASE=os.environ["HINGELINE_DATABASE"])
    request.node.user_properties.append(
        ("figure", f"PostgreSQL killed 20 times under the pages: {told} saves acknowledged, 0 lost, {refused} refused")
    )
