"""Labels with square codes, to stick on surfaces, scales and stands."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

import hingeline
from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.records.queries.labels import SCALE, STAND, SURFACE, Labelled, labelled
from hingeline_app.report.labels import MOST, Label, make_labels, mass_words
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.pages.job.prints import as_pdf, in_its_language, paper_of

HERE = {"here": "labels", "section": "workshop"}
# What a code holds is the address of whatever it sticks on: an identifier that says nothing to who finds it.
ADDRESS = "/at/{identifier}"


@open_to(Who.SIGNED_IN)
@require_safe
def labels_page(request: HttpRequest) -> HttpResponse:
    """Let somebody choose what is to be labelled."""
    return render(request, "web/labels.html", {**HERE, **_choices(request)})


@open_to(Who.SIGNED_IN)
@require_safe
def labels_sheet(request: HttpRequest) -> HttpResponse:
    """Print the labels that were chosen; all of them where nothing was."""
    try:
        with in_its_language(request):
            made_at = datetime.now(UTC).replace(microsecond=0)
            pdf = make_labels(_chosen(request), made_at, hingeline.__version__, paper_of(request))
    except InputRefused as refused:
        context = {**HERE, **_choices(request), "refusals": [str(each) for each in refused.refusals]}
        return render(request, "web/labels.html", context, status=422)
    return as_pdf(pdf, "labels.pdf")


def _choices(request: HttpRequest) -> dict[str, Any]:
    names = {SURFACE: _("Surfaces"), SCALE: _("Scales"), STAND: _("Stands")}
    things = labelled(viewer_of(request))
    groups = [(names[kind], [each for each in things if each.kind == kind]) for kind in names]
    labels = [_label(request, each) for each in things]
    return {"groups": [group for group in groups if group[1]], "mass": mass_words(labels), "most": MOST}


def _chosen(request: HttpRequest) -> Sequence[Label]:
    asked = set(request.GET.getlist("which"))
    things = labelled(viewer_of(request))
    return [_label(request, each) for each in things if not asked or str(each.identifier) in asked]


def _label(request: HttpRequest, each: Labelled) -> Label:
    # Said where it is printed, in the print's language.
    words = {SURFACE: "Surface", SCALE: "Scale", STAND: "Stand"}
    code = request.build_absolute_uri(ADDRESS.format(identifier=each.identifier))
    depth = float(read(each.depth, "length", page=True)) if each.depth else None
    return Label(words[each.kind], each.name, each.belongs_to, code, each.short, depth)
