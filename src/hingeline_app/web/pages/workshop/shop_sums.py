"""Two sums of the workshop: what a paint will do to the balance, and the inertia that a swing gives."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_safe

from hingeline.balance.coating import predict_coating
from hingeline.balance.swing import inertia_by_swing
from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline_app.bench.correcting.handed_over import COATING, SWING
from hingeline_app.figures.correction.coating import coating_bars, further_coats
from hingeline_app.figures.limits.change import draw_limit_change
from hingeline_app.figures.wording import format_measured, format_moment_range
from hingeline_app.files.coating_file import read_coating
from hingeline_app.files.swing_file import read_swing
from hingeline_app.files.toml_text import toml_text
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_a_job import for_a_job
from hingeline_app.web.forms.coating import AskedForm, CoatingForm, SwingForm
from hingeline_app.web.forms.refusals import say_refusals

WIDTHS = {"wide": 650, "narrow": 348}


@open_to(Who.SIGNED_IN)
@require_safe
def coating(request: HttpRequest) -> HttpResponse:
    """Say what this paint will do: predicted, not weighed."""
    begun = "begin" in request.GET
    form = CoatingForm(initial=request.GET.dict()) if begun else CoatingForm(request.GET or None)
    document, text = _worked_out(form, lambda data: predict_coating(read_coating(data)))
    surface = document["surfaces"][0] if document else None
    context = {
        "here": "coating",
        "section": "workshop",
        "form": form,
        "text": text,
        "document": document,
        "surface": surface,
        "numbers": _numbers(surface) if surface else [],
        "layers": [_layer(each, surface["rule"]) for each in surface["layers"]] if surface else [],
        "drawn": _drawn(surface) if surface and surface["moment_after"] else {},
        **for_a_job(request, COATING),
    }
    return render(request, "web/coating.html", context, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_safe
def swing(request: HttpRequest) -> HttpResponse:
    """Give the moment of inertia from the times of a swing."""
    form = SwingForm(initial=_begun(SwingForm, request)) if "begin" in request.GET else SwingForm(request.GET or None)
    document, text = _worked_out(form, lambda data: inertia_by_swing(read_swing(data)))
    context = {
        "here": "swing",
        "section": "workshop",
        "form": form,
        "text": text,
        "document": document,
        "inertia": _measured(document["inertia"], "kg m^2") if document else "",
        "period": _measured(document["period"], "s") if document else "",
        **for_a_job(request, SWING),
    }
    return render(request, "web/swing.html", context, status=422 if form.errors else 200)


def _begun(kind: type[AskedForm], request: HttpRequest) -> dict[str, str]:
    """Give what an address that only begins a form fills in; the form's own beginnings stay."""
    return {name: text for name, text in request.GET.dict().items() if name in kind.base_fields}


def _worked_out(form: Any, work: Callable[[bytes], object]) -> tuple[Mapping[str, Any] | None, str]:
    """Work out what a form asks, by the file that the command reads; what is refused stands at its field."""
    if not form.is_bound or not form.is_valid():
        return None, ""
    text = toml_text(form.tables())
    try:
        return to_document(work(text.encode())), text
    except InputRefused as refused:
        say_refusals(form, refused, {each.field: _field(form, each.field) for each in refused.refusals})
        return None, ""


def _field(form: AskedForm, place: str) -> str:
    """Name the form's field for a place such as ``layer[0].arm`` or ``moment.expanded``."""
    bare = place.removeprefix("limits.").removesuffix(".value")
    if bare.startswith("layer["):
        number, _dot, name = bare.removeprefix("layer[").partition("].")
        bare = f"{name.partition('.')[0]}_{int(number) + 1}"
    return bare if bare in form.fields else bare.partition(".")[0].partition("[")[0]


def _numbers(surface: Mapping[str, Any]) -> list[tuple[str, str]]:
    limits = surface["limits"]
    lower, upper = (None if limits[name] is None else limits[name]["value"] for name in ("lower", "upper"))
    rows = [("change of moment", _moment(surface["moment_change"]))]
    if surface["moment_after"]:
        rows = [("moment as weighed", _moment(surface["moment_before"])), *rows]
        rows += [("moment predicted", _moment(surface["moment_after"])), ("limits", format_moment_range(lower, upper))]
    return [*rows, ("change of mass", _grams(surface["mass_change"]))]


def _layer(layer: Mapping[str, Any], rule: str) -> dict[str, str]:
    # By the rule that was asked for: until the limit there are more coats than until the guarded one.
    still = layer["can_still_take_guarded" if rule == "guarded" else "can_still_take"]
    return {
        "name": layer["name"],
        "mass": _grams(layer["mass"]),
        "moment": _moment(layer["moment"]),
        "still": "" if still is None else further_coats(still),
    }


def _drawn(surface: Mapping[str, Any]) -> dict[str, Any]:
    bars = coating_bars(surface)
    return {name: mark_safe(draw_limit_change(*bars, width)) for name, width in WIDTHS.items()}


def _moment(quantity: Mapping[str, Any]) -> str:
    return format_measured(quantity["value"], quantity["expanded_uncertainty"], "N m", sense=True)


def _grams(quantity: Mapping[str, Any]) -> str:
    expanded = quantity["expanded_uncertainty"]
    return format_measured(1000.0 * quantity["value"], None if expanded is None else 1000.0 * expanded, "g")


def _measured(quantity: Mapping[str, Any], unit: str) -> str:
    return format_measured(quantity["value"], quantity["expanded_uncertainty"], unit)
