"""Arrive and Limits: ticks, what is fitted, photographs; which row applies and why others do not; another surface."""

from __future__ import annotations

import io
from datetime import date
from typing import Any
from uuid import UUID

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image
from pytest_django import DjangoAssertNumQueries

from hingeline_app.records.actions.aircraft import add_aircraft, add_surface, correct_aircraft, correct_surface
from hingeline_app.records.actions.jobs import choose_limits, set_detail
from hingeline_app.records.actions.limits import add_issue, enter_limits, read_again
from hingeline_app.records.actions.measuring import open_measurement
from hingeline_app.records.models import Account, Aircraft, Attachment, Entry, Job, Surface
from hingeline_app.records.roles import SECOND_INSPECTOR
from hingeline_app.records.write_door import Actor
from hingeline_app.web.steps.release import judged
from tests.hingeline_app.web.conftest import Fenholt, _somebody

pytestmark = pytest.mark.django_db

PRINTED = {
    "positive": "nose heavy", "moment": ["-2.10 N m", "0.00 N m"], "arm": "255 mm", "rule": "guarded",
    "effectivity": "T2-01 to T2-12", "fitted": "tab, pushrod, without static wicks",
}  # fmt: skip


def page(fenholt: Fenholt, step: str, who: str = "jon") -> str:
    return str(fenholt.client(who).get(f"/job/{fenholt.job}/{step}").content.decode()).replace("\xa0", " ")


def reader(fenholt: Fenholt) -> Actor:
    """Give the second reader."""
    here = Account.objects.filter(sign_in_name="bo").select_related("person").first()
    if here is not None:
        return Actor(fenholt.workshop, here.person, here)
    return _somebody(fenholt.administrator, "Bo Lind", "bo", SECOND_INSPECTOR, "FH.1")


def entered(fenholt: Fenholt, surface: str = "Elevator, left half", **more: Any) -> UUID:
    """Enter a row that two people read the same."""
    printed = {**PRINTED, **more}
    row = enter_limits(fenholt.mate, fenholt.approved["issue"], surface, "27-11", printed)
    read_again(reader(fenholt), row.pk, printed)
    return row.pk


def chosen(fenholt: Fenholt, row: UUID) -> None:
    job = Job.objects.get(number=fenholt.job)
    choose_limits(fenholt.mate, job.pk, row, job.limit_row_id)


def test_arrive_asks_for_water_dirt_and_what_is_fitted(fenholt: Fenholt) -> None:
    """Nothing is ticked by itself; what is not ticked is said beside the way on."""
    said = page(fenholt, "arrive")
    assert "Not ticked yet: Drains open, Dry inside, No loose matter." in said
    assert " checked" not in said
    job = Job.objects.get(number=fenholt.job)
    for name in ("drains", "dry", "no_loose_matter"):
        set_detail(fenholt.mate, job.pk, f"arrive.{name}", None, True)
    set_detail(fenholt.mate, job.pk, "arrive.fitted.tab", None, "off")
    said = page(fenholt, "arrive")
    assert "Drains open, dry, no loose matter." in said
    assert 'id="f-tab-off" name="value" value="off" checked' in said


def test_going_to_limits_closes_arrive(fenholt: Fenholt) -> None:
    sent = {"kind": "detail", "step": "limits", "place": "arrive.state", "was": "", "value": "done"}
    answer = fenholt.client("jon").post(f"/job/{fenholt.job}/entry", sent)
    assert answer["Location"] == f"/job/{fenholt.job}/limits"
    assert '<li class="done"><a href="/job/1/arrive"' in page(fenholt, "limits")


