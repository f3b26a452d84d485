"""Series of recordings: damping against airspeed or weight, and what it shows of an onset."""

from __future__ import annotations

import json
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from hingeline.errors import InputRefused
from hingeline_app.evidence.changed_rules import changed_rule_of_series
from hingeline_app.evidence.series import answer_of_series, asked_series_of, member_of
from hingeline_app.evidence.series_views import series_views_of
from hingeline_app.evidence.series_words import onset_headline, under_the_headline
from hingeline_app.figures.motion.waves import draw_wave
from hingeline_app.files.again import differing
from hingeline_app.records.actions.series import keep_series
from hingeline_app.records.canonical import canonical
from hingeline_app.records.queries.series import SeriesRecord, offered, one_series
from hingeline_app.records.roles import Act
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import may_do, or_no_page, refuse_who_may_not, viewer_of
from hingeline_app.web.forms.page_form import begun
from hingeline_app.web.forms.series import SeriesForm
from hingeline_app.web.pages.acts import command_of, done
from hingeline_app.web.requests import visit_of

HERE = {"here": "recordings"}
MOST_DIFFERENCES = 40


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def series_new(request: HttpRequest) -> HttpResponse:
    """Put recordings together to a series, and keep what they show."""
    refuse_who_may_not(request, Act.WORK)
    there = offered(viewer_of(request))
    if request.method == "POST":
        form, kept = SeriesForm(request.POST, offered=there), list[Any]()
        if done(request, form, lambda: kept.append(_keep(request, form)), _("The series was worked out and kept.")):
            return redirect("series", kept[0].number) if kept else redirect("recordings")
    else:
        form = begun(request, SeriesForm, offered=there)
    rows = [(each, field, draw_wave(each.statement)) for each, field in form.rows]
    return render(
        request, "web/series_new.html", {**HERE, "form": form, "rows": rows}, status=422 if form.errors else 200
    )


@open_to(Who.SIGNED_IN)
@require_safe
def series_page(request: HttpRequest, number: int) -> HttpResponse:
    """Show a series."""
    return _page(request, _series_of(request, number))


@open_to(Who.SIGNED_IN)
@require_POST
def series_again(request: HttpRequest, number: int) -> HttpResponse:
    """Work a series out again from its recordings, and say what differs."""
    kept, rule = _series_of(request, number), ""
    try:
        again = json.loads(canonical(answer_of_series(_members(request, kept), asked_series_of(kept.asked))))
        differences = list(differing("", dict(kept.document), again))
        rule = changed_rule_of_series(kept.document, again, kept.software)
    except (InputRefused, OSError) as fault:
        differences = [{"field": "series", "kept": "worked out", "again": str(fault)[:300]}]
    shown = {"again": differences[:MOST_DIFFERENCES], "worked_again": True, "same": not differences, "finding": kept}
    return _page(request, kept, rule_of_series=rule, **shown)


def _keep(request: HttpRequest, form: SeriesForm) -> Any:
    chosen, members = form.cleaned_data["chosen"], form.members
    document = answer_of_series(members, form.asked)
    surfaces = {each.surface_identifier for each in chosen}
    return keep_series(
        visit_of(request).actor,
        chosen[0].aircraft_identifier,
        surfaces.pop() if len(surfaces) == 1 else None,
        document,
        form.asked.plain(members),
        said=form.cleaned_data["remark"],
        command=command_of(form),
    )


def _members(request: HttpRequest, kept: SeriesRecord) -> list[Any]:
    listed = kept.asked["members"]
    findings = [UUID(each["finding"]) for each in listed]
    there = {str(each.finding): each for each in offered(viewer_of(request), findings)}
    missing = [each["recording"] for each in listed if each["finding"] not in there]
    if missing:
        remedy = "It was judged from recordings that you cannot see."
        raise InputRefused.of("recordings", ", ".join(map(str, missing)), "recordings that are there", remedy)
    return [member_of(there[each["finding"]], each["at"]) for each in listed]


def _page(request: HttpRequest, kept: SeriesRecord, **more: Any) -> HttpResponse:
    headline = onset_headline(kept.document)
    context = {"series": kept, "headline": headline, "under": under_the_headline(kept.document)}
    views = series_views_of(kept.document, kept.asked, headline)
    rows = [(row, draw_wave(row.statement)) for row in views.rows]
    context |= {"views": views, "rows": rows, "may_work": may_do(request, Act.WORK)}
    return render(request, "web/series.html", {**HERE, **context, **more})


def _series_of(request: HttpRequest, number: int) -> SeriesRecord:
    with or_no_page():
        return one_series(viewer_of(request), number)
