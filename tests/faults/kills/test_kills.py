"""A program is killed while it saves, and a database server with all its processes: nothing acknowledged is lost."""

from __future__ import annotations

import json
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.faults.writers.test_four_writers import surroundings_of
from tests.hingeline_app.records.own_folder import hingeline_json, make_workshop, run, surroundings
from tests.private_postgresql import Server

KILLING = Path(__file__).with_name("killing.py")
MODES = ["delete EXTRA", "wal FULL", "postgresql"]

STORED = """
import json
from hingeline_app.records.opening import open_records
open_records()
from hingeline_app.records.models import Entry
print(json.dumps(dict(Entry.objects.filter(chain="records").values_list("position", "digest"))))
"""
SAVE_ONE = """
from hingeline_app.records.opening import open_records
open_records()
from hingeline_app.records.models import Workshop
from hingeline_app.records.write_door import Actor, write_door
with write_door(Actor(Workshop.objects.get()), "start after the kills"):
    pass
"""


def acknowledged(said: str) -> dict[int, str]:
    """Read the acknowledgements; the last line of a killed writer may be cut off, and counts only when whole."""
    lines = [line.split() for line in said.splitlines()]
    return {int(line[0]): line[1] for line in lines if len(line) == 2 and len(line[1]) == 64}


def expect_nothing_lost(kept: dict[int, str], folder: Path, more: dict[str, str]) -> None:
    """Every acknowledged entry is there, a save works again, and the records are whole, journal included."""
    run("-c", SAVE_ONE, folder=folder, **more)
    stored = {int(at): digest for at, digest in json.loads(run("-c", STORED, folder=folder, **more).stdout).items()}
    assert {at: digest for at, digest in kept.items() if stored.get(at) != digest} == {}
    assert hingeline_json("ledger", "verify", folder=folder, **more)["findings"] == []


def killed(mode: str, kills: int, tmp_path: Path, request: pytest.FixtureRequest) -> int:
    """Kill so many writers, and say how many saves had been acknowledged."""
    more = surroundings_of(mode, tmp_path, request)
    folder = make_workshop(tmp_path / "records", 6, **more)
    done = run(KILLING, str(kills), "1", folder=folder, timeout=1500, **more)
    kept = acknowledged(done.stdout)
    expect_nothing_lost(kept, folder, more)
    request.node.user_properties.append(
        ("figure", f"{mode}: {kills} writers killed, {len(kept)} saves acknowledged, 0 lost")
    )
    return len(kept)


@pytest.mark.fault("F01")
@pytest.mark.slow
@pytest.mark.parametrize("mode", MODES)
def test_no_acknowledged_save_is_lost_in_50_kills(mode: str, tmp_path: Path, request: pytest.FixtureRequest) -> None:
    assert killed(mode, 50, tmp_path, request) > 50


@pytest.mark.fault("F01")
@pytest.mark.campaign
@pytest.mark.parametrize("mode", MODES)
def test_no_acknowledged_save_is_lost_in_500_kills(mode: str, tmp_path: Path, request: pytest.FixtureRequest) -> None:
    assert killed(mode, 500, tmp_path, request) > 500


@pytest.mark.fault("F04")
@pytest.mark.slow
def test_a_server_killed_with_all_its_processes_loses_nothing(
    postgresql: Server, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    """10 times the whole server dies in the middle of saves and is started again."""
    more = surroundings_of("postgresql", tmp_path, request)
    folder = make_workshop(tmp_path / "records", 6, **more)
    draw, kept = random.Random(3), {}
    for number in range(10):
        kept |= saved_until_the_server_died(postgresql, draw, number, folder, more)
    assert len(kept) > 10
    expect_nothing_lost(kept, folder, more)


def saved_until_the_server_died(
    server: Server, draw: random.Random, number: int, folder: Path, more: dict[str, str]
) -> dict[int, str]:
    words = f"""
import os, sys
from hingeline_app.records.opening import open_records
open_records()
from tests.faults.kills.killing import save_for_ever
save_for_ever(1, {number * 1000})
"""
    with subprocess.Popen(
        [sys.executable, "-c", words],
        env=surroundings(folder, **more),
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    ) as writer:
        assert writer.stdout is not None
        first = writer.stdout.readline()
        time.sleep(draw.uniform(0.02, 0.3))
        server.kill()
        said = first + writer.stdout.read()
    server.start()
    return acknowledged(said)
