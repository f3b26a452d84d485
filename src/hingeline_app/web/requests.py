"""A request as our pages see it: which tablet, which person, and how that person proved it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.http import HttpRequest, QueryDict

if TYPE_CHECKING:
    from hingeline_app.records.queries.at_the_door import Here
    from hingeline_app.records.write_door import Actor


@dataclass(frozen=True)
class Visit:
    """A signed-in person on a device."""

    actor: Actor
    here: Here
    how: str
    strong: bool
    locked: bool


def visit_of(request: HttpRequest) -> Visit:
    """Give the visit of a page that only a signed-in person reaches."""
    visit: Visit | None = getattr(request, "visit", None)
    assert visit is not None, "this page is for signed-in people; the door let somebody else through"
    return visit


def sent(request: HttpRequest) -> QueryDict | None:
    """Give what a form sent, also where it sent nothing; None where the page is only looked at."""
    return request.POST if request.method == "POST" else None