def test_a_photograph_is_kept_with_its_remark_and_shown_drawn_anew(fenholt: Fenholt) -> None:
    """A second sending with the same key is the same photograph; what is no picture is refused in words."""
    client, picture = fenholt.client("jon"), io.BytesIO()
    Image.new("RGB", (40, 30), "grey").save(picture, "JPEG")
    for _twice in range(2):
        sent = {"kind": "photo", "remark": "drain, left", "command_key": "p1",
                "photograph": SimpleUploadedFile("one.jpg", picture.getvalue())}  # fmt: skip
        assert client.post(f"/job/{fenholt.job}/entry", sent, headers={"X-Entry": "1"}).status_code == 200
    kept = Attachment.objects.get(job__number=fenholt.job)
    assert f'alt="{kept.remark}"' in page(fenholt, "arrive")
    shown = client.get(f"/job/{fenholt.job}/photograph/{kept.pk}")
    assert shown["Content-Type"] == "image/jpeg"
    words = {"kind": "photo", "photograph": SimpleUploadedFile("one.jpg", b"no picture")}
    assert client.post(f"/job/{fenholt.job}/entry", words, headers={"X-Entry": "1"}).status_code == 422
    assert client.post(f"/job/{fenholt.job}/entry", {"kind": "photo"}, headers={"X-Entry": "1"}).status_code == 422


def test_limits_show_the_row_as_printed_and_in_newton_metres(fenholt: Fenholt) -> None:
    """A document whose plus is nose-heavy: -2.10 ... 0.00 as printed is 0.00 ... 2.10 N·m tail-heavy (by hand)."""
    chosen(fenholt, entered(fenholt))
    said = page(fenholt, "limits")
    assert "-2.10 N m … 0.00 N m" in said
    assert "plus is “nose heavy”" in said
    assert "0.00 … 2.10 N·m" in said.replace("\u202f", " ")
    assert "guarded rule" in said
    assert "MM-T2, issue C, page 27-11" in said


def test_the_reading_window_follows_from_the_printed_arm(fenholt: Fenholt) -> None:
    """2.10 N·m / (9.80665 m/s2 x 0.255 m) = 0.8398 kg, by hand; the workshop states no gravity of its own."""
    chosen(fenholt, entered(fenholt, rule="simple"))
    said = page(fenholt, "limits").replace("\xa0", " ").replace("\u202f", " ")
    assert "Inside the limits the scale shows" in said
    assert "839" in said
    assert "By the printed arm of 255 mm, without tare" in said


def test_rejected_rows_stand_with_their_reasons(fenholt: Fenholt) -> None:
    entered(fenholt, effectivity="T2-20 to T2-40")
    entered(fenholt, "Rudder")
    entered(fenholt, option="long tail")
    said = page(fenholt, "limits")
    assert "for serial numbers T2-20 to T2-40; this is T2-07" in said
    assert "for another surface: Rudder" in said
    assert "only with long tail: is it fitted?" in said
    assert "3 rows rejected, and why" in said


def test_a_row_that_a_correction_left_for_another_aircraft_or_surface_opens_the_step_again(fenholt: Fenholt) -> None:
    """Nobody could choose it now: what was typed wrong was corrected after the choice, and a statement rests on it."""
    mate: Any = fenholt.mate
    chosen(fenholt, entered(fenholt))
    assert "Limits is open." not in judged(mate.person, fenholt.job)
    correct_aircraft(mate, fenholt.aircraft, "misread", registration="D-EFHM", serial_number="T2-27")
    assert "for serial numbers T2-01 to T2-12; this is T2-27" in page(fenholt, "limits")
    assert "Limits is open." in judged(mate.person, fenholt.job)
    correct_aircraft(mate, fenholt.aircraft, "read again", registration="D-EFHM", serial_number="T2-07")
    correct_surface(mate, fenholt.surface, "typed wrong", name="Elevator, right half")
    assert "Limits is open." in judged(mate.person, fenholt.job)
    correct_surface(mate, fenholt.surface, "typed wrong", name="Elevator, left")
    assert "Limits is open." not in judged(mate.person, fenholt.job)


def test_what_the_limits_assume_is_held_against_arrive(fenholt: Fenholt) -> None:
    """The pushrod is off, the limits assume it fitted: the row is marked as different, in a word too."""
    chosen(fenholt, entered(fenholt))
    job = Job.objects.get(number=fenholt.job)
    set_detail(fenholt.mate, job.pk, "arrive.fitted.pushrod", None, "off")
    set_detail(fenholt.mate, job.pk, "arrive.fitted.tab", None, "fitted")
    said = page(fenholt, "limits")
    assert said.count('<tr class="differs">') == 1
    assert "<b>differs</b>" in said


