"""Four at once, in processes and in threads, on each database: none is refused, and every number is counted."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.hingeline_app.records.own_folder import hingeline_json, make_workshop, run, surroundings
from tests.private_postgresql import Server

COUNTING = Path(__file__).with_name("counting.py")
MODES = ["delete EXTRA", "wal FULL", "postgresql"]
WRITERS = 4
# How often each saves: a number that is read and written without the lock is lost within the first dozen.
SAVES = [150, pytest.param(500, marks=pytest.mark.campaign)]
OF_A_THREAD = [40, pytest.param(100, marks=pytest.mark.campaign)]

START = """
from hingeline_app.records.opening import open_records
open_records()
from hingeline_app.records.models import Person, Workshop
from hingeline_app.records.write_door import Actor, write_door
workshop = Workshop.objects.get()
with write_door(Actor(workshop), "counter started") as entry:
    entry.keep(Person(workshop=workshop, name="Counter", initials="0", licence_number="counter"))
"""
READ = """
from hingeline_app.records.opening import open_records
open_records()
from hingeline_app.records.models import Entry, Person
print(Person.objects.get(licence_number="counter").initials, Entry.objects.filter(kind="counted").count())
"""

Shop = tuple[Path, dict[str, str]]


@pytest.fixture
def shop(tmp_path: Path, request: pytest.FixtureRequest) -> Callable[[str], Shop]:
    """Give a workshop on one kind of database, with what names that in a program's surroundings."""

    def make(mode: str) -> Shop:
        more = surroundings_of(mode, tmp_path, request)
        folder = make_workshop(tmp_path / "records", 5, **more)
        run("-c", START, folder=folder, **more)
        return folder, more

    return make


def surroundings_of(mode: str, tmp_path: Path, request: pytest.FixtureRequest) -> dict[str, str]:
    if mode != "postgresql":
        return {"CUTS_MODE": mode, "DJANGO_SETTINGS_MODULE": "tests.faults.power_cuts.settings_with_mode"}
    server: Server = request.getfixturevalue("postgresql")
    return {"HINGELINE_DATABASE": server.create("".join(filter(str.isalnum, tmp_path.name.lower())))}


def at_once(shop: Shop, processes: int, threads: int, times: int) -> list[dict[str, Any]]:
    """Let them all count, and gather what each tells."""
    folder, more = shop
    words = [sys.executable, str(COUNTING), str(times), str(threads)]
    started = [
        subprocess.Popen(words, env=surroundings(folder, **more), stdout=subprocess.PIPE, stderr=subprocess.PIPE)
        for _ in range(processes)
    ]
    said = [each.communicate(timeout=500) for each in started]
    assert [each.returncode for each in started] == [0] * processes, said
    return [json.loads(out) for out, _ in said]


def counted(shop: Shop) -> list[int]:
    folder, more = shop
    return list(map(int, run("-c", READ, folder=folder, **more).stdout.split()))


def expect_every_number(shop: Shop, told: list[dict[str, Any]], numbers: int) -> None:
    """Look at all that must be true afterwards, and tell the longest wait."""
    folder, more = shop
    print(f"longest wait {max(each['longest'] for each in told):.2f} s")
    assert [each["refused"] for each in told] == [[]] * len(told)
    assert counted(shop) == [numbers, numbers]
    look = hingeline_json("ledger", "verify", folder=folder, **more)
    assert look["findings"] == []


@pytest.mark.fault("F10")
@pytest.mark.slow
@pytest.mark.parametrize("times", SAVES)
@pytest.mark.parametrize("mode", MODES)
def test_four_programs_at_once(mode: str, times: int, shop: Callable[[str], Shop]) -> None:
    """4 x 150 saves that read before they write: no refusal, the number exact, one chain without a fork."""
    made = shop(mode)
    expect_every_number(made, at_once(made, WRITERS, 1, times), WRITERS * times)


@pytest.mark.fault("F10")
@pytest.mark.slow
@pytest.mark.parametrize("times", OF_A_THREAD)
@pytest.mark.parametrize("mode", MODES)
def test_four_threads_of_one_program(mode: str, times: int, shop: Callable[[str], Shop]) -> None:
    """The same from the threads of one server: 4 x 40."""
    made = shop(mode)
    expect_every_number(made, at_once(made, 1, WRITERS, times), WRITERS * times)
