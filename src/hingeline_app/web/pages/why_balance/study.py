"""A study of a loaded model: how its onset scatters with its uncertain numbers, worked beside the pages."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from uuid import UUID

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from hingeline_app.figures.wording import Toward, format_drawn_part, format_number, outward, places_for, with_unit
from hingeline_app.records.queries.flutter_models import model_of
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.roles import Act
from hingeline_app.studies import runs
from hingeline_app.studies.runs import Study
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import refuse_who_may_not, viewer_of
from hingeline_app.web.forms.page_form import begun
from hingeline_app.web.forms.study import StudyForm
from hingeline_app.web.long_work import our_way
from hingeline_app.web.pages.acts import done, one_press
from hingeline_app.why_balance.sentences import CAUTION

HERE = {"here": "why-balance", "caution": CAUTION}
KNOT = 1852.0 / 3600.0


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def study_new(request: HttpRequest, model: UUID) -> HttpResponse:
    """Ask how many models, and start."""
    record, data = _model(request, model)
    if request.method != "POST":
        form = begun(request, StudyForm)
    else:
        refuse_who_may_not(request, Act.WORK)
        form = StudyForm(request.POST)
        said = form.is_valid() and (form.cleaned_data["draws"], form.cleaned_data["seed"])
        if said and done(request, form, lambda: _start(_study(model, record.name, *said), data), _("It is under way.")):
            return redirect("study", model, *said)
    context = {**HERE, "form": form, "model": record}
    return render(request, "web/study_new.html", context, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def study(request: HttpRequest, model: UUID, draws: int, seed: int) -> HttpResponse:
    """Show how far it is, or what it found; stop it, or go on."""
    record, data = _model(request, model)
    asked = _study(model, record.name, draws, seed)
    far = _far(asked)
    if request.method == "POST":
        refuse_who_may_not(request, Act.WORK)
        if far.goes_on:
            runs.stop(_data(), asked)
        else:
            one_press(request, lambda: _start(asked, data), _("It goes on."))
        return redirect("study", model, draws, seed)
    document = runs.found(_data(), asked)
    context = {**HERE, "model": record, "study": asked, "far": far, "rows": _rows(document) if document else ()}
    return render(request, "web/study.html", context)


@open_to(Who.SIGNED_IN)
@require_safe
def study_far(request: HttpRequest, model: UUID, draws: int, seed: int) -> HttpResponse:
    """Say how far it is."""
    record, _data_of_it = _model(request, model)
    far = _far(_study(model, record.name, draws, seed))
    return JsonResponse({"word": far.word, "followed": far.done, "expected": far.of, "percent": far.percent})


@open_to(Who.SIGNED_IN)
@require_safe
def study_file(request: HttpRequest, model: UUID, draws: int, seed: int) -> HttpResponse:
    """Give the answer as a document."""
    record, _data_of_it = _model(request, model)
    document = runs.found(_data(), _study(model, record.name, draws, seed))
    if document is None:
        raise Http404
    response = HttpResponse(json.dumps(document, ensure_ascii=False, indent=2), content_type="application/json")
    response["Content-Disposition"] = f'attachment; filename="scatter-{draws}-{seed}.json"'
    return response


def _rows(document: dict[str, Any]) -> list[tuple[str, str]]:
    found = document["speed_distribution"]
    rows = [
        (_("Models drawn"), f"{found['samples']}, {_('seed')} {found['seed']}"),
        (_("Drawn again, since no real body has such numbers"), str(found["drawn_again"])),
        (_("With an onset in the range"), format_drawn_part(found["flutter_fraction"])),
        (_("Growing at the lowest speed"), format_drawn_part(found["growing_at_lowest_fraction"])),
    ]
    for part, speed in found["quantiles"].items():
        if speed is not None:
            words = _("%(part)s of the onsets lie below") % {"part": f"{100.0 * float(part):g} %"}
            rows.append((words, _both(speed["value"], outward(float(part)))))
    if found.get("begins_again_fraction") is not None:
        rows.append(
            (_("Growth ends in the range, and begins again above"), format_drawn_part(found["begins_again_fraction"]))
        )
    return rows


def _both(speed: float, toward: Toward | None) -> str:
    """Write a speed in both units, to four digits."""
    metres, knots = (
        with_unit(format_number(each, max(0, places_for(each, 4)), toward), unit)
        for each, unit in ((speed, "m/s"), (speed / KNOT, "kn TAS"))
    )
    return f"{metres} · {knots}"


def _far(asked: Study) -> Any:
    far = runs.look(_data(), asked, our_way())
    if far is None:
        raise Http404
    return far


def _start(asked: Study, model: bytes) -> None:
    runs.start(_data(), asked, model, our_way())


def _study(model: UUID, name: str, draws: int, seed: int) -> Study:
    return Study(model.hex, name, draws, seed)


def _model(request: HttpRequest, model: UUID) -> Any:
    try:
        return model_of(viewer_of(request), model)
    except Nowhere as nothing:
        raise Http404 from nothing


def _data() -> Path:
    return Path(settings.DATA_FOLDER)
