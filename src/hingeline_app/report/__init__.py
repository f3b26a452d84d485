"""From a result to paper: the worksheet as PDF, and back from paper to the record inside it."""

from hingeline_app.report.blank import make_blank_worksheet
from hingeline_app.report.correction import make_correction
from hingeline_app.report.job_sheet import make_job_sheet
from hingeline_app.report.job_worksheet import make_job_worksheet
from hingeline_app.report.reading import ReadWorksheet, read_worksheet, read_worksheets
from hingeline_app.report.record import CORRECTION_FORMAT, record_digest
from hingeline_app.report.sheet import SheetDetails
from hingeline_app.report.worksheet import make_worksheet

__all__ = [
    "CORRECTION_FORMAT",
    "ReadWorksheet",
    "SheetDetails",
    "make_blank_worksheet",
    "make_correction",
    "make_job_sheet",
    "make_job_worksheet",
    "make_worksheet",
    "read_worksheet",
    "read_worksheets",
    "record_digest",
]
