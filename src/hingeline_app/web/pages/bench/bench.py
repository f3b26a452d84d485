"""The bench: which jobs are open, and what is the next thing to do on each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_safe

from hingeline_app.bench.bench_row import BenchRow, Block, bench_row
from hingeline_app.figures.limits.thumbnail import common_axis, draw_limit_thumbnail
from hingeline_app.records.certificates import ENDED, NO_DATE, NOT_YET
from hingeline_app.records.dates import today
from hingeline_app.records.queries.bench import ALL_OPEN, WHICH, bench_page
from hingeline_app.records.queries.first_things import first_things
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.orders import orders_to_close
from hingeline_app.records.queries.standing import may
from hingeline_app.records.roles import Act
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.steps import BY_NAME

THUMBNAIL = 120.0, 20.0
SCALE_WORDS = {
    ENDED: gettext_lazy("The certificate of %(scale)s had ended when it was weighed"),
    NOT_YET: gettext_lazy("The certificate of %(scale)s begins after the day on which it was weighed"),
    NO_DATE: gettext_lazy("Nobody entered until when the certificate of %(scale)s holds"),
}


@dataclass(frozen=True)
class RowOnPage:
    """A row with its words and its picture."""

    row: BenchRow
    action: str
    blocks: tuple[str, ...]
    picture: SafeString

    @property
    def number(self) -> str:
        """Give the job's number as it is printed."""
        return f"{self.row.job.number:04d}"


@open_to(Who.SIGNED_IN)
@require_safe
def bench(request: HttpRequest) -> HttpResponse:
    """List the jobs."""
    viewer: Any = viewer_of(request)
    which = request.GET.get("show", ALL_OPEN)
    which = which if which in WHICH else ALL_OPEN
    sought = request.GET.get("q", "").strip()[:60]
    page = bench_page(viewer, which, sought, _number(request.GET.get("page", "")))
    now, may_work = today(viewer.workshop), may(viewer, Act.WORK).allowed
    inspects_only = not may_work and may(viewer, Act.INSPECT).allowed
    begins = which == ALL_OPEN and not sought and page.number == 1
    context = {
        "here": "bench",
        "rows": [on_page(bench_row(job, now, inspects_only=inspects_only)) for job in page.jobs],
        "page": page,
        "earlier": _address(which, sought, page.number - 1) if page.number > 1 else "",
        "later": _address(which, sought, page.number + 1) if page.number < page.last else "",
        "which": which,
        "sought": sought,
        "tabs_of_jobs": [(name, words, _address(name, sought)) for name, words in _shows()],
        "orders_to_close": orders_to_close(viewer) if may_work and begins else (),
        "first": first_things(viewer) if begins and not page.jobs else None,
        "may_work": may_work,
    }
    return render(request, "web/bench.html", context)


def on_page(row: BenchRow) -> RowOnPage:
    """Draw a row and say it in words."""
    bar = row.bar
    width, height = THUMBNAIL
    words = f"{row.statement}, {row.moment}" if row.statement else row.moment
    drawn = draw_limit_thumbnail(bar, common_axis([bar], width), words, height) if bar else ""
    return RowOnPage(row, next_action(row), tuple(block_words(each) for each in row.blocks), mark_safe(drawn))


def next_action(row: BenchRow) -> str:
    """Give the words on a row's button: what happens next."""
    job = row.job
    if job.state != "open":
        return _("Open")
    words = {
        "arrive": _("Arrive"),
        "limits": _("Choose limits"),
        "weigh": _("Weigh again") if _was_weighed(job) else _("Weigh"),
        "correct": _("Work out the correction"),
        "arm": _("Go to the arm"),
        "refit": _("Go to refit"),
        "second-inspection": _("Second inspection") if job.items else _("Ask for second inspection"),
    }
    return words.get(row.next, _("Release"))


def _was_weighed(job: JobRecord) -> bool:
    """Whether the weighing that is asked for is another one than the first."""
    return job.weigh_again or bool(job.weighing and (job.weighing.is_stale or job.weighing.result))


def block_words(block: Block) -> str:
    """Say what is in the way."""
    if block.name == "held":
        step = BY_NAME[block.step].word
        return _("%(step)s is held: %(reason)s") % {"step": step, "reason": block.said or _("no reason given")}
    if block.name in SCALE_WORDS:
        return str(SCALE_WORDS[block.name]) % {"scale": block.said}
    words = {
        "no limits": _("No limits chosen"),
        "read by one": _("Limits read by one person"),
        "superseded": _("The limits are superseded"),
        "weigh again": _("The surface changed after the last weighing"),
        "stale": _("The last statement is from before the change"),
    }
    return words.get(block.name, _("Waits for another person to inspect"))


def _shows() -> list[tuple[str, str]]:
    return list(zip(WHICH, (_("open").capitalize(), _("Mine"), _("Held"), _("Done")), strict=True))


def _address(which: str, sought: str, number: int = 1) -> str:
    asked = {"show": which} if which != ALL_OPEN else {}
    asked |= {"q": sought} if sought else {}
    asked |= {"page": str(number)} if number > 1 else {}
    return "?" + urlencode(asked)


def _number(text: str) -> int:
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 7 else 1
