"""Who is here: the enrolled tablet, the person of the session, whether it is locked, and whether they may come in.

A session is locked after five idle minutes and over after twelve hours. A form that was sent
too late is left as a draft, which only the same person finds again.
"""

from __future__ import annotations

import contextlib
import time
from collections.abc import Callable
from contextlib import nullcontext
from typing import Any

from django.conf import settings
from django.contrib import auth
from django.contrib.sessions.backends.base import UpdateError
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse, HttpResponseBase, JsonResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import translation
from django.utils.http import urlencode

from hingeline_app.records.actions.at_the_door import leave_draft, note_at_the_door
from hingeline_app.records.queries.at_the_door import here, tablet_of, workshop_is_set_up
from hingeline_app.records.queries.standing import one_look
from hingeline_app.records.ways_in import PIN, STRONG
from hingeline_app.records.write_door import Actor
from hingeline_app.report.invented import telling_of_what_is_invented
from hingeline_app.said import reading_in
from hingeline_app.web.access import Who, who_may_come
from hingeline_app.web.drafts import fields_worth_keeping
from hingeline_app.web.requests import Visit
from hingeline_app.web.tablet_settings import LANGUAGE
from hingeline_app.web.way_back import asked_back, came_by_a_link, marked, marked_as_a_link

BEGAN, SEEN, HOW, PROVED, LOCKED = "began", "seen", "how", "proved", "locked"
# Between two notes of "seen": a page view is no reason to write each time.
SEEN_STEP = 20
ONLY_LOOKS = ("GET", "HEAD")
# A strong proof opens the administration's pages for this long.
PROOF_LASTS = 10 * 60


class WhoIsHere:
    """Find out who is here, and let in or turn away."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Find out who is here, and speak their language; what is only looked at reads once what a person is."""
        with one_look() if request.method in ONLY_LOOKS else nullcontext():
            return self._answer(request)

    def _answer(self, request: HttpRequest) -> HttpResponse:
        request.tablet = tablet_of(request.COOKIES.get(settings.TABLET_COOKIE_NAME, ""))  # type: ignore[attr-defined]
        request.visit = _visit(request)  # type: ignore[attr-defined]
        language = _language(request)
        with translation.override(language), reading_in(language), telling_of_what_is_invented(settings.IS_INVENTED):
            request.LANGUAGE_CODE = translation.get_language() or "en"
            return self.get_response(request)

    def process_view(
        self, request: HttpRequest, page: Callable[..., Any], _arguments: Any, _named: Any
    ) -> HttpResponseBase | None:
        """Let in, send to the right door, or turn away."""
        who = who_may_come(page)
        if who is None:
            raise PermissionDenied("This page does not say for whom it is.")
        return _door(request, who)


def begin_session(request: HttpRequest, account: Any, how: str) -> None:
    """Begin a session: a new key, the hour it began, how the person proved who they are."""
    auth.login(request, account, backend=f"hingeline_app.records.ways_in.{how.capitalize()}Way")
    now = time.time()
    request.session.update({BEGAN: now, SEEN: now, HOW: how, PROVED: now if how in STRONG else 0.0, LOCKED: False})


def unlock_session(request: HttpRequest, how: str) -> None:
    """Open a locked session again for its person, who just proved to be there."""
    now = time.time()
    request.session.cycle_key()
    request.session.update({SEEN: now, HOW: how, PROVED: now if how in STRONG else 0.0, LOCKED: False})


def prove_in_session(request: HttpRequest) -> None:
    """Note a strong proof: the administration's pages open for a while."""
    request.session[PROVED] = time.time()


def lock_session(request: HttpRequest) -> None:
    """Lock the page; the session stays."""
    request.session[LOCKED] = True


def _visit(request: HttpRequest) -> Visit | None:
    account = request.user if request.user.is_authenticated else None
    if account is None:
        if auth.SESSION_KEY in request.session:
            request.session.flush()
        return None
    if time.time() - request.session.get(BEGAN, 0.0) > float(settings.HARD_END_SECONDS):
        auth.logout(request)
        request.left_by = account.person  # type: ignore[attr-defined]
        return None
    return _visit_of_account(request, account)


