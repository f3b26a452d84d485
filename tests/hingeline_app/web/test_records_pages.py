"""Records on the pages: found, shown with what was withdrawn, worked out again, and a surface over the years."""

from __future__ import annotations

import json
import re
from datetime import date, datetime, timedelta
from html import unescape
from typing import Any

import pytest
from pytest_django import DjangoAssertNumQueries

from hingeline_app.bench.weighing.weighing_of import weighed, weighing_tables, weighing_text
from hingeline_app.records.actions.aircraft import correct_aircraft
from hingeline_app.records.actions.jobs import choose_limits, open_job
from hingeline_app.records.actions.limits import enter_limits
from hingeline_app.records.actions.measuring import add_reading, open_measurement, record_result, withdraw_reading
from hingeline_app.records.models import Entry, Job, Person, Workshop
from hingeline_app.records.queries.job_history import history_of_job
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.records.roles import OWNER
from hingeline_app.records.write_door import Actor
from hingeline_app.replaying.changed_rules import BETWEEN_BANDS, FRICTION
from hingeline_app.replaying.kept_result import Replayed
from tests.hingeline_app.web.conftest import Fenholt, _somebody

pytestmark = pytest.mark.django_db


def weighed_job(
    by: Actor, surface: Any, readings: tuple[str, ...], why: str = "annual check", number: int | None = None
) -> int:
    """Open a job, or take one, weigh on it and keep the result as the bench does."""
    number = number or open_job(by, surface, why).number
    job = Job.objects.get(number=number)
    set_up = {"support": [{"arm": "255 mm", "side": "aft", "arm_uncertainty": {"limit": "2 mm"}}]}
    weighing = open_measurement(by, job.pk, "weighing", set_up=set_up)
    for typed in readings:
        kept = add_reading(by, weighing.pk, typed)
        if typed.startswith("9"):
            withdraw_reading(by, kept.pk, "scale was bumped")
    record = job_of(person(by), number)
    assert record.weighing is not None
    asked = json.loads(json.dumps(weighing_tables(record, record.weighing), default=str))
    result = weighed(weighing_text(record, record.weighing))
    record_result(by, job.pk, result, measurement=weighing.pk, asked=asked)
    return number


def person(by: Actor) -> Person:
    """Give who acts."""
    assert by.person is not None
    return by.person


def surface_of(fenholt: Fenholt) -> Any:
    """Give the surface that the workshop of the tests has."""
    return Job.objects.get(number=fenholt.job).surface


def test_a_record_shows_withdrawn_readings_with_their_reason(fenholt: Fenholt) -> None:
    number = weighed_job(fenholt.mate, surface_of(fenholt).pk, ("0.840 kg", "9.840 kg", "0.845 kg"))
    page = fenholt.client("jon").get(f"/records/{number}").content.decode()
    assert "<s>9.840\xa0kg</s>" in page
    assert "scale was bumped" in page
    assert "tail-heavy" in page


def test_worked_out_again_it_is_the_same_to_the_last_digit(fenholt: Fenholt) -> None:
    number = weighed_job(fenholt.mate, surface_of(fenholt).pk, ("0.840 kg", "0.845 kg"))
    assert b"Same to the last digit" in fenholt.client("jon").get(f"/records/{number}/again").content


def test_a_result_that_does_not_follow_from_what_was_asked_is_shown_with_its_differences(fenholt: Fenholt) -> None:
    """The stored input says 0.840 kg, the stored result is of 0.850 kg: field, kept, worked out now."""
    by, surface = fenholt.mate, surface_of(fenholt)
    number = weighed_job(by, surface.pk, ("0.850 kg", "0.850 kg"))
    record = job_of(person(by), number)
    assert record.weighing is not None
    assert record.weighing.result is not None
    asked = dict(record.weighing.result.asked)
    asked["support"] = [{**asked["support"][0], "readings": ["0.840 kg", "0.840 kg"]}]
    document = record.weighing.result.document
    record_result(by, record.identifier, dict(document), measurement=record.weighing.identifier, asked=asked)
    page = fenholt.client("jon").get(f"/records/{number}/again").content.decode()
    assert "Not the same" in page
    assert "static_moment.value" in page


