"""Jobs: opened, measured, corrected; two writers never overwrite each other."""

from __future__ import annotations

import json
import re
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from hingeline.errors import InputRefused
from hingeline_app.records.actions.correcting import correct_reading, correct_set_up
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.jobs import choose_limits, open_job, open_order, set_detail, void_job
from hingeline_app.records.actions.measuring import add_reading, open_measurement, record_result, withdraw_reading
from hingeline_app.records.actions.releasing import release
from hingeline_app.records.actions.working import Moved
from hingeline_app.records.models import Correction, Entry, Job, Measurement, Reading, Result, Signature, Workshop
from hingeline_app.records.queries.flutter_models import weighed_moments
from hingeline_app.records.queries.job_history import history_of_job
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.records.queries.last_weighing import last_weighing
from hingeline_app.records.queries.matter import RELEASE
from hingeline_app.records.queries.records_search import Wanted, find_records
from hingeline_app.records.queries.visible import Nowhere, visible_to
from hingeline_app.records.write_door import AlreadyDone, Command
from tests.hingeline_app.records.merle import INSIDE, Merle, inspected, limits, merle, proof, released, weighed
from tests.hingeline_app.records.workshop import no_bench, with_role


def test_jobs_are_numbered_without_a_gap(job: Merle) -> None:
    second = open_job(job.shop.cy, job.surface.pk, "repaired")
    assert [each.number for each in (job.job, second)] == [1, 2]


def test_what_a_voided_job_weighed_is_of_another_piece(job: Merle) -> None:
    """Its set-up begins no weighing and its moment stands in no flutter model; before it was voided both did."""
    anna = job.shop.anna
    assert anna.person is not None
    weighing = weighed(job)
    record_result(anna, job.job.pk, A_MOMENT, measurement=weighing.pk)
    here = job_of(anna.person, job.job.number)
    assert last_weighing(anna.person, here) is not None
    assert [each.job for each in weighed_moments(anna.person, here.aircraft)] == [job.job.number]
    void_job(anna, job.job.pk, "opened on the wrong half")
    assert last_weighing(anna.person, here) is None
    assert weighed_moments(anna.person, here.aircraft) == []


A_MOMENT = {
    "format": "hingeline/weighing-result/1",
    "static_moment": {"value": 0.41, "standard_uncertainty": 0.01, "expanded_uncertainty": 0.02},
}


def test_the_history_of_an_open_job_tells_no_inspector_what_another_saw(job: Merle) -> None:
    """Neither the worker's tick nor the look of who looked first; once the job is released both stand there."""
    anna = job.shop.anna.person
    assert anna is not None
    weighed(job)
    inspected(job)
    blind = {"tick", "finding", "note"}
    fields = {each.field for entry in history_of_job(anna, job.job.pk) for each in entry.changes}
    assert not fields & blind
    release(job.shop.cy, job.as_seen, proof(job.shop.cy), judge=no_bench)
    fields = {each.field for entry in history_of_job(anna, job.job.pk) for each in entry.changes}
    assert {"tick", "finding"} <= fields


