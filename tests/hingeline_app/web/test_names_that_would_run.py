"""Names that would be code somewhere are words everywhere: on pages, in drawings, in prints, in files of a job."""

from __future__ import annotations

import io
import re
import tomllib
import zipfile
from typing import Any

import pypdf
import pytest
from django.urls import reverse
from pypdf.generic import DictionaryObject, IndirectObject, NameObject, TextStringObject

from hingeline import due
from hingeline_app.records.actions.aircraft import add_aircraft, add_surface
from hingeline_app.records.actions.jobs import open_job, open_order
from hingeline_app.records.actions.measuring import add_reading, open_measurement
from hingeline_app.records.actions.people import add_person
from hingeline_app.records.actions.signing_off import DoneAs, sign_off
from hingeline_app.records.actions.tasks import Line, add_tasks
from hingeline_app.records.dates import today
from hingeline_app.records.models import Measurement
from tests.hingeline_app.files.test_due_calendar import entries
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.test_as_an_attacker import PATTERNS

pytestmark = pytest.mark.django_db
TOML = "application/toml; charset=utf-8"

# For a browser, for a drawing, for the typesetter, for a table program, for a template, for a terminal's markup.
RUNS = "\"><script>alert(1)</script></text><image href='x' onerror='y'/>#panic(1)=cmd()|{{ 7 }}[red]&lt;$x$"
# Pages that show models and sums, which no name of the records is in.
NAMELESS = ("/why-balance", "/coating", "/swing", "/look.css", "/demo", "/trust")
STEPS = ("arrive", "limits", "weigh", "correct", "arm", "refit", "second-inspection", "release")


@pytest.fixture
def named(fenholt: Fenholt) -> Any:
    """An aircraft, its owner, a surface and a job, each by such a name; the job has begun to be weighed."""
    owner = add_person(fenholt.administrator, RUNS, "<b>")
    aircraft = add_aircraft(fenholt.mate, "<b>Merle", "<b>D-E=X", '"<b>#1', owner=owner.pk)
    surface = add_surface(fenholt.mate, aircraft.pk, RUNS, serial_number="=<b>2")
    order = open_order(fenholt.mate, aircraft.pk, RUNS)
    job = open_job(fenholt.mate, surface.pk, RUNS, work_order=order.pk, details={"arrive": {"remarks": RUNS}})
    open_measurement(fenholt.mate, job.pk, "weighing", set_up={"support": [{"arm": "255 mm", "side": "aft"}]})
    return job


def weigh_through(fenholt: Fenholt, job: Any) -> None:
    """Enter two readings of the weighing that was begun."""
    weighing = Measurement.objects.get(job=job)
    for reading in ("2.100 kg", "2.105 kg"):
        add_reading(fenholt.mate, weighing.pk, reading)


@pytest.mark.slow
def test_a_name_that_would_run_is_a_word_on_every_page(fenholt: Fenholt, named: Any) -> None:
    """No page with an element of it, whoever looks; and the name itself stands on most."""
    shown = 0
    every = [reverse(str(each.name)) for each in PATTERNS if not each.pattern.converters]
    every = [each for each in every if not each.startswith(NAMELESS)]
    for who, plain in (("jon", every), ("mara", ["/workshop/people", "/workshop/aircraft", "/ledger"])):
        client = fenholt.client(who)
        own = [f"/job/{named.number}/{step}" for step in STEPS] + [f"/order/{named.work_order.number}"]
        own += [f"/workshop/aircraft/{named.surface.aircraft_id}", f"/records/surface/{named.surface_id}"]
        for address in (*plain, *(own if who == "jon" else ())):
            answer = client.get(address)
            if not answer.streaming and "html" in answer.get("Content-Type", ""):
                page = answer.content.decode()
                assert not re.search(r"<script>alert|<image href='x'|onerror='y'/>#|<b>(Merle|D-E=X|#1)", page), address
                shown += "&lt;script&gt;alert(1)" in page
    assert shown > 12


# What may be fetched of a job, an order, a workshop; each is a file, and each is tried.
OF_A_JOB = ("worksheet", "blank", "owner", "balance-line", "release-wording", "incomplete")
TRIED = (
    *(f"job-{each}" for each in ("worksheet", "blank", "owner-sheet", "balance-line", "release-wording", "incomplete")),
    *("order-worksheet", "order-incomplete", "labels-sheet", "job-weighing-file", "job-correction-file"),
    *("fleet-due-file", "fleet-calendar-file", "fleet-feed"),
)
# They hold numbers and words of the program; no name of the records is in them.
HOLD_NO_NAME = (
    *("why-balance-file", "why-balance-side", "why-balance-sheet", "study-file", "recordings-marks-sheet"),
    *("recording-tap-lines", "recording-marks-file", "job-arm-file"),
)
ARE_NO_FILES = {"look", "worker", "trust-certificate", "recording-film", "recording-picture"}


def test_no_file_of_the_pages_is_left_out() -> None:
    """Each address that ends as a file does is tried below, or named as one without a name of the records in it."""
    files = {str(each.name) for each in PATTERNS if re.search(r"\.[a-z]{3,4}$", str(each.pattern))}
    assert files - ARE_NO_FILES == {*TRIED, *HOLD_NO_NAME}


RUN_BY_A_READER = {"/JavaScript", "/JS", "/Launch", "/OpenAction", "/AA", "/SubmitForm"}


