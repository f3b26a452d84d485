"""People of the workshop: who is here, what they may sign, how they come in."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from hingeline_app.records.actions.accounts import add_account, close_account, reopen_account, set_pin
from hingeline_app.records.actions.people import add_person, correct_person, person_leaves
from hingeline_app.records.actions.rights import confirm_right, end_right, give_right
from hingeline_app.records.queries.people import PersonRecord, people
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.forms.page_form import PageForm, begun
from hingeline_app.web.forms.people import (
    AccountForm,
    CorrectedPersonForm,
    NewPersonForm,
    OneTimePinForm,
    ReasonForm,
    RightForm,
)
from hingeline_app.web.pages.acts import command_of, done, one_press
from hingeline_app.web.requests import visit_of

DETAILS = ("name", "initials", "licence_number", "licence_expires")
HERE = {"here": "people", "section": "workshop"}


@open_to(Who.SIGNED_IN)
@require_safe
def people_page(request: HttpRequest) -> HttpResponse:
    """List the people."""
    return render(request, "web/people.html", {**HERE, "people": people(viewer_of(request))})


@open_to(Who.ADMINISTRATOR)
@require_http_methods(["GET", "HEAD", "POST"])
def add_person_page(request: HttpRequest) -> HttpResponse:
    """Enter a person, and go on to their page, where roles and ways in are given."""
    form = _form(request, NewPersonForm)
    if request.method == "POST":
        visit = visit_of(request)
        if done(request, form, lambda: add_person(
            visit.actor, **form.said("name", "initials", "licence_number", "licence_expires", "is_guest",
                                     "although_alike"), command=command_of(form)
        ), _("The person was entered.")):  # fmt: skip
            return _to_who_was_entered(request, form)
    return _answer(request, "web/person_new.html", form)


def _to_who_was_entered(request: HttpRequest, form: PageForm) -> HttpResponse:
    """Go to their page, by a form that was sent again too; to the list where two people share name and initials."""
    said = form.said("name", "initials")
    alike = [each for each in people(viewer_of(request)) if said == {"name": each.name, "initials": each.initials}]
    return redirect("person", person=alike[0].identifier) if len(alike) == 1 else redirect("people")


@open_to(Who.ADMINISTRATOR)
@require_safe
def person_page(request: HttpRequest, person: UUID) -> HttpResponse:
    """Show one person with every act about them."""
    return _person(request, _record(request, person), {})


@open_to(Who.ADMINISTRATOR)
@require_POST
def person_act(request: HttpRequest, person: UUID, act: str) -> HttpResponse:
    """Do one of the acts of a person's page."""
    record, actor = _record(request, person), visit_of(request).actor
    if act not in ACTS:
        raise Http404
    kind, do, words = ACTS[act]
    form = kind(request.POST, auto_id=f"{act}-%s")
    if done(request, form, lambda: do(actor, person, form), words()):
        return redirect("person", person=person)
    return _person(request, record, {act: form})


@open_to(Who.ADMINISTRATOR)
@require_POST
def right_act(request: HttpRequest, person: UUID, right: UUID, act: str) -> HttpResponse:
    """Agree to a role as the second administrator, or end it."""
    record, actor = _record(request, person), visit_of(request).actor
    if right not in {each.identifier for each in record.rights} or act not in ("confirm", "end"):
        raise Http404
    if act == "confirm":
        one_press(request, lambda: confirm_right(actor, right), _("The role counts from now on."))
    else:
        one_press(request, lambda: end_right(actor, right, request.POST.get("reason", "")), _("The role ended."))
    return redirect("person", person=person)


@open_to(Who.ADMINISTRATOR)
@require_POST
def account_act(request: HttpRequest, person: UUID, account: UUID, act: str) -> HttpResponse:
    """Close an account, or open it again."""
    record, actor = _record(request, person), visit_of(request).actor
    if account not in {each.identifier for each in record.accounts} or act not in ("close", "reopen"):
        raise Http404
    todo = close_account if act == "close" else reopen_account
    words = _("The account was closed.") if act == "close" else _("The account is open again.")
    one_press(request, lambda: todo(actor, account, request.POST.get("reason", "")), words)
    return redirect("person", person=person)


def _correct(actor: Any, person: UUID, form: PageForm) -> Any:
    return correct_person(actor, person, form.cleaned_data["reason"], **form.said(*DETAILS))


def _open_account(actor: Any, person: UUID, form: PageForm) -> Any:
    return add_account(actor, person, **form.said("sign_in_name", "password"), command=None)


def _one_time_pin(actor: Any, _person: UUID, form: PageForm) -> Any:
    return set_pin(actor, form.cleaned_data["account"], form.cleaned_data["pin"])


# Each act of a person's page: its form, what it does, what is said then.
ACTS: dict[str, tuple[type[PageForm], Any, Any]] = {
    "correct": (CorrectedPersonForm, _correct, lambda: _("The details were entered anew; the old ones stay readable.")),
    "account": (AccountForm, _open_account, lambda: _("The account is open.")),
    "role": (RightForm, lambda actor, person, form: give_right(
        actor, person, form.cleaned_data["role"], command=command_of(form)), lambda: _("The role was given.")),
    "pin": (OneTimePinForm, _one_time_pin, lambda: _("The PIN is set, for once.")),
    "leave": (ReasonForm, lambda actor, person, form: person_leaves(
        actor, person, reason=form.cleaned_data["reason"]), lambda: _("The person has left. What was signed stays.")),
}  # fmt: skip


def _person(request: HttpRequest, record: PersonRecord, sent: dict[str, PageForm]) -> HttpResponse:
    details = {name: getattr(record, name) for name in DETAILS}
    forms = {
        name: sent.get(name) or kind(initial=details, auto_id=f"{name}-%s") for name, (kind, *_rest) in ACTS.items()
    }
    status = 422 if any(form.errors for form in sent.values()) else 200
    context = {**HERE, "person": record, "forms": forms, "form": next(iter(sent.values()), None)}
    return render(request, "web/person.html", context, status=status)


def _record(request: HttpRequest, person: UUID) -> PersonRecord:
    for record in people(viewer_of(request)):
        if record.identifier == person:
            return record
    raise Http404


def _form(request: HttpRequest, kind: type[PageForm]) -> PageForm:
    return kind(request.POST) if request.method == "POST" else begun(request, kind)


def _answer(request: HttpRequest, page: str, form: PageForm) -> HttpResponse:
    return render(request, page, {**HERE, "form": form}, status=422 if form.errors else 200)
