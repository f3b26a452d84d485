"""Aircraft, parts, counters, scales, stands, materials, photographs and paper."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from django.conf import settings

from hingeline.errors import InputRefused
from hingeline_app.records.actions.aircraft import add_aircraft, add_surface, correct_aircraft, correct_surface
from hingeline_app.records.actions.attaching import Upload, attach_to_job, attach_to_row, transcribe
from hingeline_app.records.actions.counters import change_meter, read_counter, withdraw_counter_reading
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.equipment import (
    add_material,
    add_scale,
    add_stand,
    withdraw_material,
    withdraw_scale,
    withdraw_stand,
)
from hingeline_app.records.actions.measuring import open_measurement
from hingeline_app.records.actions.parts import add_part, fit_part, remove_part
from hingeline_app.records.attachments import attachment_holds
from hingeline_app.records.canonical import digest_of
from hingeline_app.records.dates import today
from hingeline_app.records.models import Attachment, Fitting, PaperRecord, Surface
from hingeline_app.records.queries.counters import HOURS, LANDINGS, counts, total_on
from tests.hingeline_app.records.merle import Merle, inspected, merle, weighed
from tests.hingeline_app.records.workshop import Fenholt

DAY = date(2026, 3, 1)


def hours(job: Merle, shown: str, on: date) -> None:
    read_counter(job.shop.anna, job.aircraft.pk, HOURS, Decimal(shown), on)


@pytest.mark.parametrize(
    ("registration", "code"),
    [("D-E\u0425AM", "U\\+0425"), ("D-E\u200bXAM", "U\\+200B"), ("D-\u202eEXAM", "U\\+202E"), ("", "missing")],
)
def test_a_registration_of_two_scripts_or_with_unseen_characters_is_refused(
    shop: Fenholt, registration: str, code: str
) -> None:
    """Table 3, line 31: the character is shown."""
    with pytest.raises(InputRefused, match=code):
        add_aircraft(shop.anna, "Merle T2", registration, "T2-09")


def test_an_aircraft_and_its_surface_are_entered_once(job: Merle) -> None:
    with pytest.raises(InputRefused, match="registration"):
        add_aircraft(job.shop.anna, "Merle T2", job.aircraft.registration.lower(), "T2-09")
    with pytest.raises(InputRefused, match="serial"):
        add_aircraft(job.shop.anna, "Merle T2", "D-EXYZ", job.aircraft.serial_number)
    with pytest.raises(InputRefused, match="surface"):
        add_surface(job.shop.anna, job.aircraft.pk, job.surface.name)
    correct_aircraft(job.shop.anna, job.aircraft.pk, "sold", registration="D-ENEW")
    job.aircraft.refresh_from_db()
    assert (job.aircraft.registration, job.aircraft.owner) == ("D-ENEW", None)


def test_what_was_typed_wrong_of_an_aircraft_and_a_surface_is_corrected_until_a_job_is_signed(job: Merle) -> None:
    """With the reason; what a signature rests on stays, and what was left out may still be filled in."""
    anna, aircraft, surface = job.shop.anna, job.aircraft, job.surface
    registration, kind = aircraft.registration, aircraft.type_name
    correct_aircraft(anna, aircraft.pk, "misread", registration=registration, type_name=kind, serial_number="T2-30")
    correct_surface(anna, surface.pk, "typed wrong", name="Elevator, right half", hinge_to_trailing_edge="207 mm")
    surface.refresh_from_db()
    assert (surface.name, surface.hinge_to_trailing_edge) == ("Elevator, right half", "207 mm")
    add_surface(anna, aircraft.pk, "Rudder")
    with pytest.raises(InputRefused, match="This aircraft has it"):
        correct_surface(anna, surface.pk, "typed wrong", name="Rudder")
    weighed(job)
    inspected(job)
    with pytest.raises(InputRefused, match=r"serial number.*as it was signed"):
        correct_aircraft(anna, aircraft.pk, "again", registration=registration, serial_number="T2-31")
    for changed in ({"name": "Tab"}, {"hinge_to_trailing_edge": "270 mm"}):
        told = {"name": surface.name, "hinge_to_trailing_edge": "207 mm"} | changed
        with pytest.raises(InputRefused, match="as it was signed"):
            correct_surface(anna, surface.pk, "again", **told)
    correct_surface(anna, surface.pk, "now read", name=surface.name, serial_number="9",
                    hinge_to_trailing_edge="207 mm")  # fmt: skip
    # As a table of aircraft had it; a page gives it back in its own spelling, and changes nothing by that.
    Surface.objects.filter(pk=surface.pk).update(hinge_to_trailing_edge="207,0mm")
    correct_surface(anna, surface.pk, "plate read", name=surface.name, serial_number="9",
                    hinge_to_trailing_edge="207.0 mm")  # fmt: skip
    surface.refresh_from_db()
    assert surface.hinge_to_trailing_edge == "207,0mm"


def test_a_depth_kept_without_its_space_is_no_change_of_it_and_a_serial_number_is_filled_in(job: Merle) -> None:
    """A file at the beginning may have 207mm; the form gives 207 mm, and a signature rests on the depth."""
    anna, surface = job.shop.anna, job.surface
    correct_surface(anna, surface.pk, "as the file has it", name=surface.name, hinge_to_trailing_edge="207mm")
    weighed(job)
    inspected(job)
    told = {"name": surface.name, "serial_number": "9", "hinge_to_trailing_edge": "207 mm"}
    kept = correct_surface(anna, surface.pk, "now read", **told)
    assert (kept.serial_number, kept.hinge_to_trailing_edge) == ("9", "207mm")


def test_the_type_of_an_aircraft_stays_while_a_job_has_limits_of_it(job: Merle) -> None:
    mark = job.aircraft.registration
    with pytest.raises(InputRefused, match="whose limits a job has"):
        correct_aircraft(job.shop.anna, job.aircraft.pk, "misread", registration=mark, type_name="Merle T3")


@pytest.mark.parametrize("depth", ["0 mm", "-1 m", "270", "270 kg", "12 m"])
def test_a_depth_that_is_none_is_refused(job: Merle, depth: str) -> None:
    with pytest.raises(InputRefused, match="hinge to trailing edge"):
        add_surface(job.shop.anna, job.aircraft.pk, "Rudder", hinge_to_trailing_edge=depth)


def test_who_may_not_keep_aircraft_enters_none(job: Merle) -> None:
    for actor in (job.shop.bo, job.shop.dora):
        with pytest.raises(NotAllowed):
            add_aircraft(actor, "Merle T2", "D-EXYZ", "T2-09")


def test_a_part_that_moves_keeps_its_history(job: Merle) -> None:
    other = merle(job.shop, serial="T2-04")
    hours(job, "100.5", DAY)
    hours(job, "150", DAY + timedelta(days=30))
    part = add_part(job.shop.anna, "weight arm", "0071", hours_when_new_fitted=Decimal("0"))
    fit_part(job.shop.anna, part.pk, job.aircraft.pk, DAY, surface=job.surface.pk)
    with pytest.raises(InputRefused, match="remove it there first"):
        fit_part(job.shop.anna, part.pk, other.aircraft.pk, DAY)
    remove_part(job.shop.anna, part.pk, DAY + timedelta(days=30), "to the other aircraft")
    with pytest.raises(InputRefused, match="until"):
        fit_part(job.shop.anna, part.pk, other.aircraft.pk, DAY + timedelta(days=10))
    fit_part(job.shop.anna, part.pk, other.aircraft.pk, DAY + timedelta(days=31), at_hours=Decimal("20"))
    first, second = Fitting.objects.order_by("fitted_on")
    assert (first.fitted_at_hours, first.removed_at_hours) == (Decimal("100.50"), Decimal("150.00"))
    assert (second.aircraft, second.removed_on) == (other.aircraft, None)


def test_a_part_is_fitted_to_a_surface_of_its_own_aircraft(job: Merle) -> None:
    other = merle(job.shop, serial="T2-04")
    part = add_part(job.shop.anna, "weight arm", "0071")
    with pytest.raises(InputRefused, match="surface"):
        fit_part(job.shop.anna, part.pk, job.aircraft.pk, DAY, surface=other.surface.pk)
    with pytest.raises(InputRefused, match="fitted on that day"):
        remove_part(job.shop.anna, part.pk, DAY, "never fitted")


def test_a_part_is_not_fitted_or_removed_on_a_day_that_has_not_come(job: Merle) -> None:
    """The hours of that day are not known: the part would be counted from those of today."""
    part, tomorrow = add_part(job.shop.anna, "weight arm", "0071"), today(job.shop.workshop) + timedelta(days=1)
    with pytest.raises(InputRefused, match="fitted on"):
        fit_part(job.shop.anna, part.pk, job.aircraft.pk, tomorrow)
    fit_part(job.shop.anna, part.pk, job.aircraft.pk, DAY)
    with pytest.raises(InputRefused, match="removed on"):
        remove_part(job.shop.anna, part.pk, tomorrow, "ahead")
    assert Fitting.objects.get().removed_on is None


@pytest.mark.parametrize(("old", "new", "named"), [("4120.5", "0", "old meter"), ("4120", "0.5", "new meter")])
def test_a_meter_of_landings_shows_whole_ones_when_it_is_changed(job: Merle, old: str, new: str, named: str) -> None:
    with pytest.raises(InputRefused, match=f"{named}.*whole number"):
        change_meter(job.shop.anna, job.aircraft.pk, LANDINGS, old_shown=Decimal(old), new_shown=Decimal(new), on=DAY)


def test_a_total_goes_on_over_a_change_of_the_meter(job: Merle) -> None:
    """613.0 shown, 801.5 taken out and 0.0 put in: 1414.5 in all (worked by hand)."""
    hours(job, "801.5", DAY)
    change_meter(
        job.shop.anna,
        job.aircraft.pk,
        HOURS,
        old_shown=Decimal("801.5"),
        new_shown=Decimal("0"),
        on=DAY + timedelta(days=1),
    )
    hours(job, "0.2", DAY + timedelta(days=1))
    hours(job, "613.0", DAY + timedelta(days=60))
    assert total_on(job.aircraft, HOURS, DAY) == Decimal("801.50")
    assert total_on(job.aircraft, HOURS, DAY + timedelta(days=60)) == Decimal("1414.50")
    (count,) = counts(job.shop.dora.person, job.aircraft)
    assert count.total == Decimal("1414.50")


@pytest.mark.parametrize(
    ("days", "said"),
    [(10_000, "changed on.*a day between its building and today"), (0, "changed on.*Its meter was changed on"),
     (2, "changed on.*withdraw them")],
)  # fmt: skip
def test_a_change_of_the_meter_is_the_last_thing_entered(job: Merle, days: int, said: str) -> None:
    """A change cannot be withdrawn: nobody is told to withdraw one; the day is refused at its own field."""

    def changed(after: int) -> None:
        on, old = DAY + timedelta(days=after), Decimal("801.5" if after == 1 else "0.1")
        change_meter(job.shop.anna, job.aircraft.pk, HOURS, old_shown=old, new_shown=Decimal(0), on=on)

    changed(1)
    hours(job, "0.2", DAY + timedelta(days=60))
    with pytest.raises(InputRefused, match=said):
        changed(days)


def test_a_counter_that_steps_back_is_asked_about(job: Merle) -> None:
    hours(job, "613.0", DAY)
    with pytest.raises(InputRefused, match="at least 613"):
        hours(job, "61.3", DAY + timedelta(days=1))
    with pytest.raises(InputRefused, match="at most 613"):
        hours(job, "6130", DAY - timedelta(days=1))
    wrong = job.aircraft.counter_readings.get()
    withdraw_counter_reading(job.shop.anna, wrong.pk, "misread")
    hours(job, "61.3", DAY + timedelta(days=1))
    assert total_on(job.aircraft, HOURS, DAY) is None


@pytest.mark.parametrize("shown", ["-1", "NaN", "Infinity", "1.234", "99999999"])
def test_what_no_meter_shows_is_refused(job: Merle, shown: str) -> None:
    with pytest.raises(InputRefused):
        hours(job, shown, DAY)


def test_landings_are_whole_and_days_are_past(job: Merle) -> None:
    with pytest.raises(InputRefused, match="whole"):
        read_counter(job.shop.anna, job.aircraft.pk, LANDINGS, Decimal("3.5"), DAY)
    for day in (date.today() + timedelta(days=2), date(1999, 1, 1)):
        with pytest.raises(InputRefused, match="date"):
            hours(job, "3", day)


def test_a_scale_and_a_stand_are_entered_once_and_taken_out_of_use(job: Merle) -> None:
    with pytest.raises(InputRefused, match="new name"):
        add_scale(job.shop.anna, job.scale.name, step="5 g", largest="6 kg")
    stand = add_stand(
        job.shop.anna, "Stand 1", masses=[{"name": "mandrel", "mass": "84 g"}], uncertainty={"arm": "2 mm"}
    )
    assert stand.masses == [{"name": "mandrel", "mass": "84 g"}]
    withdraw_stand(job.shop.anna, stand.pk, "bent")
    withdraw_scale(job.shop.anna, job.scale.pk, "dropped")
    for again in (lambda: withdraw_stand(job.shop.anna, stand.pk, "lost"),
                  lambda: withdraw_scale(job.shop.anna, job.scale.pk, "lost")):  # fmt: skip
        with pytest.raises(NotAllowed, match="withdrawn before"):
            again()
    with pytest.raises(InputRefused, match="withdrawn"):
        open_measurement(job.shop.anna, job.job.pk, "weighing", scale=job.scale.pk)
    with pytest.raises(InputRefused, match="a stand in use"):
        open_measurement(job.shop.anna, job.job.pk, "weighing", stand=stand.pk)


@pytest.mark.parametrize(("step", "largest"), [("0 g", "6 kg"), ("7 kg", "6 kg"), ("5", "6 kg"), ("5 mm", "6 kg")])
def test_a_scale_that_cannot_be_is_refused(shop: Fenholt, step: str, largest: str) -> None:
    with pytest.raises(InputRefused):
        add_scale(shop.anna, "HL-9", step=step, largest=largest)


def test_a_batch_of_material_comes_with_its_certificate(shop: Fenholt) -> None:
    with pytest.raises(InputRefused, match="certificate"):
        add_material(shop.anna, "Balance lead", "B7", "", DAY)
    with pytest.raises(InputRefused, match="expires"):
        add_material(shop.anna, "Balance lead", "B7", "RC 5", DAY, expires_on=DAY - timedelta(days=1))
    material = add_material(shop.anna, "Balance lead", "B7", "RC 5", DAY)
    with pytest.raises(InputRefused, match="batch"):
        add_material(shop.anna, "Balance lead", "b7", "RC 6", DAY)
    withdraw_material(shop.anna, material.pk, "recalled")
    with pytest.raises(NotAllowed):
        withdraw_material(shop.anna, material.pk, "recalled")


def test_a_photograph_lies_under_its_digest(job: Merle) -> None:
    upload = Upload("photograph", b"bytes", "image/jpeg", "IMG_1.jpg", 64, 48, b"shown")
    photograph = attach_to_job(job.shop.anna, job.job.pk, upload)
    assert photograph.digest == digest_of(b"bytes")
    for digest in (photograph.digest, photograph.preview_digest):
        assert attachment_holds(Path(settings.DATA_FOLDER), digest)
    assert attach_to_row(job.shop.anna, job.row.pk, Upload("page", b"page", "image/png")).limit_row == job.row


@pytest.mark.fault("F21")
def test_a_file_damaged_on_its_way_is_refused(job: Merle) -> None:
    """Fault F21: the tablet worked out another digest."""
    with pytest.raises(InputRefused, match="send it again"):
        attach_to_job(
            job.shop.anna, job.job.pk, Upload("recording", b"byteX", "video/mp4", expected_digest=digest_of(b"bytes"))
        )
    assert not Attachment.objects.exists()


def test_a_paper_record_keeps_the_originals_date_and_signer(job: Merle) -> None:
    record = transcribe(
        job.shop.anna,
        job.aircraft.pk,
        original_date=date(2019, 6, 1),
        original_signer="H. Moss",
        original_licence="old 12",
        says="Elevator weighed after paint",
        moment="1.9 N m tail-heavy",
        surface=job.surface.pk,
        photograph=Upload("page", b"scan", "image/jpeg"),
    )
    assert (record.original_signer, record.transcribed_by) == ("H. Moss", job.shop.anna.person)
    assert record.photograph is not None


@pytest.mark.parametrize(
    "bad", [{"original_date": date(2099, 1, 1)}, {"original_date": date(1990, 1, 1)}, {"moment": "12"}, {"says": " "}]
)
def test_a_paper_record_that_cannot_be_is_refused(job: Merle, bad: dict[str, object]) -> None:
    good = {"original_date": date(2019, 6, 1), "original_signer": "H. Moss", "says": "Weighed"}
    with pytest.raises(InputRefused):
        transcribe(job.shop.anna, job.aircraft.pk, **(good | bad))
    assert not PaperRecord.objects.exists()
