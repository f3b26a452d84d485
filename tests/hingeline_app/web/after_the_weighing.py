"""A shop whose job is weighed, and the hands of those who close, look and sign there."""

from __future__ import annotations

import json
import re
from datetime import date, timedelta
from typing import Any

import pytest
from django.test import Client

from hingeline_app.bench.weighing.weighing_of import weighed, weighing_tables, weighing_text
from hingeline_app.records.actions.accounts import add_account
from hingeline_app.records.actions.equipment import renew_certificate
from hingeline_app.records.actions.jobs import choose_limits, set_detail
from hingeline_app.records.actions.limits import enter_limits, read_again
from hingeline_app.records.actions.measuring import add_reading, open_measurement, record_result
from hingeline_app.records.actions.people import add_person
from hingeline_app.records.actions.rights import confirm_right, give_right
from hingeline_app.records.models import Job
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.records.roles import ADMINISTRATOR, CERTIFYING, SECOND_INSPECTOR
from hingeline_app.records.write_door import Actor
from tests.hingeline_app.web.conftest import PASSWORD, Fenholt

READINGS = ("740 g", "735 g", "740 g")
PRINTED = {"positive": "tail-heavy", "moment": ["0.00 N m", "2.10 N m"], "rule": "simple"}


@pytest.fixture
def shop(fenholt: Fenholt) -> Fenholt:
    """Fenholt with an inspector and a certifying person, and a job weighed inside its limits."""
    inspector = somebody(fenholt, "Ines Holt", "ines", "FH.66.22", SECOND_INSPECTOR)
    certifying = somebody(fenholt, "Ruth Fenholt", "ruth", "FH.66.1", ADMINISTRATOR, CERTIFYING)
    right = certifying.person.rights.get(role=CERTIFYING)  # type: ignore[union-attr]
    confirm_right(certifying, right.pk)
    renew_certificate(fenholt.mate, fenholt.scale, "C 17", date.today(), date.today() + timedelta(days=90), {})
    row = enter_limits(fenholt.mate, fenholt.approved["issue"], "Elevator, left half", "27-11", PRINTED)
    read_again(inspector, row.pk, PRINTED)
    job = Job.objects.get(number=fenholt.job)
    choose_limits(fenholt.mate, job.pk, row.pk, job.limit_row_id)
    weigh(fenholt)
    set_detail(fenholt.mate, job.pk, "arrive.state", None, "done")
    return fenholt


def somebody(fenholt: Fenholt, name: str, sign_in_name: str, licence: str, *roles: str) -> Actor:
    person = add_person(fenholt.administrator, name, name[:1], licence_number=licence)
    account = add_account(fenholt.administrator, person.pk, sign_in_name, PASSWORD)
    for role in roles:
        give_right(fenholt.administrator, person.pk, role)
    return Actor(fenholt.workshop, person, account)


def weigh(fenholt: Fenholt, readings: tuple[str, ...] = READINGS) -> None:
    """Weigh as the page does: what was asked is kept beside the result."""
    job, mate = Job.objects.get(number=fenholt.job), fenholt.mate
    set_up: dict[str, Any] = {
        "surface": {"mass": "4.100 kg"},
        "support": [{"arm": "255 mm", "side": "aft"}],
        "uncertainty": {"arm": {"limit": "2 mm"}, "scale": {"resolution": "5 g"}},
    }
    weighing = open_measurement(mate, job.pk, "weighing", scale=fenholt.scale, set_up=set_up)
    for reading in readings:
        add_reading(mate, weighing.pk, reading)
    record = job_of(mate.person, fenholt.job)  # type: ignore[arg-type]
    assert record.weighing is not None
    asked = json.loads(json.dumps(weighing_tables(record, record.weighing)))
    result = json.loads(json.dumps(weighed(weighing_text(record, record.weighing))))
    record_result(mate, job.pk, result, measurement=weighing.pk, asked=asked)


def entry(client: Client, fenholt: Fenholt, kind: str, **fields: str) -> tuple[int, dict[str, Any]]:
    answer = client.post(f"/job/{fenholt.job}/entry", {"kind": kind, **fields}, headers={"X-Entry": "1"})
    return answer.status_code, json.loads(answer.content)


def page(client: Client, fenholt: Fenholt, step: str) -> str:
    answer = client.get(f"/job/{fenholt.job}/{step}")
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def signs(client: Client, address: str, **more: str) -> Any:
    """Open a signature's page and send its form with the password."""
    shown = client.get(address).content.decode()
    sent = {name: field_of(shown, name) for name in ("seen", "proof_over", "command_key")}
    return client.post(address, {**sent, "proof_password": PASSWORD, **more})


def field_of(shown: str, name: str) -> str:
    found = re.search(rf'name="{name}" value="([^"]*)"', shown) or re.search(
        rf'value="([^"]*)"[^>]*name="{name}"', shown
    )
    return found.group(1).replace("&quot;", '"') if found else ""


def closed(fenholt: Fenholt) -> Client:
    """Close arm and refit as not needed, ask for the inspection; give the worker's browser."""
    worker = fenholt.client("jon")
    for step in ("arm", "refit"):
        told = {"about": step, "state": "not needed", "reason": "not disturbed"}
        assert entry(worker, fenholt, "step-state", **told)[0] == 200
    assert (
        entry(worker, fenholt, "ask-for-inspection", items="Weight screws | torqued to 2.5 N m\nPush rod | pinned")[0]
        == 200
    )
    return worker


def look_at_all(client: Client, fenholt: Fenholt, finding: str = "agreed") -> None:
    for item in re.findall(r'name="item" value="([0-9a-f-]+)"', page(client, fenholt, "second-inspection")):
        assert entry(client, fenholt, "look", item=item, finding=finding, note="whole")[0] == 200
