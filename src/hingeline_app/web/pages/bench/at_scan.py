"""Find a surface by its label: the camera where the browser can read a code, else a photograph of it."""

from __future__ import annotations

import re

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from hingeline.errors import InputRefused
from hingeline_app.files.photograph import LARGEST_FILE, read_photograph
from hingeline_app.recordings.labels import read_label
from hingeline_app.web.access import Who, open_to

# A label says an address of ours, or the mark alone; whose server it names does not count. The page's script reads by
# the same rule.
MARK = re.compile(r"(?:^|/at/)([0-9A-Za-z-]{8,64})/?$")
HERE = {"here": "bench", "mark_of_a_label": MARK.pattern}


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def at_scan(request: HttpRequest) -> HttpResponse:
    """Look for the label of a surface."""
    if request.method != "POST":
        return render(request, "web/at_scan.html", {**HERE, "fault": ""})
    fault, mark = _read(request)
    if mark:
        return redirect("at", mark)
    return render(request, "web/at_scan.html", {**HERE, "fault": fault}, status=422)


def mark_in(text: str) -> str:
    """Give the mark that a label says; empty where it is no label of ours."""
    found = MARK.search(text.strip())
    return found.group(1) if found else ""


def _read(request: HttpRequest) -> tuple[str, str]:
    """Give what is wrong, or the mark."""
    typed, file = request.POST.get("mark", "").strip(), request.FILES.get("photograph")
    if typed:
        return _("This is not the mark of a label: it has eight or more letters and digits."), mark_in(typed)
    if file is None:
        return _("Take a photograph of the label, or type what stands under it."), ""
    try:
        text = read_label(read_photograph(file.read(LARGEST_FILE + 1)).preview)
    except InputRefused as refused:
        return str(refused), ""
    if text is None:
        return _(
            "No code can be read in this photograph. Hold the tablet straight over the label, from a hand's width."
        ), ""
    return _("This code is no label of a surface."), mark_in(text)
