"""Hours and landings: a pad with the last value and a plausibility line, a meter's change, a reading withdrawn."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from hingeline import due
from hingeline.errors import InputRefused
from hingeline_app.records.actions.counters import change_meter, read_counters, withdraw_counter_reading
from hingeline_app.records.dates import today
from hingeline_app.records.queries.checks_ahead import checks_ahead
from hingeline_app.records.queries.hangar_choices import CountersOf, aircraft_choices, counters_of
from hingeline_app.said import say
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import or_no_page, viewer_of
from hingeline_app.web.forms.hangar import HoursForm, MeterForm
from hingeline_app.web.forms.page_form import begun
from hingeline_app.web.pages.acts import command_of, done, one_press
from hingeline_app.web.pages.hangar.hangar import HERE, may_of
from hingeline_app.web.requests import visit_of
from hingeline_app.web.saying import decimals


@open_to(Who.SIGNED_IN)
@require_safe
def hours_of_all(request: HttpRequest) -> HttpResponse:
    """List the aircraft with what their counters showed last."""
    whole = checks_ahead(viewer_of(request))
    totals = {each.name: each for each in whole.result.aircraft}
    shown = {each.name: each for each in whole.question.aircraft}
    names = [(each, each.words.partition(" · ")[0]) for each in aircraft_choices(viewer_of(request))]
    listed = [(each, name, totals.get(name), shown.get(name)) for each, name in names]
    pads = {"meter": _places(row[3] for row in listed), "in_all": _places(row[2] for row in listed)}
    return render(request, "web/hangar/hours.html", {**HERE, **may_of(request), "listed": listed, "places": pads})


def _places(rows: Iterable[Any]) -> int:
    """Give the decimals of the hours that are stated to the most."""
    return max((decimals(str(each.hours)) for each in rows if each and each.hours is not None), default=0)


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def hours_of_one(request: HttpRequest, aircraft: UUID) -> HttpResponse:
    """Enter what the counters of an aircraft show; what is out of the usual is asked about once."""
    counters = found_counters(request, aircraft)
    day = today(visit_of(request).actor.workshop)
    form = HoursForm(request.POST) if request.method == "POST" else begun(request, HoursForm, {"read_on": day})
    form.fields["landings"].required = counters.counts_landings
    judged = _judged(form, counters) if request.method == "POST" else None
    asks = judged is not None and judged.asks
    if request.method == "POST" and not (asks and not form.cleaned_data["looked_again"]):
        act = lambda: _keep(request, counters, form)  # noqa: E731  a page's one act
        if done(request, form, act, _("Kept. %(line)s") % {"line": say(judged.line) if judged else ""}):
            return redirect("fleet-hours")
    context = {
        **HERE,
        **may_of(request),
        "form": form,
        "counters": counters,
        "judged": judged,
        "asks": asks,
        "day": day,
    }
    return render(request, "web/hangar/hours_of.html", context, status=422 if form.errors or asks else 200)


def _judged(form: HoursForm, counters: CountersOf) -> due.EntryJudged | None:
    if not form.is_valid():
        return None
    try:
        return due.judge_entry(counters.asked, due.Reading(form.cleaned_data["read_on"], form.cleaned_data["shown"]))
    except InputRefused:
        return None


def _keep(request: HttpRequest, counters: CountersOf, form: HoursForm) -> None:
    said = form.cleaned_data
    shown = {"hours": said["shown"], "landings": said["landings"]}
    read_counters(visit_of(request).actor, counters.identifier, shown, said["read_on"], command_of(form))


@open_to(Who.SIGNED_IN)
@require_safe
def hours_line(request: HttpRequest, aircraft: UUID) -> HttpResponse:
    """Say what an entry would mean, while it is typed."""
    counters, form = found_counters(request, aircraft), HoursForm(request.GET)
    judged = _judged(form, counters)
    return JsonResponse({"line": say(judged.line) if judged else "", "asks": judged.asks if judged else False})


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def meter(request: HttpRequest, aircraft: UUID) -> HttpResponse:
    """Enter that a meter was changed."""
    counters, actor = found_counters(request, aircraft), visit_of(request).actor
    form = MeterForm(request.POST) if request.method == "POST" else begun(request, MeterForm, {"new_shown": "0.0"})
    if request.method == "POST" and done(
        request,
        form,
        lambda: change_meter(
            actor,
            aircraft,
            form.cleaned_data["counter"],
            old_shown=form.cleaned_data["old_shown"],
            new_shown=form.cleaned_data["new_shown"],
            on=form.cleaned_data["changed_on"],
            command=command_of(form),
        ),
        _("The change was kept: the total goes on."),
    ):
        return redirect("fleet-hours-of", aircraft)
    context = {**HERE, **may_of(request), "form": form, "counters": counters}
    return render(request, "web/hangar/meter.html", context, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_POST
def reading_withdraw(request: HttpRequest, aircraft: UUID, reading: UUID) -> HttpResponse:
    """Withdraw a reading that was wrong."""
    found_counters(request, aircraft)
    actor, reason = visit_of(request).actor, request.POST.get("reason", "")
    one_press(request, lambda: withdraw_counter_reading(actor, reading, reason), _("The reading is withdrawn."))
    return redirect("fleet-hours-of", aircraft)


def found_counters(request: HttpRequest, aircraft: UUID) -> CountersOf:
    """Find the counters of an aircraft for who asks.

    Raises
    ------
    Http404
        There is none for this person.
    """
    with or_no_page():
        return counters_of(viewer_of(request), aircraft)
