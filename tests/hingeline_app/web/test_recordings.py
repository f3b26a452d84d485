"""Recordings on the pages: taken in, read, kept beside the file, worked out again; the numbers of the command line."""

from __future__ import annotations

import io
import json
import wave
from contextlib import redirect_stdout
from math import sin
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile, TemporaryUploadedFile
from django.test import Client

from hingeline_app.cli.main import main
from hingeline_app.evidence import runs
from hingeline_app.evidence.answer import read_tracks
from hingeline_app.records.actions.jobs import open_job
from hingeline_app.records.attachments import attachment_path
from hingeline_app.records.canonical import canonical, digest_of
from hingeline_app.records.models import Attachment, Entry, Job, ShakeFinding, ShakeRecording
from tests.doors.checkouts import ROOT
from tests.hingeline_app.cli.test_motion_video import SCENE, marks_file
from tests.hingeline_app.recordings.rendered import rendered
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.followed_videos import placed, wait_for

pytestmark = pytest.mark.django_db
EXAMPLES = ROOT / "examples" / "motion"
GROWING = (EXAMPLES / "04-growing.csv").read_bytes()
READ = {"time": "file"}


@pytest.fixture
def surface(fenholt: Fenholt) -> UUID:
    return Job.objects.get(number=fenholt.job).surface_id


def sent(data: bytes, name: str, of: str, **more: str) -> dict[str, Any]:
    return {"of": of, "file": SimpleUploadedFile(name, data), "whole": "yes", **more}


def taken(client: Client, data: bytes, name: str, of: str, **more: str) -> ShakeRecording:
    answer = client.post("/recordings/new", sent(data, name, of, **more))
    assert answer.status_code == 302, answer.content.decode()[-3000:]
    return ShakeRecording.objects.order_by("number").last()  # type: ignore[return-value]


def by_command(*words: str) -> dict[str, Any]:
    """Give the document that the command line gives."""
    with redirect_stdout(io.StringIO()) as said:
        assert main(["motion", *words, "--json"]) == 0
    document: dict[str, Any] = json.loads(said.getvalue())
    document.pop("about")
    return document


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.csv")), ids=lambda path: path.stem)
def test_the_page_keeps_what_the_command_line_says_of_the_same_table(
    fenholt: Fenholt, surface: UUID, path: Path
) -> None:
    """Every example: the kept document is the command's, to the last digit; its number stands on the page."""
    client = fenholt.client("jon")
    row = taken(client, path.read_bytes(), path.name, f"surface:{surface}")
    assert client.post(f"/recordings/{row.number}/judge", READ).status_code == 302
    finding, wanted = row.findings.get(), by_command(str(path))
    assert json.loads(finding.document) == json.loads(canonical(wanted))
    page = client.get(f"/recordings/{row.number}").content.decode()
    assert f"<strong>{wanted['statement'].capitalize()}</strong>" in page
    assert page.count('aria-current="true"') == 1
    assert f"surface={surface}" in page.partition("Start an inspection job")[0].rpartition("<a ")[2]


def test_what_a_recording_is_of_is_chosen_by_a_person(fenholt: Fenholt, surface: UUID) -> None:
    """The newest open job stood chosen: whoever passed it over filed the recording with another surface."""
    client = fenholt.client("jon")
    page = client.get("/recordings/new").content.decode()
    asked = page.partition('name="of"')[2].partition("</select>")[0]
    assert asked.index('value="" selected') < asked.index("job:")
    assert "required" in asked.partition(">")[0]
    answer = client.post("/recordings/new", sent(GROWING, "growing.csv", ""))
    assert answer.status_code == 422
    assert not ShakeRecording.objects.exists()
    named = client.get(f"/recordings/new?of=surface:{surface}").content.decode()
    assert f'value="surface:{surface}" selected' in named


