"""Recordings: the list, and what one shows, with what it was worked out from."""

from __future__ import annotations

import json
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from hingeline.errors import InputRefused
from hingeline_app.evidence.answer import answer_of_file, answer_of_kept, read_tracks
from hingeline_app.evidence.asked import asked_of
from hingeline_app.evidence.changed_rules import ChangedRule, changed_rule
from hingeline_app.evidence.series_words import onset_headline
from hingeline_app.evidence.views import (
    CAUTION,
    CAUTION_OTHERWISE,
    MEANINGS,
    Item,
    Views,
    marks_picture,
    seen_marks,
    views_of,
)
from hingeline_app.figures.motion.waves import STATEMENTS, draw_wave
from hingeline_app.files.again import differing
from hingeline_app.records.actions.recordings import keep_finding
from hingeline_app.records.canonical import canonical
from hingeline_app.records.queries.recordings import (
    FindingRecord,
    RecordingRecord,
    columns_like,
    recording,
    recordings,
)
from hingeline_app.records.queries.series import all_series
from hingeline_app.records.roles import Act
from hingeline_app.said import kept_by_language
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import may_do, or_no_page, refuse_who_may_not, viewer_of
from hingeline_app.web.forms.recordings import SoundForm, TableForm, TimeForm
from hingeline_app.web.pages.acts import command_of, done
from hingeline_app.web.pages.recordings.recording_following import run_of
from hingeline_app.web.requests import visit_of

HERE = {"here": "recordings"}
MOST_DIFFERENCES = 40


@open_to(Who.SIGNED_IN)
@require_safe
def recordings_page(request: HttpRequest) -> HttpResponse:
    """List the recordings."""
    listed = [(each, _wave_of(each.statement)) for each in recordings(viewer_of(request))]
    series = [(each, onset_headline(each.document)) for each in all_series(viewer_of(request))]
    context = {**HERE, "recordings": listed, "series": series, "may_work": may_do(request, Act.WORK)}
    return render(request, "web/recordings.html", context)


@open_to(Who.SIGNED_IN)
@require_safe
def recording_page(request: HttpRequest, number: int) -> HttpResponse:
    """Show one recording: what is to be done, how far it is, or what it shows."""
    return page_of(request, recording_of(request, number))


@open_to(Who.SIGNED_IN)
@require_POST
def recording_judge(request: HttpRequest, number: int) -> HttpResponse:
    """Work out what a table or a sound shows, and keep it."""
    kept = recording_of(request, number)
    refuse_who_may_not(request, Act.WORK)
    if kept.kind == "video":
        return redirect("recording-marks", number)
    form = _form_of(request, kept, request.POST)
    actor = visit_of(request).actor

    def act() -> None:
        answered = answer_of_file(kept.file.read_bytes(), form.asked, kept.name)
        keep_finding(actor, kept.identifier, answered.document, form.asked.plain(), command=command_of(form))

    if done(request, form, act, _("Worked out and kept.")):
        return redirect("recording", number)
    return page_of(request, kept, form=form, status=422)


@open_to(Who.SIGNED_IN)
@require_POST
def recording_again(request: HttpRequest, number: int) -> HttpResponse:
    """Work a finding out again from what was kept, and say what differs."""
    kept = recording_of(request, number)
    finding = finding_of(request, kept)
    if finding is None:
        raise Http404("nothing was worked out yet")
    rule: ChangedRule = ""
    try:
        again = answer_of_kept(kept.file, finding.tracks, asked_of(finding.asked), kept.name).document
        # Compared in the one spelling in which it was kept: there 1.0 is written 1.
        now = json.loads(canonical(again))
        differences = list(differing("", dict(finding.document), now))
        rule = changed_rule(finding.document, now, finding.software)
    except (InputRefused, OSError) as fault:
        differences = [{"field": "recording", "kept": "worked out", "again": str(fault)[:300]}]
    return page_of(request, kept, again=differences[:MOST_DIFFERENCES], worked_again=True, changed_rule=rule)


@open_to(Who.SIGNED_IN)
@require_safe
def recording_picture(request: HttpRequest, number: int) -> HttpResponse:
    """Give the first picture of a video, as it was drawn anew when the video came in."""
    kept = recording_of(request, number)
    if kept.preview is None or not kept.preview.is_file():
        raise Http404("there is no picture")
    return HttpResponse(kept.preview.read_bytes(), content_type="image/jpeg")


