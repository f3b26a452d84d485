"""What a page asks for the person who looks: who that is, what is found for them, what they may do."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest

from hingeline_app.records.queries.standing import may
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.roles import Act
from hingeline_app.web.requests import visit_of


def viewer_of(request: HttpRequest) -> Any:
    """Give the person who looks."""
    return visit_of(request).actor.person


@contextmanager
def or_no_page() -> Iterator[None]:
    """Answer "no such page" where a query finds nothing that this person may see.

    Raises
    ------
    Http404
        It is not there, or not for this person: the two are told alike.
    """
    try:
        yield
    except Nowhere as nothing:
        raise Http404(str(nothing)) from nothing


def may_do(request: HttpRequest, act: Act) -> bool:
    """Say whether the table of roles lets the person who looks do this."""
    return may(viewer_of(request), act).allowed


def refuse_who_may_not(request: HttpRequest, act: Act) -> None:
    """Turn away who may not do this.

    Raises
    ------
    PermissionDenied
        The table of roles has no yes.
    """
    answer = may(viewer_of(request), act)
    if not answer.allowed:
        raise PermissionDenied(str(answer.reason))
