"""A job's blank worksheet: its set-up and limits, nothing read."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from hingeline.document import to_document
from hingeline_app.bench.on_paper.record_of import without_readings
from hingeline_app.bench.weighing.beginning import carried_over
from hingeline_app.bench.weighing.weighing_of import weighing_text
from hingeline_app.files.weighing_file import read_weighing
from hingeline_app.records.queries.jobs import JobRecord, MeasurementRecord
from hingeline_app.report.blank import plan_or_none
from hingeline_app.report.sheet import SheetDetails

# Stands in only while the rest is read; it is never printed.
ANY_SUPPORT: Final = {"arm": "10 mm", "side": "aft"}


@dataclass(frozen=True)
class Blank:
    """What a blank worksheet is printed from."""

    text: str
    sheet: SheetDetails
    weighing: dict[str, Any]
    plan: dict[str, Any] | None


def blank_of(job: JobRecord, workshop: str, before: Mapping[str, Any] | None = None) -> Blank:
    """Give what a blank worksheet of a job says, from the set-up of its last weighing.

    Parameters
    ----------
    job : JobRecord
    workshop : str
    before : Mapping, optional
        How the surface was set up when it was last weighed, for a job without a weighing; without it the
        arms are left to be written in.

    Raises
    ------
    InputRefused
        The set-up cannot be read: what is missing is named.
    """
    if job.weighing is not None:
        return _from(job, without_readings(job.weighing), workshop)
    return _from(job, _set_up(job, carried_over(before)), workshop) if before else _without_arms(job, workshop)


def _from(job: JobRecord, weighing: MeasurementRecord, workshop: str) -> Blank:
    text = weighing_text(job, weighing)
    read = read_weighing(text.encode())
    sheet = SheetDetails(**{**read.sheet, "workshop": workshop, "weighing": "", "date": ""})
    return Blank(text, sheet, to_document(read.weighing), plan_or_none(read.weighing))


def _without_arms(job: JobRecord, workshop: str) -> Blank:
    """Give a blank of a surface that was never set up: it is read with an arm that is then taken away."""
    read = _from(job, _set_up(job, {"support": [ANY_SUPPORT]}), workshop)
    text = weighing_text(job, _set_up(job, {}))
    return Blank(text, read.sheet, {**read.weighing, "supports": []}, None)


def _set_up(job: JobRecord, set_up: Mapping[str, Any]) -> MeasurementRecord:
    return MeasurementRecord(job.identifier, "weighing", 0, job.opened_on, 0, set_up, None, None, (), None, False)
