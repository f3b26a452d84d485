"""After a piece was swapped, what was weighed before is another piece's; between weighings is told what was done."""

from __future__ import annotations

import pytest

from hingeline_app.records.actions.ballast import fit_ballast, propose_ballast
from hingeline_app.records.actions.jobs import open_job, set_detail
from hingeline_app.records.actions.opening import swap_surface
from hingeline_app.records.models import Job
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.records.queries.last_weighing import LastWeighing, last_weighing
from hingeline_app.records.queries.records_search import surface_history
from hingeline_app.records.write_door import write_door
from tests.hingeline_app.records.merle import PLAN, Merle, released, weighed


def begins_from(job: Merle, number: int) -> LastWeighing | None:
    viewer = job.shop.anna.person
    return last_weighing(viewer, job_of(viewer, number))


def swapped(job: Merle) -> Job:
    """Release the first piece, and swap it in the next job."""
    released(job)
    second = open_job(job.shop.anna, job.surface.pk, "corroded")
    return swap_surface(job.shop.anna, second.pk, "EL-0099", "skin corroded, scrapped")


def test_the_set_up_of_a_piece_that_was_taken_off_begins_no_weighing_of_the_new_one(job: Merle) -> None:
    third = swapped(job)
    assert begins_from(job, third.number) is None
    job.job = third
    weighed(job)
    fourth = open_job(job.shop.anna, job.surface.pk, "painted")
    found = begins_from(job, fourth.number)
    assert found is not None
    assert found.job == third.number


def test_a_swap_from_before_jobs_said_so_counts_as_one(job: Merle) -> None:
    """The job in its place was opened on the same surface, and the one before it voided."""
    third = swapped(job)
    third.details = {name: value for name, value in third.details.items() if name != "swapped"}
    with write_door(job.shop.anna, "surface swapped") as entry:
        entry.keep(third)
    assert begins_from(job, third.number) is None


@pytest.mark.slow
def test_a_history_tells_correction_treatment_swap_and_that_it_was_only_weighed_again(job: Merle) -> None:
    weighed(job)
    weighed(job)
    fit_ballast(job.shop.anna, propose_ballast(job.shop.anna, job.job.pk, PLAN).pk)
    weighed(job)
    row = {"what": "primer", "mass": "12 g", "after_weighing": 3}
    set_detail(job.shop.anna, job.job.pk, "arm.treatment", None, row)
    weighed(job)
    job.job = swap_surface(job.shop.anna, open_job(job.shop.anna, job.surface.pk, "corroded").pk, "EL-0099", "scrapped")
    weighed(job)
    told = surface_history(job.shop.anna.person, job.surface.pk).weighings
    flags = [(each.is_first_of_job, each.is_corrected, each.is_treated, each.is_other_piece) for each in told]
    assert flags == [
        (True, False, False, False),
        (False, False, False, False),
        (False, True, False, False),
        (False, False, True, False),
        (True, False, False, True),
    ]
