"""The one address where entries of a job come in: once, kept or refused in words, or told that another was quicker."""

from __future__ import annotations

import json
from typing import Any

import pytest

from hingeline_app.records.actions.accounts import add_account
from hingeline_app.records.actions.jobs import set_detail
from hingeline_app.records.actions.measuring import open_measurement
from hingeline_app.records.actions.people import add_person
from hingeline_app.records.actions.rights import give_right
from hingeline_app.records.actions.working import Moved
from hingeline_app.records.models import Entry, Job
from hingeline_app.records.roles import ENGINEER
from hingeline_app.records.write_door import Actor, Command
from tests.hingeline_app.web.conftest import PASSWORD, Fenholt

pytestmark = pytest.mark.django_db


def sent(fenholt: Fenholt, who: str = "jon", **fields: str) -> tuple[int, dict[str, Any]]:
    """Send an entry as the tablet's queue does."""
    client = fenholt.client(who)
    answer = client.post(f"/job/{fenholt.job}/entry", fields, headers={"X-Entry": "1"})
    return answer.status_code, json.loads(answer.content)


def drains(**more: str) -> dict[str, str]:
    return {"kind": "detail", "as": "tick", "place": "arrive.drains", "was": "", "value": "on", **more}


def test_an_entry_sent_twice_is_one_entry(fenholt: Fenholt) -> None:
    """The second time nothing is written, and the answer is kept again."""
    first = sent(fenholt, command_key="k1", **drains())
    before = Entry.objects.filter(chain="records").count()
    assert first[0] == sent(fenholt, command_key="k1", **drains())[0] == 200
    assert Entry.objects.filter(chain="records").count() == before
    assert Job.objects.get(number=fenholt.job).details == {"arrive": {"drains": True}}


def test_two_details_of_one_job_never_collide_and_the_same_one_is_told(fenholt: Fenholt) -> None:
    """What another set since is shown beside one's own; neither is written over."""
    assert sent(fenholt, **drains())[0] == 200
    assert sent(fenholt, kind="detail", place="arrive.remarks", was="", value="two screws new")[0] == 200
    status, said = sent(fenholt, kind="detail", place="arrive.remarks", was="", value="three screws new")
    assert (status, said["state"]) == (409, "moved")
    assert said["yours"] == {"arrive.remarks": "three screws new"}
    assert said["theirs"] == {"arrive.remarks": "two screws new"}
    assert Job.objects.get(number=fenholt.job).details["arrive"]["remarks"] == "two screws new"


def seen(finding: str, key: str, follows: str = "") -> dict[str, str]:
    """Enter a row that the page showed empty."""
    told = {"kind": "refit-seen", "check": "sense", "was": "null", "finding": finding, "command_key": key}
    return told | ({"follows": follows} if follows else {})


def stands(fenholt: Fenholt) -> str:
    return str(Job.objects.get(number=fenholt.job).details["refit"]["values"]["sense"]["finding"])


def test_changes_of_one_row_that_waited_on_a_tablet_end_in_the_last_one(fenholt: Fenholt) -> None:
    """Each was entered over the one before it, which it names: none is lost, and none meets itself as another's."""
    for finding, key, follows in (("right", "k1", ""), ("not right", "k2", "k1"), ("right", "k3", "k2")):
        assert sent(fenholt, **seen(finding, key, follows))[0] == 200
    assert stands(fenholt) == "right"
    assert sent(fenholt, **seen("not right", "k2", "k1"))[0] == 200, "sent again it is the same one"
    assert stands(fenholt) == "right"


