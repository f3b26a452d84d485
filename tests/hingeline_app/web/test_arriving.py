"""A large recording that comes in pieces: cut off, gone on with, bounded, and gone when it is over."""

from __future__ import annotations

import os
import time
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from hingeline_app.evidence import arriving
from hingeline_app.records.canonical import digest_of
from hingeline_app.records.models import Job, ShakeRecording
from hingeline_app.serving.beside import clear_files_left_behind
from tests.doors.checkouts import ROOT
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = pytest.mark.django_db
DATA = (ROOT / "examples" / "motion" / "04-growing.csv").read_bytes()
KEY = "ab" * 16
ADDRESS = f"/recordings/arriving/{KEY}"
CUT = len(DATA) // 2


def begin(client: Client, size: int = len(DATA), key: str = KEY) -> Any:
    return client.post(f"/recordings/arriving/{key}", {"name": "growing.csv", "size": str(size)})


def piece(client: Client, data: bytes, offset: int) -> Any:
    content = "application/offset+octet-stream"
    return client.patch(ADDRESS, data, content_type=content, headers={"Upload-Offset": str(offset)})


def take_in(client: Client, fenholt: Fenholt, digest: str = "") -> Any:
    surface = Job.objects.get(number=fenholt.job).surface_id
    said = {"of": f"surface:{surface}", "arrived": KEY, "digest": digest, "whole": "yes"}
    return client.post("/recordings/new", said)


def left(folder: Path) -> list[str]:
    return sorted(each.name for each in (folder / arriving.FOLDER).rglob("*") if each.is_file())


def test_what_was_cut_off_goes_on_where_it_ended(fenholt: Fenholt, tmp_path: Path) -> None:
    """Half a file, then the same file chosen again: told how much is there, the rest follows; not a byte changed."""
    client = fenholt.client("jon")
    assert begin(client).status_code == 201
    assert piece(client, DATA[:CUT], 0)["Upload-Offset"] == str(CUT)
    again = begin(client)
    assert again.json() == {"there": CUT, "size": len(DATA)}
    assert client.head(ADDRESS)["Upload-Complete"] == "?0"
    assert piece(client, DATA[CUT:], CUT)["Upload-Complete"] == "?1"
    assert take_in(client, fenholt, digest_of(DATA)).status_code == 302
    kept = ShakeRecording.objects.get()
    assert (kept.attachment.digest, kept.attachment.name) == (digest_of(DATA), "growing.csv")
    assert left(tmp_path) == []


def test_what_is_half_here_is_named_where_it_goes_on(fenholt: Fenholt) -> None:
    """The page that takes recordings in names it, to its sender alone, until it is taken in."""
    client = fenholt.client("jon")
    assert b"Begun, and not all here" not in client.get("/recordings/new").content
    begin(client)
    piece(client, DATA[:CUT], 0)
    assert f"growing.csv: {100 * CUT // len(DATA)}\u00a0% has arrived".encode() in client.get("/recordings/new").content
    assert b"growing.csv" not in fenholt.client("mara").get("/recordings/new").content
    piece(client, DATA[CUT:], CUT)
    take_in(client, fenholt)
    assert b"growing.csv" not in client.get("/recordings/new").content


def test_a_file_that_is_not_all_there_is_not_taken_in(fenholt: Fenholt, tmp_path: Path) -> None:
    """Half of it: refused at the field, nothing kept, and the half stays to be gone on with."""
    client = fenholt.client("jon")
    begin(client)
    piece(client, DATA[:CUT], 0)
    answer = take_in(client, fenholt)
    assert answer.status_code == 422
    assert b"did not arrive whole" in answer.content
    assert not ShakeRecording.objects.exists()
    assert left(tmp_path) == [f"{KEY}.json", f"{KEY}.part"]


def test_one_changed_byte_on_the_way_is_refused(fenholt: Fenholt) -> None:
    """The digest that the device worked out is another than what arrived: nothing is kept."""
    client = fenholt.client("jon")
    begin(client)
    piece(client, b"x" + DATA[1:], 0)
    assert b"damaged on its way" in take_in(client, fenholt, digest_of(DATA)).content
    assert not ShakeRecording.objects.exists()


