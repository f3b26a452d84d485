"""A video is being followed: how far it is, stop, go on, and keep what was found."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from hingeline_app.evidence import runs
from hingeline_app.evidence.answer import answer_of_tracks, write_tracks
from hingeline_app.records.actions.recordings import keep_finding
from hingeline_app.records.canonical import canonical, digest_of
from hingeline_app.records.queries.recordings import RecordingRecord, recording
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import AlreadyDone, Command
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import or_no_page, refuse_who_may_not, viewer_of
from hingeline_app.web.long_work import our_way
from hingeline_app.web.pages.acts import one_press
from hingeline_app.web.requests import visit_of


@open_to(Who.SIGNED_IN)
@require_safe
def recording_far(request: HttpRequest, number: int) -> HttpResponse:
    """Say how far the following is."""
    run = run_of(_recording(request, number))
    if run is None:
        return JsonResponse({"word": "none"})
    return JsonResponse({"word": run.word, "followed": run.followed, "expected": run.expected, "percent": run.percent})


@open_to(Who.SIGNED_IN)
@require_POST
def recording_follow(request: HttpRequest, number: int) -> HttpResponse:
    """Go on where it was stopped or interrupted."""
    kept = _recording(request, number)
    refuse_who_may_not(request, Act.WORK)
    run = run_of(kept)
    if run is None:
        return redirect("recording-marks", number)
    one_press(
        request, lambda: runs.start(_data(), str(kept.identifier), kept.file, kept.name, run.asked, our_way()),
        _("It goes on."),
    )  # fmt: skip
    return redirect("recording", number)


@open_to(Who.SIGNED_IN)
@require_POST
def recording_stop(request: HttpRequest, number: int) -> HttpResponse:
    """Stop; what was followed so far is kept, so that it can go on."""
    kept = _recording(request, number)
    refuse_who_may_not(request, Act.WORK)
    runs.stop(_data(), str(kept.identifier))
    messages.success(request, _("It stops. What was followed so far stays."))
    return redirect("recording", number)


@open_to(Who.SIGNED_IN)
@require_POST
def recording_keep(request: HttpRequest, number: int) -> HttpResponse:
    """Judge what was followed, and keep it as a finding."""
    kept = _recording(request, number)
    refuse_who_may_not(request, Act.WORK)
    run, key = run_of(kept), str(kept.identifier)
    tracks = runs.followed(_data(), key)
    if run is None or run.goes_on or tracks is None:
        return redirect("recording", number)

    def act() -> None:
        document, asked = answer_of_tracks(tracks, run.asked).document, run.asked.plain()
        # Pressed twice, or kept before to the last digit: one finding.
        same = digest_of(canonical({"recording": key, "document": document, "asked": asked}))
        with suppress(AlreadyDone):
            command = Command(f"finding {same[:40]}", asked)
            data = write_tracks(tracks)
            keep_finding(visit_of(request).actor, kept.identifier, document, asked, tracks=data, command=command)
        runs.forget(_data(), key)

    one_press(request, act, _("Worked out and kept."))
    return redirect("recording", number)


def run_of(kept: RecordingRecord) -> runs.Run | None:
    """Look at the run of a recording."""
    return runs.look(_data(), str(kept.identifier), our_way()) if kept.kind == "video" else None


def _data() -> Path:
    return Path(settings.DATA_FOLDER)


def _recording(request: HttpRequest, number: int) -> RecordingRecord:
    with or_no_page():
        return recording(viewer_of(request), number)
