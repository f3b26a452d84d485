"""The hangar's pages: what is listed, entered, signed off, put into a calendar and a file."""

from __future__ import annotations

import re
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from hingeline import due
from hingeline.document import to_document
from hingeline.due import what_is_due
from hingeline_app.files.due_file import read_due
from hingeline_app.records.actions.aircraft import add_aircraft, add_surface
from hingeline_app.records.actions.counters import read_counter
from hingeline_app.records.actions.jobs import open_job
from hingeline_app.records.actions.parts import add_part, fit_part, remove_part
from hingeline_app.records.actions.signing_off import DoneAs, sign_off
from hingeline_app.records.actions.tasks import Line, add_tasks
from hingeline_app.records.dates import today
from hingeline_app.records.models import Aircraft, CounterReading, Entry, SignOff, Task
from hingeline_app.records.queries.checks_ahead import checks_ahead, of_workshop
from hingeline_app.records.roles import OWNER
from tests.doors.checkouts import ROOT
from tests.hingeline_app.files.test_due_calendar import entries
from tests.hingeline_app.web.conftest import Fenholt, _somebody
from tests.hingeline_app.web.in_the_hangar import told_in_the_hangar

pytestmark = pytest.mark.django_db


@pytest.fixture
def told(fenholt: Fenholt) -> dict[str, Any]:
    return told_in_the_hangar(fenholt)


@pytest.fixture
def jon(fenholt: Fenholt, told: dict[str, Any]) -> Client:
    """An engineer, where a task stands."""
    return fenholt.client("jon")


def text_of(answer: Any) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", answer.content.decode())).replace("\u00a0", " ")


def test_an_empty_hangar_says_how_it_begins(fenholt: Fenholt) -> None:
    said = text_of(fenholt.client("jon").get("/fleet"))
    assert "No tasks yet. Add from the approved programme." in said
    assert "Start a job" not in said


def test_a_row_says_state_aircraft_what_is_left_and_which_limit_binds(jon: Client) -> None:
    """Done at 612.5 h, now 640.0, each 100: 72.5 h left, by hours. An approval ends at its own digits."""
    answer = jon.get("/fleet")
    said = text_of(answer)
    assert re.search(r"coming D-MT03 arm check 72\.5 h by hours, each 100 h", said)
    assert "72.5 h left: due at 712.5 h in all, and it has 640.0 h." in said
    assert "It may wait until 720.25 h in all by Variation 3. The due point stays." in said
    assert "Weight tight, lock wire whole" in said
    assert 'aria-label="Used part of the interval: 28 %"' in answer.content.decode()


def test_words_filter_the_list_and_every_one_counts(jon: Client) -> None:
    assert "arm check" in text_of(jon.get("/fleet?q=ARM+d-mt03"))
    assert "No task has all of these words." in text_of(jon.get("/fleet?q=arm+rudder"))


@pytest.mark.parametrize("asked", ["?task=nonsense", "?task=00000000-0000-0000-0000-000000000000"])
def test_a_task_that_is_not_there_leads_nowhere(jon: Client, asked: str) -> None:
    assert jon.get(f"/fleet{asked}").status_code == 404


@pytest.mark.slow
def test_the_list_asks_as_many_questions_for_forty_tasks_as_for_one(
    jon: Client, fenholt: Fenholt, django_assert_max_num_queries: Any
) -> None:
    """With what was worked out kept: once for the list, whatever its length."""
    plane = Aircraft.objects.get(registration="D-MT03")
    for number in range(40):
        add_tasks(fenholt.mate, [plane.pk], Line(due.Task(f"check {number}", before_next_flight=True)))
    jon.get("/fleet")
    with django_assert_max_num_queries(40):
        answer = jon.get("/fleet?page=2")
    assert "41 to 41 of 41" in text_of(answer)


def test_points_of_hours_stand_one_under_the_other_without_a_digit_that_nobody_read(
    jon: Client, told: dict[str, Any], fenholt: Fenholt
) -> None:
    """640.0 beside 1234.25: the room of one digit behind it, no nought."""
    plane = add_aircraft(fenholt.mate, "Merle T2", "D-MT04", "T2-04")
    read_counter(fenholt.mate, plane.pk, "hours", Decimal("1234.25"), today(fenholt.workshop))
    page = jon.get("/fleet/hours").content.decode().replace("\xa0", " ")
    assert page.count('640.0<span class="lacking">\u2007</span> h') == 2
    assert page.count("1234.25 h") == 2


