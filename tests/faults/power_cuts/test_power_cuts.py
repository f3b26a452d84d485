"""The power goes at a random moment: nothing that was acknowledged is lost. And the rig can see it when it is."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.faults.power_cuts.disk import CREATE, SYNC, UNLINK, WRITE, Disk, Event
from tests.faults.power_cuts.judge import Verdict
from tests.faults.power_cuts.rig import Run, acknowledged_by, compile_recorder, record
from tests.hingeline_app.records.own_folder import make_workshop

SAVES = 150
KEPT = {"write-ahead log": "wal FULL", "rollback journal": "delete EXTRA"}
WEAKER = {"write-ahead log": "wal NORMAL", "rollback journal": "delete FULL"}
Recorded = Callable[[str], Run]


@pytest.fixture(scope="module")
def recorded(tmp_path_factory: pytest.TempPathFactory) -> Recorded:
    """Give a recorded run for a mode; each is recorded once."""
    folder = tmp_path_factory.mktemp("power")
    recorder, filled = compile_recorder(folder), make_workshop(folder / "filled")
    runs: dict[str, Run] = {}

    def run(mode: str) -> Run:
        if mode not in runs:
            runs[mode] = record(filled, mode, SAVES, recorder, folder / mode.replace(" ", "-"))
        return runs[mode]

    return run


def all_of(verdicts: list[Verdict]) -> dict[str, int]:
    return {
        "lost": sum(each.lost for each in verdicts),
        "lost in journal": sum(each.lost_in_journal for each in verdicts),
        "broken": sum(bool(each.broken) for each in verdicts),
        "half written": sum(each.half_written for each in verdicts),
        "journal ahead": sum(each.journal_ahead for each in verdicts),
    }


NOTHING = {"lost": 0, "lost in journal": 0, "broken": 0, "half written": 0, "journal ahead": 0}


@pytest.mark.fault("F02")
@pytest.mark.slow
@pytest.mark.parametrize("mode", KEPT.values(), ids=KEPT)
def test_no_acknowledged_save_is_lost(mode: str, recorded: Recorded, tmp_path: Path) -> None:
    """200 cuts: nothing lost in either place, nothing broken, nothing half written, the journal never ahead."""
    verdicts = list(recorded(mode).cut(200, tmp_path / "cut"))
    assert len(verdicts) == 200
    assert max(each.acknowledged for each in verdicts) > SAVES // 2
    assert all_of(verdicts) == NOTHING


@pytest.mark.fault("F02")
@pytest.mark.campaign
@pytest.mark.parametrize("mode", KEPT.values(), ids=KEPT)
def test_no_acknowledged_save_is_lost_in_2000_cuts(
    mode: str, recorded: Recorded, tmp_path: Path, record_property: Callable[[str, object], None]
) -> None:
    verdicts = list(recorded(mode).cut(2000, tmp_path / "cut", seed=2))
    assert all_of(verdicts) == NOTHING
    record_property("figure", f"{mode}: {len(verdicts)} power cuts, 0 acknowledged saves lost")


@pytest.mark.fault("F02")
@pytest.mark.slow
@pytest.mark.parametrize("mode", WEAKER.values(), ids=WEAKER)
def test_the_rig_sees_a_weaker_setting_lose(mode: str, recorded: Recorded, tmp_path: Path) -> None:
    """With the next weaker setting the database loses acknowledged saves; the journal still has every one."""
    found = all_of(list(recorded(mode).cut(200, tmp_path / "cut")))
    assert found["lost"] > 0
    assert found["lost in journal"] == 0


@pytest.mark.fault("F03")
@pytest.mark.slow
@pytest.mark.parametrize("mode", KEPT.values(), ids=KEPT)
def test_the_rig_sees_a_disk_that_lies(mode: str, recorded: Recorded, tmp_path: Path) -> None:
    """A disk that says "written" and is not loses saves in both places: no setting mends that."""
    found = all_of(list(recorded(mode).cut(200, tmp_path / "cut", lies=lambda _: True)))
    assert found["lost"] > 0
    assert found["lost in journal"] > 0


@pytest.mark.fault("F03")
@pytest.mark.slow
@pytest.mark.parametrize("mode", KEPT.values(), ids=KEPT)
def test_a_journal_on_an_honest_disk_has_what_a_lying_one_lost(mode: str, recorded: Recorded, tmp_path: Path) -> None:
    """The database's disk lies, the journal's does not: every acknowledged save stands in the journal."""
    verdicts = list(recorded(mode).cut(200, tmp_path / "cut", lies=lambda path: not path.startswith("journal")))
    assert all_of(verdicts)["lost"] > 0
    assert all_of(verdicts)["lost in journal"] == 0


# ------------------------------------------------------------------ the rig itself


def test_unsynced_sectors_may_be_missing_and_synced_ones_are_there(tmp_path: Path) -> None:
    """Of a write after the last sync some cut keeps none and some keeps all; of one before it every cut keeps all."""
    disk = Disk(tmp_path)
    for event in (
        Event(CREATE, "file", 0, 0, b""),
        Event(WRITE, "file", 0, 512, b"a" * 512),
        Event(SYNC, "file", 0, 0, b""),
        Event(WRITE, "file", 512, 1024, b"b" * 1024),
    ):
        disk.follow(event)
    cuts = {disk.cut(random.Random(seed))["file"] for seed in range(60)}
    assert all(content.startswith(b"a" * 512) for content in cuts)
    assert {b"a" * 512, b"a" * 512 + b"b" * 1024, b"a" * 512 + bytes(512) + b"b" * 512} <= cuts


@pytest.mark.parametrize(("synced", "may_come_back"), [(False, True), (True, False)])
def test_a_removed_file_may_come_back_until_its_folder_is_synced(
    synced: bool, may_come_back: bool, tmp_path: Path
) -> None:
    (tmp_path / "file").write_bytes(b"x")
    disk = Disk(tmp_path)
    disk.follow(Event(UNLINK, "file", 0, 0, b""))
    if synced:
        disk.follow(Event(SYNC, ".", 0, 0, b""))
    assert any("file" in disk.cut(random.Random(seed)) for seed in range(20)) == may_come_back


def test_an_acknowledgement_is_read_out_of_the_trace() -> None:
    assert acknowledged_by(Event(WRITE, "acknowledged", 0, 5, b"7 ab\n")) == {7: "ab"}
    assert acknowledged_by(Event(WRITE, "records.sqlite3", 0, 5, b"7 ab\n")) == {}
