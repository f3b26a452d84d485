"""Which address with GET is a page, and where the accessibility rules look at it.

``tests/hingeline_app/web/test_every_address.py`` asks that none is left out; each test named here asks for its own.
"""

from __future__ import annotations

from django.urls import resolve


def names(*lines: str) -> frozenset[str]:
    """Give names out of lines of them."""
    return frozenset(" ".join(lines).split())


# The crawl of test_demo.py comes to these by links, signed in by an administrator who works, and proved.
CRAWLED = names(
    "home bench job-new at-scan order job job-step job-instead order-second-inspection order-release records",
    "record record-again surface-history limits limits-document-add limits-document limits-issue-add",
    "limits-row-add limits-row recordings recording-new recording-sensors recording recording-replay",
    "recording-tap series-new series why-balance why-balance-bench why-balance-own fleet fleet-take-in",
    "fleet-hours fleet-hours-of fleet-meter fleet-calendar task-add task-change task-sign-off task-put-off",
    "task-end task-history coating swing workshop workshop-change people person-add person this-tablet tablets",
    "aircraft aircraft-add aircraft-import aircraft-page part paper-add security stands scales scale-add",
    "scale-certificate scale-check scale-correct labels release-wording own own-pin own-password own-passkey ledger",
    "ledger-compare onboarding backups",
)
# No link leads the crawl there: test_demo.py goes by hand.
BY_HAND = names(
    "sign-in sign-in-password sign-in-pin lock prove trust without-connection why-balance-own-model",
    "study-new study",
)
ELSEWHERE = {
    "set-up": "test_first_run.py",
    "tablet-enrol": "test_every_page_is_usable.py",
    "job-sign": "test_pages_of_a_job.py",
    "limits-read": "test_limits_and_records.py",
    "job-photograph": "test_bench_and_arrival.py",
    "recording-marks": "test_recordings.py",
}
# A file, a picture, a part of a page, an answer to a program, a way to another page: nothing that axe could look at.
NO_PAGE = names(
    "demo at look tablet-now worker trust-certificate picture job-picture limits-page recording-picture",
    "recording-film job-worksheet job-owner-sheet job-release-wording job-incomplete job-blank job-balance-line",
    "order-worksheet order-incomplete labels-sheet recordings-marks-sheet why-balance-side why-balance-sheet",
    "job-weighing-file job-arm-file job-correction-file recording-tap-lines recording-marks-file why-balance-file",
    "study-file fleet-due-file fleet-calendar-file fleet-feed fleet-hours-line recording-far study-far",
    "why-balance-answer why-balance-band why-balance-damping",
)


def name_of(address: str) -> str:
    """Give the name of the page at an address."""
    return resolve(address.partition("?")[0].partition("#")[0]).url_name or ""
