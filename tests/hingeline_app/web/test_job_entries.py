"""The one address where entries of a job come in: once, kept or refused in words, or told that another was quicker."""

from __future__ import annotations

import json
from typing import Any

import pytest

from hingeline_app.records.models import Entry, Job
from tests.hingeline_app.web.conftest import Fenholt

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