def test_a_sound_is_asked_for_no_rate_and_an_older_page_s_rate_is_refused(fenholt: Fenholt, surface: UUID) -> None:
    """Its rate stands in the file: "Taken per second" was refused after it had been asked for."""
    client, out = fenholt.client("jon"), io.BytesIO()
    with wave.open(out, "wb") as sound:
        sound.setnchannels(1)
        sound.setsampwidth(2)
        sound.setframerate(2000)
        sound.writeframes(b"".join(int(8000 * sin(0.1 * at)).to_bytes(2, "little", signed=True) for at in range(8000)))
    row = taken(client, out.getvalue(), "hum.wav", f"surface:{surface}")
    page = client.get(f"/recordings/{row.number}").content.decode()
    assert 'name="captured_at"' not in page
    assert page.count('type="radio" name="time"') == 2
    sent = {**READ, "time": "given", "captured_at": "240"}
    assert client.post(f"/recordings/{row.number}/judge", sent).status_code == 422
    assert client.post(f"/recordings/{row.number}/judge", {**READ, "time": "unknown"}).status_code == 302
    assert row.findings.count() == 1


@pytest.mark.slow
def test_a_video_is_followed_beside_the_pages_and_gives_the_numbers_of_the_command_line(
    fenholt: Fenholt, surface: UUID, tmp_path: Path
) -> None:
    """Upload, marks, following, keeping: the document of ``motion FILE --marks``; worked out again it is the same."""
    client, path = fenholt.client("jon"), rendered(tmp_path / "swing.mp4", SCENE)
    row = taken(client, path.read_bytes(), "swing.mp4", f"surface:{surface}")
    assert (row.kind, row.attachment.width, row.attachment.height) == ("video", 480, 272)
    picture = client.get(f"/recordings/{row.number}/first.jpg")
    assert picture.content.startswith(b"\xff\xd8\xff")
    answer = client.post(f"/recordings/{row.number}/marks", {**READ, **placed(), "time": "given", "captured_at": "60"})
    assert answer.status_code == 302, answer.content.decode()[-3000:]
    wait_for(client, row.number, "done")
    assert client.post(f"/recordings/{row.number}/keep").status_code == 302
    marks = tmp_path / "kept.toml"
    marks.write_bytes(client.get(f"/recordings/{row.number}/marks.toml").content)
    wanted = by_command(str(path), "--marks", str(marks), "--captured-at", "60")
    assert json.loads(row.findings.get().document) == json.loads(canonical(wanted))
    page = client.get(f"/recordings/{row.number}").content.decode()
    assert "Marks followed" in page
    assert b"Same to the last digit" in client.post(f"/recordings/{row.number}/again").content
    replayed_as_filmed(client, row)
    # Pressed again, or followed again: nothing is kept twice.
    client.post(f"/recordings/{row.number}/keep")
    assert row.findings.count() == 1


