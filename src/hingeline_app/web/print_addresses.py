"""Which address prints what."""

from __future__ import annotations

from django.urls import URLPattern, URLResolver, path

from hingeline_app.web.pages.job import incomplete, prints
from hingeline_app.web.pages.workshop import labels, release_wording

PRINTS: list[URLPattern | URLResolver] = [
    path("job/<int:number>/worksheet.pdf", prints.job_worksheet, name="job-worksheet"),
    path("job/<int:number>/blank.pdf", prints.job_blank, name="job-blank"),
    path("job/<int:number>/owner.pdf", prints.job_owner_sheet, name="job-owner-sheet"),
    path("job/<int:number>/balance-line.pdf", prints.job_balance_line, name="job-balance-line"),
    path("job/<int:number>/release-wording.pdf", prints.job_release_wording, name="job-release-wording"),
    path("order/<int:number>/worksheet.pdf", prints.order_worksheet, name="order-worksheet"),
    path("job/<int:number>/incomplete.pdf", incomplete.job_incomplete, name="job-incomplete"),
    path("order/<int:number>/incomplete.pdf", incomplete.order_incomplete, name="order-incomplete"),
    path("workshop/labels", labels.labels_page, name="labels"),
    path("workshop/labels.pdf", labels.labels_sheet, name="labels-sheet"),
    path("workshop/release-wording", release_wording.release_wording, name="release-wording"),
]
