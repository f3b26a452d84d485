"""Worksheets of two sides: one job, or the jobs of a work order in one PDF, ready for duplex printing."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from datetime import datetime
from functools import cache
from typing import Any, Final

from hingeline.errors import InputRefused
from hingeline_app.report.job_record import JobRecord
from hingeline_app.report.job_view import job_view
from hingeline_app.report.record import INPUT_NAME, JOB_NAME, RESULT_NAME, numbered, result_text
from hingeline_app.report.said_sheet import said_sheet
from hingeline_app.report.sheet import made_parts
from hingeline_app.report.typesetting import asked, typeset
from hingeline_app.report.worksheet import ARCHIVAL, PAPERS, Paper, joined

FORMAT: Final = "hingeline/job-sheet/1"
TITLE = "Weighing worksheet"
HAS_ITS_OWN = ("weighing_text", "result", "pictures", "again")
SCALES = (1.2, 1.1, 1.0, 0.9, 0.8, 0.7)  # a smaller one only where it keeps side 1 on one side


def make_job_worksheet(records: Sequence[JobRecord], made_at: datetime, version: str, paper: Paper = "a4") -> bytes:
    """Make the worksheets of one job or of several.

    Each job begins on the front of a sheet, its side 2 is on the back, and the number of sides is
    even. The weighing as typed, its result, and all of side 2 are attached for each job.

    Parameters
    ----------
    records : sequence of JobRecord
        At least one.
    made_at : datetime
        When it is printed.
    version : str
        Of the program.
    paper : {"a4", "letter"}

    Returns
    -------
    bytes
        A tagged PDF/A-3a. The same input gives the same bytes.

    Raises
    ------
    InputRefused
        There is nothing to print.
    """
    if not records:
        raise InputRefused.of("worksheet", "no job", "at least one weighed job", "Weigh a surface first.")
    views = [_complete(job_view(each, made_at, version), each, len(records) > 1) for each in records]
    return set_sides(views, made_at, paper)


def _complete(view: dict[str, Any], record: JobRecord, is_one_of_several: bool) -> dict[str, Any]:
    """Add to the texts of a job what a filled sheet has, and what is attached."""
    number = record.number if is_one_of_several else ""
    side_two = {"format": FORMAT, **{key: value for key, value in asdict(record).items() if key not in HAS_ITS_OWN}}
    attached = {
        numbered(INPUT_NAME, number): record.weighing_text,
        numbered(RESULT_NAME, number): result_text(record.result),
        numbered(JOB_NAME, number): result_text(side_two),
    }
    return {**view, "title_words": TITLE, "window_first": "", "by_hand_lines": [], "attached": attached}


def set_sides(views: Sequence[dict[str, Any]], made_at: datetime, paper: Paper) -> bytes:
    """Set jobs side by side, with pictures as large as keeps each side 1 on one side, and an even number of sides."""
    return typeset(template(), sides_inputs(views, made_at, paper), ARCHIVAL)


def sides_inputs(views: Sequence[dict[str, Any]], made_at: datetime, paper: Paper) -> dict[str, str]:
    """Return what the template is given, after trying how much room each job takes."""
    jobs = [{**view, "picture_scale": SCALES[0], "empty_side": False} for view in views]
    for scale in SCALES[1:]:
        over = [job for job, pages in zip(jobs, _pages(jobs, made_at, paper), strict=True) if pages["back"] > 1]
        for job in over:
            job["picture_scale"] = scale
        if not over:
            break
    _tighten(jobs, made_at, paper)
    for job, pages in zip(jobs, _pages(jobs, made_at, paper), strict=True):
        job["empty_side"] = pages["end"] % 2 == 0
    return _inputs(jobs, made_at, paper)


def _tighten(jobs: Sequence[dict[str, Any]], made_at: datetime, paper: Paper) -> None:
    """Name what holds no entry in one line where that keeps side 2 on one side."""
    over = [job for job, pages in zip(jobs, _pages(jobs, made_at, paper), strict=True) if _is_over(pages)]
    for job in over:
        job["is_tight"] = not job["back"]["is_blank"]
    if over:
        for job, pages in zip(jobs, _pages(jobs, made_at, paper), strict=True):
            job["is_tight"] = job.get("is_tight", False) and not _is_over(pages)


def _is_over(pages: dict[str, int]) -> bool:
    return pages["end"] > pages["back"]


def _pages(jobs: Sequence[dict[str, Any]], made_at: datetime, paper: Paper) -> list[dict[str, int]]:
    """Ask on which page of its own each job's side 2 begins and ends, the first being 0."""
    parts: list[dict[str, int]] = [{} for _ in jobs]
    for each in json.loads(asked(template(), "<parts>", _inputs(jobs, made_at, paper))):
        parts[each["job"]][each["part"]] = each["page"]
    return [{name: page - own["front"] for name, page in own.items()} for own in parts]


def _inputs(jobs: Sequence[dict[str, Any]], made_at: datetime, paper: Paper) -> dict[str, str]:
    made = made_parts(made_at)
    title = jobs[0]["title"] if len(jobs) == 1 else f"{TITLE}s of {len(jobs)} jobs"
    view = {"title": title, "made": made, "paper": PAPERS[paper], "jobs": jobs}
    return {"view": json.dumps(said_sheet(view, template()), ensure_ascii=False)}


@cache
def template() -> bytes:
    """Return the template."""
    return joined("frame", "side_one", "side_two", "job_worksheet")
