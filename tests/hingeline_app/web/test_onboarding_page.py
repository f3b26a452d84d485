"""Tables on the page: looked at first, refused by cell, taken in whole."""

from __future__ import annotations

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from hingeline_app.records.models import Aircraft, Entry
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = pytest.mark.django_db
GOOD = "type,registration,serial number\nMerle T2,D-E11M,T2-11\nMerle T2,D-E12M,T2-12\n"
PAGE = "/onboarding"


def table(text: str) -> dict[str, SimpleUploadedFile]:
    """Give a table as a browser sends it."""
    return {"table": SimpleUploadedFile("aircraft.csv", text.encode())}


def test_a_table_is_looked_at_and_taken_in_only_then(fenholt: Fenholt) -> None:
    client, before = fenholt.client("mara"), Entry.objects.filter(chain="records").count()
    looked = client.post(PAGE, table(GOOD))
    assert looked.status_code == 200
    assert b"Preview: nothing is entered yet" in looked.content
    assert b"D-E12M" in looked.content
    assert Entry.objects.filter(chain="records").count() == before
    assert client.post(f"{PAGE}/take-in").status_code == 302
    assert {each.registration for each in Aircraft.objects.all()} == {"D-EFHM", "D-E11M", "D-E12M"}
    assert Entry.objects.filter(chain="records").count() == before + 1


def test_what_is_wrong_is_told_by_row_and_column_and_nothing_waits(fenholt: Fenholt) -> None:
    client = fenholt.client("mara")
    answer = client.post(PAGE, table(GOOD + "Merle T2,,T2-13\n"))
    assert answer.status_code == 422
    assert b"row 4" in answer.content
    assert b"registration" in answer.content
    client.post(f"{PAGE}/take-in")
    assert Aircraft.objects.get().registration == "D-EFHM", "the one that was there, and no other"


def test_another_session_takes_nothing_of_it_in(fenholt: Fenholt) -> None:
    """The table waits for the session that sent it, and for no other of the same person."""
    fenholt.client("mara").post(PAGE, table(GOOD))
    fenholt.client("mara").post(f"{PAGE}/take-in")
    assert Aircraft.objects.get().registration == "D-EFHM", "the one that was there, and no other"


def test_without_a_file_the_field_is_named(fenholt: Fenholt) -> None:
    answer = fenholt.client("mara").post(PAGE, {})
    assert answer.status_code == 422
    assert b"Table: CSV in UTF-8" in answer.content