def test_hours_are_entered_and_what_they_mean_is_said(jon: Client, told: dict[str, Any], fenholt: Fenholt) -> None:
    on = today(fenholt.workshop)
    address = f"/fleet/hours/{told['aircraft']}"
    line = jon.get(f"{address}/line", {"shown": "641,5", "read_on": on.isoformat()}).json()
    assert line["line"].startswith("1.5 h in")
    answer = jon.post(address, {"shown": "641,5", "read_on": on.isoformat()})
    assert answer.status_code == 302
    assert str(CounterReading.objects.order_by("shown").last().shown) == "641.50"  # type: ignore[union-attr]


def test_hours_out_of_the_usual_are_asked_about_once(jon: Client, told: dict[str, Any], fenholt: Fenholt) -> None:
    """More than 24 h a day: not kept until somebody has looked again; the entered text stays."""
    typed = {"shown": "999.9", "read_on": today(fenholt.workshop).isoformat()}
    address, before = f"/fleet/hours/{told['aircraft']}", CounterReading.objects.count()
    answer = jon.post(address, typed)
    assert answer.status_code == 422
    assert "more than 24 h a day" in text_of(answer)
    assert 'value="999.9"' in answer.content.decode()
    assert CounterReading.objects.count() == before
    assert jon.post(address, {**typed, "looked_again": "on"}).status_code == 302
    assert CounterReading.objects.count() == before + 1


@pytest.mark.parametrize("typed", ["1,255.5", "-3", "6e2", "641.555", "nan", ""])
def test_what_no_meter_shows_is_refused_in_words(
    jon: Client, told: dict[str, Any], fenholt: Fenholt, typed: str
) -> None:
    address = f"/fleet/hours/{told['aircraft']}"
    answer = jon.post(address, {"shown": typed, "read_on": today(fenholt.workshop).isoformat()})
    assert answer.status_code == 422
    assert "Not taken yet" in text_of(answer)


def test_a_sign_off_shows_the_next_point_its_reason_and_stands_in_the_ledger(
    jon: Client, told: dict[str, Any], fenholt: Fenholt
) -> None:
    """Also in the private calendar, which tells days and titles and nothing of why."""
    on = today(fenholt.workshop)
    sent = {"done_on": on.isoformat(), "paper": "CRS 18", "signer": "H. Moss", "hours": "640.0", "command_key": "k1"}
    answer = jon.post(f"/fleet/task/{told['task']}/sign-off", sent, follow=True)
    said = text_of(answer)
    assert "Signed off." in said
    assert "100 h left: due at 740.0 h in all" in said
    assert "when it was done on" in said
    history = text_of(jon.get(f"/fleet/task/{told['task']}/history"))
    last = Entry.objects.filter(chain="records").order_by("-position").first()
    assert last is not None
    assert f"{last.position}-{last.digest[:8]}" in history
    assert "check signed off" in history
    assert "hours: 640.0 h" in history
    assert "paper: CRS 18" in history
    calendar = Client().get(f"/fleet/calendar/{told['token']}.ics")
    assert calendar["Content-Type"].startswith("text/calendar")
    (entry,) = entries(calendar.content)
    assert "arm check, D-MT03" in entry["SUMMARY"]
    assert "DESCRIPTION" not in entry
    assert b"640" not in calendar.content


def test_the_same_form_sent_twice_is_one_sign_off(jon: Client, told: dict[str, Any], fenholt: Fenholt) -> None:
    on, before = today(fenholt.workshop), SignOff.objects.count()
    sent = {"done_on": on.isoformat(), "paper": "CRS 18", "signer": "H. Moss", "hours": "640.0", "command_key": "k2"}
    for _time in range(2):
        assert jon.post(f"/fleet/task/{told['task']}/sign-off", sent).status_code == 302
    assert SignOff.objects.count() == before + 1


def test_a_sign_off_on_nothing_is_refused_and_the_text_stays(jon: Client, told: dict[str, Any]) -> None:
    answer = jon.post(f"/fleet/task/{told['task']}/sign-off", {"signer": "H. Moss", "hours": "640.0"})
    assert answer.status_code == 422
    assert 'value="H. Moss"' in answer.content.decode()
    assert SignOff.objects.count() == 1


def test_a_task_is_added_for_several_aircraft_at_once(jon: Client, told: dict[str, Any], fenholt: Fenholt) -> None:
    other = add_aircraft(fenholt.mate, "Merle T2", "D-MT05", "T2-05")
    sent = {
        "owners": [str(told["aircraft"]), str(other.pk)],
        "name": "Rudder: hinge play",
        "source": "programme",
        "every_months": "12",
        "months_are": "calendar",
        "counts_from": "done",
        "start_not_later_than": "2031-02-28",
        "check_points": "upper hinge\nlower hinge\n",
    }
    assert jon.post("/fleet/task/add", sent).status_code == 302
    made = Task.objects.filter(name="Rudder: hinge play")
    assert {each.aircraft.registration for each in made if each.aircraft} == {"D-MT03", "D-MT05"}
    assert made[0].check_points == ["upper hinge", "lower hinge"]
    states = {each.state.aircraft: each.state for each in checks_ahead(fenholt.mate.person).checks  # type: ignore[arg-type]
              if each.task.name == "Rudder: hinge play"}  # fmt: skip
    assert {str(each.due_date) for each in states.values()} == {"2031-02-28"}


