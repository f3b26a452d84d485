"""A disk that fills up: the pages say so before it hurts, files wait first, entries are kept to the last."""

from __future__ import annotations

import errno
import io
import os
import shutil
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import OperationalError
from PIL import Image

from hingeline_app.records.models import Attachment, Entry
from hingeline_app.settings import room_on_disk
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = [pytest.mark.django_db, pytest.mark.fault("F05")]
WARNING = b"The disk of the server is nearly full"
FILES_WAIT = b"other files are not taken"


def free(monkeypatch: pytest.MonkeyPatch, megabytes: int) -> None:
    """Let so much be free."""
    usage = shutil.disk_usage("/")._replace(free=megabytes * 1_000_000)
    monkeypatch.setattr("hingeline_app.settings.room_on_disk.shutil.disk_usage", lambda _folder: usage)


def photograph(fenholt: Fenholt, client: Any, **more: Any) -> Any:
    """Send a photograph of 400 kB to the job."""
    file = SimpleUploadedFile("place.jpg", b"\xff\xd8" + bytes(400_000), "image/jpeg")
    fields = {"kind": "photo", "step": "arrive", "command_key": "a photograph", "photograph": file}
    return client.post(f"/job/{fenholt.job}/entry", fields, **more)


def keep_a_detail(fenholt: Fenholt, client: Any, key: str) -> Any:
    fields = {
        "kind": "detail",
        "step": "arrive",
        "place": "arrive.remarks",
        "was": "",
        "value": "hail",
        "command_key": key,
    }
    return client.post(f"/job/{fenholt.job}/entry", fields)


@pytest.mark.parametrize(("megabytes", "warns", "waits"), [(1001, False, False), (999, True, False), (499, True, True)])
def test_pages_say_that_the_disk_is_nearly_full_before_it_is(
    fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch, megabytes: int, warns: bool, waits: bool
) -> None:
    """Below 1 GB every page of somebody who came in warns, with what is free; below 500 MB it says that files wait."""
    free(monkeypatch, megabytes)
    client = fenholt.client("jon")
    for page in ("/workshop/people", f"/job/{fenholt.job}/arrive"):
        shown = client.get(page).content
        assert (WARNING in shown) == warns, page
        assert (FILES_WAIT in shown) == waits, page
        assert (f"{megabytes}\u00a0MB".encode() in shown) == warns, page
    assert WARNING not in fenholt.client().get("/sign-in").content


def test_files_wait_and_entries_are_kept(fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch) -> None:
    """With 499 MB free a photograph is refused unread with 507, and nothing of it is there; an entry is kept."""
    client = fenholt.client("jon")
    free(monkeypatch, 499)
    refused = photograph(fenholt, client)
    assert refused.status_code == 507
    assert b"entries can still be kept" in refused.content
    before, entries = Attachment.objects.count(), Entry.objects.count()
    assert keep_a_detail(fenholt, client, "in spite of it").status_code == 302
    assert (Attachment.objects.count(), Entry.objects.count()) == (before, entries + 1)


def test_a_photograph_of_the_queue_does_not_hold_up_what_waits_behind_it(
    fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The tablet's queue stops at 507 and goes on past what is refused: it is told the second, in words."""
    client = fenholt.client("mara", on_tablet=True)
    free(monkeypatch, 499)
    answer = photograph(fenholt, client, headers={"X-Entry": "1"})
    assert answer.status_code == 413
    assert answer.json()["state"] == "refused"
    assert "Make room" in answer.json()["faults"][0]["says"]


def test_a_file_that_would_eat_into_the_reserve_waits(fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch) -> None:
    """500 MB free is the reserve, and 400 kB less is not: refused; with 501 MB it is looked at."""
    client = fenholt.client("jon")
    free(monkeypatch, 500)
    assert photograph(fenholt, client).status_code == 507
    free(monkeypatch, 501)
    assert photograph(fenholt, client).status_code != 507


def test_the_fullest_of_the_disks_counts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Records on one disk and journal on another: the one with less; a folder that is not made yet is left out."""
    real = shutil.disk_usage(tmp_path)
    there = {tmp_path: real._replace(free=7), tmp_path.parent: real._replace(free=3)}
    assert room_on_disk.least_free([tmp_path / "not made"]) == room_on_disk.WARN_BELOW
    monkeypatch.setattr("hingeline_app.settings.room_on_disk.shutil.disk_usage", there.__getitem__)
    assert room_on_disk.least_free([tmp_path, tmp_path.parent]) == 3


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EDQUOT, errno.EIO])
def test_a_photograph_that_finds_no_room_is_told_as_not_saved(
    fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    """Its bytes are written before the door opens; on a disk that was full it was told as a fault of the program."""
    client, kept = fenholt.client("jon"), Attachment.objects.count()

    def refuses(_number: int) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr("hingeline_app.records.attachments.os.fsync", refuses)
    answer = client.post(f"/job/{fenholt.job}/entry", a_real_photograph())
    assert answer.status_code == 507
    assert b"The disk of the server is full or does not write" in answer.content
    assert Attachment.objects.count() == kept
    assert not list(Path(settings.DATA_FOLDER).rglob("*.part"))
    monkeypatch.undo()
    assert client.post(f"/job/{fenholt.job}/entry", a_real_photograph()).status_code in (200, 302)
    assert Attachment.objects.count() == kept + 1


def a_real_photograph() -> dict[str, Any]:
    """Give the fields of a photograph that is one."""
    written = io.BytesIO()
    Image.new("RGB", (40, 30), "white").save(written, "PNG")
    file = SimpleUploadedFile("place.png", written.getvalue(), "image/png")
    return {"kind": "photo", "step": "arrive", "command_key": "one that is a picture", "photograph": file}


def test_a_session_that_finds_no_room_is_told_as_not_saved(fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch) -> None:
    """Sessions are saved after the page, beside the door."""

    def full(*_arguments: Any, **_options: Any) -> None:
        raise OperationalError("database or disk is full")

    client = fenholt.client("mara")
    client.raise_request_exception = False
    monkeypatch.setattr("hingeline_app.records.sessions.SessionStore.save", full)
    assert client.post("/own/passkey/options").status_code == 507