def test_a_rule_that_changed_since_is_named_beside_the_difference(
    fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody need suspect a record that another version worked out by another rule."""
    number = weighed_job(fenholt.mate, surface_of(fenholt).pk, ("0.840 kg", "0.845 kg"))
    difference = {"field": "friction_moment.within", "kept": "False", "again": "True"}
    found = Replayed(
        "hingeline/weighing-result/1", 1, False, (difference,), "", "1.1.0", changed_rules=(BETWEEN_BANDS, FRICTION)
    )
    monkeypatch.setattr("hingeline_app.web.pages.records.records_list.replayed", lambda *asked: found)
    page = fenholt.client("jon").get(f"/records/{number}/again").content.decode()
    assert "Not the same" in page
    assert page.index(BETWEEN_BANDS) < page.index(FRICTION) < page.index("friction_moment.within")


def test_the_history_names_who_when_what_and_why(fenholt: Fenholt) -> None:
    number = weighed_job(fenholt.mate, surface_of(fenholt).pk, ("0.840 kg", "9.840 kg"))
    job = Job.objects.get(number=number)
    entries = history_of_job(person(fenholt.mate), job.pk)
    kinds = [each.kind for each in entries]
    assert kinds[0] == "job opened"
    withdrawn = next(each for each in entries if each.kind == "reading withdrawn")
    assert (withdrawn.by, withdrawn.why) == ("Jon Ashby", "scale was bumped")
    assert ("withdrawn because", "", "scale was bumped") in [
        (each.field, each.was, each.now) for each in withdrawn.changes
    ]
    others = history_of_job(person(fenholt.mate), Job.objects.get(number=fenholt.job).pk)
    assert {each.position for each in others}.isdisjoint({each.position for each in entries})


def test_the_history_stands_in_the_zone_of_the_signatures_and_names_it(fenholt: Fenholt) -> None:
    """Signatures stood in the workshop's zone and the history beside them in UTC, an hour or two apart."""
    Workshop.objects.filter(pk=fenholt.workshop.pk).update(zone="Asia/Kolkata")  # UTC+05:30: IANA time zone database
    number = weighed_job(fenholt.mate, surface_of(fenholt).pk, ("0.840 kg",))
    opened = Entry.objects.filter(kind="job opened").latest("position")
    local = datetime.fromisoformat(json.loads(opened.body)["at"]) + timedelta(hours=5, minutes=30)
    shown = fenholt.client("jon").get(f"/records/{number}").content.decode().replace("\xa0", " ")
    history = shown[shown.index(">History ") : shown.index(">What was done<")]
    assert f"{local:%Y-%m-%d %H:%M} IST" in history
    assert "UTC" not in history


def test_history_is_read_on_from_where_it_was_read(fenholt: Fenholt) -> None:
    """Entries made after the first look are in the second one."""
    surface = surface_of(fenholt)
    job = Job.objects.get(number=fenholt.job)
    before = len(history_of_job(person(fenholt.mate), job.pk))
    weighed_job(fenholt.mate, surface.pk, ("0.840 kg",), number=fenholt.job)
    assert len(history_of_job(person(fenholt.mate), job.pk)) == before + 3


@pytest.mark.parametrize(
    ("question", "found"),
    [
        ("aircraft=efhm", True),
        ("aircraft=Merle", True),
        ("aircraft=D-XXXX", False),
        ("surface=elevator", True),
        ("surface=rudder", False),
        ("person=Ashby", True),
        ("person=Tarrow", False),
        ("since=2000-01-01&until=2099-01-01", True),
        ("until=2000-01-01", False),
        ("page=99", True),
        ("since=yesterday", True),
    ],
)
def test_a_search_finds_by_aircraft_surface_person_and_day(fenholt: Fenholt, question: str, found: bool) -> None:
    page = fenholt.client("jon").get(f"/records?{question}").content.decode()
    assert (f'href="/records/{fenholt.job}"' in page) is found


@pytest.mark.slow
def test_the_list_costs_the_same_queries_for_one_job_and_for_a_page_of_them(
    fenholt: Fenholt, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    surface = surface_of(fenholt)
    client = fenholt.client("jon")
    for _ in range(6):
        weighed_job(fenholt.mate, surface.pk, ("0.840 kg",))
    client.get("/records")
    with django_assert_num_queries(8):
        client.get("/records")


def test_hidden_overpaint_is_called_out_and_no_cause_is_claimed(
    fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Paint that is recorded is marked and explains the change; the same change without it is called out."""
    surface = surface_of(fenholt)
    story = [(2020, "annual check", "0.560 kg"), (2022, "painted", "0.700 kg"), (2024, "annual check", "0.780 kg")]
    for year, why, reading in story:
        monkeypatch.setattr("hingeline_app.records.actions.measuring.today", lambda _w, year=year: date(year, 5, 1))
        weighed_job(fenholt.mate, surface.pk, (reading, reading), why)
    page = fenholt.client("jon").get(f"/records/surface/{surface.pk}").content.decode().replace("\u00a0", " ")
    assert "From 2022-05-01 to 2024-05-01 it changed by 0.200 ±" in page
    assert "From 2020-05-01" not in page
    assert "The numbers alone do not say which." in page
    assert ">painted<" in page


def test_an_owner_is_led_to_no_row_of_limits_that_only_the_workshop_sees(fenholt: Fenholt) -> None:
    """The record and the job of the own aircraft name the row without a link to it; its page is not there for them."""
    mate, surface = fenholt.mate, surface_of(fenholt)
    owner = _somebody(fenholt.administrator, "Dora Holm", "dora", OWNER)
    registration = surface.aircraft.registration
    correct_aircraft(mate, surface.aircraft_id, "sold", registration=registration, owner=person(owner).pk)
    printed = {"positive": "tail-heavy", "moment": ["0.00 N m", "2.10 N m"]}
    row = enter_limits(mate, fenholt.approved["issue"], "Elevator, left half", "27-11", printed)
    job = Job.objects.get(number=fenholt.job)
    choose_limits(mate, job.pk, row.pk, job.limit_row_id)
    client = fenholt.client("dora")
    for address in (f"/records/{job.number}", f"/job/{job.number}/limits"):
        answer = client.get(address)
        assert answer.status_code == 200, address
        assert f"/limits/{row.pk}" not in answer.content.decode(), address
        assert f"/limits/{row.pk}" in fenholt.client("jon").get(address).content.decode(), address
    assert client.get(f"/limits/{row.pk}").status_code == 404


def test_a_coating_plan_that_begins_at_a_surface_is_taken_as_it_begins(fenholt: Fenholt) -> None:
    """The moment stood in its form with all 16 digits, and sent back as it stood it was refused: a page reads nine."""
    surface = surface_of(fenholt)
    weighed_job(fenholt.mate, surface.pk, ("0.840 kg", "0.845 kg", "0.840 kg"))
    client = fenholt.client("jon")
    page = client.get(f"/records/surface/{surface.pk}").content.decode()
    found = re.search(r'href="(/coating\?[^"]*)"', page)
    assert found
    form = client.get(unescape(found[1])).context["form"]
    begun = {name: form[name].value() or "" for name in form.fields}
    layer = {"layer_1": "topcoat", "area_1": "0.3 m^2", "arm_1": "60 mm", "count_1": "2", "mass_per_area_1": "95 g/m^2"}
    answer = client.get("/coating", begun | layer)
    assert answer.status_code == 200, answer.context["form"].errors
    # 0.8417 kg at 0.255 m, by hand: 2.105 N m
    assert answer.context["surface"]["moment_before"]["value"] == pytest.approx(2.105, abs=5e-4)


@pytest.mark.parametrize("page", ["²", "-1", "x", "9999999", ""])
def test_a_page_that_is_no_number_is_the_first_page(fenholt: Fenholt, page: str) -> None:
    """The sign ² counts as a digit and is no number."""
    assert fenholt.client("jon").get("/records", {"page": page}).status_code == 200
