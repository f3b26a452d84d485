"""Signing in: tiles of people and a PIN on an enrolled tablet, a password or a passkey anywhere."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.conf import settings
from django.contrib import auth
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from hingeline_app.records.actions.at_the_door import drop_all_drafts, note_at_the_door
from hingeline_app.records.actions.passkeys import note_passkey_use
from hingeline_app.records.actions.security import SIGNED_IN, SIGNED_OUT, SWITCHED, TURNED_AWAY, note_security
from hingeline_app.records.queries.at_the_door import account_on, tiles
from hingeline_app.records.ways_in import PASSKEY, PASSWORD, PIN
from hingeline_app.records.write_door import Actor
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.forms.sign_in import PasswordForm, PinForm
from hingeline_app.web.middleware.who_is_here import begin_session
from hingeline_app.web.pages.entrance.tablet_cookie import remember_tablet
from hingeline_app.web.passkey_talk import answer_in
from hingeline_app.web.requests import sent, visit_of
from hingeline_app.web.way_back import asked_back, way_back


@open_to(Who.ANYBODY)
@require_safe
def sign_in(request: HttpRequest) -> HttpResponse:
    """Show the people of an enrolled tablet; elsewhere ask for a name and a password."""
    if _is_in(request):
        return redirect(_way_of_who_is_in(request))
    tablet: Any = request.tablet  # type: ignore[attr-defined]
    if tablet is None:
        return redirect(f"{reverse('sign-in-password')}?{request.GET.urlencode()}")
    return render(request, "web/sign_in.html", {"tiles": tiles(tablet), "next": asked_back(request)})


@open_to(Who.ANYBODY)
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in_pin(request: HttpRequest, account: UUID) -> HttpResponse:
    """Ask one person of an enrolled tablet for the PIN."""
    tablet: Any = request.tablet  # type: ignore[attr-defined]
    whose = account_on(tablet, str(account)) if tablet else None
    if whose is None:
        raise Http404
    form = PinForm(sent(request))
    if request.method == "POST" and form.is_valid():
        found = auth.authenticate(request, username=whose.sign_in_name, secret_pin=form.cleaned_data["pin"])
        if found:
            return let_in(request, found, PIN)
        turn_away(request, form, whose.sign_in_name, "pin", _("This is not the PIN of %(name)s.") % {
            "name": whose.person.name})  # fmt: skip
    context = {"form": form, "whose": whose.person, "next": asked_back(request)}
    return render(request, "web/sign_in_pin.html", context, status=422 if form.errors else 200)


@open_to(Who.ANYBODY)
@require_http_methods(["GET", "HEAD", "POST"])
def sign_in_password(request: HttpRequest) -> HttpResponse:
    """Ask for a sign-in name and a password, or a passkey."""
    if _is_in(request):
        return redirect(_way_of_who_is_in(request))
    form = PasswordForm(sent(request))
    if request.method == "POST" and request.POST.get("proof_assertion"):
        return _by_passkey(request)
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        found = auth.authenticate(request, username=said["sign_in_name"], password=said["password"])
        if found:
            return let_in(request, found, PASSWORD)
        turn_away(request, form, said["sign_in_name"], "password", _("Sign-in name and password do not go together."))
    context = {"form": form, "next": asked_back(request)}
    return render(request, "web/sign_in_password.html", context, status=422 if form.errors else 200)


@open_to(Who.LOCKED_TOO)
@require_POST
def switch(request: HttpRequest) -> HttpResponse:
    """Let another person sign in; what this one left unfinished waits for them."""
    note_security(visit_of(request).actor, SWITCHED)
    auth.logout(request)
    return redirect("sign-in")


@open_to(Who.LOCKED_TOO)
@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """End the session; nothing of the person stays behind."""
    actor = visit_of(request).actor
    note_security(actor, SIGNED_OUT)
    drop_all_drafts(actor)
    auth.logout(request)
    return redirect("sign-in")


def let_in(request: HttpRequest, account: Any, how: str) -> HttpResponse:
    """Begin the session of somebody who proved who they are."""
    begin_session(request, account, how)
    tablet: Any = request.tablet  # type: ignore[attr-defined]
    note_security(Actor(account.person.workshop, account.person, account, tablet), SIGNED_IN, {"how": how})
    response = redirect(way_back(request, account.person))
    if tablet:
        remember_tablet(response, request.COOKIES[settings.TABLET_COOKIE_NAME])
    return response


def turn_away(request: HttpRequest, form: Any, name: str, field: str, words: str) -> None:
    """Say that it was wrong, at the field, and note it."""
    form.add_error(field, words)
    _note_turned_away(request, name, field)


def _by_passkey(request: HttpRequest) -> HttpResponse:
    answer = answer_in(request)
    name = answer.passkey.account.sign_in_name if answer else "a passkey"
    found = auth.authenticate(request, username=name, passkey_answer=answer)
    if answer and found:
        note_passkey_use(answer)
        return let_in(request, found, PASSKEY)
    _note_turned_away(request, name, PASSKEY)
    context = {"form": PasswordForm(), "next": asked_back(request), "fault": _("This passkey is not known here.")}
    return render(request, "web/sign_in_password.html", context, status=422)


def _note_turned_away(request: HttpRequest, name: str, how: str) -> None:
    if not getattr(request, "axes_locked_out", False):
        note_at_the_door(request, TURNED_AWAY, {"name": name[:60], "by": how})


def _way_of_who_is_in(request: HttpRequest) -> str:
    return way_back(request, visit_of(request).actor.person)


def _is_in(request: HttpRequest) -> bool:
    return request.visit is not None  # type: ignore[attr-defined]