@pytest.mark.parametrize("told_of", [{"event_what": "hard landing"}, {"event_hours": "640.0"}])
def test_what_happened_without_its_day_is_asked_for_and_not_dropped(
    jon: Client, told: dict[str, Any], told_of: dict[str, str]
) -> None:
    """The task was kept without it, and no check followed from the hard landing."""
    sent = {"owners": [str(told["aircraft"])], "name": "hard landing check", "every_hours": "100", **told_of}
    answer = jon.post("/fleet/task/add", sent)
    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == ["event_date"]
    assert not Task.objects.filter(name="hard landing check").exists()


@pytest.mark.parametrize("page", ["task/add", "hours/{aircraft}"])
def test_a_draft_that_is_taken_up_again_is_said_to_be_one(jon: Client, told: dict[str, Any], page: str) -> None:
    """Numbers from before the lock stood in the fields as if they were the page's own."""
    address = "/fleet/" + page.format(**told)
    said = "These entries come from before this page was locked or closed. They are not kept yet."
    assert said not in text_of(jon.get(address))
    assert jon.post("/draft", {"draft_page": address, "name": "half a name", "shown": "641.0"}).status_code == 204
    assert said in text_of(jon.get(address))


def test_a_task_without_a_limit_is_refused(jon: Client, told: dict[str, Any]) -> None:
    answer = jon.post("/fleet/task/add", {"owners": [str(told["aircraft"])], "name": "nothing"})
    assert answer.status_code == 422
    assert "a limit" in text_of(answer)


def test_correcting_shows_what_stands_and_keeps_the_rest(jon: Client, told: dict[str, Any]) -> None:
    """The form holds every field as it is; sent back with one change, only that changes."""
    address = f"/fleet/task/{told['task']}/change"
    before = Task.objects.get(pk=told["task"]).rule
    form = jon.get(address).context["form"]
    sent = {name: form[name].value() or "" for name in form.fields}
    sent = {name: value for name, value in sent.items() if value is not False}
    assert jon.post(address, {**sent, "every_hours": "50", "reason": "issue D"}).status_code == 302
    after = Task.objects.get(pk=told["task"]).rule
    assert after == {**before, "every": {**before["every"], "hours": 50}}


def test_an_arm_file_draws_the_arm_with_its_estimates_and_the_caution(jon: Client, told: dict[str, Any]) -> None:
    text = (ROOT / "examples" / "arm" / "01-elevator-arm-stripped.toml").read_text("utf-8")
    address = f"/fleet/task/{told['task']}/change"
    sent = {"name": "arm check", "source": "manual", "every_hours": "100", "counts_from": "done", "reason": "arm"}
    assert jon.post(address, {**sent, "arm_file": text}).status_code == 302
    said = text_of(jon.get(f"/fleet?task={told['task']}"))
    assert "Estimated stress at 24 g, normal, as new 221" in said
    assert "An estimate never makes the approved interval longer." in said
    refused = jon.post(address, {**sent, "arm_file": text.replace("0.600 kg", "0.600 m")})
    assert refused.status_code == 422


def test_the_file_it_gives_is_answered_by_the_command_as_by_the_page(
    jon: Client, told: dict[str, Any], fenholt: Fenholt
) -> None:
    """Every task, total and reason to the digit, with a part and its history too."""
    mate, on = fenholt.mate, today(fenholt.workshop)
    part = add_part(mate, "arm", "0071", hours_when_new_fitted=Decimal("122.45"))
    fit_part(mate, part.pk, told["aircraft"], on - timedelta(30), at_hours=Decimal("500.1"))
    rule = due.Task(
        "arm crack", source="directive", every=due.Interval(hours=Decimal("33.3"), months=1), join="first",
        tolerance=due.Tolerance(percent=Decimal(10)), counts_from="late from due, early from done",
        start=due.Start(total_hours=Decimal(200), not_later_than=on),
    )  # fmt: skip
    (task,) = add_tasks(mate, [part.pk], Line(rule))
    sign_off(mate, task.pk, DoneAs(on, Decimal("640.00"), due_hours=Decimal("210.5"), paper="CRS 19", signer="H. Moss"))
    data = jon.get("/fleet/due.toml").content
    question = read_due(data)
    answered = what_is_due(question.aircraft, question.parts, question.tasks, question.on)
    page = checks_ahead(mate.person)  # type: ignore[arg-type]
    assert to_document(answered) == to_document(page.result)
    assert len(answered.tasks) == 2


