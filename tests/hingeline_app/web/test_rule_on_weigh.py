"""Whose rule the step Weigh says that it is: the approved data's where a row names it, nobody's where none is known."""

from __future__ import annotations

import html
import re

import pytest

from hingeline_app.records.actions.limits import enter_limits
from hingeline_app.records.models import Job
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.weigh_page import READINGS, begun, page, read

pytestmark = pytest.mark.django_db

ASKS = "approved data asks: guarded rule"
NONE = "approved data names no rule: simple rule used"


def chooses(fenholt: Fenholt, rule: str) -> None:
    """Let the job have a row of limits that prints this rule, or none."""
    printed = {"positive": "tail-heavy", "moment": ["0.00 N m", "2.10 N m"], **({"rule": rule} if rule else {})}
    row = enter_limits(fenholt.mate, fenholt.approved["issue"], "Elevator, left half", f"27-{rule or 'none'}", printed)
    Job.objects.filter(number=fenholt.job).update(limit_row=row.pk)


@pytest.mark.slow
def test_a_rule_is_the_datas_only_where_a_row_is_compared_with(fenholt: Fenholt) -> None:
    """Before a row is chosen nobody knows what the data says: not that it says none either."""
    read(fenholt, begun(fenholt), *READINGS)
    assert not re.search("approved data (asks|names)", page(fenholt))
    chooses(fenholt, "")
    assert NONE in page(fenholt)
    german = fenholt.client("jon")
    german.cookies["language"] = "de"
    said = html.unescape(german.get(f"/job/{fenholt.job}/weigh").content.decode())
    assert "die genehmigten Unterlagen nennen keine Regel: die einfache gilt" in said
    chooses(fenholt, "guarded")
    assert ASKS in page(fenholt)
    assert NONE not in page(fenholt)
