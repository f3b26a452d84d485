"""One aircraft with all its records, out of this workshop and into it."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from uuid import UUID

from django import forms
from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseBase, StreamingHttpResponse
from django.shortcuts import redirect, render
from django.utils.http import content_disposition_header
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_http_methods, require_POST

from hingeline.errors import InputRefused
from hingeline_app.records.actions.carrying import export_aircraft, import_aircraft
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.attachments import pieces_of
from hingeline_app.records.queries.aircraft import one_aircraft
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import or_no_page
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.pages.acts import done
from hingeline_app.web.pages.workshop.aircraft import HERE
from hingeline_app.web.requests import sent, visit_of
from hingeline_app.web.waiting_files import a_waiting_place

LONGEST_NAME = 200


class CarriedForm(PageForm):
    """A file that another workshop exported."""

    file = forms.FileField(label=gettext_lazy("File of one aircraft (.zip)"), max_length=200)


@open_to(Who.ADMINISTRATOR)
@require_POST
def aircraft_export(request: HttpRequest, aircraft: UUID) -> HttpResponseBase:
    """Give a file with all records of an aircraft."""
    actor = visit_of(request).actor
    with or_no_page():
        record = one_aircraft(actor.person, aircraft)  # type: ignore[arg-type]
    path = a_waiting_place("export.zip")
    try:
        export_aircraft(actor, aircraft, path)
    except (NotAllowed, InputRefused) as refused:
        messages.error(request, str(getattr(refused, "reason", refused)))
        return redirect("aircraft-page", aircraft=aircraft)
    response = StreamingHttpResponse(_pieces(path), content_type="application/zip")
    response["Content-Disposition"] = content_disposition_header(True, f"{record.registration}.zip") or "attachment"
    return response


def _pieces(path: Path) -> Iterator[bytes]:
    """Give the file and take it away; one that is not fetched to its end goes with what waited too long."""
    with path.open("rb") as opened:
        yield from pieces_of(opened)
    path.unlink()


@open_to(Who.ADMINISTRATOR)
@require_http_methods(["GET", "HEAD", "POST"])
def aircraft_import(request: HttpRequest) -> HttpResponse:
    """Take an aircraft in with all its records, from a file of another workshop."""
    form = CarriedForm(sent(request), request.FILES or None)
    kept: list[Any] = []
    if request.method == "POST" and done(request, form, lambda: kept.append(_take_in(request, form)), _(
        "The aircraft is here with all its records. Its people of the other workshop hold no role here."
    )):  # fmt: skip
        return redirect("aircraft-page", aircraft=kept[0].pk)
    return render(request, "web/aircraft_import.html", {**HERE, "form": form}, status=422 if form.errors else 200)


def _take_in(request: HttpRequest, form: CarriedForm) -> Any:
    """Put the file on the disk, as its reader wants it, and take it in."""
    given = form.cleaned_data["file"]
    with tempfile.TemporaryDirectory(dir=settings.DATA_FOLDER, prefix="import-") as folder:
        # Refusals name the file as it was sent.
        path = Path(folder) / (given.name if len(given.name.encode()) <= LONGEST_NAME else "aircraft.zip")
        with path.open("wb") as written:
            shutil.copyfileobj(given, written)
        return import_aircraft(visit_of(request).actor, path)
