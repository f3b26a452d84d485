"""A weighed job at Fenholt, what it is printed as, and the words of a paper."""

from __future__ import annotations

import io
import json
from typing import NamedTuple
from uuid import UUID

import pypdf
import pytest
from django.test import Client

from hingeline_app.bench.weighing.weighing_of import weighed, weighing_tables, weighing_text
from hingeline_app.records.actions.measuring import add_reading, open_measurement, record_result, withdraw_reading
from hingeline_app.records.models import Job
from hingeline_app.records.queries.jobs import job_of
from tests.hingeline_app.web.conftest import Fenholt

SET_UP = {
    "surface": {"mass": "4.100 kg", "balance_weight": [{"mass": "0.600 kg", "arm": "180 mm", "side": "forward"}]},
    "support": [{"arm": "255 mm", "side": "aft", "tare": "0 g"}],
    "uncertainty": {"arm": {"limit": "2 mm"}, "friction": {"limit": "10 g"}},
}
READINGS = ("840 g", "845 g", "840 g", "845 g", "840 g")


class Weighed(NamedTuple):
    """A weighed job at Fenholt, and a browser of its engineer."""

    fenholt: Fenholt
    client: Client
    job: Job
    weighing: UUID

    def printed(self, name: str, query: str = "") -> bytes:
        answer = self.client.get(f"/job/{self.job.number}/{name}.pdf{query}")
        assert answer.status_code == 200, answer.content
        assert answer["Content-Type"] == "application/pdf"
        assert "no-store" in answer["Cache-Control"]
        return bytes(answer.content)


@pytest.fixture
def told(fenholt: Fenholt) -> Weighed:
    job = Job.objects.get(number=fenholt.job)
    return weigh(fenholt, job)


def weigh(fenholt: Fenholt, job: Job, *, recorded: bool = True) -> Weighed:
    mate = fenholt.mate
    weighing = open_measurement(mate, job.pk, "weighing", scale=fenholt.scale, set_up=SET_UP)
    for typed in READINGS:
        add_reading(mate, weighing.pk, typed)
    wrong = add_reading(mate, weighing.pk, "950 g")
    withdraw_reading(mate, wrong.pk, "the hangar door was opened")
    if recorded:
        record = job_of(mate.person, job.number)  # type: ignore[arg-type]
        text = weighing_text(record, record.weighing)  # type: ignore[arg-type]
        asked = json.loads(json.dumps(weighing_tables(record, record.weighing), default=str))  # type: ignore[arg-type]
        record_result(mate, job.pk, weighed(text), measurement=weighing.pk, asked=asked)
    return Weighed(fenholt, fenholt.client("jon"), job, weighing.pk)


def words(pdf: bytes) -> str:
    pages = "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages)
    return " ".join(pages.replace("\u00a0", " ").replace("\u202f", " ").replace("\u200b", "").split())
