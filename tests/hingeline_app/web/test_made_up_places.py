"""What somebody who works here sends with places of their own making: no row of another's, no state, no page broken."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.test import Client

from hingeline_app.records.actions.measuring import open_measurement
from hingeline_app.records.models import Entry, Job, Measurement
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = pytest.mark.django_db

# What stands in the records with a name beside it, or asks for something first, has a kind of its own.
NOT_BY_PLACE = [
    ("arm.points.weight.by", "MT"), ("arm.points.weight.finding", "inside"), ("arm.treatment.mass", "0 g"),
    ("refit.values.free_play.by", "MT"), ("refit.values.free_play.finding", "inside"), ("refit.state", "done"),
    ("arm.state", "done"), ("hand_over.by", "MT"), ("query.answer", "yes"), ("incomplete", "no"), ("task", "x"),
    ("instead_of", "1"), ("correct.plan", "x"), ("correct.place.0.largest_mass", "9 kg"), ("worked_on_by", "x"),
    ("photograph_mark.p00.0", "x"),
]  # fmt: skip
# No place of any page, or inside what stands there, or no word of the page.
NO_PLACE = [
    ("arrive", "x"), ("arrive.0", "x"), ("arrive.remarks.0", "x"), ("arrive.remarks.more", "x"), ("arm", "x"),
    ("refit.values", "x"), ("limits.0", "x"), ("correct.place", "x"), ("arrive.state", "flown"), ("", "x"),
    ("arrive.fitted.tab", "painted"), ("arrive.fitted", "x"), ("arm.pair.metal", "butter"),
    ("limits.version", "v" * 121), ("arrive.remarks", "a\u202eb"), ("arrive.remarks", "r" * 1901),
    ("9" * 5000, "x"), ("arm.model." + "9" * 5000, "x"),
]  # fmt: skip


@pytest.mark.slow
@pytest.mark.fault("F36")
def test_a_place_that_no_page_sets_is_refused_and_nothing_is_written(fenholt: Fenholt) -> None:
    """As a detail and as a tick; the job and the ledger are as before."""
    client = fenholt.client("jon")
    assert entered(client, fenholt, kind="detail", place="arrive.remarks", was="", value="hail") == (200, "kept")
    before, entries = Job.objects.get(number=fenholt.job).details, Entry.objects.filter(chain="records").count()
    for place, value in (*NOT_BY_PLACE, *NO_PLACE):
        for more in ({"value": value}, {"as": "tick", "value": "on"}):
            said = {"kind": "detail", "place": place, "was": "", **more}
            assert entered(client, fenholt, **said) == (422, "refused"), place[:60]
    assert Job.objects.get(number=fenholt.job).details == before
    assert Entry.objects.filter(chain="records").count() == entries


def entered(client: Client, fenholt: Fenholt, **fields: str) -> tuple[int, str]:
    """Send an entry as the tablet's queue does; give its status and what became of it."""
    answer = client.post(f"/job/{fenholt.job}/entry", fields, headers={"X-Entry": "1"})
    return answer.status_code, json.loads(answer.content)["state"]


SET_UPS = ["support", "support.0", "support.x.arm", "ticks", "ticks.level", "surface", "part", "part.0.mass", "hung",
           "uncertainty", "way", "support.0.tare.0", "surface.name", "support.999.arm", "support.٠.arm",
           "support." + "9" * 5000 + ".arm"]  # fmt: skip


@pytest.mark.slow
def test_a_set_up_takes_only_what_its_form_asks_for(fenholt: Fenholt) -> None:
    """Before and after a statement; what stands there stays."""
    job, client = Job.objects.get(number=fenholt.job), fenholt.client("jon")
    weighing = open_measurement(fenholt.mate, job.pk, "weighing", set_up={"support": [{"arm": "255 mm"}]})
    for place in SET_UPS:
        for kind in ("set-up", "correct-set-up"):
            said = {"measurement": str(weighing.pk), "place": place, "was": "", "value": "12 mm", "reason": "mistyped"}
            assert entered(client, fenholt, kind=kind, **said) == (422, "refused"), place[:60]
    assert Measurement.objects.get().set_up == {"support": [{"arm": "255 mm"}]}