@pytest.mark.slow
def test_a_due_file_comes_in_whole_and_says_what_the_command_says(jon: Client, fenholt: Fenholt) -> None:
    """The example of one aircraft: its aircraft and part entered first; then the same states, on the same day."""
    # Ten years earlier: the workshop's clock takes no day that lies ahead.
    text = (ROOT / "examples" / "due" / "01-checks-of-a-merle.toml").read_text("utf-8")
    data = re.sub(r"\b202(?=\d-)", "201", text).encode()
    question = read_due(data)
    words = {"word": "logbook 3", "file": SimpleUploadedFile("checks.toml", data)}
    refused = jon.post("/fleet/take-in", words)
    assert refused.status_code == 422
    assert "T2-03" in text_of(refused)
    other = add_aircraft(fenholt.mate, "Merle T2", "T2-01", "1")
    plane = add_aircraft(fenholt.mate, "Merle T2", "T2-03", "3")
    arm = add_part(fenholt.mate, "arm", "0071", hours_when_new_fitted=Decimal("122.4"))
    before = today(fenholt.workshop) - timedelta(4000)
    fit_part(fenholt.mate, arm.pk, other.pk, before, at_hours=Decimal("3102.2"))
    remove_part(fenholt.mate, arm.pk, before + timedelta(1), "moved", at_hours=Decimal("3310.7"))
    fit_part(fenholt.mate, arm.pk, plane.pk, before + timedelta(1), at_hours=Decimal("770.1"))
    words["file"] = SimpleUploadedFile("checks.toml", data)
    taken = jon.post("/fleet/take-in", words)
    assert taken.status_code == 302, text_of(taken)
    expected = what_is_due(question.aircraft, question.parts, question.tasks, question.on)
    kept = of_workshop(fenholt.workshop, question.on)
    states = {each.task.name: each.state for each in kept.checks}
    for task in expected.tasks:
        assert (states[task.name].state, states[task.name].because) == (task.state, task.because)


def test_an_owner_sees_own_aircraft_and_enters_nothing(fenholt: Fenholt, told: dict[str, Any]) -> None:
    """Not the tasks of others, no button that would be refused; the calendar and the file are their own too."""
    dora = _somebody(fenholt.administrator, "Dora Lind", "dora", OWNER)
    own = add_aircraft(fenholt.mate, "Merle T2", "D-MT09", "T2-09", owner=dora.person.pk)  # type: ignore[union-attr]
    add_tasks(fenholt.mate, [own.pk], Line(due.Task("annual check", before_next_flight=True)))
    client = fenholt.client("dora")
    said = text_of(client.get("/fleet"))
    assert "annual check" in said
    assert "arm check" not in said
    assert "D-MT03" not in said
    would_be_refused = {"Sign off", "Add a task", "Enter hours", "Correct it"}
    assert not would_be_refused & set(re.findall(r"[A-Z][a-z]+(?: [a-z]+)*", said))
    assert b"D-MT03" not in client.get("/fleet/due.toml").content
    assert b"D-MT03" not in client.get("/fleet/calendar.ics").content
    assert client.get(f"/fleet?task={told['task']}").status_code == 404
    assert client.get(f"/fleet/hours/{told['aircraft']}").status_code == 404


def test_a_private_address_is_shown_once_and_shut_at_will(fenholt: Fenholt, told: dict[str, Any]) -> None:
    client = fenholt.client("jon")
    made = client.post("/fleet/calendar/make")
    (address,) = re.findall(r"http://testserver(/fleet/calendar/[\w-]+\.ics)", made.content.decode())
    assert Client().get(address).status_code == 200
    assert address not in client.get("/fleet/calendar").content.decode()
    client.post("/fleet/calendar/end")
    assert Client().get(address).status_code == 404


def test_print_lists_all_without_the_rail_of_one(jon: Client) -> None:
    said = text_of(jon.get("/fleet?print"))
    assert "What binds" in said
    assert "A task that is not due yet says nothing about the condition of the aircraft." in said


def test_a_job_is_opened_for_a_task_and_the_task_names_it(jon: Client, told: dict[str, Any], fenholt: Fenholt) -> None:
    """The button leads to a new job of its aircraft, which carries the task; both ways are seen."""
    surface = add_surface(fenholt.mate, told["aircraft"], "Elevator, left half")
    said = jon.get("/fleet").content.decode()
    (address,) = re.findall(r'href="(/job/new\?[^"]+)"', said)
    assert address == f"/job/new?task={told['task']}&amp;aircraft={told['aircraft']}"
    job = open_job(fenholt.mate, surface.pk, "arm check", details={"task": str(told["task"])})
    assert f"Job {job} is open for it." in text_of(jon.get("/fleet"))