def test_a_piece_out_of_step_is_told_where_to_go_on(fenholt: Fenholt, tmp_path: Path) -> None:
    """Sent twice, or with a gap: 409 with the place where it goes on; what is there does not change."""
    client = fenholt.client("jon")
    begin(client)
    piece(client, DATA[:CUT], 0)
    for offset in (0, CUT - 1, CUT + 1):
        answer = piece(client, DATA[CUT:], offset)
        assert (answer.status_code, answer["Upload-Offset"]) == (409, str(CUT))
    (part,) = (tmp_path / arriving.FOLDER).rglob("*.part")
    assert part.read_bytes() == DATA[:CUT]


def test_it_is_bounded(fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing, too large, more than announced, a bad key, a disk nearly full, too many at once: refused in words."""
    client = fenholt.client("jon")
    for size in (0, 20_000_000_000):
        assert begin(client, size).status_code == 422
    assert begin(client, key="not-hexadecimal").status_code == 404
    begin(client, CUT)
    assert b"as announced" in piece(client, DATA, 0).content
    for number in range(arriving.MOST_UNFINISHED - 1):
        assert begin(client, key=f"{number:032x}").status_code == 201
    assert b"Finish one of them first" in begin(client, key="f" * 32).content
    monkeypatch.setattr(arriving, "LEFT_FREE", 10**18)
    full = begin(client, 100)
    assert full.status_code == 507
    assert "the records go on" in full.json()["why"]


def test_nobody_reaches_the_pieces_of_another_person(fenholt: Fenholt, tmp_path: Path) -> None:
    """The same key from somebody else is another file: nothing of it has arrived."""
    jon = fenholt.client("jon")
    begin(jon)
    piece(jon, DATA[:CUT], 0)
    (own,) = (tmp_path / arriving.FOLDER).iterdir()
    assert own.name == fenholt.mate.person.pk.hex  # type: ignore[union-attr]
    assert fenholt.client("mara").head(ADDRESS).status_code == 403
    assert arriving.arrived(tmp_path, "somebody-else", KEY) is None


def test_what_nobody_goes_on_with_is_taken_away(fenholt: Fenholt, tmp_path: Path) -> None:
    """After a day the hourly task removes it; what was touched today stays."""
    client = fenholt.client("jon")
    begin(client)
    piece(client, DATA[:CUT], 0)
    clear_files_left_behind()
    assert len(left(tmp_path)) == 2
    for path in (tmp_path / arriving.FOLDER).rglob("*.*"):
        os.utime(path, (0.0, time.time() - arriving.A_DAY - 60.0))
    clear_files_left_behind()
    assert left(tmp_path) == []
    assert client.head(ADDRESS).status_code == 404


def test_the_oldest_at_rest_makes_way(fenholt: Fenholt, tmp_path: Path) -> None:
    """With too many unfinished, one that nobody went on with for some minutes goes first."""
    client = fenholt.client("jon")
    for number in range(arriving.MOST_UNFINISHED):
        begin(client, key=f"{number:032x}")
    (oldest,) = (tmp_path / arriving.FOLDER).rglob(f"{1:032x}.part")
    os.utime(oldest, (0.0, time.time() - arriving.AT_REST - 60.0))
    assert begin(client, key="f" * 32).status_code == 201
    assert not oldest.exists()


def test_a_disk_that_takes_a_part_of_a_piece_leaves_no_hole(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A write may take less than it was given (POSIX, write): the rest follows, and what is told is what is there."""
    whole_write = os.write
    monkeypatch.setattr(arriving.os, "write", lambda file, data: whole_write(file, bytes(data)[:7]))
    part = arriving.add(arriving.expect(tmp_path, "jon", KEY, "growing.csv", 40), 0, [b"a" * 20, b"b" * 20])
    assert part.path.read_bytes() == b"a" * 20 + b"b" * 20
    assert (part.there, part.whole) == (40, True)
