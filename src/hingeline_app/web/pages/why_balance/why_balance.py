"""Why balance: the page that explains it, its pieces while a knob moves, and what can be taken home."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from functools import wraps
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

import hingeline
from hingeline.errors import InputRefused
from hingeline_app.report.owner_words import LANGUAGES
from hingeline_app.said import the_readers_language
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.pages.why_balance.own_model import load_named
from hingeline_app.why_balance.answers import damping_over_speed, draw_by_compiled_loops
from hingeline_app.why_balance.compiled_way import make_ready
from hingeline_app.why_balance.job_file import job_file
from hingeline_app.why_balance.knobs import Knob
from hingeline_app.why_balance.presets import PRESETS, preset_of, sentences_of
from hingeline_app.why_balance.printed import print_sheet, print_state, short_sheets
from hingeline_app.why_balance.sentences import caution_of, speed_words
from hingeline_app.why_balance.shown import show
from hingeline_app.why_balance.state import NOT_AN_AXIS, SURFACE, State, read_state, start_of
from hingeline_app.why_balance.surfaces import SURFACES

HERE = "why-balance"
PAPERS = ("a4", "letter")
NOT_OF_A_STATE = frozenset({"paper", "series", "language"})
StatePage = Callable[[HttpRequest, State], HttpResponse]


def of_a_state(page: StatePage) -> Callable[[HttpRequest], HttpResponse]:
    """Read the state from the address; a bad one is refused in words, on a page that leads back."""

    @wraps(page)
    def read(request: HttpRequest) -> HttpResponse:
        try:
            if request.GET.get(SURFACE, "").startswith("own-"):
                load_named(request, request.GET[SURFACE])
            state = read_state({key: str(value) for key, value in request.GET.items() if key not in NOT_OF_A_STATE})
        except InputRefused as refused:
            return render(
                request, "web/why_balance_refused.html", {"here": HERE, "refusals": refused.refusals}, status=422
            )
        return page(request, state)

    return read


@open_to(Who.SIGNED_IN)
@require_safe
@of_a_state
def why_balance(request: HttpRequest, state: State) -> HttpResponse:
    """Show a state with everything around it; the band comes after, but to a tablet that keeps the page: with it."""
    answered = _answer(state, band="X-Live" in request.headers)
    return render(request, "web/why_balance.html", {"here": HERE, **_around(state), **answered})


@open_to(Who.SIGNED_IN)
@require_safe
@of_a_state
def answer(request: HttpRequest, state: State) -> HttpResponse:
    """Give the answer alone, at once."""
    return render(request, "web/why_balance_answer.html", _answer(state, band=False))


@open_to(Who.SIGNED_IN)
@require_safe
@of_a_state
def banded(request: HttpRequest, state: State) -> HttpResponse:
    """Give the answer with the band of its scatter; the first one lets the compiled loops be made for those after."""
    make_ready(lambda: draw_by_compiled_loops([start_of(surface) for surface in SURFACES.values()]))
    return render(request, "web/why_balance_answer.html", _answer(state, band=True))


@open_to(Who.SIGNED_IN)
@require_safe
@of_a_state
def damping(request: HttpRequest, state: State) -> HttpResponse:
    """Give the least damping over speed as a table and in words."""
    rows = [(speed_words(state, speed), _per_cent(found), found is not None and found < 0.0)
            for speed, found in damping_over_speed(state)]  # fmt: skip
    return render(request, "web/why_balance_damping.html", {"rows": rows})


@open_to(Who.SIGNED_IN)
@require_safe
@of_a_state
def model_file(_request: HttpRequest, state: State) -> HttpResponse:
    """Give the state as a file for the flutter command."""
    return _download(job_file(state).encode(), "application/toml", f"{state.surface.name}-model.toml")


@open_to(Who.SIGNED_IN)
@require_safe
@of_a_state
def owners_side(request: HttpRequest, state: State) -> HttpResponse:
    """Print the owner's side of a state."""
    pdf = print_state(state, datetime.now(UTC), hingeline.__version__, _paper(request), _language(request))
    return _download(pdf, "application/pdf", "why-balance.pdf")


@open_to(Who.SIGNED_IN)
@require_safe
def short_sheet(request: HttpRequest, sheet: str) -> HttpResponse:
    """Print a short sheet."""
    if sheet not in short_sheets():
        raise Http404
    pdf = print_sheet(
        short_sheets()[sheet], datetime.now(UTC), hingeline.__version__, _paper(request), _language(request)
    )
    return _download(pdf, "application/pdf", f"{sheet}.pdf")


def _paper(request: HttpRequest) -> Any:
    paper = request.GET.get("paper", "a4")
    return paper if paper in PAPERS else "a4"


def _language(request: HttpRequest) -> str:
    """Read the language that is asked for; that of the page unless it is another one that we print in."""
    asked = request.GET.get("language", "")
    return asked if asked in LANGUAGES else the_readers_language()


def _download(data: bytes, kind: str, name: str) -> HttpResponse:
    response = HttpResponse(data, content_type=kind)
    response["Content-Disposition"] = f'inline; filename="{name}"'
    return response


def _per_cent(damping: float | None) -> str:
    return _("no oscillation") if damping is None else f"{100.0 * damping:.2f} %".replace("-", "−")


def _answer(state: State, *, band: bool) -> dict[str, Any]:
    shown = show(state, band=band)
    rows = [(f"{point.value:g}", *_onset_cells(state, point)) for point in shown.curve]
    return {"shown": shown, "state": state, "rows": rows, "axis": state.surface.knob(state.axis),
            "caution": caution_of(state), "at_speed": speed_words(state, state.settings["speed"])}  # fmt: skip


def _onset_cells(state: State, point: Any) -> tuple[str, str]:
    if point.from_the_start:
        return _("growth at every speed"), ""
    onset = _("none found") if point.speed is None else speed_words(state, point.speed)
    if point.low is None:
        return onset, ""
    high = _("none found") if point.high is None else speed_words(state, point.high, toward="up")
    return onset, f"{speed_words(state, point.low, toward='down')} … {high}"


def _around(state: State) -> dict[str, Any]:
    """Give what stands around the answer: surfaces, presets, knobs, sheets."""
    chosen = preset_of(state)
    return {
        "teaching": state.surface.heading,
        "surfaces": [(surface, start_of(surface).query) for surface in SURFACES.values()],
        "presets": [(preset, preset.state.query, preset is chosen) for preset in PRESETS],
        "chosen": chosen,
        "chosen_sentences": sentences_of(chosen) if chosen else (),
        "knobs": [_knob(state, knob) for knob in state.surface.knobs],
        "sheets": short_sheets().values(),
        "languages": LANGUAGES.items(),
    }


def _knob(state: State, knob: Knob) -> dict[str, Any]:
    """Give a knob with the addresses of one step less and one more: it works without any script."""
    value = state.shown[knob.name]
    return {
        "knob": knob,
        "value": f"{value:g}",
        "shown": knob.top_is if knob.top_is and value >= knob.high else f"{value:g} {knob.unit}".strip(),
        "less": state.moved(**{knob.name: value - knob.step}).query,
        "more": state.moved(**{knob.name: value + knob.step}).query,
        "may_be_axis": knob.name not in NOT_AN_AXIS,
        "is_axis": knob.name == state.axis,
        "over": state.over(knob.name).query if knob.name not in NOT_AN_AXIS else "",
    }