def test_the_history_of_a_job_names_what_was_chosen_and_shows_no_identifier(job: Merle) -> None:
    """A reader finds document, page, scale and surface in words, and who and which job said once, beside the entry."""
    anna = job.shop.anna.person
    weighed(job)
    inspected(job)
    shown = {(each.field, each.now) for entry in history_of_job(anna, job.job.pk) for each in entry.changes}
    assert ("limit row", "MM-T2-03, issue 4, page 27-11") in shown
    assert {("scale", job.scale.name), ("surface", job.surface.name), ("item", "balance weight screws")} <= shown
    identifier = re.compile("[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
    assert [(field, now) for field, now in shown if identifier.search(now) or field.endswith(" id")] == []


def test_a_release_stands_in_the_list_under_the_workshop_s_own_day(job: Merle) -> None:
    """In a zone fourteen hours ahead and in one eleven behind, the day in the list is the day of the printed sheet."""
    anna = job.shop.anna.person
    assert anna is not None
    released(job)
    at = Signature.objects.get(purpose=RELEASE).signed_at
    for zone in ("Pacific/Kiritimati", "Pacific/Pago_Pago"):
        Workshop.objects.update(zone=zone)
        (line,) = find_records(anna, Wanted()).lines
        assert line.released_on == at.astimezone(ZoneInfo(zone)).date()


def test_who_may_not_work_opens_no_job_and_adds_no_reading(job: Merle) -> None:
    weighing = weighed(job)
    for actor in (job.shop.bo, job.shop.ed):
        with pytest.raises(NotAllowed):
            open_job(actor, job.surface.pk, "painted")
        with pytest.raises(NotAllowed):
            add_reading(actor, weighing.pk, "840 g")
    with pytest.raises(NotAllowed):
        add_reading(job.shop.dora, weighing.pk, "840 g")


def test_a_reading_is_kept_as_typed_and_in_si(job: Merle) -> None:
    weighing = open_measurement(job.shop.anna, job.job.pk, "weighing", scale=job.scale.pk)
    reading = add_reading(job.shop.anna, weighing.pk, "0,845 kg")
    assert (reading.typed, reading.si_value, reading.si_unit) == ("0,845 kg", 0.845, "kg")
    assert add_reading(job.shop.anna, weighing.pk, "8.3 N").si_unit == "N"


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "abc",
        "nan kg",
        "1e3 g",
        "840",
        "840 mm",
        "1.234,5 g",
        "８４０ g",
        "1_000 g",
        "842 g",
        "7 kg",
        "-7 kg",
        "1 stone",
    ],
)
def test_what_no_scale_shows_is_refused_and_nothing_is_kept(job: Merle, typed: str) -> None:
    """842 g is finer than the scale's step of 5 g; 7 kg is above its largest."""
    weighing = open_measurement(job.shop.anna, job.job.pk, "weighing", scale=job.scale.pk)
    before = Entry.objects.count()
    with pytest.raises(InputRefused):
        add_reading(job.shop.anna, weighing.pk, typed)
    assert Entry.objects.count() == before
    assert not Reading.objects.exists()


@pytest.mark.fault("F09")
def test_two_tablets_that_read_the_same_job_do_not_collide(job: Merle) -> None:
    weighing = open_measurement(job.shop.anna, job.job.pk, "weighing")
    for actor in (job.shop.anna, job.shop.cy, job.shop.anna):
        add_reading(actor, weighing.pk, "840 g")
    assert weighing.readings.count() == 3
    assert job.now.version == 2


def test_a_withdrawn_reading_stays_with_its_reason(job: Merle) -> None:
    weighing = weighed(job)
    reading = weighing.readings.first()
    withdraw_reading(job.shop.anna, reading.pk, "door open")
    reading.refresh_from_db()
    assert reading.withdrawn_because == "door open"
    assert weighing.readings.count() == 3
    with pytest.raises(NotAllowed, match="withdrawn before"):
        withdraw_reading(job.shop.anna, reading.pk, "again")
    with pytest.raises(InputRefused):
        withdraw_reading(job.shop.anna, weighing.readings.last().pk, "  ")


def test_an_engineer_corrects_own_entries_and_a_certifying_person_any(job: Merle) -> None:
    other = with_role(job.shop, "Gus Ray", "GR", "engineer")
    reading = weighed(job).readings.first()
    with pytest.raises(NotAllowed, match="yourself"):
        correct_reading(other, reading.pk, "850 g", "misread")
    new = correct_reading(job.shop.cy, reading.pk, "850 g", "misread")
    assert new.si_value == 0.85


def test_a_correction_is_a_new_entry_that_names_the_one_it_follows(job: Merle) -> None:
    weighing = weighed(job)
    reading = weighing.readings.first()
    made = Entry.objects.get(kind="reading added", body__contains=str(reading.pk))
    correct_reading(job.shop.anna, reading.pk, "850 g", "misread")
    correct_set_up(job.shop.anna, weighing.pk, "arm", "250 mm", "measured again")
    first, second = Correction.objects.order_by("change")
    assert (first.was, first.now, first.reason) == ("840 g", "850 g", "misread")
    assert (second.was, second.now, second.field) == ("255 mm", "250 mm", "set_up.arm")
    entry = Entry.objects.get(kind="reading corrected")
    assert json.loads(entry.body)["follows"] == [made.digest]


def test_what_is_not_there_cannot_be_corrected(job: Merle) -> None:
    with pytest.raises(InputRefused, match="arm"):
        correct_set_up(job.shop.anna, weighed(job).pk, "amr", "250 mm", "typed wrong")


