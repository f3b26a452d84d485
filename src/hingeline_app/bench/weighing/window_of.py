"""What the scale may show: the reading window of a job, before anything is weighed.

It follows from the weighing that was begun, or else from the arm that the approved data print beside the limits.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.bench.weighing.weighing_of import planned, weighing_text
from hingeline_app.records.queries.jobs import JobRecord, MeasurementRecord
from hingeline_app.report.words import window_words

BEGUN, PRINTED = "begun", "printed"


@dataclass(frozen=True)
class WindowShown:
    """The window in words, and what it rests on: the weighing that was begun, or the printed arm."""

    words: str
    rests_on: str
    arm: str = ""


def window_of(job: JobRecord) -> WindowShown | None:
    """Give the reading window; None where nothing yet says how it will be weighed, or where none holds."""
    if job.limit_row is None:
        return None
    if job.weighing is not None:
        return _window(job, job.weighing, BEGUN)
    arm = str((job.limit_row.printed or {}).get("arm") or "")
    return _window(job, _as_printed(job, arm), PRINTED, arm) if arm else None


def _window(job: JobRecord, weighing: MeasurementRecord, rests_on: str, arm: str = "") -> WindowShown | None:
    try:
        words = window_words(planned(weighing_text(job, weighing)))
    except InputRefused:
        return None
    return WindowShown(words, rests_on, arm) if words else None


def _as_printed(job: JobRecord, arm: str) -> MeasurementRecord:
    """Make the weighing that the printed arm means: one support, aft of the hinge line, nothing else known."""
    set_up: dict[str, Any] = {"support": [{"arm": arm, "side": "aft"}]}
    return MeasurementRecord(job.identifier, "weighing", 1, job.opened_on, 0, set_up, None, None, (), None, False)
