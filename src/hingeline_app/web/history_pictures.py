"""A surface's history for a page: each weighing a row of the picture, what was done between, and what is called out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.utils.translation import gettext as _

from hingeline.balance.drift import Change, Drift, MomentOnDay, look_for_drift
from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.figures.axis import LimitBar
from hingeline_app.figures.limits.moment_over_years import YearRow
from hingeline_app.figures.wording import format_measured
from hingeline_app.records.queries.records_search import PastWeighing, SurfaceHistory
from hingeline_app.report.pictures import limit_bar
from hingeline_app.web.why_here import why_words

DAYS_A_YEAR = 365.25
# What was chosen when the job was opened: it is the same in every language, the words beside it are not.
PAINTED, REPAIRED, CORROSION, WEIGHT_OFF = "painted", "repaired", "corrosion", "weight off"
PAINT = ("paint", "coat", "stripp")


@dataclass(frozen=True)
class HistoryOnPage:
    """The rows of the picture, and what the comparison of the weighings says."""

    rows: tuple[YearRow, ...]
    drift: Drift
    called_out: tuple[str, ...]
    slope: str


def history_on_page(history: SurfaceHistory) -> HistoryOnPage:
    """Put weighings and paper in the order of time, and look for drift among the weighings."""
    weighings = [each for each in history.weighings if _moment(each) is not None]
    drift = look_for_drift([_on_day(each, weighings[0].on) for each in weighings])
    rows = [(each.on, _row(each, before)) for each, before in _with_before(weighings)]
    beyond = drift.beyond
    for change in beyond:
        on, row = rows[change.second]
        rows[change.second] = (on, replace(row, called_out=_("changed, with no work recorded between")))
    paper = [(on, _paper(on, moment)) for on, moment, _signer in history.paper]
    ordered = sorted([*paper, *((on, row) for on, row in rows)], key=lambda each: each[0])
    words = tuple(_change_words(weighings, change) for change in beyond)
    return HistoryOnPage(tuple(row for _on, row in ordered if row is not None), drift, words, _slope_words(drift))


def _with_before(weighings: Sequence[PastWeighing]) -> list[tuple[PastWeighing, PastWeighing | None]]:
    return [(each, weighings[place - 1] if place else None) for place, each in enumerate(weighings)]


def _moment(weighing: PastWeighing) -> float | None:
    found = (weighing.document.get("static_moment") or {}).get("value")
    return None if found is None else float(found)


def _on_day(weighing: PastWeighing, first: date) -> MomentOnDay:
    moment: dict[str, Any] = weighing.document["static_moment"]
    return MomentOnDay(
        (weighing.on - first).days / DAYS_A_YEAR,
        float(moment["value"]),
        moment.get("standard_uncertainty") or None,
        work_before=bool(_work(weighing)),
    )


def _work(weighing: PastWeighing) -> str:
    """Say which work is recorded since the weighing before: why the job was opened, and what was done in it."""
    done = {
        _("another piece fitted"): weighing.is_other_piece,
        _before_the_job(weighing): weighing.is_first_of_job,
        _("the arm treated"): weighing.is_treated,
        _("corrected"): weighing.is_corrected,
    }
    return ", ".join(words for words, holds in done.items() if holds and words)


def _before_the_job(weighing: PastWeighing) -> str:
    why, said = weighing.why, weighing.why_here
    if why == PAINTED or any(word in said.lower() for word in PAINT):
        return _("painted")
    if why == REPAIRED or "repair" in said.lower():
        return str(why_words(weighing))
    return {CORROSION: _("corrosion treated"), WEIGHT_OFF: _("weight or arm off")}.get(why, "")


def _between(weighing: PastWeighing) -> str:
    """Say what lies between two weighings; weighed again in the same job, it need not have been touched."""
    again = "" if weighing.is_first_of_job else _("weighed again")
    return ", ".join(words for words in (_work(weighing), again) if words)


def _row(weighing: PastWeighing, before: PastWeighing | None) -> YearRow:
    job = _("job %(number)s") % {"number": f"{weighing.number:04d}"}
    return YearRow(weighing.on.isoformat(), job, limit_bar(weighing.document), _between(weighing) if before else "")


def _paper(on: date, moment: str) -> YearRow | None:
    try:
        value = float(read(moment, "moment", page=True))
    except InputRefused:
        return None
    return YearRow(on.isoformat(), _("from paper"), LimitBar(value), is_from_paper=True)


def _change_words(weighings: Sequence[PastWeighing], change: Change) -> str:
    first, second = weighings[change.first], weighings[change.second]
    words = {
        "first": first.on.isoformat(),
        "second": second.on.isoformat(),
        "moment": format_measured(change.difference, change.expanded_uncertainty, "N m", sense=True),
    }
    return _("From %(first)s to %(second)s it changed by %(moment)s (k = 2), and no work is recorded between.") % words


def _slope_words(drift: Drift) -> str:
    slope = drift.slope
    if slope is None:
        return ""
    words = {
        "change": format_measured(slope.per_year, slope.expanded_uncertainty, "N m", sense=True),
        "many": slope.weighings,
    }
    if slope.is_beyond:
        return _("Since the last recorded work it goes by %(change)s a year (k = 2, %(many)s weighings).") % words
    return _("Since the last recorded work: %(change)s a year (k = 2, %(many)s weighings): no slope is shown.") % words
