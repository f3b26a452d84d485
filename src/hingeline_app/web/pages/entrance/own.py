"""Yourself: own password, PIN, passkeys, and the way out."""

from __future__ import annotations

from typing import Any, cast
from uuid import UUID

from django.contrib import auth
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from hingeline_app.records.actions.accounts import set_password, set_pin
from hingeline_app.records.actions.passkeys import add_passkey, withdraw_passkey
from hingeline_app.records.passkeys import PasskeyRefused
from hingeline_app.records.queries.at_the_door import passkeys_of
from hingeline_app.records.ways_in import PIN
from hingeline_app.said import say
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.forms.people import OwnPasswordForm, OwnPinForm, PasskeyForm
from hingeline_app.web.pages.acts import done, one_press
from hingeline_app.web.passkey_talk import new_key_in, server_name
from hingeline_app.web.proof import ProofRefused, fresh_proof
from hingeline_app.web.requests import sent, visit_of

HERE = {"here": "own", "section": "workshop"}


@open_to(Who.SIGNED_IN)
@require_safe
def own(request: HttpRequest) -> HttpResponse:
    """Show how this person comes in."""
    account: Any = visit_of(request).actor.account
    context = {**HERE, "account": account, "passkeys": passkeys_of(account), "server_name": server_name(request)}
    return render(request, "web/own.html", context)


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def own_pin(request: HttpRequest) -> HttpResponse:
    """Choose a PIN; a password, just given, comes first, unless the way in was the PIN that is good once."""
    visit, form = visit_of(request), OwnPinForm(sent(request))
    actor, account = visit.actor, cast("Any", visit.actor.account)
    if not (visit.strong or (account.pin_is_for_once and visit.how == PIN)):
        return redirect(f"{reverse('prove')}?{urlencode({'next': request.path})}")
    if request.method == "POST" and done(
        request, form, lambda: set_pin(actor, account.pk, form.cleaned_data["pin"]), _("Your PIN is set.")
    ):
        return redirect("own")
    context = {**HERE, "form": form, "for_once": account.pin_is_for_once}
    return render(request, "web/own_pin.html", context, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def own_password(request: HttpRequest) -> HttpResponse:
    """Choose a password; the one until now proves that it is you."""
    form = OwnPasswordForm(sent(request))
    if request.method == "POST" and form.is_valid() and _proved(request, form) and _set_password(request, form):
        return redirect("own")
    return render(request, "web/own_password.html", {**HERE, "form": form}, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def own_passkey(request: HttpRequest) -> HttpResponse:
    """Take a passkey in; a password, just given, comes first."""
    if not visit_of(request).strong:
        return redirect(f"{reverse('prove')}?{urlencode({'next': request.path})}")
    form = PasskeyForm(sent(request))
    if request.method == "POST" and form.is_valid() and _registered(request, form):
        return redirect("own")
    return render(request, "web/own_passkey.html", {**HERE, "form": form}, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_POST
def own_passkey_away(request: HttpRequest, passkey: UUID) -> HttpResponse:
    """Withdraw an own passkey."""
    one_press(request, lambda: withdraw_passkey(visit_of(request).actor, passkey), _("The passkey was withdrawn."))
    return redirect("own")


def _proved(request: HttpRequest, form: OwnPasswordForm) -> bool:
    try:
        fresh_proof(request)
    except ProofRefused as refused:
        form.add_error("proof_password", str(refused))
        return False
    return True


def _set_password(request: HttpRequest, form: OwnPasswordForm) -> bool:
    actor, password = visit_of(request).actor, form.cleaned_data["new_password"]
    account: Any = actor.account
    words = _("Your password is set. Other sessions of yours ended.")
    if not done(request, form, lambda: set_password(actor, account.pk, password), words):
        return False
    account.refresh_from_db()
    auth.update_session_auth_hash(request, account)
    return True


def _registered(request: HttpRequest, form: PasskeyForm) -> bool:
    try:
        key = new_key_in(request)
    except PasskeyRefused as refused:
        form.add_error(None, _("The device's answer does not hold: %(why)s.") % {"why": say(str(refused))})
        return False
    actor = visit_of(request).actor
    name = form.cleaned_data["passkey"]
    return done(request, form, lambda: add_passkey(actor, name, server_name(request), key), _(
        "The passkey is known now."))  # fmt: skip