@open_to(Who.SIGNED_IN)
@require_safe
def recording_marks_file(request: HttpRequest, number: int) -> HttpResponse:
    """Give the marks of a finding as a file for the command line."""
    finding = finding_of(request, recording_of(request, number))
    if finding is None or not finding.asked.get("marks"):
        raise Http404("no marks were kept")
    response = HttpResponse(str(finding.asked["marks"]), content_type="application/toml; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="recording-{number}-marks.toml"'
    return response


def recording_of(request: HttpRequest, number: int) -> RecordingRecord:
    """Find a recording for who looks.

    Raises
    ------
    Http404
        There is none for this person.
    """
    with or_no_page():
        return recording(viewer_of(request), number)


def page_of(request: HttpRequest, kept: RecordingRecord, *, status: int = 200, **more: Any) -> HttpResponse:
    """Give the page of a recording."""
    finding, run = finding_of(request, kept), run_of(kept)
    context: dict[str, Any] = {
        **HERE,
        "recording": kept,
        "run": run,
        "may_work": may_do(request, Act.WORK),
        "finding": finding,
    }
    context |= {"waves": [(each, draw_wave(each), MEANINGS[each]) for each in STATEMENTS]}
    context |= {"caution": CAUTION if kept.kind == "video" else CAUTION_OTHERWISE}
    if finding is not None:
        context |= _shown(request, kept, finding)
    elif kept.kind != "video":
        context |= {"form": _form_of(request, kept, None)}
    context |= more
    if "worked_again" in more:
        context["same"] = not more["again"]
    return render(request, "web/recording.html", context, status=status)


def _shown(request: HttpRequest, kept: RecordingRecord, finding: FindingRecord) -> dict[str, Any]:
    statement = finding.document["statement"]
    shown: dict[str, Any] = {"statement": statement, "meaning": MEANINGS[statement], "wave": draw_wave(statement)}
    try:
        views, tracks = _views(str(finding.identifier), kept, finding)
    except (InputRefused, OSError, ValueError) as fault:
        return shown | {"no_picture": str(fault)[:300]}
    items = [(each, _wave_of(each.wave)) for each in views.items]
    shown |= {"views": views, "telling": [item for item in items if _tells(item[0])]}
    shown |= {"rest": [item for item in items if not _tells(item[0])]}
    if tracks is not None and kept.preview is not None:
        address = reverse("recording-picture", args=[kept.number])
        shown |= {"marks_picture": marks_picture(address, tracks, 300.0), "seen": seen_marks(tracks), "tracks": tracks}
    if kept.kind != "video" and may_do(request, Act.WORK):
        shown |= {"form": _form_of(request, kept, None)}
    return shown


def _tells(item: Item) -> bool:
    """Say whether a row stands open on the page: it decides, points somewhere, or is not known."""
    return item.role == "decides" or item.points_to != "neither"


class _Keyed:
    """Something told apart by its key: a finding never changes, so what was drawn of it can be used again."""

    def __init__(self, key: str, *content: Any) -> None:
        self.key, self.content = key, content

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Keyed) and self.key == other.key

    def __hash__(self) -> int:
        return hash(self.key)


@kept_by_language(24)
def _drawn(keyed: _Keyed) -> tuple[Views, Any]:
    kept, finding = keyed.content
    answered = answer_of_kept(kept.file, finding.tracks, asked_of(finding.asked), kept.name)
    tracks = read_tracks(finding.tracks.read_bytes()) if finding.tracks else None
    # The words come from what was kept; the pictures are drawn anew from what was recorded.
    return views_of(finding.document, answered.recording), tracks


def _views(key: str, kept: RecordingRecord, finding: FindingRecord) -> tuple[Views, Any]:
    return _drawn(_Keyed(key, kept, finding))


def _form_of(request: HttpRequest, kept: RecordingRecord, sent: Any) -> SoundForm | TimeForm:
    """Give the form of a recording; columns of a header like this one are remembered from the last time."""
    if kept.kind == "sound":
        return SoundForm(sent)
    header = _header(kept)
    remembered = {} if kept.findings or sent is not None else columns_like(viewer_of(request), header)
    named = {f"column_{name}": theirs for name, theirs in remembered.items()}
    return TableForm(sent, header=header, initial=named)


def _header(kept: RecordingRecord) -> list[str]:
    """Give the header of a table, as far as it can be read."""
    with kept.file.open("rb") as file:
        lines = file.read(20_000).decode("utf-8-sig", "replace").splitlines()
    first = next((line for line in lines if line.strip() and not line.startswith("#")), "")
    separator = max(";\t,", key=lambda each: (first.count(each), each != ","))
    return [cell.strip().strip('"')[:60] for cell in first.split(separator)][:40]


def finding_of(request: HttpRequest, kept: RecordingRecord) -> FindingRecord | None:
    """Give the finding that the address names, or the last one; None before anything was worked out."""
    wanted = request.GET.get("finding") or request.POST.get("finding") or ""
    named = [each for each in kept.findings if str(each.number) == wanted]
    return next(iter(named or kept.findings), None)


def _wave_of(statement: str | None) -> str:
    """Give the sign of a statement; none where nothing was stated."""
    return draw_wave(statement) if statement in STATEMENTS else ""
