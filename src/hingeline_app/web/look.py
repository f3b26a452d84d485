"""The colours and line weights of every page and picture, from the one token file."""

from __future__ import annotations

from functools import cache

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from hingeline_app.figures.style import stylesheet, tokens
from hingeline_app.web.access import Who, open_to

# What the system's own wish for a dark page chooses, until a hand chooses otherwise.
DARK_WISHED = "@media (prefers-color-scheme:dark){:root:not([data-light]){%s}}"
# On paper a page is black on white, in whatever light it is read: the inks of the night would be pale on white.
ON_PAPER = "@media print{:root,:root:not([data-light]),:root[data-light]{%s;color-scheme:light}}"


@cache
def _look() -> str:
    sheet = stylesheet("day")
    night = sheet.partition(':root[data-light="night"]{')[2].partition("}")[0]
    paper = ";".join(f"--{name}:{value}" for name, value in tokens("paper").items())
    return f"{sheet}\n{DARK_WISHED % night}\n{ON_PAPER % paper}\n"


@open_to(Who.ANYBODY)
@require_safe
def look(request: HttpRequest) -> HttpResponse:
    """Give the rule sheet."""
    response = HttpResponse(_look(), content_type="text/css; charset=utf-8")
    response["Cache-Control"] = "max-age=60"
    return response