def test_a_row_that_one_person_read_is_headed_so_and_hidden_from_the_next_reader(fenholt: Fenholt) -> None:
    row = enter_limits(fenholt.mate, fenholt.approved["issue"], "Elevator, left half", "27-11", PRINTED)
    chosen(fenholt, row.pk)
    assert "Limits read by one person" in page(fenholt, "limits")
    for_another = page(fenholt, "limits", "mara")
    assert "Limits read by one person" in for_another
    assert "2.10" not in for_another


def test_a_row_of_an_older_issue_is_headed_superseded_and_cannot_be_chosen(fenholt: Fenholt) -> None:
    chosen(fenholt, entered(fenholt))
    add_issue(fenholt.mate, fenholt.approved["document"], "D", date(2026, 9, 1))
    said = page(fenholt, "limits")
    assert "The limits are superseded" in said
    assert "of an issue that is superseded" in said


def test_a_chosen_row_that_speaks_of_another_surface_is_doubted_on_the_page(fenholt: Fenholt) -> None:
    """The row of the other half was chosen: its reason stands above the bar, and nothing is taken back by itself."""
    chosen(fenholt, entered(fenholt, "Elevator, right half"))
    said = page(fenholt, "limits")
    assert "Is it the right row?" in said
    assert "for another surface: Elevator, right half" in said
    row = entered(fenholt)
    chosen(fenholt, row)
    assert "Is it the right row?" not in page(fenholt, "limits")


def test_who_may_not_work_sees_and_enters_nothing(fenholt: Fenholt) -> None:
    """An administrator without another role reads both steps: no tick to set, no row to choose, no way out."""
    entered(fenholt)
    arrive, limits = page(fenholt, "arrive", "mara"), page(fenholt, "limits", "mara")
    assert "disabled" in arrive
    assert "Wrong surface" not in arrive
    assert 'value="choose-limits"' not in limits
    assert 'value="choose-limits"' in page(fenholt, "limits")


def test_choosing_is_one_entry_and_another_quicker_choice_is_told(fenholt: Fenholt) -> None:
    """One's own ticks meanwhile do not stand in the way; another's choice does, and is named by its page."""
    first, second = entered(fenholt), entered(fenholt, page="27-13")
    client, address = fenholt.client("jon"), f"/job/{fenholt.job}/entry"
    tick = {"kind": "detail", "as": "tick", "place": "arrive.dry", "was": "", "value": "on"}
    assert client.post(address, tick, headers={"X-Entry": "1"}).status_code == 200
    sent = {"kind": "choose-limits", "row": str(first), "was": ""}
    assert client.post(address, sent, headers={"X-Entry": "1"}).status_code == 200
    late = client.post(address, {**sent, "row": str(second)}, headers={"X-Entry": "1"})
    assert late.status_code == 409
    assert late.json()["theirs"]["limit row"] == "MM-T2, issue C, page 27-11"
    assert client.post(address, {**sent, "was": "one"}, headers={"X-Entry": "1"}).status_code == 422
    assert Job.objects.get(number=fenholt.job).limit_row_id == first


def test_a_row_is_missing_leads_to_the_limits(fenholt: Fenholt) -> None:
    said = page(fenholt, "limits")
    assert "No row of limits fits this surface." in said
    assert 'href="/limits"' in said


def test_queries_of_both_steps_are_fixed(fenholt: Fenholt, django_assert_num_queries: DjangoAssertNumQueries) -> None:
    chosen(fenholt, entered(fenholt))
    entered(fenholt, "Rudder")
    client = fenholt.client("jon")
    with django_assert_num_queries(ARRIVE_QUERIES):
        client.get(f"/job/{fenholt.job}/arrive")
    with django_assert_num_queries(LIMITS_QUERIES):
        client.get(f"/job/{fenholt.job}/limits")


ARRIVE_QUERIES, LIMITS_QUERIES = 15, 16


