"""Names that would be code somewhere are words everywhere: on pages, in drawings, in prints, in files of a job."""

from __future__ import annotations

import io
import re
import tomllib
from typing import Any

import pypdf
import pytest
from django.urls import reverse

from hingeline_app.records.actions.aircraft import add_aircraft, add_surface
from hingeline_app.records.actions.jobs import open_job, open_order
from hingeline_app.records.actions.measuring import open_measurement
from hingeline_app.records.actions.people import add_person
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.test_as_an_attacker import PATTERNS

pytestmark = pytest.mark.django_db

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


def test_a_name_that_would_run_is_a_word_in_prints_and_files(fenholt: Fenholt, named: Any) -> None:
    """The typesetter sets it, and a file of the weighing reads as it was."""
    client = fenholt.client("jon")
    set_as_text = pypdf.PdfReader(io.BytesIO(bytes(client.get(f"/job/{named.number}/blank.pdf").content)))
    printed = re.sub(r"[\s\u200b]", "", "".join(page.extract_text() for page in set_as_text.pages))
    assert "<script>alert(1)</script>" in printed
    assert "#panic(1)=cmd()" in printed
    assert "/JavaScript" not in str(set_as_text.trailer["/Root"])
    file = client.get(f"/job/{named.number}/weighing/1.toml").content.decode()
    assert tomllib.loads(file)["surface"]["name"] == RUNS
