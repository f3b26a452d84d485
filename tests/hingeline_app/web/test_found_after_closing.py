"""A step that was closed is not drawn as done while something found there speaks against a release."""

from __future__ import annotations

import json
import re

import pytest

from hingeline_app.bench.refit_checks import CHECKS, SEEN
from hingeline_app.records.models import Job
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.test_job_entries import sent

pytestmark = pytest.mark.django_db


def enters(fenholt: Fenholt, finding: str, was: str = "null") -> str:
    """Look at the sense; give the row as the page shows it afterwards."""
    assert sent(fenholt, kind="refit-seen", check="sense", finding=finding, was=was)[0] == 200
    return json.dumps(Job.objects.get(number=fenholt.job).details["refit"]["values"]["sense"])


def closes(fenholt: Fenholt) -> tuple[int, dict[str, object]]:
    return sent(fenholt, kind="step-state", about="refit", state="done", was="", reason="")


def looks_at_the_rest(fenholt: Fenholt) -> None:
    for each in CHECKS:
        told = {"kind": "refit-not-needed", "check": each.name, "was": "null", "reason": "not disturbed"}
        assert sent(fenholt, **told)[0] == 200
    for other in SEEN[1:]:
        assert sent(fenholt, kind="refit-seen", check=other.name, finding="right", was="null")[0] == 200


def drawn(fenholt: Fenholt) -> str:
    """Give how the steps of the job draw Refit."""
    page = fenholt.client("jon").get(f"/job/{fenholt.job}/limits").content.decode()
    found = re.search(rf'<a [^>]*href="/job/{fenholt.job}/refit"[^>]*>(.*?)</a>', page, re.DOTALL)
    assert found, page
    return found.group(0)


def test_not_right_entered_after_refit_was_closed_opens_it_again(fenholt: Fenholt) -> None:
    """Mended and entered right, it is done as before; nobody has to close it a second time."""
    looks_at_the_rest(fenholt)
    was = enters(fenholt, "right")
    assert closes(fenholt)[0] == 200
    as_done = drawn(fenholt)
    was = enters(fenholt, "not right", was)
    assert drawn(fenholt) != as_done
    page = fenholt.client("jon").get(f"/job/{fenholt.job}/refit").content.decode()
    assert "Refit is done" not in page
    assert "Moves in the right sense: not right" in page
    enters(fenholt, "right", was)
    assert drawn(fenholt) == as_done


def test_refit_is_not_closed_over_what_is_not_right(fenholt: Fenholt) -> None:
    """The page has no button for it; an entry that waited on a tablet is refused in words."""
    looks_at_the_rest(fenholt)
    enters(fenholt, "not right")
    status, said = closes(fenholt)
    assert (status, said["state"]) == (422, "refused")
    assert "Moves in the right sense: not right" in str(said)
    assert "state" not in Job.objects.get(number=fenholt.job).details["refit"]
