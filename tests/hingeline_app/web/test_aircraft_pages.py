"""Aircraft on the pages: surfaces, parts that move, paper with its photograph, and one aircraft out and in."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.attachments import attachment_path
from hingeline_app.records.models import Aircraft, Fitting, Job, Material, PaperRecord, Part, Stand, Surface
from hingeline_app.web.pages.records import carrying
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = pytest.mark.django_db
NEW = {"type_name": "Merle T2", "registration": "d-mere", "serial_number": "T2-12", "built_on": "2019-04-01"}


def home(fenholt: Fenholt) -> str:
    """Give the address of the aircraft that the workshop has."""
    return f"/workshop/aircraft/{Job.objects.get(number=fenholt.job).surface.aircraft_id}"


def test_an_aircraft_and_its_surface_are_entered_on_the_pages(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    assert client.post("/workshop/aircraft/add", NEW).status_code == 302
    aircraft = Aircraft.objects.get(registration="D-MERE")
    surface = {"name": "Rudder", "hinge_to_trailing_edge": "310,5 mm"}
    assert client.post(f"/workshop/aircraft/{aircraft.pk}/surface", surface).status_code == 302
    assert Surface.objects.get(aircraft=aircraft).hinge_to_trailing_edge == "310.5 mm"
    again = client.post("/workshop/aircraft/add", NEW)
    assert (again.status_code, b"a new aircraft" in again.content) == (422, True)


def test_a_surface_typed_wrong_is_corrected_from_its_row_and_one_of_another_aircraft_is_not(fenholt: Fenholt) -> None:
    client, address = fenholt.client("jon"), home(fenholt)
    client.post("/workshop/aircraft/add", NEW)
    other = Aircraft.objects.get(registration="D-MERE")
    client.post(f"/workshop/aircraft/{other.pk}/surface", {"name": "Ruder"})
    surface = Surface.objects.get(aircraft=other)
    form = client.get(f"/workshop/aircraft/{other.pk}?correct={surface.pk}").content.decode()
    assert all(words in form for words in ('value="Ruder"', "Correct a surface"))
    typed = {"corrected": surface.pk, "name": "Rudder", "hinge_to_trailing_edge": "310 mm", "reason": "mistyped"}
    assert client.post(f"{address}/correct-surface", typed).status_code == 404
    assert client.post(f"/workshop/aircraft/{other.pk}/correct-surface", typed | {"name": ""}).status_code == 422
    assert client.post(f"/workshop/aircraft/{other.pk}/correct-surface", typed).status_code == 302
    surface.refresh_from_db()
    assert (surface.name, surface.hinge_to_trailing_edge) == ("Rudder", "310 mm")


def test_a_part_moves_and_keeps_its_history(fenholt: Fenholt) -> None:
    client, address = fenholt.client("jon"), home(fenholt)
    client.post(f"{address}/part", {"part": "Weight arm", "serial_number": "A-17", "part_number": "T2-03"})
    part = Part.objects.get()
    assert client.post(f"{address}/fit", {"part": part.pk, "on": "2024-05-01"}).status_code == 302
    twice = client.post(f"{address}/fit", {"part": part.pk, "on": "2025-05-01"})
    assert twice.status_code == 422
    removed = {"part": part.pk, "on": "2025-05-01", "reason": "crack"}
    assert client.post(f"{address}/remove", removed).status_code == 302
    assert Fitting.objects.get().removed_because == "crack"
    assert b"crack" in client.get(address).content


def test_the_life_of_a_part_is_told_with_the_hours_flown_where_both_ends_were_read(fenholt: Fenholt) -> None:
    client, address = fenholt.client("jon"), home(fenholt)
    entered = {"part": "Weight arm", "serial_number": "A-17", "part_number": "T2-03"}
    client.post(f"{address}/part", entered)
    part = Part.objects.get()
    life = f"/workshop/part/{part.pk}"
    assert "It has not been fitted yet." in client.get(life).content.decode()
    client.post(f"{address}/fit", {"part": part.pk, "on": "2024-05-01", "at_hours": "900.5"})
    assert "still fitted" in client.get(life).content.decode()
    client.post(f"{address}/remove", {"part": part.pk, "on": "2025-05-01", "reason": "crack", "at_hours": "1000"})
    page = client.get(life).content.decode().replace("\u00a0", " ")
    assert all(words in page for words in ("D-EFHM", "at 900.5 h", "at 1000 h", "99.5 h", "crack")), page
    assert life in client.get(address).content.decode()


def test_paper_is_transcribed_with_photograph_original_date_and_signer(fenholt: Fenholt) -> None:
    client, address = fenholt.client("jon"), home(fenholt)
    picture = io.BytesIO()
    Image.new("RGB", (60, 40), "white").save(picture, "JPEG")
    picture.seek(0)
    picture.name = "log page.jpg"
    typed: dict[str, Any] = {
        "original_date": "2021-06-01", "original_signer": "K. Falk", "original_licence": "FH.66.9",
        "says": "Weighed after painting.", "moment": "1,40 N m", "photograph": picture,
    }  # fmt: skip
    assert client.post(f"{address}/transcribe", typed).status_code == 302
    paper = PaperRecord.objects.get()
    assert (paper.moment, paper.original_signer, paper.transcribed_by.name) == ("1.40 N m", "K. Falk", "Jon Ashby")
    assert client.get(f"/picture/{paper.photograph_id}")["Content-Type"] == "image/jpeg"
    page = client.get(address).content.decode().replace("\xa0", " ")
    assert "transcribed by Jon Ashby" in page
    assert "1.40 N m, tail-heavy" in page
    assert "no ± on the paper" in page


@pytest.mark.parametrize(
    ("bad", "words"),
    [
        ({"original_date": "2099-01-01"}, "between its building and today"),
        ({"moment": "12"}, "unit"),
        ({"says": ""}, "Nothing is entered: fill it in."),
    ],
)
def test_paper_that_cannot_be_is_refused(fenholt: Fenholt, bad: dict[str, str], words: str) -> None:
    typed = {"original_date": "2021-06-01", "original_signer": "K. Falk", "says": "Weighed."}
    answer = fenholt.client("jon").post(f"{home(fenholt)}/transcribe", typed | bad)
    assert answer.status_code == 422
    assert words in answer.content.decode()
    assert not PaperRecord.objects.exists()


def test_one_aircraft_goes_out_as_one_file_and_does_not_come_in_beside_itself(fenholt: Fenholt) -> None:
    client = fenholt.client("mara")
    answer = client.post(f"{home(fenholt)}/export")
    assert answer["Content-Disposition"] == 'attachment; filename="D-EFHM.zip"'
    data = b"".join(answer.streaming_content)  # type: ignore[attr-defined]
    assert zipfile.ZipFile(io.BytesIO(data)).testzip() is None
    file = io.BytesIO(data)
    file.name = "D-EFHM.zip"
    refused = client.post("/workshop/aircraft/import", {"file": file})
    assert (refused.status_code, b"It is here already" in refused.content) == (422, True)


def test_an_export_without_one_of_its_files_is_refused_in_words(fenholt: Fenholt) -> None:
    client, address = fenholt.client("mara"), home(fenholt)
    page = io.BytesIO()
    Image.new("RGB", (60, 40), "white").save(page, "JPEG")
    typed = {"original_date": "2021-06-01", "original_signer": "K. Falk", "says": "Weighed."}
    photograph = SimpleUploadedFile("log.jpg", page.getvalue(), "image/jpeg")
    fenholt.client("jon").post(f"{address}/transcribe", {**typed, "photograph": photograph})
    attachment_path(Path(settings.DATA_FOLDER), PaperRecord.objects.get().photograph.digest).unlink()
    answer = client.post(f"{address}/export", follow=True)
    assert (answer.status_code, "Take it from a backup first." in answer.content.decode()) == (200, True)


def test_an_export_that_the_rules_refuse_says_why(fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch) -> None:
    """The page asks for an administrator; a right that ends while it is asked is told, not a fault of the program."""

    def ended(*_asked: Any) -> None:
        raise NotAllowed("Your right ended.")

    monkeypatch.setattr(carrying, "export_aircraft", ended)
    answer = fenholt.client("mara").post(f"{home(fenholt)}/export", follow=True)
    assert (answer.status_code, "Your right ended." in answer.content.decode()) == (200, True)


def test_a_file_that_is_no_export_is_refused_in_words(fenholt: Fenholt) -> None:
    file = io.BytesIO(b"no archive")
    file.name = "a.zip"
    assert fenholt.client("mara").post("/workshop/aircraft/import", {"file": file}).status_code == 422


def test_a_stand_has_its_uncertainty_once_and_a_batch_its_certificate(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    stand = {"name": "Bench 1", "arm": "2 mm", "level": "0.5 deg", "name_1": "mandrel", "mass_1": "84 g"}
    assert client.post("/workshop/stands/stand", stand).status_code == 302
    assert Stand.objects.get().uncertainty == {"arm": {"limit": "2 mm"}, "level": {"limit": "0.5 deg"}}
    batch = {"name": "Filler", "batch": "B7", "release_certificate": "RC 12", "received_on": "2026-01-05"}
    assert client.post("/workshop/stands/material", batch).status_code == 302
    which = Material.objects.get().pk
    withdrawn = {"which": str(which), "reason": "recalled"}
    assert client.post("/workshop/stands/withdraw-material", withdrawn).status_code == 302
    assert b"recalled" in client.get("/workshop/stands").content