def keys_of(reader: pypdf.PdfReader) -> set[str]:
    """Give every key and name of every object of a PDF, those in compressed objects too; no bytes of a picture."""
    found, left, seen = set[str](), [reader.trailer.get_object()], set[tuple[int, int]]()
    while left:
        value = left.pop()
        if isinstance(value, IndirectObject):
            if (value.idnum, value.generation) not in seen:
                seen.add((value.idnum, value.generation))
                left.append(value.get_object())
        elif isinstance(value, dict):
            found |= set(map(str, value))
            left += [value.raw_get(each) for each in value]
        elif isinstance(value, list):
            left += value
        elif isinstance(value, NameObject):
            found.add(str(value))
    return found


def test_what_a_reader_would_run_is_found_wherever_it_stands() -> None:
    """A script of an opened document, two objects deep."""
    writer = pypdf.PdfWriter()
    writer.add_blank_page(72, 72)
    harmless, kept = io.BytesIO(), io.BytesIO()
    writer.write(harmless)
    script = DictionaryObject({NameObject("/S"): NameObject("/JavaScript"), NameObject("/JS"): TextStringObject("1")})
    opened = writer._add_object(DictionaryObject({NameObject("/O"): writer._add_object(script)}))
    writer.root_object[NameObject("/AA")] = opened
    writer.write(kept)
    assert keys_of(pypdf.PdfReader(harmless)) & RUN_BY_A_READER == set()
    assert keys_of(pypdf.PdfReader(kept)) & RUN_BY_A_READER == {"/AA", "/JavaScript", "/JS"}


@pytest.mark.slow
def test_a_name_that_would_run_is_a_word_in_every_print(fenholt: Fenholt, named: Any) -> None:
    """Each PDF is set, holds the name as text, and nothing that a reader of PDFs would run or open by itself."""
    client = fenholt.client("jon")
    weigh_through(fenholt, named)
    stopped = {"kind": "incomplete", "reason": RUNS, "was": "null"}
    assert client.post(f"/job/{named.number}/entry", stopped, headers={"X-Entry": "1"}).status_code == 200
    order = named.work_order.number
    every = [f"/job/{named.number}/{each}.pdf" for each in OF_A_JOB]
    for address in (*every, f"/order/{order}/worksheet.pdf", f"/order/{order}/incomplete.pdf", "/workshop/labels.pdf"):
        answer = client.get(address)
        assert answer["Content-Type"] == "application/pdf", address
        assert re.fullmatch(r'inline; filename="[\w.-]+"', answer["Content-Disposition"]), address
        set_as_text = pypdf.PdfReader(io.BytesIO(bytes(answer.content)))
        printed = re.sub(r"[\s\u200b\u00ad]", "", "".join(page.extract_text() for page in set_as_text.pages))
        assert "<script>alert(1)</script>" in printed, address
        # Where there is little room a long name is shortened, and its dots say so.
        assert "#panic(1)=cmd()|{{7}}" in printed or re.search(r"alert\(1\)</script>[^…]{0,60}…", printed), address
        assert keys_of(set_as_text) & RUN_BY_A_READER == set(), address
        assert all(re.fullmatch(r"[\w.-]+", each) for each in set_as_text.attachments), address
        notes = [note.get_object() for page in set_as_text.pages for note in page.get("/Annots", [])]
        assert all(str(note["/A"]["/URI"]).startswith("http://testserver/") for note in notes if "/A" in note), address


def test_a_name_that_would_run_is_a_word_in_every_file(fenholt: Fenholt, named: Any) -> None:
    """Files read as they were, by readers that are not ours; no file is a table whose cells a program works out."""
    jon, on = fenholt.client("jon"), today(fenholt.workshop)
    aircraft = named.surface.aircraft_id
    weigh_through(fenholt, named)
    (task,) = add_tasks(fenholt.mate, [aircraft], Line(due.Task(RUNS, every=due.Interval(months=1))))
    sign_off(fenholt.mate, task.pk, DoneAs(on, paper=RUNS, signer=RUNS))
    for name in ("weighing", "correction"):
        answer = jon.get(f"/job/{named.number}/{name}/1.toml")
        assert answer["Content-Type"] == TOML
        assert tomllib.loads(answer.content.decode())["surface"]["name"] == RUNS
    answer = jon.get("/fleet/due.toml")
    assert answer["Content-Type"] == TOML
    assert tomllib.loads(answer.content.decode())["task"][0]["name"] == RUNS
    feed = re.search(r"/fleet/calendar/[\w-]+\.ics", jon.post("/fleet/calendar/make").content.decode())
    assert feed
    for address in ("/fleet/calendar.ics", feed.group()):
        answer = jon.get(address)
        assert answer["Content-Type"] == "text/calendar; charset=utf-8"
        (entry,) = entries(answer.content)
        assert RUNS in entry["SUMMARY"]
    answer = fenholt.client("mara").post(f"/workshop/aircraft/{aircraft}/export")
    assert answer["Content-Type"] == "application/zip"
    assert answer["Content-Disposition"] == 'attachment; filename="<B>D-E=X.zip"'
    parts = zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content))).namelist()  # type: ignore[attr-defined]
    ours = re.compile(r"manifest\.json|chains/[a-z]+\.jsonl|attachments/[0-9a-f]{64}")
    assert all(ours.fullmatch(each) for each in parts), parts