def _visit_of_account(request: HttpRequest, account: Any) -> Visit:
    session, now = request.session, time.time()
    idle = now - session.get(SEEN, 0.0)
    if idle > float(settings.IDLE_SECONDS) and not session.get(LOCKED):
        session[LOCKED] = True
    elif idle > SEEN_STEP and not session.get(LOCKED):
        session[SEEN] = now
        _save_now(session)
    person = account.person
    actor = Actor(person.workshop, person, account, request.tablet)  # type: ignore[attr-defined]
    strong = now - session.get(PROVED, 0.0) < PROOF_LASTS
    return Visit(actor, here(person), session.get(HOW, ""), strong, bool(session.get(LOCKED)))


def _save_now(session: Any) -> None:
    """Save before the page is worked out: at its end, minutes later for a long upload, it would take a lock away."""
    with contextlib.suppress(UpdateError):
        session.save()
        session.modified = False


def _language(request: HttpRequest) -> str:
    """Give the language set for this browser, else the workshop's; where neither is known, what the browser asks."""
    chosen = LANGUAGE.of(request)
    if chosen:
        return chosen
    visit, tablet = request.visit, request.tablet  # type: ignore[attr-defined]
    workshop = visit.actor.workshop if visit else tablet.workshop if tablet else None
    return str(workshop.language) if workshop else translation.get_language_from_request(request)


def _door(request: HttpRequest, who: Who) -> HttpResponseBase | None:
    visit: Visit | None = request.visit  # type: ignore[attr-defined]
    if who is Who.ANYBODY:
        return None
    if who is Who.NOBODY_YET:
        return redirect("home") if workshop_is_set_up() else None
    if visit is None:
        return _to("sign-in", request) if workshop_is_set_up() else redirect("set-up")
    if _is_anothers(request, visit):
        return _waits("other")
    if visit.locked and who is not Who.LOCKED_TOO:
        _leave_what_was_sent(request, visit)
        return _to("lock", request)
    if _has_to_choose_a_pin(request, visit, who):
        return redirect("own-pin")
    return _administration(request, visit) if who is Who.ADMINISTRATOR else None


def _has_to_choose_a_pin(request: HttpRequest, visit: Visit, who: Who) -> bool:
    """Whether this person came in by a PIN that is good once, and has not chosen an own one."""
    account = visit.actor.account
    by_it = account is not None and account.pin_is_for_once and visit.how == PIN
    return by_it and who is not Who.LOCKED_TOO and request.path != reverse("own-pin")


def _administration(request: HttpRequest, visit: Visit) -> HttpResponseBase | None:
    if not visit.here.administers:
        raise PermissionDenied("This page is for an administrator of the workshop.")
    if visit.strong:
        return None
    _leave_what_was_sent(request, visit)
    return _to("prove", request)


def _to(name: str, request: HttpRequest) -> HttpResponseBase:
    """Send to a door, and remember where to come back to; an entry of the tablet's queue is told to wait."""
    if request.headers.get("X-Entry"):
        return _waits({"sign-in": "nobody", "lock": "locked"}.get(name, name))
    query = f"?{urlencode({'next': _back(request)})}" if request.path != "/" else ""
    return redirect(reverse(name) + query)


def _back(request: HttpRequest) -> str:
    """Give the way back to what was asked for; a lock that came too late has its own, of the page that it covered."""
    if request.path == reverse("lock"):
        return asked_back(request)
    if came_by_a_link(request):
        return marked_as_a_link(request.get_full_path())
    visit: Visit | None = request.visit  # type: ignore[attr-defined]
    whose = visit.actor.person if visit else getattr(request, "left_by", None)
    return marked(request.get_full_path(), whose)


def _is_anothers(request: HttpRequest, visit: Visit) -> bool:
    """Whether an entry was made on the tablet by somebody else: it is never taken as this person's."""
    whose = request.headers.get("X-Entry-Person")
    return whose is not None and whose != str(visit.actor.person.pk)  # type: ignore[union-attr]


def _waits(why: str) -> HttpResponseBase:
    """Answer an entry that stays on the tablet until its person is here: locked, nobody, other."""
    return JsonResponse({"state": why}, status=401)


def _leave_what_was_sent(request: HttpRequest, visit: Visit) -> None:
    # An entry of the queue stays on the tablet, which sends it again.
    if request.method == "POST" and not request.headers.get("X-Entry"):
        fields = fields_worth_keeping(request.POST)
        if fields:
            leave_draft(visit.actor, request.path, fields)
            note_at_the_door(request, "form left as a draft", {"page": request.path})
