"""When it fails: a plain page with a number, the details in the log, nothing leaked, nothing half."""

from __future__ import annotations

import logging
import secrets
import sys
from collections.abc import Callable
from typing import Any

from django.core.exceptions import BadRequest, PermissionDenied, RequestDataTooBig, SuspiciousOperation
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.template import loader
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from hingeline_app.records.actions.at_the_door import note_at_the_door
from hingeline_app.records.attempts import seconds_to_wait
from hingeline_app.records.disk import NotAcknowledged, of_the_disk
from hingeline_app.records.locking import Busy
from hingeline_app.records.second_place import OlderCopy
from hingeline_app.records.write_door import OtherBody
from hingeline_app.report.typesetters import SheetNotMade
from hingeline_app.web.frame import light_of

log = logging.getLogger("hingeline.pages")


class WhenItFails:
    """Turn what went wrong into a page."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Let through; faults of pages come to process_exception."""
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, fault: Exception) -> HttpResponse:
        """Answer an exception of a page."""
        return page_of(request, fault)


def page_of(request: HttpRequest, fault: Exception) -> HttpResponse:
    """Give the page of a fault: what is known by name, else our own fault with a number."""
    fault = of_the_disk(fault) or fault
    for kind, answer in KNOWN:
        if isinstance(fault, kind):
            return answer(request, fault)
    return our_fault(request, fault)


def our_fault(request: HttpRequest, fault: BaseException | None = None) -> HttpResponse:
    """Answer a fault of the program."""
    number = secrets.token_hex(4)
    log.error("fault %s at %s %s", number, request.method, request.path, exc_info=fault or True)
    _note(request, "fault of a page", {"number": number, "page": request.path, "kind": type(fault).__name__})
    return plain_page(request, 500, _("A fault of the program"), _(
        "Nothing that this page was to save was saved. "
        "Try again; if it stays, tell whoever keeps this program the number."
    ), number=number)  # fmt: skip


