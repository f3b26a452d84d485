"""Undo on a job: what it names, what it takes back, how far it goes; nothing is erased."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

import pytest

from hingeline_app.records.actions.ballast import fit_ballast, propose_ballast
from hingeline_app.records.actions.jobs import choose_limits
from hingeline_app.records.actions.limits import add_document, add_issue, enter_limits
from hingeline_app.records.actions.measuring import add_reading, change_set_up, open_measurement, record_result
from hingeline_app.records.models import BallastProposal, Entry, Job, Measurement, Reading
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.records.queries.undo import Undoable, last_undoable
from tests.hingeline_app.records.merle import PRINTED
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = pytest.mark.django_db


def sent(fenholt: Fenholt, who: str = "jon", **fields: Any) -> tuple[int, dict[str, Any]]:
    answer = fenholt.client(who).post(f"/job/{fenholt.job}/entry", fields, headers={"X-Entry": "1"})
    return answer.status_code, json.loads(answer.content)


def last(fenholt: Fenholt) -> Undoable | None:
    person = fenholt.mate.person
    assert person is not None
    return last_undoable(person, job_of(person, fenholt.job))


def undo(fenholt: Fenholt, **more: str) -> tuple[int, dict[str, Any]]:
    found = last(fenholt)
    assert found is not None
    return sent(fenholt, kind="undo", undoes=str(found.position), words=found.words, **more)


def job(fenholt: Fenholt) -> Job:
    return Job.objects.get(number=fenholt.job)


def test_nothing_was_entered_and_nothing_is_offered(fenholt: Fenholt) -> None:
    """A fresh job has no entry to take back: the button stands there, unpressable."""
    assert last(fenholt) is None
    page = fenholt.client("jon").get(f"/job/{fenholt.job}/arrive").content.decode()
    assert 'id="undo"' in page
    assert "disabled" in page.partition('id="undo"')[2].partition("</form>")[0]


def test_a_step_that_was_closed_is_named_by_its_step(fenholt: Fenholt) -> None:
    """It said "Undo: state" on every step after it."""
    assert sent(fenholt, kind="detail", place="arrive.state", was="", value="done")[0] == 200
    found = last(fenholt)
    assert found is not None
    assert found.words == "state of the step Arrive"


@pytest.mark.slow
def test_details_are_set_back_one_after_the_other(fenholt: Fenholt) -> None:
    """Each undo takes the next one back by a new entry; what was undone is not offered again, nor is the undo."""
    sent(fenholt, kind="detail", place="arrive.remarks", was="", value="two screws new")
    sent(fenholt, kind="detail", place="arrive.remarks", was="two screws new", value="three screws new")
    sent(fenholt, kind="detail", **{"as": "tick"}, place="arrive.drains", was="", value="on")
    before = Entry.objects.filter(chain="records").count()
    steps = []
    while (found := last(fenholt)) is not None:
        steps.append(found.words)
        assert undo(fenholt)[0] == 200
    assert steps == ["drains", "remarks", "remarks"]
    assert {name: value for name, value in job(fenholt).details["arrive"].items() if value} == {}
    assert Entry.objects.filter(chain="records").count() == before + 3


def test_a_reading_is_withdrawn_as_undone_and_stays(fenholt: Fenholt) -> None:
    """It names the reading by its number; the row stays with its reason."""
    weighing = open_measurement(fenholt.mate, job(fenholt).pk, "weighing")
    for typed in ("840 g", "845 g", "480 g"):
        assert sent(fenholt, kind="reading", measurement=str(weighing.pk), typed=typed)[0] == 200
    found = last(fenholt)
    assert found is not None
    assert found.words == "reading 3"
    assert undo(fenholt)[0] == 200
    assert [each.withdrawn_because for each in Reading.objects.order_by("change")] == ["", "", "undone"]
    again = last(fenholt)
    assert again is not None
    assert again.words == "reading 2"


def test_a_set_up_is_set_back_until_a_statement_rests_on_it(fenholt: Fenholt) -> None:
    weighing = open_measurement(fenholt.mate, job(fenholt).pk, "weighing")
    change_set_up(fenholt.mate, weighing.pk, "support.0.arm", None, "2550 mm")
    assert undo(fenholt)[0] == 200
    assert Measurement.objects.get().set_up == {"support": [{"arm": None}]}
    change_set_up(fenholt.mate, weighing.pk, "support.0.arm", None, "255 mm")
    record_result(fenholt.mate, job(fenholt).pk, {"format": "hingeline/weighing-result/1"}, measurement=weighing.pk)
    assert last(fenholt) is None


def test_the_choice_of_limits_and_a_correction_fitted_are_taken_back(fenholt: Fenholt) -> None:
    document = add_document(fenholt.mate, "Maintenance manual", "MM-27", "Merle T2")
    issue = add_issue(fenholt.mate, document.pk, "4", date(2024, 3, 1))
    row = enter_limits(fenholt.mate, issue.pk, "Elevator, left half", "27-11", PRINTED)
    choose_limits(fenholt.mate, job(fenholt).pk, row.pk, job(fenholt).limit_row_id)
    found = last(fenholt)
    assert found is not None
    assert found.words == "choice of limits"
    assert undo(fenholt)[0] == 200
    assert job(fenholt).limit_row is None
    proposal = propose_ballast(fenholt.mate, job(fenholt).pk, {"format": "hingeline/ballast-result/1"})
    fit_ballast(fenholt.mate, proposal.pk)
    assert undo(fenholt)[0] == 200
    assert BallastProposal.objects.get().fitted_at_change is None
    fit_ballast(fenholt.mate, proposal.pk)
    open_measurement(fenholt.mate, job(fenholt).pk, "weighing")
    assert last(fenholt) is None


def test_another_persons_entry_is_never_undone(fenholt: Fenholt) -> None:
    """What Jon entered is not offered to Mara, and is refused to her where she names it."""
    weighing = open_measurement(fenholt.mate, job(fenholt).pk, "weighing")
    add_reading(fenholt.mate, weighing.pk, "840 g")
    mara = fenholt.administrator.person
    found = last(fenholt)
    assert mara is not None
    assert found is not None
    assert last_undoable(mara, job_of(mara, fenholt.job)) is None
    assert sent(fenholt, "mara", kind="undo", undoes=str(found.position))[0] == 422
    assert Reading.objects.get().withdrawn_because == ""


def test_a_detail_that_another_set_since_is_passed_over(fenholt: Fenholt) -> None:
    """Undo never writes over what stands there by somebody else."""
    sent(fenholt, kind="detail", place="arrive.remarks", was="", value="two screws new")
    body = Entry.objects.get(kind="job detail set").body
    assert '"now":"two screws new"' in body
    other = job(fenholt)
    assert last(fenholt) is not None
    Job.objects.filter(pk=other.pk).update(details={"arrive": {"remarks": "by Mara"}})
    assert last(fenholt) is None


def test_undo_sent_twice_undoes_once(fenholt: Fenholt) -> None:
    """The same key is the same undo; another key for the same entry is refused in words."""
    sent(fenholt, kind="detail", place="arrive.remarks", was="", value="one")
    sent(fenholt, kind="detail", place="limits.version", was="", value="two")
    found = last(fenholt)
    assert found is not None
    said = {"kind": "undo", "undoes": str(found.position), "words": found.words}
    assert sent(fenholt, command_key="u1", **said)[0] == 200
    assert sent(fenholt, command_key="u1", **said)[0] == 200
    assert sent(fenholt, command_key="u2", **said)[0] == 422
    assert job(fenholt).details["arrive"]["remarks"] == "one"


def test_a_value_set_aside_stays_in_the_history(fenholt: Fenholt) -> None:
    """Who keeps the other person's value leaves the own one in the ledger and changes no value: a hand on the job."""
    before = job(fenholt)
    fields = {"kind": "set-aside", "place": "arrive.remarks", "yours": "two screws", "theirs": "three screws"}
    assert sent(fenholt, **fields)[0] == 200
    says = json.loads(Entry.objects.get(kind="value set aside").body)["says"]
    assert (says["set aside"], says["stands"], says["number"]) == ("two screws", "three screws", fenholt.job)
    after = job(fenholt)
    assert (after.details, after.version, after.changes) == (before.details, before.version, before.changes + 1)
