"""A few cycles of a recording, slowed: the film with its marks, the section as recorded, a computed one beside it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from hingeline.errors import InputRefused, MissingExtra
from hingeline_app.evidence.answer import read_tracks, recording_of_kept
from hingeline_app.evidence.asked import asked_of
from hingeline_app.evidence.replay import Replay, places_of, replay_of, ticks_of
from hingeline_app.evidence.words import frequency_text
from hingeline_app.figures.motion.replayed import Film, SectionSteps, draw_film, draw_section_steps
from hingeline_app.recordings.follow import some_pictures
from hingeline_app.records.queries.recordings import FindingRecord, RecordingRecord
from hingeline_app.said import kept_by_language
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.pages.recordings.recordings import finding_of, recording_of
from hingeline_app.web.pages.why_balance.own_model import load_named
from hingeline_app.why_balance.answers import motion_of
from hingeline_app.why_balance.pictures import section_picture
from hingeline_app.why_balance.sentences import motion_sentence
from hingeline_app.why_balance.state import read_state
from hingeline_app.why_balance.surfaces import SURFACES

HERE = {"here": "recordings"}
SHEET_WIDTH, BESIDE = 480, 372.0
NOT_A_STATE = ("finding",)


@open_to(Who.SIGNED_IN)
@require_safe
def recording_replay(request: HttpRequest, number: int) -> HttpResponse:
    """Show a few cycles, slowed."""
    kept, finding = _found(request, number)
    context: dict[str, Any] = {**HERE, "recording": kept, "finding": finding, "surfaces": SURFACES.values()}
    try:
        context |= _recorded(kept, finding)
    except (InputRefused, OSError, ValueError) as fault:
        context["fault"] = str(fault)[:300]
    context |= _computed(request)
    return render(request, "web/recording_replay.html", context)


@open_to(Who.SIGNED_IN)
@require_safe
def recording_film(request: HttpRequest, number: int) -> HttpResponse:
    """Give the pictures of the replay on one sheet, decoded anew in a process of its own."""
    kept, finding = _found(request, number)
    if finding.tracks is None:
        raise Http404("it has no pictures")
    try:
        jpeg = _sheet(str(kept.file), str(finding.tracks), _ticks(kept, finding))
    except (InputRefused, MissingExtra, OSError) as fault:
        raise Http404(str(fault)) from fault
    return HttpResponse(jpeg, content_type="image/jpeg")


def _found(request: HttpRequest, number: int) -> tuple[RecordingRecord, FindingRecord]:
    kept = recording_of(request, number)
    finding = finding_of(request, kept)
    if finding is None:
        raise Http404("nothing was worked out yet")
    return kept, finding


def _recorded(kept: RecordingRecord, finding: FindingRecord) -> dict[str, Any]:
    replay = _replay(kept, finding)
    if replay is None:
        return {}
    known = finding.document["time_scale"]["true_over_file"] is not None
    shown: dict[str, Any] = {"replay": replay, "section": draw_section_steps(_steps(replay, known), BESIDE)}
    shown["frequency"] = frequency_text(finding.document)
    if finding.tracks is not None:
        tracks = read_tracks(finding.tracks.read_bytes())
        address = f"{reverse('recording-film', args=[kept.number])}?finding={finding.number}"
        size, places = (tracks.width, tracks.height), places_of(replay, tracks)
        words = f"{len(replay.steps)} pictures of the video with {len(places)} marks, slowed"
        shown["film"] = draw_film(Film(address, size, len(replay.steps), places, replay.seconds, words), BESIDE)
        shown["marks"] = [track.mark for track in tracks.tracks]
    shown["lost"] = sum(replay.lost)
    return shown


def _replay(kept: RecordingRecord, finding: FindingRecord) -> Replay | None:
    recording = recording_of_kept(kept.file, finding.tracks, asked_of(finding.asked), kept.name)
    return replay_of(finding.document, recording)


def _ticks(kept: RecordingRecord, finding: FindingRecord) -> tuple[int, ...]:
    replay = _replay(kept, finding)
    if replay is None or finding.tracks is None:
        raise Http404("it has no pictures")
    return ticks_of(replay, read_tracks(finding.tracks.read_bytes()))


@kept_by_language(6)
def _sheet(file: str, _tracks: str, ticks: tuple[int, ...]) -> bytes:
    return some_pictures(Path(file), ticks, SHEET_WIDTH).jpeg


def _steps(replay: Replay, known: bool) -> SectionSteps:
    finding = f"The section over {len(replay.steps)} steps of the recording, slowed"
    return SectionSteps(replay.plunge, replay.pitch, replay.surface, replay.seconds, replay.slowed, known, finding)


def _computed(request: HttpRequest) -> dict[str, Any]:
    """Give the section that a model computes, as the address says; refused in words."""
    query = {key: str(value) for key, value in request.GET.items() if key not in NOT_A_STATE}
    try:
        if query.get("surface", "").startswith("own-"):
            load_named(request, query["surface"])
        state = read_state({"surface": "bench", **query})
    except InputRefused as refused:
        return {"model_fault": " ".join(str(each) for each in refused.refusals)[:400]}
    motion = motion_of(state)
    return {
        "state": state,
        "model_picture": section_picture(state, motion),
        "model_words": motion_sentence(state, motion),
        "speed": f"{state.shown['speed']:g}",
        "speed_unit": state.surface.knob("speed").unit,
    }