def indexed(kind: str, index: str, measurement: str) -> dict[str, str]:
    """Give a row with a number of its own making."""
    part = {"name": "wick", "state": "not fitted", "mass": "4 g", "arm": "80 mm", "side": "aft"}
    return {"kind": kind, "index": index, "was": "null", "measurement": measurement, **part}


def test_a_row_with_a_number_that_is_none_is_refused(fenholt: Fenholt) -> None:
    """Of places of a correction and of parts that were off: no gap, no name, no number of thousands of digits."""
    job, client = Job.objects.get(number=fenholt.job), fenholt.client("jon")
    weighing = open_measurement(fenholt.mate, job.pk, "weighing")
    for kind in ("place", "part"):
        for index in ("name", "1", "0.name", "", "-1", "٠", "9" * 5000, "99999"):
            assert entered(client, fenholt, **indexed(kind, index, str(weighing.pk))) == (422, "refused"), index[:60]
    assert Job.objects.get(number=fenholt.job).details == {}
    assert Measurement.objects.get().set_up == {}


STEPS = ("arrive", "limits", "weigh", "correct", "arm", "refit", "second-inspection", "release")
PAGES = ["/bench", "/records", *(f"/job/{{job}}/{step}" for step in STEPS)]


@pytest.mark.slow
def test_whatever_was_sent_every_page_of_the_job_stands(fenholt: Fenholt) -> None:
    """All of the above and what each kind takes without looking, one after the other; then each page answers."""
    job = Job.objects.get(number=fenholt.job)
    weighing = open_measurement(fenholt.mate, job.pk, "weighing")
    client = fenholt.client("jon")
    named = {"measurement": str(weighing.pk), "was": ""}
    attempts: list[dict[str, Any]] = [{"kind": "detail", "place": place, "value": value} for place, value in NO_PLACE]
    attempts += [{"kind": "detail", "place": place, "value": value} for place, value in NOT_BY_PLACE]
    attempts += [{"kind": "set-up", "place": place, "value": "x", **named} for place in SET_UPS]
    attempts += [{"kind": "set-up", "place": f"support.0.{name}", "value": "x", **named} for name in ("arm", "side")]
    attempts += [indexed(kind, each, str(weighing.pk)) for kind in ("place", "part") for each in ("0", "1", "x", "0.a")]
    attempts += [{"kind": "own-uncertainty", "name": name, "meant": "limit", "value": "x", **named, "was": "null"}
                 for name in ("level", "0", "a.b")]  # fmt: skip
    attempts += [{"kind": "step-state", "about": "arm", "state": "held", "reason": "r" * 1900, "was": ""}]
    attempts += [{"kind": "photo-mark", "photograph": str(job.pk), "number": "1", "x": "5", "y": "5", "was": "null"}]
    attempts += [{"kind": kind, "file": "x = 1", "was": "null"} for kind in ("coating-plan", "swung")]
    attempts += [{"kind": "amounts", "amounts": "[1, 2]", "was": "null"}, {"kind": "aim", "target": "x", "was": "null"}]
    attempts += [{"kind": "reading", "place": place, "typed": "840 g", **named} for place in ("support 9", "<b>", "x")]
    for attempt in attempts:
        answer = client.post(f"/job/{fenholt.job}/entry", attempt, headers={"X-Entry": "1"})
        assert answer.status_code in (200, 409, 422), (attempt, answer.status_code)
        assert json.loads(answer.content)["state"] in ("kept", "refused", "moved")
    for page in PAGES:
        address = page.format(job=fenholt.job)
        assert client.get(address).status_code == 200, address