def test_the_wrong_surface_goes_on_at_the_right_one_in_one_act(fenholt: Fenholt) -> None:
    """The old job is voided with its reason, the new one has the arrival; its step is open again; one entry."""
    job = Job.objects.get(number=fenholt.job)
    set_detail(fenholt.mate, job.pk, "arrive.fitted.tab", None, "off")
    set_detail(fenholt.mate, job.pk, "arrive.state", None, "done")
    other = add_aircraft(fenholt.mate, "Merle T2", "D-EOTH", "T2-08")
    right = add_surface(fenholt.mate, other.pk, "Elevator, left half")
    before = Entry.objects.filter(chain="records").count()
    sent = {"which": "elsewhere", "surface": str(right.pk), "reason": "tail number misread"}
    answer = fenholt.client("jon").post(f"/job/{fenholt.job}/instead", sent)
    assert answer["Location"] == "/job/2/arrive"
    assert Entry.objects.filter(chain="records").count() == before + 1
    new = Job.objects.get(number=2)
    assert new.surface == right
    assert new.details == {"arrive": {"fitted": {"tab": "off"}}, "instead_of": fenholt.job}
    assert Job.objects.get(number=fenholt.job).state == "voided"
    page = "/job/2/arrive"
    assert "Opened instead of <a" in fenholt.client("jon").get(page).content.decode()
    # Come from elsewhere, with a number of elsewhere: an earlier import kept it, and nothing kept is written over.
    Aircraft.objects.filter(pk=other.pk).update(came_from="another workshop")
    assert "Opened instead of <a" in fenholt.client("jon").get(page).content.decode(), "the ledger says it is of here"
    Job.objects.filter(number=2).update(details=new.details | {"instead_of": 7})
    assert "a job 7 of this workshop is another one" in fenholt.client("jon").get(page).content.decode()


def test_a_swapped_piece_begins_anew_under_its_own_serial_number(fenholt: Fenholt) -> None:
    sent = {"which": "swap", "serial_number": "EL-0099", "reason": "skin corroded, scrapped"}
    assert fenholt.client("jon").post(f"/job/{fenholt.job}/instead", sent)["Location"] == "/job/2/arrive"
    assert Surface.objects.get(pk=fenholt.surface).serial_number == "EL-0099"
    assert "arrive" not in Job.objects.get(number=2).details
    said = Entry.objects.filter(chain="records").order_by("-position").first()
    assert said is not None
    assert "EL-0099" in str(said.body)


def test_the_ways_out_refuse_in_words(fenholt: Fenholt) -> None:
    """The same serial number, no reason, an unknown way."""
    client, address = fenholt.client("jon"), f"/job/{fenholt.job}/instead"
    surface = Surface.objects.get(pk=fenholt.surface)
    same = {"which": "swap", "serial_number": surface.serial_number or "", "reason": "scrapped"}
    assert client.post(address, same).status_code == 422
    assert client.post(address, {"which": "void", "reason": ""}).status_code == 422
    assert client.post(address, {"which": "fly"}).status_code == 404
    assert Job.objects.get(number=fenholt.job).state == "open"
    assert client.post(address, {"which": "void", "reason": "opened by mistake"})["Location"] == "/bench"


def test_vibration_reminds_of_the_report_on_arrival(fenholt: Fenholt) -> None:
    assert "376/2014" not in page(fenholt, "arrive")
    Job.objects.filter(number=fenholt.job).update(why_here="Vibration reported: rudder pedals")
    assert "376/2014" in page(fenholt, "arrive")


def test_a_file_whose_limits_have_no_known_sense_is_refused_in_words(fenholt: Fenholt) -> None:
    """An older row whose plus says neither way: no file of a weighing, but what is in the way and where to mend it."""
    row = entered(fenholt, positive="table heavy")
    chosen(fenholt, row)
    job = Job.objects.get(number=fenholt.job)
    set_up = {"support": [{"arm": "255 mm", "side": "aft"}]}
    open_measurement(fenholt.mate, job.pk, "weighing", scale=fenholt.scale, set_up=set_up)
    for file in ("weighing", "correction"):
        answer = fenholt.client("jon").get(f"/job/{fenholt.job}/{file}/1.toml")
        said = answer.content.decode()
        assert answer.status_code == 422
        assert "table heavy" in said
        assert "Say what the document&#x27;s plus means" in said
        assert f'href="/limits/{row}"' in said
        assert f'href="/job/{fenholt.job}"' in said
    missing = fenholt.client("jon").get(f"/job/{fenholt.job}/weighing/2.toml")
    assert missing.status_code == 404
