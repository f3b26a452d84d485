"""First run: a workshop is set up, by whoever can read the code on the server's console."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from axes.exceptions import AxesBackendPermissionDenied
from axes.handlers.proxy import AxesProxyHandler
from django.contrib import messages
from django.contrib.auth.signals import user_login_failed
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from hingeline.errors import InputRefused
from hingeline_app.records.actions.accounts import add_account, set_pin
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.people import add_person
from hingeline_app.records.actions.rights import give_right
from hingeline_app.records.actions.tablets import enrol_tablet
from hingeline_app.records.actions.workshop import set_up_workshop
from hingeline_app.records.roles import ADMINISTRATOR, ENGINEER
from hingeline_app.records.set_up_code import set_up_code_if_needed
from hingeline_app.records.ways_in import PASSWORD
from hingeline_app.records.write_door import Actor
from hingeline_app.said import say
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.forms.refusals import say_refusals
from hingeline_app.web.forms.set_up import SetUpForm
from hingeline_app.web.middleware.who_is_here import begin_session
from hingeline_app.web.pages.entrance.tablet_cookie import remember_tablet

WHO = {"username": "set-up"}
OWN = ("sign_in_name", "password", "approval_number", "authority", "local_gravity", "zone", "language", "initials")


@open_to(Who.NOBODY_YET)
@require_http_methods(["GET", "HEAD", "POST"])
def set_up(request: HttpRequest) -> HttpResponse:
    """Ask for the workshop, and set it up."""
    set_up_code_if_needed()
    if request.method != "POST":
        return _page(request, SetUpForm(initial={"language": get_language()}))
    if not AxesProxyHandler.is_allowed(request, WHO):
        request.axes_locked_out = True  # type: ignore[attr-defined]
        raise AxesBackendPermissionDenied
    form = SetUpForm(request.POST)
    if form.is_valid():
        return _found(request, form)
    if "code" in form.errors:
        user_login_failed.send("set-up", credentials=WHO, request=request)
    return _page(request, form)


def _page(request: HttpRequest, form: SetUpForm) -> HttpResponse:
    status = 422 if form.errors else 200
    return render(request, "web/set_up.html", {"form": form}, status=status)


def _found(request: HttpRequest, form: SetUpForm) -> HttpResponse:
    said = form.cleaned_data
    try:
        founded = set_up_workshop(said["workshop"], person=said["name"], **form.said(*OWN))
    except InputRefused as refused:
        say_refusals(form, refused)
        return _page(request, form)
    actor = Actor(founded.workshop, founded.person, founded.account)
    set_up_code_if_needed()
    begin_session(request, founded.account, PASSWORD)
    response = redirect("bench")
    for act in _rest(actor, said, response):
        _tried(request, act)
    return response


def _rest(actor: Actor, said: dict[str, Any], response: HttpResponse) -> Iterator[Callable[[], Any]]:
    """Give what is asked beside the workshop; each may be refused without undoing it, and without the others."""
    if said["pin"]:
        assert actor.account is not None, "the first administrator has an account"
        account = actor.account.pk
        yield lambda: set_pin(actor, account, said["pin"])
    if said["works_here"]:
        yield lambda: _works_here(actor)
    if said["second_name"]:
        yield lambda: _second(actor, said)
    if said["tablet"]:
        yield lambda: remember_tablet(response, enrol_tablet(actor, said["tablet"]).token)


def _tried(request: HttpRequest, act: Callable[[], Any]) -> None:
    """Do one of them; say what was refused."""
    try:
        act()
    except (InputRefused, NotAllowed) as refused:
        messages.warning(
            request, _("The workshop is set up. One thing was not taken: %(why)s") % {"why": say(str(refused))}
        )


def _works_here(actor: Actor) -> None:
    """Give the founder the engineer's role too: where one person begins alone, nobody else could open a job."""
    assert actor.person is not None, "the first administrator is a person"
    give_right(actor, actor.person.pk, ENGINEER)


def _second(actor: Actor, said: dict[str, Any]) -> None:
    person = add_person(actor, said["second_name"], said["second_initials"])
    add_account(actor, person.pk, said["second_sign_in_name"], said["second_password"])
    give_right(actor, person.pk, ADMINISTRATOR)
