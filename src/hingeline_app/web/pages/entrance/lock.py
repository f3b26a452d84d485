"""Locked pages: lock now or when idle, unlock as the same person, prove again, and drafts."""

from __future__ import annotations

from typing import Any

from django.contrib import auth
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme, urlencode
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from hingeline_app.records.actions.at_the_door import drop_draft, leave_draft
from hingeline_app.records.actions.security import LOCKED, UNLOCKED, note_security
from hingeline_app.records.ways_in import PIN
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.drafts import fields_worth_keeping
from hingeline_app.web.forms.sign_in import PinForm, ProofForm
from hingeline_app.web.frame import LIGHT_COOKIE, LIGHTS
from hingeline_app.web.middleware.who_is_here import lock_session, prove_in_session, unlock_session
from hingeline_app.web.pages.entrance.sign_in import turn_away
from hingeline_app.web.proof import ProofRefused, fresh_proof
from hingeline_app.web.requests import sent, visit_of
from hingeline_app.web.way_back import asked_back, marked, same_page, way_back

A_YEAR = 365 * 24 * 60 * 60


@open_to(Who.SIGNED_IN)
@require_POST
def lock_now(request: HttpRequest) -> HttpResponse:
    """Lock the page."""
    lock_session(request)
    note_security(visit_of(request).actor, LOCKED)
    back = marked(asked_back(request), visit_of(request).actor.person)
    return redirect(f"{reverse('lock')}?{urlencode({'next': back})}")


@open_to(Who.LOCKED_TOO)
@require_http_methods(["GET", "HEAD", "POST"])
def lock(request: HttpRequest) -> HttpResponse:
    """Unlock for the same person; another one switches."""
    visit = visit_of(request)
    if not visit.locked:
        return redirect(way_back(request, visit.actor.person))
    account: Any = visit.actor.account
    by_pin = bool(request.tablet and account.pin)  # type: ignore[attr-defined]
    pin, proof = PinForm(prefix=None), ProofForm()
    if request.method == "POST":
        opened, pin, proof = _unlock(request, account, by_pin, pin, proof)
        if opened:
            note_security(visit.actor, UNLOCKED, {"how": opened})
            unlock_session(request, opened)
            return redirect(way_back(request, visit.actor.person))
    status = 422 if pin.errors or proof.errors else 200
    context = {"pin": pin if by_pin else None, "proof": proof, "next": asked_back(request)}
    return render(request, "web/lock.html", context, status=status)


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def prove(request: HttpRequest) -> HttpResponse:
    """Ask for a password or a passkey before the administration's pages."""
    form = ProofForm(sent(request))
    if request.method == "POST":
        try:
            fresh_proof(request)
        except ProofRefused as refused:
            form.add_error("proof_password", str(refused))
        else:
            prove_in_session(request)
            return redirect(way_back(request, visit_of(request).actor.person))
    context = {"form": form, "next": asked_back(request)}
    return render(request, "web/prove.html", context, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_POST
def draft(request: HttpRequest) -> HttpResponse:
    """Keep what stands on the screen, not as a record: only the same person finds it again."""
    page, fields = request.POST.get("draft_page", ""), fields_worth_keeping(request.POST)
    fields.pop("draft_page", None)
    if url_has_allowed_host_and_scheme(page, None) and page.startswith("/"):
        (leave_draft if fields else _drop)(visit_of(request).actor, page, fields)
    return HttpResponse(status=204)


@open_to(Who.ANYBODY)
@require_POST
def light(request: HttpRequest) -> HttpResponse:
    """Change the light: day, night, sun; by hand, never by clock."""
    now = request.POST.get("light_now") or request.COOKIES.get(LIGHT_COOKIE, LIGHTS[0])
    following = LIGHTS[(LIGHTS.index(now) + 1) % len(LIGHTS)] if now in LIGHTS else LIGHTS[0]
    response = redirect(same_page(request))
    response.set_cookie(LIGHT_COOKIE, following, max_age=A_YEAR, samesite="Strict", secure=request.is_secure())
    return response


def _drop(actor: Any, page: str, _fields: Any) -> None:
    drop_draft(actor, page)


def _unlock(
    request: HttpRequest, account: Any, by_pin: bool, pin: PinForm, proof: ProofForm
) -> tuple[str, PinForm, ProofForm]:
    """Try what was sent; give how it was opened, or the forms with what was wrong."""
    if by_pin and "pin" in request.POST:
        pin = PinForm(request.POST)
        if pin.is_valid():
            if auth.authenticate(request, username=account.sign_in_name, secret_pin=pin.cleaned_data["pin"]):
                return PIN, pin, proof
            turn_away(request, pin, account.sign_in_name, "pin", _("This is not your PIN."))
        return "", pin, proof
    proof = ProofForm(request.POST)
    try:
        return fresh_proof(request).how, pin, proof
    except ProofRefused as refused:
        proof.add_error("proof_password", str(refused))
    return "", pin, proof