def turned_away(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Answer who may not."""
    reason = str(exception) or _("Your rights do not include this page.")
    _note(request, "turned away", {"page": request.path, "method": str(request.method), "why": reason})
    return plain_page(request, 403, _("Not among your rights"), reason)


def forged(request: HttpRequest, reason: str = "") -> HttpResponse:
    """Answer a form that did not come from our own page of this session."""
    _note(request, "form from elsewhere refused", {"page": request.path, "why": reason})
    return plain_page(request, 403, _("This form was not taken"), _(
        "It came from another page, or from before you signed in. Nothing was saved. Open the page again and send it "
        "from there."
    ))  # fmt: skip


def not_there(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Answer an address that leads nowhere, or to what this person cannot see."""
    return plain_page(request, 404, _("Nothing here"), _(
        "There is no such page, or it is not among what you may see."
    ))  # fmt: skip


def not_so(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Answer a request that makes no sense."""
    if isinstance(exception, RequestDataTooBig):
        return too_large(request, exception)
    return plain_page(request, 400, _("Not understood"), _("This request was not one that our pages send."))


def too_large(request: HttpRequest, fault: Exception) -> HttpResponse:
    """Answer too much at once."""
    return plain_page(request, 413, _("Too large"), _(
        "It was not read, and nothing was saved. A form may have 1 MB, a file 2 GB: go back, and send less."
    ))  # fmt: skip


def busy(request: HttpRequest, fault: Exception) -> HttpResponse:
    """Answer when another save holds the records."""
    response = plain_page(request, 503, _("Busy"), _(
        "Another save is still being written. Nothing was saved here; your entries are still in the form. "
        "Go back and send it again in a moment."
    ))  # fmt: skip
    response["Retry-After"] = "5"
    return response


def come_in_first(request: HttpRequest) -> HttpResponse:
    """Answer a file from nobody; one of the tablet's queue waits there for its person."""
    if request.headers.get("X-Entry"):
        return JsonResponse({"state": "nobody"}, status=401)
    return plain_page(request, 403, _("Not among your rights"), _(
        "Files are taken from people who are signed in. This one was not read. Sign in, and send it again."
    ))  # fmt: skip


def files_wait(request: HttpRequest) -> HttpResponse:
    """Answer a file when what is free on the disk is kept for entries."""
    log.error("a file was not taken at %s: the disk is nearly full", request.path)
    title, text = _("The disk is nearly full"), _(
        "Files are not taken now, so that entries can still be kept. This file was not read and nothing was saved. "
        "Make room on the server's disk, then send it again; numbers and words can be entered meanwhile."
    )  # fmt: skip
    if request.headers.get("X-Entry"):
        # Refused, not put off: what waits behind it on the tablet, and has no file in it, goes on.
        return JsonResponse({"state": "refused", "faults": [{"says": text}]}, status=413)
    return plain_page(request, 507, title, text)


def only_for_reading(request: HttpRequest) -> HttpResponse:
    """Answer what would be kept where the records are a copy; an entry of the tablet's queue waits on it."""
    return plain_page(request, 503, _("Only for reading"), _(
        "This server shows a copy of the records and keeps nothing: what you sent was not saved. Send it again when "
        "the records can be written."
    ))  # fmt: skip


def disk_refused(request: HttpRequest, fault: Exception) -> HttpResponse:
    """Answer when the disk did not take it."""
    log.error("the disk did not take a save at %s: %s", request.path, fault)
    return plain_page(request, 507, _("Not saved"), _(
        "The disk of the server is full or does not write. Your entries are still in the form; do not count on them "
        "being kept. What was saved before stands."
    ) + f" {fault}")  # fmt: skip


def older_copy(request: HttpRequest, fault: Exception) -> HttpResponse:
    """Answer when the journal knows more than the database."""
    log.error("nothing is written at %s: %s", request.path, fault)
    return plain_page(request, 503, _("The records are an older copy"), str(fault))


def sheet_not_made(request: HttpRequest, fault: Exception) -> HttpResponse:
    """Answer when the typesetter did not come to an end: what is recorded has nothing to do with it."""
    log.error("a sheet was not made at %s: %s", request.path, fault)
    return plain_page(request, 503, _("The sheet is not made yet"), _(
        "The typesetter did not come to an end and was stopped. What was recorded stands, and nothing was changed by "
        "this. Try again; if it stays, the command line makes the sheet of a weighing too: hingeline weigh --pdf."
    ))  # fmt: skip


def sent_before(request: HttpRequest, fault: Exception) -> HttpResponse:
    """Answer a form that was sent before with other contents: the browser kept it, with its key of then."""
    return plain_page(request, 422, _("Sent before"), _(
        "This form was sent already, with other contents; what was sent first stands and nothing was saved now. "
        "Open its page again, and enter there what is to be different."
    ))  # fmt: skip


def uncaught(request: HttpRequest) -> HttpResponse:
    """Answer what was raised outside of a page."""
    fault = sys.exc_info()[1]
    return page_of(request, fault) if isinstance(fault, Exception) else our_fault(request)


def locked_out(
    request: HttpRequest, _response: object = None, credentials: dict[str, Any] | None = None
) -> HttpResponse:
    """Answer too many wrong tries of one person on one device: how long it is still, and what can be done."""
    _note(request, "locked out", {"page": request.path})
    wait = seconds_to_wait(request, credentials)
    minutes = -(-wait // 60)
    how_long = ngettext(
        "This person waits %(minutes)s minute more on this device: until then the right PIN or password opens nothing "
        "either.",
        "This person waits %(minutes)s minutes more on this device: until then the right PIN or password opens nothing "
        "either.", minutes) % {"minutes": minutes}  # fmt: skip
    what_helps = _(
        "Others, and this person on another tablet, need not wait. An administrator can set a new PIN; the wait stays."
    )
    title = _("Too many wrong tries")
    response = plain_page(request, 429, title, f"{how_long} {what_helps}", again=request.get_full_path())
    response["Retry-After"] = str(wait)
    return response


def plain_page(
    request: HttpRequest, status: int, title: str, text: str, number: str = "", again: str = ""
) -> HttpResponse:
    """Write a page that needs nothing but its own words, and the address where it can be tried again."""
    context = {"title": title, "text": text, "number": number, "status": status, "again": again}
    context["light"] = light_of(request)
    return HttpResponse(loader.render_to_string("web/fault.html", context), status=status)


def _note(request: HttpRequest, kind: str, says: dict[str, Any]) -> None:
    """Note it in the security chain; where that fails too, in the log."""
    try:
        note_at_the_door(request, kind, says)
    except Exception:
        log.exception("not noted: %s %s", kind, says)


Answering = Callable[[HttpRequest, Exception], HttpResponse]
KNOWN: list[tuple[type[Exception], Answering]] = [
    (PermissionDenied, turned_away),
    (Http404, not_there),
    (RequestDataTooBig, too_large),
    (BadRequest, not_so),
    (SuspiciousOperation, not_so),
    (Busy, busy),
    (NotAcknowledged, disk_refused),
    (OlderCopy, older_copy),
    (OtherBody, sent_before),
    (SheetNotMade, sheet_not_made),
]
