"""A moment once more in the unit of the document, a change of mass in the unit that the bench typed."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from hingeline_app.bench.bar_of import bar_of_row
from hingeline_app.bench.in_their_units import mass_as_typed, moment_as_printed
from hingeline_app.records.queries.jobs import JobRecord, job_of
from tests.hingeline_app.records.merle import merle
from tests.hingeline_app.records.workshop import fenholt

pytestmark = pytest.mark.django_db
MOMENT = {"static_moment": {"value": 1.3198, "unit": "N m", "expanded_uncertainty": 0.030}}


@pytest.fixture
def job(db: None, tmp_path: Any, settings: Any) -> JobRecord:
    settings.JOURNAL_FOLDER = tmp_path / "journal"
    found = merle(fenholt())
    return replace(job_of(found.shop.anna.person, found.job.number), local_gravity="9.8124 m/s^2")


def with_limits(job: JobRecord, **printed: object) -> JobRecord:
    assert job.limit_row is not None
    return replace(job, limit_row=replace(job.limit_row, printed=printed))


def test_a_moment_is_said_in_the_unit_of_its_limits_by_the_gravity_of_the_place(job: JobRecord) -> None:
    """Worked by hand: 0.934 lb at 12.5 in are 11.675 in-lb; 0.45359237 kg × 9.8124 m/s² × 0.0254 m = 0.113050 N m."""
    inches = with_limits(job, positive="tail heavy", moment=["0 in-lb", "11.5 in-lb"])
    value = 0.934 * 0.45359237 * 9.8124 * 12.5 * 0.0254
    assert moment_as_printed(inches, {"static_moment": MOMENT["static_moment"] | {"value": value}}) == (
        "11.68 ± 0.27\u00a0in-lb\u00a0tail-heavy"
    )
    assert moment_as_printed(inches, None) == ""


def test_limits_in_newton_metres_need_no_second_writing(job: JobRecord) -> None:
    assert moment_as_printed(with_limits(job, positive="tail heavy", moment=["0 N m", "2.10 N m"]), MOMENT) == ""
    assert moment_as_printed(replace(job, limit_row=None), MOMENT) == ""


def test_the_limits_of_a_job_are_those_that_its_weighing_is_held_against(job: JobRecord) -> None:
    """11.5 in-lb are 1.2993 N m at standard gravity, 1.3001 N m at 9.8124 m/s²: two pages differed."""
    row = with_limits(job, positive="tail heavy", moment=["0 in-lb", "11.5 in-lb"]).limit_row
    bars = [bar_of_row(row, gravity) for gravity in ("", "9.8124 m/s^2")]
    assert [round(bar.upper or 0.0, 4) for bar in bars if bar] == [1.2993, 1.3001]


def test_a_change_of_mass_is_said_in_the_unit_that_was_typed(job: JobRecord) -> None:
    assert mass_as_typed(0.0453592, "0.05 lb", "1.6 lb") == "0.100\u00a0lb"
    assert mass_as_typed(0.0453592, None, "1.6 lb") == "0.100\u00a0lb"
    assert [mass_as_typed(0.045, "5 g"), mass_as_typed(0.045), mass_as_typed(0.045, "heavy")] == ["", "", ""]
