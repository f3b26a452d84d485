"""One act from one form: try it, say what was refused at the field, forget the draft when it was kept."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.security import DENIED, note_security
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.write_door import AlreadyDone, Command
from hingeline_app.web.forms.page_form import Kind, PageForm, begun, finished
from hingeline_app.web.forms.refusals import say_refusals
from hingeline_app.web.requests import visit_of


def done(request: HttpRequest, form: PageForm, act: Callable[[], Any], words: Any) -> bool:
    """Do an act with what a valid form says; whether it was done, or was done before.

    Raises
    ------
    Http404
        It is about something this person cannot see.
    """
    if not form.is_valid():
        return False
    try:
        act()
    except AlreadyDone:
        pass
    except InputRefused as refused:
        say_refusals(form, refused)
        return False
    except NotAllowed as refused:
        note_security(visit_of(request).actor, DENIED, {"page": request.path, "why": str(refused.reason)[:300]})
        form.add_error(None, str(refused.reason))
        return False
    except Nowhere as nothing:
        raise Http404(str(nothing)) from nothing
    finished(request)
    messages.success(request, words)
    return True


def form_page(
    request: HttpRequest,
    kind: type[Kind],
    page: str,
    act: Callable[[Kind], Any],
    words: Any,
    *,
    then: str,
    context: Mapping[str, Any],
    initial: Mapping[str, Any] | None = None,
) -> HttpResponse:
    """Answer a page that is one form: shown, shown again with what was refused, or done and on to the next page."""
    form = kind(request.POST) if request.method == "POST" else begun(request, kind, initial)
    if request.method == "POST" and done(request, form, lambda: act(form), words):
        return redirect(then)
    return render(request, page, {**context, "form": form}, status=422 if form.errors else 200)


def one_press(request: HttpRequest, act: Callable[[], Any], words: Any) -> None:
    """Do an act that is one button, without a form of its own; say why where it was refused.

    Raises
    ------
    Http404
        It is about something this person cannot see.
    """
    try:
        act()
    except (NotAllowed, InputRefused) as refused:
        note_security(visit_of(request).actor, DENIED, {"page": request.path, "why": str(refused)[:300]})
        messages.error(request, str(refused))
        return
    except Nowhere as nothing:
        raise Http404(str(nothing)) from nothing
    messages.success(request, words)


def command_of(form: PageForm) -> Command | None:
    """Give the command as its form named it: the same form sent twice is one command."""
    key = form.cleaned_data.get("command_key")
    body = {name: str(value) for name, value in form.cleaned_data.items() if name != "command_key"}
    return Command(str(key), body) if key else None
