"""What a scale was certified for on the day of weighing counts, whatever certificate it got since."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from hingeline.errors import InputRefused
from hingeline_app.records.actions.equipment import add_scale, renew_certificate
from hingeline_app.records.models import Measurement, Scale
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.records.queries.open_points import open_points
from tests.hingeline_app.records.merle import Merle, weighed

OLD: dict[str, Any] = {"calibration": {"expanded": "9 g", "k": 2}}
NEW: dict[str, Any] = {"calibration": {"expanded": "4 g", "k": 2}}


def weighed_without_certificate(job: Merle) -> None:
    """Weigh after the certificate's last day, then enter the next one: it begins today, the weighing was before it."""
    day = date.today()
    renew_certificate(job.shop.anna, job.scale.pk, "C 16", day - timedelta(days=400), day - timedelta(days=35), OLD)
    weighing = weighed(job)
    Measurement.objects.filter(pk=weighing.pk).update(begun_on=day - timedelta(days=5))


def test_a_certificate_that_came_later_clears_no_weighing_from_before_it(job: Merle) -> None:
    """What the scale was certified for on the day of weighing counts, whatever is entered afterwards."""
    weighed_without_certificate(job)
    renew_certificate(job.shop.anna, job.scale.pk, "C 18", date.today(), date.today() + timedelta(days=365), NEW)
    assert [str(each) for each in open_points(job.now)] == [
        "The scale's certificate had expired on the day of weighing, or has no date."
    ]
    scale = job_of(job.shop.anna.person, job.job.number).weighing.scale
    assert (scale["certificate"], scale["uncertainty"]) == ("C 16", OLD)


def test_a_certificate_of_the_day_that_is_entered_late_counts_for_that_day(job: Merle) -> None:
    weighed_without_certificate(job)
    first = date.today() - timedelta(days=20)
    renew_certificate(job.shop.anna, job.scale.pk, "C 17b", first, date.today() + timedelta(days=345), NEW)
    assert open_points(job.now) == []
    renew_certificate(job.shop.anna, job.scale.pk, "C 18", date.today(), date.today() + timedelta(days=365), OLD)
    assert open_points(job.now) == []
    scale = job_of(job.shop.anna.person, job.job.number).weighing.scale
    assert (scale["certificate"], scale["certificate_begins"], scale["uncertainty"]) == ("C 17b", first, NEW)


def test_a_first_day_that_was_typed_too_late_is_corrected_by_entering_the_certificate_again(job: Merle) -> None:
    """The paper had come in good time: without this the weighings of three weeks were to be made again."""
    weighed_without_certificate(job)
    last = date.today() + timedelta(days=345)
    renew_certificate(job.shop.anna, job.scale.pk, "C 18", date.today(), last, NEW)
    assert open_points(job.now)
    first = date.today() - timedelta(days=20)
    with pytest.raises(InputRefused, match="by its own name"):
        renew_certificate(job.shop.anna, job.scale.pk, "C 17b", first, last, NEW)
    renew_certificate(job.shop.anna, job.scale.pk, "C 18", first, last, NEW)
    assert open_points(job.now) == []


def test_a_first_day_that_was_typed_too_early_is_corrected_and_the_days_before_it_have_the_one_before(
    job: Merle,
) -> None:
    """The one typed too early stayed among those before it, and went on counting on the days that were not its own."""
    weighed_without_certificate(job)
    day = date.today()
    last = day + timedelta(days=345)
    renew_certificate(job.shop.anna, job.scale.pk, "C 18", day - timedelta(days=20), last, NEW)
    assert open_points(job.now) == []
    renew_certificate(job.shop.anna, job.scale.pk, "C 18", day - timedelta(days=2), last, NEW)
    assert open_points(job.now)
    scale = job_of(job.shop.anna.person, job.job.number).weighing.scale
    assert (scale["certificate"], scale["uncertainty"]) == ("C 16", OLD)


def test_a_first_day_that_was_corrected_twice_counts_as_corrected_last(job: Merle) -> None:
    """What was typed first stayed under the second correction, and went on counting on days that were not its own."""
    weighed_without_certificate(job)
    day = date.today()
    for days in (6, 20, 1):
        renew_certificate(job.shop.anna, job.scale.pk, "C 18", day - timedelta(days), day + timedelta(345), NEW)
    assert open_points(job.now)
    scale = job_of(job.shop.anna.person, job.job.number).weighing.scale
    assert (scale["certificate"], scale["uncertainty"]) == ("C 16", OLD)


def test_a_certificate_of_before_that_is_given_its_first_day_still_counts_for_what_rested_on_it(job: Merle) -> None:
    """Entered when no first day was asked for: older weighings keep it, and it is still not known since when."""
    weighing = weighed(job)
    Measurement.objects.filter(pk=weighing.pk).update(begun_on=date.today() - timedelta(days=200))
    last = Scale.objects.get(pk=job.scale.pk).certificate_expires
    assert last is not None
    renew_certificate(job.shop.anna, job.scale.pk, "C 17", date.today() - timedelta(days=20), last, NEW)
    assert open_points(job.now) == []
    scale = job_of(job.shop.anna.person, job.job.number).weighing.scale
    assert (scale["certificate"], scale["certificate_begins"]) == ("C 17", None)


def test_the_next_certificate_of_the_same_name_is_no_correction(job: Merle) -> None:
    """A laboratory that gives each of them one name: by its last day it is another, and the one before stays."""
    weighed_without_certificate(job)
    day = date.today()
    renew_certificate(job.shop.anna, job.scale.pk, "yearly", day - timedelta(days=20), day - timedelta(days=3), NEW)
    renew_certificate(job.shop.anna, job.scale.pk, "yearly", day, day + timedelta(days=365), OLD)
    assert open_points(job.now) == []
    scale = job_of(job.shop.anna.person, job.job.number).weighing.scale
    assert (scale["certificate"], scale["uncertainty"]) == ("yearly", NEW)


def test_a_first_certificate_that_begins_after_the_weighing_is_in_its_way(job: Merle) -> None:
    scale = add_scale(job.shop.anna, "HL-9", step="5 g", largest="6 kg", certificate="C 1",
                      certificate_begins=date.today(), certificate_expires=date.today())  # fmt: skip
    weighing = weighed(job)
    yesterday = date.today() - timedelta(days=1)
    Measurement.objects.filter(pk=weighing.pk).update(begun_on=yesterday, scale=scale)
    assert [str(each) for each in open_points(job.now)] == [
        "The scale's certificate begins after the day of weighing: weigh again."
    ]


@pytest.mark.parametrize(
    ("begins", "expires", "named"),
    [(1, 10, "certificate begins"), (-400, 10, "certificate begins"), (-5, -6, "certificate expires")],
    ids=["ahead", "before the one it follows", "ends before it begins"],
)
def test_days_of_a_certificate_that_cannot_be_are_refused_by_name(
    job: Merle, begins: int, expires: int, named: str
) -> None:
    day = date.today()
    renew_certificate(job.shop.anna, job.scale.pk, "C 16", day - timedelta(days=300), day, {})
    with pytest.raises(InputRefused, match=named):
        renew_certificate(job.shop.anna, job.scale.pk, "C 17", day + timedelta(days=begins),
                          day + timedelta(days=expires), {})  # fmt: skip
