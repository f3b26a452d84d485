"""The two steps of a passkey's talk: what the browser asks the device, and what the device answered."""

from __future__ import annotations

import json
import re
from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.views.decorators.http import require_POST

from hingeline_app.records.passkeys import (
    Answer,
    NewKey,
    PasskeyRefused,
    ask_to_prove,
    ask_to_register,
    judge_proof,
    judge_registration,
)
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.requests import visit_of

ASKED, OVER, REGISTERING = "passkey_asked", "passkey_over", "passkey_registering"
DIGEST = re.compile(r"[0-9a-f]{64}")


def server_name(request: HttpRequest) -> str:
    """Give the name that passkeys are bound to: the host without its port."""
    return request.get_host().rpartition(":")[0] or request.get_host()


@open_to(Who.ANYBODY)
@require_POST
def options_to_sign_in(request: HttpRequest) -> HttpResponse:
    """Ask for any passkey of this server."""
    options, state = ask_to_prove(server_name(request), [])
    request.session.update({ASKED: state, OVER: ""})
    return JsonResponse(_plain(options))


@open_to(Who.LOCKED_TOO)
@require_POST
def options_to_prove(request: HttpRequest) -> HttpResponse:
    """Ask for a passkey of the person who is here, over the digest of what is signed."""
    over = request.POST.get("proof_over", "")
    over = over if DIGEST.fullmatch(over) else ""
    account = visit_of(request).actor.account
    assert account is not None, "who is signed in has an account"
    options, state = ask_to_prove(server_name(request), [account], over)
    request.session.update({ASKED: state, OVER: over})
    return JsonResponse(_plain(options))


@open_to(Who.SIGNED_IN)
@require_POST
def options_to_register(request: HttpRequest) -> HttpResponse:
    """Ask for a new passkey of the person who is here."""
    account = visit_of(request).actor.account
    assert account is not None, "who is signed in has an account"
    options, state = ask_to_register(server_name(request), account)
    request.session[REGISTERING] = state
    return JsonResponse(_plain(options))


def answer_in(request: HttpRequest, over: str = "") -> Answer | None:
    """Judge the answer in a form; a challenge is good for one answer, over the digest it was asked for."""
    state, asked_over = request.session.pop(ASKED, None), request.session.pop(OVER, "")
    if state is None or asked_over != over:
        return None
    try:
        return judge_proof(server_name(request), state, request.POST.get("proof_assertion", ""))
    except PasskeyRefused:
        return None


def new_key_in(request: HttpRequest) -> NewKey:
    """Judge a registration.

    Raises
    ------
    PasskeyRefused
        It does not fit what was asked.
    """
    state = request.session.pop(REGISTERING, None)
    if state is None:
        raise PasskeyRefused("nothing was asked")
    try:
        answer = json.loads(request.POST.get("proof_assertion", ""))
    except (ValueError, RecursionError) as fault:
        raise PasskeyRefused("no answer of a device") from fault
    return judge_registration(server_name(request), state, answer)


def _plain(options: Any) -> dict[str, Any]:
    """Give options as JSON has them."""
    found: dict[str, Any] = json.loads(json.dumps(options, default=dict))
    return found