@pytest.mark.slow
def test_a_change_follows_only_on_what_its_own_person_set_and_still_stands(fenholt: Fenholt) -> None:
    """An unknown key, another person's entry, one of another row, one that was written over: each is told."""
    ruth = add_person(fenholt.administrator, "Ruth Holm", "RH")
    account = add_account(fenholt.administrator, ruth.pk, "ruth", PASSWORD)
    give_right(fenholt.administrator, ruth.pk, ENGINEER)
    other = Actor(fenholt.workshop, ruth, account)
    assert sent(fenholt, **seen("right", "k1"))[0] == 200
    assert sent(fenholt, command_key="k0", **drains())[0] == 200
    for follows in ("never sent", "k0"):
        assert sent(fenholt, **seen("not right", f"after {follows}", follows))[0] == 409
    job = Job.objects.get(number=fenholt.job)
    place = "refit.values.sense"
    with pytest.raises(Moved):
        set_detail(other, job.pk, place, None, {"finding": "mine"}, Command("k4", {}, "k1"))
    set_detail(other, job.pk, place, job.details["refit"]["values"]["sense"], {"finding": "mine"})
    assert sent(fenholt, **seen("not right", "k5", "k1"))[0] == 409
    assert stands(fenholt) == "mine"


def test_what_is_set_back_to_what_the_page_showed_is_no_entry_of_nothing(fenholt: Fenholt) -> None:
    """2 mm, 3 mm and 2 mm again, entered without a connection: 2 mm stands, not 3 mm."""
    weighing = open_measurement(fenholt.mate, Job.objects.get(number=fenholt.job).pk, "weighing", set_up={
        "uncertainty": {"arm": {"limit": "2 mm"}}})  # fmt: skip
    told = {"kind": "own-uncertainty", "measurement": str(weighing.pk), "name": "arm", "meant": "limit",
            "was": json.dumps({"limit": "2 mm"})}  # fmt: skip
    assert sent(fenholt, **told, value="3 mm", command_key="k1")[0] == 200
    assert sent(fenholt, **told, value="2 mm", command_key="k2")[0] == 409, "what another set is not kept as one's own"
    assert sent(fenholt, **told, value="2 mm", command_key="k3", follows="k1")[0] == 200
    weighing.refresh_from_db()
    assert weighing.set_up["uncertainty"]["arm"] == {"limit": "2 mm"}


def test_what_cannot_be_carried_out_is_refused_in_words_and_nothing_is_written(fenholt: Fenholt) -> None:
    """An unknown kind, a row that is none, a person without the role."""
    before = Job.objects.get(number=fenholt.job).changes
    assert sent(fenholt, kind="fly")[0] == 422
    status, said = sent(fenholt, kind="reading", measurement="no", typed="840 g")
    assert (status, said["faults"][0]["field"]) == (422, "measurement")
    assert sent(fenholt, "mara", **drains())[0] == 422
    assert Job.objects.get(number=fenholt.job).changes == before


def test_without_script_the_page_comes_again(fenholt: Fenholt) -> None:
    """A form that is sent by the browser itself is answered with the step it stands on."""
    answer = fenholt.client("jon").post(f"/job/{fenholt.job}/entry", {**drains(), "step": "arrive"})
    assert answer["Location"] == f"/job/{fenholt.job}/arrive"
    assert Job.objects.get(number=fenholt.job).details == {"arrive": {"drains": True}}


@pytest.mark.parametrize(
    "told",
    [
        drains(was="x"),
        {"kind": "place", "index": "0", "name": "horn", "arm": "180 mm", "was": "{"},
        {"kind": "aim", "target": "nearest", "was": "[object Object]"},
        {"kind": "coating-plan", "file": "", "was": "{"},
    ],
)
def test_what_the_page_cannot_have_shown_is_refused_in_words(fenholt: Fenholt, told: dict[str, str]) -> None:
    status, said = sent(fenholt, **told)
    assert (status, said["state"]) == (422, "refused")
    assert "Load the page again" in said["faults"][0]["says"]


def test_without_script_what_another_set_meanwhile_is_told_as_words(fenholt: Fenholt) -> None:
    """A row stands there by what it says, as it was typed: no brackets and quotes of the program."""
    told = {"kind": "refit-seen", "check": "sense", "finding": "right", "was": "null"}
    assert sent(fenholt, **told)[0] == 200
    address, late = f"/job/{fenholt.job}/entry", {**told, "finding": "not right", "step": "refit"}
    shown = fenholt.client("jon").post(address, late, follow=True).content.decode()
    assert "It was changed by another person since you saw it: sense: " in shown
    assert "finding right" in shown
    assert "what Moves in the right sense" in shown
    assert "{&#x27;" not in shown
