"""The bench, a new job, a work order, and what a label leads to."""

from __future__ import annotations

from typing import Any

import pytest
from pytest_django import DjangoAssertNumQueries

from hingeline_app.records.actions.aircraft import add_aircraft, add_surface
from hingeline_app.records.actions.jobs import open_job, set_detail, void_job
from hingeline_app.records.models import Entry, Job, Surface, WorkOrder
from hingeline_app.records.queries.bench import ON_A_PAGE
from hingeline_app.records.roles import ENGINEER, OWNER
from hingeline_app.records.write_door import Actor
from tests.hingeline_app.web.conftest import Fenholt, _somebody

pytestmark = pytest.mark.django_db


def surface(fenholt: Fenholt, name: str) -> str:
    """Enter another surface of the aircraft."""
    return str(add_surface(fenholt.mate, fenholt.aircraft, name).pk)


def opened(fenholt: Fenholt, surfaces: list[str], **more: str) -> Any:
    sent = {"surfaces": surfaces, "why": "painted", **more}
    return fenholt.client("jon").post(f"/job/new?aircraft={fenholt.aircraft}", sent)


def test_home_leads_to_the_bench(fenholt: Fenholt) -> None:
    assert fenholt.client("jon").get("/")["Location"] == "/bench"


@pytest.mark.fault("F18")
def test_a_full_page_takes_as_many_queries_as_one_job(
    fenholt: Fenholt, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    """The number of queries does not depend on the number of jobs."""
    client = fenholt.client("jon")
    for number in range(ON_A_PAGE + 5):
        open_job(fenholt.mate, Surface.objects.get(name="Elevator, left half").pk, f"painted {number}")
    with django_assert_num_queries(QUERIES):
        page = client.get("/bench").content.decode()
    assert page.count("<li>") == ON_A_PAGE
    assert "page 1 of 2" in page
    with django_assert_num_queries(QUERIES - 1):
        assert client.get("/bench?page=2").content.decode().count("<li>") == 6


QUERIES = 14


def test_each_row_says_what_comes_next_and_who_has_it(fenholt: Fenholt) -> None:
    page = fenholt.client("jon").get("/bench").content.decode()
    assert "D-EFHM · Elevator, left half" in page
    assert f"/job/{fenholt.job}/arrive" in page
    assert "Jon Ashby" in page


def test_mine_held_and_done_are_told_apart(fenholt: Fenholt) -> None:
    """A job that another opened is not mine; a held step makes a job held, with its reason said."""
    page = "/bench?show="
    assert "Elevator, left half" in fenholt.client("jon").get(f"{page}mine").content.decode()
    assert "No open job is yours." in fenholt.client("mara").get(f"{page}mine").content.decode()
    assert "No job is held." in fenholt.client("jon").get(f"{page}held").content.decode()
    job = Job.objects.get(number=fenholt.job)
    set_detail(fenholt.mate, job.pk, "refit.state", None, "held")
    set_detail(fenholt.mate, job.pk, "refit.reason", None, "cable worn, ordered")
    assert "Refit is held: cable worn, ordered" in fenholt.client("jon").get(f"{page}held").content.decode()
    assert "No job is done yet." in fenholt.client("jon").get(f"{page}done").content.decode()


def test_search_finds_by_registration_surface_and_number(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    for sought in ("efhm", "elevator", "1", "D-EFHM left"):
        assert "Elevator, left half" in client.get("/bench", {"q": sought}).content.decode(), sought
    assert "No job here with “rudder”." in client.get("/bench", {"q": "rudder"}).content.decode()


def test_an_owner_sees_the_jobs_of_own_aircraft_alone(fenholt: Fenholt) -> None:
    owner = _somebody(fenholt.administrator, "Dora Lind", "dora", OWNER)
    own = add_aircraft(fenholt.mate, "Merle T2", "D-EOWN", "T2-09", owner=owner.person.pk)  # type: ignore[union-attr]
    open_job(fenholt.mate, add_surface(fenholt.mate, own.pk, "Rudder").pk, "painted")
    page = fenholt.client("dora").get("/bench").content.decode()
    assert "D-EOWN" in page
    assert "D-EFHM" not in page
    assert "New job" not in page


def test_several_surfaces_become_a_work_order_in_the_order_of_work(fenholt: Fenholt) -> None:
    """The tab before its surface; one order; the reason stays readable; each job its own."""
    rudder, tab, half = (surface(fenholt, name) for name in ("Rudder", "Elevator tab", "Elevator, right half"))
    answer = opened(fenholt, [rudder, half, tab], words="two coats")
    order = WorkOrder.objects.order_by("-number").first()
    assert order is not None
    assert answer["Location"] == f"/order/{order.number}"
    names = list(Job.objects.filter(work_order=order).order_by("number").values_list("surface__name", flat=True))
    assert names == ["Elevator tab", "Elevator, right half", "Rudder"]
    assert {each.why_here for each in order.jobs.all()} == {"Painted: two coats"}
    page = fenholt.client("jon").get(f"/order/{order.number}").content.decode()
    assert "The tab before its surface" in page
    assert "3 surfaces wait" in page
    german = fenholt.client("jon")
    german.cookies["language"] = "de"
    assert "Lackiert: two coats" in german.get("/bench").content.decode(), "what was chosen, in the reader's language"


def test_one_surface_is_one_job_and_a_form_sent_twice_is_one(fenholt: Fenholt) -> None:
    rudder = surface(fenholt, "Rudder")
    first = opened(fenholt, [rudder], command_key="k1")
    before = Entry.objects.filter(chain="records").count()
    assert first["Location"] == "/job/2"
    again = opened(fenholt, [rudder], command_key="k1")
    assert again.status_code in (302, 422)
    assert Entry.objects.filter(chain="records").count() == before
    assert Job.objects.count() == 2


def test_a_surface_with_an_open_job_leads_to_it_and_gets_no_second(fenholt: Fenholt) -> None:
    page = fenholt.client("jon").get(f"/job/new?aircraft={fenholt.aircraft}").content.decode()
    assert f"job {fenholt.job} is open" in page
    assert opened(fenholt, [str(fenholt.surface)]).status_code == 422
    assert Job.objects.count() == 1


def test_other_needs_words_and_what_was_ticked_stays(fenholt: Fenholt) -> None:
    rudder = surface(fenholt, "Rudder")
    answer = opened(fenholt, [rudder], why="other")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Say why it is here." in page
    assert f'value="{rudder}" checked' in page


def test_vibration_brings_the_reminder_of_the_report(fenholt: Fenholt) -> None:
    page = fenholt.client("jon").get(f"/job/new?aircraft={fenholt.aircraft}").content.decode()
    assert "No 376/2014" in page
    assert "72 hours" in page


def test_a_surface_joins_an_open_order(fenholt: Fenholt) -> None:
    rudder = surface(fenholt, "Rudder")
    order = WorkOrder.objects.get(number=fenholt.order)
    assert opened(fenholt, [rudder], order=str(order.pk))["Location"] == "/job/2"
    assert Job.objects.get(number=2).work_order == order


def test_a_label_leads_to_the_open_job_or_to_a_new_one(fenholt: Fenholt) -> None:
    """With hyphens or without; what is no surface leads nowhere."""
    client = fenholt.client("jon")
    assert client.get(f"/at/{fenholt.surface.hex}")["Location"] == f"/job/{fenholt.job}"
    rudder = surface(fenholt, "Rudder")
    assert client.get(f"/at/{rudder}")["Location"] == f"/job/new?aircraft={fenholt.aircraft}&surface={rudder}"
    assert client.get(f"/at/{fenholt.aircraft.hex}").status_code == 404
    assert client.get("/at/elevator").status_code == 404


@pytest.mark.slow
def test_an_order_is_closed_by_a_person_once_nothing_in_it_is_open_and_never_opened_again(fenholt: Fenholt) -> None:
    """What is open is named; closed it takes no surface; a second press says in words that it is not opened again."""
    order = WorkOrder.objects.get(number=fenholt.order)
    job = open_job(fenholt.mate, Surface.objects.get().pk, "painted", work_order=order.pk)
    client, address = fenholt.client("jon"), f"/order/{order.number}"
    assert "1 job is open: it is released, or voided with the reason" in client.get(address).content.decode()
    refused = client.post(f"{address}/close", {"command_key": "k1"}, follow=True).content.decode()
    assert f"Still open: job {job.number:04d}." in refused
    assert "Work orders to close" not in client.get("/bench").content.decode()
    void_job(fenholt.mate, job.pk, "scrapped")
    assert f'href="{address}#close">Work order {order.number} ' in client.get("/bench").content.decode()
    for _press in range(2):
        page = client.post(f"{address}/close", {"command_key": "k2"}, follow=True).content.decode()
        assert "A closed order is not opened again" in page
    order.refresh_from_db()
    assert order.closed_on is not None
    assert Entry.objects.filter(kind="work order closed").count() == 1
    assert "Work orders to close" not in client.get("/bench").content.decode()
    assert "Add a surface" not in page
    assert "closed before" in client.post(f"{address}/close", {"command_key": "k3"}, follow=True).content.decode()
    done = client.get("/bench?show=done").content.decode()
    assert f"work order {order.number}</a>, closed" in done
    again = opened(fenholt, [surface(fenholt, "Rudder")], order=str(order.pk))
    assert again.status_code == 422, "a closed order takes no new surface"


def test_who_may_open_no_job_is_told_who_may(fenholt: Fenholt) -> None:
    """An administrator's empty bench asks for nothing that has no button there; an engineer's does."""
    void_job(fenholt.mate, Job.objects.get(number=fenholt.job).pk, "opened by mistake")
    said = {name: fenholt.client(name).get("/bench").content.decode() for name in ("mara", "jon")}
    assert "Engineers and certifying persons open them" in said["mara"]
    assert "Start one" not in said["mara"]
    assert "Start one" in said["jon"]
    assert "Before the first weighing" not in said["jon"]


def test_a_workshop_without_aircraft_leads_to_entering_one(fenholt: Fenholt, elsewhere: Actor) -> None:
    """What needs an aircraft offers one, a series a recording to take in; labels offer no paper for nothing."""
    _somebody(elsewhere, "Ida Quill", "ida", ENGINEER)
    client = fenholt.client("ida")
    for page in ("/job/new", "/recordings/new", "/fleet/hours", "/fleet/task/add", "/why-balance/own"):
        assert 'href="/workshop/aircraft/add"' in client.get(page).content.decode(), page
    assert "Choose the aircraft" not in client.get("/job/new").content.decode()
    series = client.get("/recordings/series/new").content.decode()
    assert 'href="/recordings/new">Take a recording in' in series
    assert "Work it out" not in series
    labels = client.get("/workshop/labels").content.decode()
    assert "Nothing to label yet" in labels
    assert 'class="act"' not in labels
    assert "Paper" not in labels
    assert "a label for each" not in labels