@pytest.mark.fault("F09")
def test_the_second_of_two_writers_is_told_both_sides(job: Merle) -> None:
    set_detail(job.shop.anna, job.job.pk, "arrive.drains", None, "open")
    with pytest.raises(Moved) as moved:
        set_detail(job.shop.cy, job.job.pk, "arrive.drains", None, "closed")
    assert moved.value.yours == {"arrive.drains": "closed"}
    assert moved.value.theirs == {"arrive.drains": "open"}
    assert moved.value.changed == ("arrive.drains",)
    assert job.now.details == {"dry": True, "arrive": {"drains": "open"}}


@pytest.mark.fault("F09")
def test_two_who_choose_other_rows_are_told_both_and_ticks_meanwhile_do_not_matter(job: Merle) -> None:
    """What was seen is which row applied, not whether anything else of the job moved."""
    other = limits(job.shop, "T2-04")
    with pytest.raises(Moved) as moved:
        choose_limits(job.shop.cy, job.job.pk, other.pk, None)
    assert "MM-T2-03" in str(moved.value.theirs)
    assert "MM-T2-04" in str(moved.value.yours)
    set_detail(job.shop.anna, job.job.pk, "dry", True, False)
    assert choose_limits(job.shop.cy, job.job.pk, other.pk, job.row.pk).limit_row_id == other.pk


@pytest.mark.fault("F14")
def test_the_same_command_twice_is_one_reading(job: Merle) -> None:
    weighing = open_measurement(job.shop.anna, job.job.pk, "weighing")
    command = Command("k7", {"reading": "840 g"})
    add_reading(job.shop.anna, weighing.pk, "840 g", command=command)
    with pytest.raises(AlreadyDone):
        add_reading(job.shop.anna, weighing.pk, "840 g", command=command)
    assert weighing.readings.count() == 1


def test_a_result_keeps_its_document_in_one_spelling(job: Merle) -> None:
    result = Result.objects.get(measurement=weighed(job))
    assert json.loads(result.document) == INSIDE
    again = record_result(job.shop.anna, job.job.pk, dict(reversed(INSIDE.items())))
    assert again.digest == result.digest


@pytest.mark.parametrize("bad", [{}, {"format": "x"}, {"format": "hingeline/x/1", "v": float("nan")}, {"format": 3}])
def test_what_is_no_document_is_refused(job: Merle, bad: dict[str, Any]) -> None:
    with pytest.raises(InputRefused):
        record_result(job.shop.anna, job.job.pk, bad)


def test_details_are_bounded(job: Merle) -> None:
    deep: Any = "x"
    for _ in range(40):
        deep = [deep]
    for bad in (deep, "x" * 100_000, float("inf")):
        with pytest.raises(InputRefused):
            set_detail(job.shop.anna, job.job.pk, "a", None, bad)


def test_nothing_is_added_to_a_released_or_voided_job(job: Merle) -> None:
    released(job)
    weighing = Measurement.objects.get()
    for act in (
        lambda: add_reading(job.shop.anna, weighing.pk, "840 g"),
        lambda: correct_reading(job.shop.anna, weighing.readings.first().pk, "850 g", "misread"),
        lambda: correct_reading(job.shop.cy, weighing.readings.first().pk, "850 g", "misread"),
        lambda: set_detail(job.shop.anna, job.job.pk, "dry", True, False),
    ):
        with pytest.raises(NotAllowed):
            act()
    second = open_job(job.shop.anna, job.surface.pk, "by mistake")
    void_job(job.shop.anna, second.pk, "opened twice")
    with pytest.raises(NotAllowed):
        set_detail(job.shop.anna, second.pk, "dry", None, True)


def test_a_work_order_groups_jobs_of_one_aircraft(job: Merle) -> None:
    order = open_order(job.shop.anna, job.aircraft.pk, "Repaint")
    assert open_job(job.shop.anna, job.surface.pk, "painted", work_order=order.pk).work_order == order
    other = merle(job.shop, serial="T2-04")
    with pytest.raises(InputRefused, match="order"):
        open_job(job.shop.anna, other.surface.pk, "painted", work_order=order.pk)


def test_an_owner_sees_the_jobs_of_own_aircraft_only(job: Merle) -> None:
    other = merle(job.shop, owner=job.shop.fred, serial="T2-04")
    assert list(visible_to(job.shop.dora.person, Job)) == [job.job]
    assert set(visible_to(job.shop.ed.person, Job)) == {job.job, other.job}
    with pytest.raises(Nowhere):
        set_detail(job.shop.dora, other.job.pk, "dry", True, False)
