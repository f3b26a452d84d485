"""What the step Refit shows: each value against its limit, and what is looked at."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest
from django.utils.safestring import SafeString, mark_safe

from hingeline.errors import InputRefused
from hingeline_app.bench.compared import compared
from hingeline_app.bench.refit_checks import (
    INSIDE,
    SEEN,
    Check,
    Seen,
    checks_against,
    is_against,
    open_checks,
    remarks_of,
    row_of,
    told_in,
)
from hingeline_app.figures import LimitBar
from hingeline_app.figures.limits.thumbnail import common_axis, draw_limit_thumbnail
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.photographs import PHOTOGRAPH
from hingeline_app.web.marked_photographs import MarkedPhotograph, marked_photographs
from hingeline_app.web.steps.closing import closing

WIDTH, HEIGHT = 120.0, 30.0


@dataclass(frozen=True)
class Shown:
    """One check with what was entered of it."""

    check: Check | Seen
    row: Mapping[str, Any] | None
    picture: SafeString
    photographs: Sequence[MarkedPhotograph]

    @property
    def was(self) -> str:
        """Give the row as the page shows it, for the entry that changes it."""
        return json.dumps(self.row)

    @property
    def placeholder(self) -> str:
        """Show a number's place and its unit, and no number: an example could pass for a limit."""
        return f"… {self.check.example.split()[-1]}" if isinstance(self.check, Check) else ""

    @property
    def is_against(self) -> bool:
        """Whether what was found speaks against going on."""
        return is_against(str((self.row or {}).get("finding") or ""))


def shown(request: HttpRequest, job: JobRecord) -> Mapping[str, Any]:
    """Gather what the sheet needs beside the job itself."""
    photographs = marked_photographs(request, job, PHOTOGRAPH, "refit")
    return {
        "checks": [_shown(job, each, photographs) for each in told_in(job) if isinstance(each, Check)],
        "looked": [_shown(job, each, photographs) for each in SEEN],
        "left": open_checks(job),
        "against": checks_against(job),
        **closing(request, job, "refit"),
    }


def _shown(job: JobRecord, check: Check | Seen, photographs: Sequence[MarkedPhotograph]) -> Shown:
    row, remarks = row_of(job, check.name), remarks_of(check)
    return Shown(check, row, _picture(check, row), [each for each in photographs if each.photograph.remark in remarks])


def _picture(check: Check | Seen, row: Mapping[str, Any] | None) -> SafeString:
    """Draw a value against its limits; nothing where it has neither."""
    if row is None or not isinstance(check, Check) or not row.get("limit"):
        return SafeString()
    try:
        found = compared(row["value"], row["uncertainty"], row["lower"], row["upper"], check.dimension)
    except (InputRefused, KeyError):
        return SafeString()
    statement = found.finding if found.finding in (INSIDE, "outside", "too close to tell") else None
    bar = LimitBar(found.value, found.uncertainty, found.lower, found.upper, statement=statement)
    words = f"{check.words}: {row['measured']}, {row['limit']}: {found.finding}"
    return mark_safe(draw_limit_thumbnail(bar, common_axis([bar], WIDTH), words, HEIGHT))