def replayed_as_filmed(client: Client, row: ShakeRecording) -> None:
    """The replay's sheet holds the pictures that the page names: in each, every followed mark lies on a dark dot."""
    import cv2
    import numpy as np

    page = client.get(f"/recordings/{row.number}/replay")
    content = page.content.decode()
    assert "Video, with the marks followed" in content
    assert "Teaching model. Not your aircraft." in content
    assert content.count("animateTransform") >= 9
    jpeg = client.get(f"/recordings/{row.number}/film.jpg")
    assert jpeg["Content-Type"] == "image/jpeg"
    sheet = cv2.imdecode(np.frombuffer(jpeg.content, np.uint8), cv2.IMREAD_GRAYSCALE)
    tracks = read_tracks(attachment_path(Path(settings.DATA_FOLDER), row.findings.get().tracks.digest).read_bytes())
    replay = page.context["replay"]
    rows = -(-len(replay.steps) // 8)
    assert sheet.shape == (272 * rows, 480 * 8)
    for index, step in enumerate(replay.steps):
        for track in tracks.tracks:
            x, y = track.x[step], track.y[step]
            assert x is not None
            assert y is not None
            across, down = 480 * (index % 8) + round(x), 272 * (index // 8) + round(y)
            assert sheet[down, across] + 60 < sheet[down - 20 : down + 20, across - 20 : across + 20].max(), (
                step,
                track,
            )


@pytest.mark.slow
def test_a_marks_file_takes_the_place_of_what_was_placed(fenholt: Fenholt, surface: UUID, tmp_path: Path) -> None:
    client, path = fenholt.client("jon"), rendered(tmp_path / "swing.mp4", SCENE)
    row = taken(client, path.read_bytes(), "swing.mp4", f"surface:{surface}")
    text = marks_file(tmp_path).read_bytes()
    fields = {**READ, "nose": "right", "camera": "held", "marks_file": SimpleUploadedFile("marks.toml", text)}
    assert client.post(f"/recordings/{row.number}/marks", fields).status_code == 302
    run = runs.look(tmp_path, str(row.pk))
    assert run is not None
    assert run.asked.marks == text.decode()
    wait_for(client, row.number, "done")


@pytest.mark.slow
def test_marks_that_cannot_be_followed_are_refused_at_their_place(
    fenholt: Fenholt, surface: UUID, tmp_path: Path
) -> None:
    """A dot without a place, no mark on the section, a rate that is none: each at its field; nothing starts."""
    client, path = fenholt.client("jon"), rendered(tmp_path / "swing.mp4", SCENE)
    row = taken(client, path.read_bytes(), "swing.mp4", f"surface:{surface}")
    bad = {
        "nose": "left",
        "camera": "held",
        "kind_1": "dot",
        "on_1": "background",
        "time": "given",
        "captured_at": "fast",
    }
    page = client.post(f"/recordings/{row.number}/marks", bad)
    assert page.status_code == 422
    assert b"1 to 100000" in page.content
    page = client.post(f"/recordings/{row.number}/marks", {**bad, "captured_at": "240"})
    assert b"mark[0].at" in page.content
    assert b"none on the section" in page.content
    assert runs.look(tmp_path, str(row.pk)) is None
    # A mark where there is none: followed, and refused in words under the file's own name.
    astray = {**READ, **placed(), "x_1": "400", "y_1": "30"}
    assert client.post(f"/recordings/{row.number}/marks", astray).status_code == 302
    wait_for(client, row.number, "refused")
    page = client.get(f"/recordings/{row.number}").content.decode()
    assert "swing.mp4" in page
    assert "mark forward: " in page
    assert row.attachment.digest not in page


@pytest.mark.parametrize(
    ("data", "name", "words"),
    [
        (b"", "empty.csv", "has 0 bytes, and nothing was read"),
        (b"%PDF-1.7 \x00\x01", "sheet.pdf", "a video, a sound or a table"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "picture.png", "a video, a sound or a table"),
        (b"\x00\x00\x00\x18ftypmp42" + bytes(400), "broken.mp4", "broken.mp4"),
    ],
)
def test_what_is_no_recording_is_refused_in_words_and_not_kept(
    fenholt: Fenholt, surface: UUID, data: bytes, name: str, words: str
) -> None:
    """Empty, another kind, a video that is none: refused at the field of the file under its own name."""
    answer = fenholt.client("jon").post("/recordings/new", sent(data, name, f"surface:{surface}"))
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not ShakeRecording.objects.exists()


@pytest.mark.fault("F21")
def test_a_cut_off_upload_and_a_damaged_one_are_refused(fenholt: Fenholt, surface: UUID) -> None:
    """Without the form's last field it did not arrive whole; with another digest it changed on its way."""
    client, fields = fenholt.client("jon"), sent(GROWING, "a.csv", f"surface:{surface}")
    fields.pop("whole")
    assert b"did not arrive whole" in client.post("/recordings/new", fields).content
    wrong = client.post(
        "/recordings/new", sent(GROWING[:-40], "a.csv", f"surface:{surface}", digest=digest_of(GROWING))
    )
    assert b"damaged on its way" in wrong.content
    assert not ShakeRecording.objects.exists()
    taken(client, GROWING, "a.csv", f"surface:{surface}", digest=digest_of(GROWING))


@pytest.mark.fault("F20")
def test_what_is_too_large_for_its_kind_is_refused(
    fenholt: Fenholt, surface: UUID, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(__import__("hingeline_app.evidence.kinds", fromlist=["LARGEST"]).LARGEST, "table", 1000)
    answer = fenholt.client("jon").post("/recordings/new", sent(GROWING, "a.csv", f"surface:{surface}"))
    assert answer.status_code == 422
    assert b"Cut out the part that matters" in answer.content


def test_a_large_file_is_streamed(fenholt: Fenholt, surface: UUID, settings: Any, monkeypatch: Any) -> None:
    """A file over the limit of memory comes through the disk: its content is never read as one piece."""
    settings.FILE_UPLOAD_MAX_MEMORY_SIZE = 1000

    def whole(self: object, *_size: int) -> bytes:
        raise AssertionError("the file was read whole")

    monkeypatch.setattr(TemporaryUploadedFile, "read", whole)
    assert taken(fenholt.client("jon"), GROWING, "a.csv", f"surface:{surface}").attachment.digest == digest_of(GROWING)


def test_of_a_job_it_is_one_more_change_of_that_job(fenholt: Fenholt, surface: UUID) -> None:
    """A recording of a job stands in its attachments, and counts: what was signed before no longer covers it."""
    job = open_job(fenholt.mate, surface, "vibration reported")
    row = taken(fenholt.client("jon"), GROWING, "a.csv", f"job:{job.pk}")
    assert Job.objects.get(pk=job.pk).changes == job.changes + 1
    assert (row.job, row.surface_id) == (job, surface)
    assert Attachment.objects.get(job=job).kind == "recording"


def test_unknown_columns_are_asked_for_and_unknown_time_gives_no_frequency(fenholt: Fenholt, surface: UUID) -> None:
    """A header of another program: refused with what is expected, then mapped; with unknown time no hertz are said."""
    client = fenholt.client("jon")
    header, _, rest = GROWING.decode().partition("\n")[2].partition("\n")
    names = header.split(",")
    strange = ",".join(f"col {index}" for index in range(len(names))) + "\n" + rest
    row = taken(client, strange.encode(), "strange.csv", f"surface:{surface}")
    refused = client.post(f"/recordings/{row.number}/judge", READ)
    assert refused.status_code == 422
    assert b"a column time_s" in refused.content
    pitch = next(index for index, name in enumerate(names) if name.startswith("pitch"))
    mapped = {"time": "unknown", "column_time_s": "col 0", "column_pitch_deg": f"col {pitch}"}
    assert client.post(f"/recordings/{row.number}/judge", mapped).status_code == 302
    document = json.loads(row.findings.get().document)
    assert document["frequency"] is None
    assert document["frequency_per_file_second"] > 0.0
    assert "true time unknown" in client.get(f"/recordings/{row.number}").content.decode()
    # The next table of that program: its columns are named as the last time, one press is enough.
    page = client.get(f"/recordings/{taken(client, strange.encode(), 'b.csv', f'surface:{surface}').number}")
    assert page.content.decode().count("selected") >= 2
    assert page.context["form"].initial == {"column_time_s": "col 0", "column_pitch_deg": f"col {pitch}"}


def test_a_second_finding_stands_beside_the_first(fenholt: Fenholt, surface: UUID) -> None:
    """Read another way it is a finding of its own; the first stays to be looked at, and stands in the ledger."""
    client = fenholt.client("jon")
    row = taken(client, GROWING, "a.csv", f"surface:{surface}")
    client.post(f"/recordings/{row.number}/judge", READ)
    first = row.findings.get()
    client.post(f"/recordings/{row.number}/judge", {"time": "unknown"})
    assert [each.number for each in row.findings.order_by("number")] == [1, 2]
    assert ShakeFinding.objects.get(pk=first.pk).digest == first.digest
    assert "true time known" in client.get(f"/recordings/{row.number}?finding=1").content.decode()
    assert Entry.objects.filter(kind="recording judged").count() == 2


def test_an_altered_result_is_seen_when_it_is_worked_out_again(fenholt: Fenholt, surface: UUID) -> None:
    """A kept number that is not what the file gives: the page says which field differs, and both values."""
    client = fenholt.client("jon")
    row = taken(client, GROWING, "a.csv", f"surface:{surface}")
    client.post(f"/recordings/{row.number}/judge", READ)
    altered = json.loads(row.findings.get().document)
    altered["cycles"] += 1.0
    ShakeFinding.objects.update(document=canonical(altered).decode())
    page = client.post(f"/recordings/{row.number}/again").content.decode()
    assert "It differs" in page
    assert "cycles" in page


@pytest.mark.slow
def test_the_pages_ask_the_database_a_fixed_number_of_times(
    fenholt: Fenholt, surface: UUID, django_assert_num_queries: Any
) -> None:
    """The list and a recording cost the same with one row and with many."""
    client = fenholt.client("jon")
    for name in ("a.csv", "b.csv", "c.csv"):
        row = taken(client, GROWING, name, f"surface:{surface}")
        client.post(f"/recordings/{row.number}/judge", READ)
    client.get("/recordings")
    with django_assert_num_queries(QUERIES["list"]):
        client.get("/recordings")
    with django_assert_num_queries(QUERIES["one"]):
        client.get("/recordings/1")


QUERIES = {"list": 6, "one": 6}


def test_a_table_is_replayed_by_its_section_and_a_model_out_of_range_is_refused(
    fenholt: Fenholt, surface: UUID
) -> None:
    """No film, a section step by step, slowed as said; a model asked for what it cannot be is told in words."""
    client = fenholt.client("jon")
    row = taken(client, GROWING, "a.csv", f"surface:{surface}")
    assert client.get(f"/recordings/{row.number}/replay").status_code == 404
    client.post(f"/recordings/{row.number}/judge", READ)
    page = client.get(f"/recordings/{row.number}/replay")
    content, replay = page.content.decode(), page.context["replay"]
    assert "Section, as recorded" in content
    assert "Film, with" not in content
    frequency = json.loads(row.findings.get().document)["frequency"]["value"]
    assert replay.slowed == pytest.approx(2.4 * frequency)
    assert 2.5 <= (replay.stop - replay.start) * frequency <= 3.0
    assert client.get(f"/recordings/{row.number}/film.jpg").status_code == 404
    refused = client.get(f"/recordings/{row.number}/replay?surface=bench&speed=9000").content.decode()
    assert "9000" in refused
    assert "Section, as recorded" in refused


@pytest.mark.slow
def test_a_tap_gives_the_lines_that_the_command_line_gives(fenholt: Fenholt, surface: UUID) -> None:
    """Modes with intervals; the lines for a flutter file equal the command's, their source the recording's digest."""
    client, path = fenholt.client("jon"), EXAMPLES / "06-tap-on-the-ground.csv"
    row = taken(client, path.read_bytes(), path.name, f"surface:{surface}")
    assert "Modes of a free decay" in client.get(f"/recordings/{row.number}/tap").content.decode()
    into = "into=tailplane.support_frequency"
    with redirect_stdout(io.StringIO()) as said:
        assert main(["motion", "tap", str(path), "--into", "tailplane.support_frequency"]) == 0
    lines = client.get(f"/recordings/{row.number}/tap.toml?{into}")
    assert lines.content.decode() == said.getvalue()
    assert row.attachment.digest in said.getvalue()
    client.post(f"/recordings/{row.number}/judge", READ)
    assert lines.content == client.get(f"/recordings/{row.number}/tap.toml?{into}").content
    refused = client.get(f"/recordings/{row.number}/tap?into=frequency")
    assert refused.status_code == 422
    assert "a table and a name" in refused.content.decode()


def test_what_is_no_tap_gives_no_modes_and_says_why(fenholt: Fenholt, surface: UUID) -> None:
    client = fenholt.client("jon")
    row = taken(client, GROWING, "a.csv", f"surface:{surface}")
    page = client.get(f"/recordings/{row.number}/tap").content.decode()
    assert "No modes are given." in page
    assert client.get("/recordings/marks.pdf").content.startswith(b"%PDF-")
    assert "3000 mm" in client.get("/recordings/marks.pdf?side=3+m", follow=True).content.decode()


def test_a_sensor_recording_is_told_as_one(fenholt: Fenholt, surface: UUID) -> None:
    """What the device's own sensor measured comes in as a table of its own kind; the page says what it cannot tell."""
    client = fenholt.client("jon")
    assert b"changes its balance" in client.get("/recordings/sensors").content
    answer = client.post("/recordings/sensors", sent(GROWING, "sensor.csv", f"surface:{surface}"))
    assert answer.status_code == 302
    assert ShakeRecording.objects.get().kind == "sensor"
