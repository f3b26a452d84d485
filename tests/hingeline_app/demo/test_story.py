"""The invented workshop holds a job in every state, and what it says of itself is what the library works out."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from hingeline_app.bench.steps import next_step, statement_of
from hingeline_app.bench.weighing.weighing_of import weighed, weighing_text
from hingeline_app.demo.cast import CAST, Workshop
from hingeline_app.demo.story import tell
from hingeline_app.records.dates import today
from hingeline_app.records.models import Aircraft, Job, LimitRow, PaperRecord, Surface
from hingeline_app.records.queries.jobs import JobRecord, job_of
from hingeline_app.records.queries.standing import may, standing_of
from hingeline_app.records.roles import Act
from hingeline_app.records.ways_in import pin_is

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def shop(db: None, tmp_path: Path, settings: Any) -> Workshop:
    settings.DATA_FOLDER, settings.JOURNAL_FOLDER = tmp_path, tmp_path / "journal"
    return tell(lambda _words: None)


def jobs(shop: Workshop) -> list[JobRecord]:
    return [job_of(shop.mara.person, each.number) for each in Job.objects.order_by("number")]


def test_it_holds_what_its_page_promises(shop: Workshop) -> None:
    """Four aircraft, more than a dozen surfaces, jobs released, voided and open at different steps."""
    assert Aircraft.objects.count() == 4
    assert Surface.objects.count() >= 12
    assert {each.state for each in jobs(shop)} == {"open", "released", "voided"}
    open_at = {next_step(each) for each in jobs(shop) if each.state == "open"}
    assert open_at >= {"arrive", "weigh", "correct", "second-inspection"}
    assert {statement_of(each) for each in jobs(shop)} >= {"inside", "outside", "too close to tell"}
    assert {row.state for row in LimitRow.objects.all()} == {"draft", "read once", "read twice", "superseded"}


def test_a_row_contradicts_itself_and_a_surface_drifts(shop: Workshop) -> None:
    """The force column of an older aileron is found; the elevator half grows heavier between two paintings."""
    aileron = LimitRow.objects.get(surface="Aileron, left")
    assert aileron.readings.get().contradictions
    moments = [float(each.moment.split()[0]) for each in PaperRecord.objects.order_by("original_date")]
    assert moments == sorted(moments)
    assert len(moments) == 5


def test_each_statement_works_out_again_to_the_last_digit(shop: Workshop) -> None:
    """What was kept is what the weighing file of the records weighs to now."""
    kept = [(each, each.weighing) for each in jobs(shop) if each.weighing and each.weighing.result]
    assert len(kept) >= 6
    for job, weighing in kept:
        again = json.loads(json.dumps(weighed(weighing_text(job, weighing))))
        assert weighing.result.document == again


def test_everybody_has_the_pin_that_is_printed(shop: Workshop) -> None:
    """Each of the cast has a PIN that works on the bench's tablet, and the certifying person's right counts."""
    for each in CAST:
        account = shop.actors[each.short].account
        account.refresh_from_db()
        assert pin_is(account, each.pin)
    assert may(shop.ruth.person, Act.MANAGE_PEOPLE).allowed
    assert standing_of(shop.ruth.person, today(shop.ruth.workshop)).roles == {"administrator", "certifying"}
