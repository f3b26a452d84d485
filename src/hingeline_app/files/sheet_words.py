"""The words of a job file's ``[sheet]`` table, for the title block of its worksheet."""

from __future__ import annotations

from hingeline_app.files.job_text import read_job
from hingeline_app.files.weighing_file import SheetTable


def read_sheet_words(data: bytes) -> dict[str, str]:
    """Read them from a file that its own reader has accepted already."""
    table = SheetTable.model_validate(read_job(data).get("sheet", {}))
    return {name: text for name, text in table.model_dump().items() if text}
