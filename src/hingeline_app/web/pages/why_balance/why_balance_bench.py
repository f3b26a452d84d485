"""The bench demonstration: how it is built and filmed, and a filmed series beside what is computed."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from hingeline_app.records.queries.series import SeriesRecord, all_series
from hingeline_app.records.roles import Act
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import may_do, viewer_of
from hingeline_app.web.pages.why_balance.why_balance import HERE, of_a_state
from hingeline_app.why_balance.filmed import Filmed, beside
from hingeline_app.why_balance.state import SURFACE, State, start_of
from hingeline_app.why_balance.surfaces import SURFACES

BENCH = "bench"
SHOWN = ("speed", "jet", "arm", "spring")


@open_to(Who.SIGNED_IN)
@require_safe
def bench_rig(request: HttpRequest) -> HttpResponse:
    """Tell how the bench demonstration is built and filmed, and draw a chosen series beside the computed curve."""
    asked = request.GET.copy()
    asked[SURFACE] = BENCH
    request.GET = asked  # type: ignore[assignment]
    return _drawn(request)


@of_a_state
def _drawn(request: HttpRequest, state: State) -> HttpResponse:
    series = [each for each in all_series(viewer_of(request)) if each.against == "weight"]
    chosen = _chosen(series, request.GET.get("series"))
    context = {
        "here": HERE,
        "beside": beside(state, Filmed(name_of(chosen), chosen.document) if chosen else None),
        "series": [(each.number, name_of(each), each == chosen) for each in series],
        "chosen": chosen,
        "knobs": [(state.surface.knob(name), f"{state.shown[name]:g}") for name in SHOWN],
        "query": start_of(SURFACES[BENCH]).query,
        "may_work": may_do(request, Act.WORK),
    }
    return render(request, "web/why_balance_bench.html", context)


def name_of(series: SeriesRecord) -> str:
    """Name a series: its number, of what, by whom and when."""
    of = f"{series.aircraft} {series.surface}".strip()
    words = _("series %(number)s, %(of)s, worked out by %(who)s on %(on)s")
    return words % {"number": series.number, "of": of, "who": series.made_by, "on": series.made_on.isoformat()}


def _chosen(series: list[SeriesRecord], number: str | None) -> SeriesRecord | None:
    """Give the series that is asked for by number, none where none is wanted, and the last where nothing is said."""
    if not number:
        return series[0] if series and number is None else None
    found = next((each for each in series if str(each.number) == number), None)
    if found is None:
        raise Http404
    return found
