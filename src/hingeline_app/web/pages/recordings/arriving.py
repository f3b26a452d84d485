"""A large recording comes in pieces: announced, sent piece by piece, asked how far it is, gone on with after a cut.

The words of the headers are those of the IETF draft on resumable uploads: Upload-Offset, Upload-Length and
Upload-Complete.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse, UnreadablePostError
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from hingeline.errors import InputRefused
from hingeline_app.evidence import arriving
from hingeline_app.records.roles import Act
from hingeline_app.said import say
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import refuse_who_may_not
from hingeline_app.web.forms.refusals import sentence
from hingeline_app.web.pages.recordings.recording_new import sender_of

PIECE = 1 << 18


@open_to(Who.SIGNED_IN)
@require_http_methods(["POST", "HEAD", "PATCH"])
def recording_arriving(request: HttpRequest, key: str) -> HttpResponse:
    """Begin a file, take a piece, or say how far it is."""
    refuse_who_may_not(request, Act.WORK)
    if not arriving.KEY.fullmatch(key):
        raise Http404("no key of a file")
    data, sender = Path(settings.DATA_FOLDER), sender_of(request)
    try:
        if request.method == "POST":
            return _told(arriving.expect(data, sender, key, _name(request), _number(request.POST.get("size"))), 201)
        part = arriving.arrived(data, sender, key)
        if part is None:
            return _refused(_("Nothing of this file has arrived."), 404)
        return _told(_more(request, part) if request.method == "PATCH" else part, 200)
    except InputRefused as refused:
        return _refused(" ".join(sentence(each) for each in refused.refusals), 422)
    except arriving.NoRoom:
        return _refused(_("The disk is nearly full: recordings wait, the records go on."), 507)
    except arriving.OutOfStep as elsewhere:
        response = _refused(_("Another piece comes next."), 409)
        response["Upload-Offset"] = str(elsewhere.there)
        return response


def _more(request: HttpRequest, part: arriving.Part) -> arriving.Part:
    length = _number(request.META.get("CONTENT_LENGTH"))
    if not 0 < length <= arriving.LARGEST_PIECE:
        expected = f"1 to {arriving.LARGEST_PIECE} bytes"
        raise InputRefused.of("piece", length, expected, "Send the file in smaller pieces.")
    return arriving.add(part, _number(request.headers.get("Upload-Offset")), _pieces(request))


def _pieces(request: HttpRequest) -> Iterator[bytes]:
    """Read what is sent, bit by bit; where the connection is cut, what came before is kept."""
    with suppress(UnreadablePostError):
        while piece := request.read(PIECE):
            yield piece


def _told(part: arriving.Part, status: int) -> HttpResponse:
    response = JsonResponse({"there": part.there, "size": part.size}, status=status)
    response["Upload-Offset"], response["Upload-Length"] = str(part.there), str(part.size)
    response["Upload-Complete"] = "?1" if part.whole else "?0"
    return response


def _refused(words: str, status: int) -> HttpResponse:
    return JsonResponse({"why": say(words)}, status=status)


def _name(request: HttpRequest) -> str:
    return Path(request.POST.get("name", "")).name[:200]


def _number(text: str | None) -> int:
    """Read a count; what is none is -1 and is refused as such."""
    return int(text) if text is not None and text.isascii() and text.isdigit() and len(text) < 16 else -1
