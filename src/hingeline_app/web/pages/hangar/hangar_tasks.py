"""Tasks: added from the approved programme, corrected, signed off, put off, ended, taken out."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from hingeline.due import words
from hingeline.errors import InputRefused
from hingeline_app.files.due_file import read_due
from hingeline_app.records.actions.signing_off import DoneAs, put_off, sign_off, withdraw_deferral, withdraw_sign_off
from hingeline_app.records.actions.taking_due_in import take_due_in
from hingeline_app.records.actions.tasks import add_tasks, correct_task, end_task, withdraw_task
from hingeline_app.records.dates import today
from hingeline_app.records.queries.checks_ahead import checks_ahead
from hingeline_app.records.queries.hangar_choices import aircraft_choices, issue_choices, part_choices, released_jobs
from hingeline_app.records.roles import Act
from hingeline_app.said import say
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import refuse_who_may_not, viewer_of
from hingeline_app.web.forms.hangar import DueFileForm, EndForm, PutOffForm, SignOffForm
from hingeline_app.web.forms.page_form import begun
from hingeline_app.web.forms.task import TaskForm, written
from hingeline_app.web.pages.acts import command_of, done, one_press
from hingeline_app.web.pages.hangar.hangar import HERE, found_task, may_of
from hingeline_app.web.requests import sent, visit_of

LARGEST_FILE = 1_000_000


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def task_add(request: HttpRequest) -> HttpResponse:
    """Add a line of the approved programme, for as many aircraft and parts as it concerns."""
    refuse_who_may_not(request, Act.KEEP_TASKS)
    viewer, actor = viewer_of(request), visit_of(request).actor
    owners = [*aircraft_choices(viewer), *part_choices(viewer)]
    choices: dict[str, Any] = {"owners": owners, "issues": issue_choices(viewer)}
    posted = request.method == "POST"
    form = TaskForm(request.POST, **choices) if posted else begun(request, TaskForm, **choices)
    act = lambda: add_tasks(actor, _owners(form), form.line(), command_of(form))  # noqa: E731
    if posted and done(request, form, act, _("The task was added.")):
        return redirect("fleet")
    context = {**HERE, **may_of(request), "form": form, "adding": True, "has_owners": bool(owners)}
    return render(request, "web/hangar/task.html", context, status=422 if form.errors else 200)


def _owners(form: TaskForm) -> list[UUID]:
    return [UUID(each) for each in form.cleaned_data.get("owners", [])]


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def task_change(request: HttpRequest, task: UUID) -> HttpResponse:
    """Correct a task, with the reason."""
    refuse_who_may_not(request, Act.KEEP_TASKS)
    full, actor = found_task(request, task), visit_of(request).actor
    choices: dict[str, Any] = {"issues": issue_choices(viewer_of(request))}
    posted = request.method == "POST"
    form = TaskForm(request.POST, **choices) if posted else begun(request, TaskForm, written(full), **choices)
    ending = full.check.task.ends_with
    act = lambda: correct_task(  # noqa: E731
        actor, task, form.line(ending), form.cleaned_data["reason"], command_of(form)
    )
    if posted and done(request, form, act, _("The task was corrected.")):
        return _to(task)
    context = {**HERE, **may_of(request), "form": form, "full": full, "has_owners": True}
    return render(request, "web/hangar/task.html", context, status=422 if form.errors else 200)


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def task_sign_off(request: HttpRequest, task: UUID) -> HttpResponse:
    """Enter that a check was done."""
    refuse_who_may_not(request, Act.SIGN_OFF)
    full, actor = found_task(request, task), visit_of(request).actor
    jobs = released_jobs(viewer_of(request), full.check.state.aircraft)
    meant = next((each for each in jobs if each.number in [number for number, _state in full.jobs]), None)
    posted = request.method == "POST"
    initial = {"job": str(meant.identifier) if meant else ""}
    form = SignOffForm(request.POST, jobs=jobs) if posted else begun(request, SignOffForm, initial, jobs=jobs)
    if full.check.task.counts_from in (None, "done"):
        del form.fields["due_hours"], form.fields["due_date"]
    _say_last_read(form, viewer_of(request), full.check.state.aircraft)
    told = _("Signed off. What comes next stands below.")
    if posted and done(request, form, lambda: sign_off(actor, task, _done_as(form), command_of(form)), told):
        return _to(task)
    return _one_form(request, "sign_off", form, full)


def _say_last_read(form: SignOffForm, viewer: Any, name: str) -> None:
    """Say beside the counters what they showed last, so that a wrong digit is seen before it is entered."""
    plane = next((each for each in checks_ahead(viewer).question.aircraft if each.name == name), None)
    if plane is None or plane.counted_on is None:
        return
    day = say(words.day(plane.counted_on))
    if plane.hours is not None:
        form.fields["hours"].help_text = _("Last read: %(hours)s on %(day)s.") % {
            "hours": words.hours(plane.hours), "day": day,
        }  # fmt: skip
    if plane.landings is not None:
        form.fields["landings"].help_text = _("Last known: %(landings)s, %(day)s.") % {
            "landings": plane.landings, "day": day,
        }  # fmt: skip


def _done_as(form: SignOffForm) -> DoneAs:
    said = form.cleaned_data
    return DoneAs(
        done_on=said["done_on"],
        hours=said["hours"],
        landings=said["landings"],
        due_hours=said.get("due_hours"),
        due_date=said.get("due_date"),
        job=UUID(said["job"]) if said["job"] else None,
        paper=said["paper"],
        signer=said["signer"],
    )


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def task_put_off(request: HttpRequest, task: UUID) -> HttpResponse:
    """Enter that an approval lets a check wait."""
    refuse_who_may_not(request, Act.SIGN_OFF)
    full, actor = found_task(request, task), visit_of(request).actor
    posted = request.method == "POST"
    form = PutOffForm(request.POST) if posted else begun(request, PutOffForm)
    names = ("approval", "reason", "until_date", "until_hours", "until_landings")
    act = lambda: put_off(actor, task, **form.said(*names), command=command_of(form))  # noqa: E731
    if posted and done(request, form, act, _("Kept. The due point stays where the approved data has it.")):
        return _to(task)
    return _one_form(request, "put_off", form, full)


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def task_end(request: HttpRequest, task: UUID) -> HttpResponse:
    """Enter what ended a task for good."""
    refuse_who_may_not(request, Act.KEEP_TASKS)
    full, actor = found_task(request, task), visit_of(request).actor
    posted = request.method == "POST"
    form = EndForm(request.POST) if posted else begun(request, EndForm, {"on": today(actor.workshop)})
    act = lambda: end_task(actor, task, form.cleaned_data["on"], form.cleaned_data["by"], command_of(form))  # noqa: E731
    if posted and done(request, form, act, _("The task is closed.")):
        return _to(task)
    return _one_form(request, "end", form, full)


@open_to(Who.SIGNED_IN)
@require_POST
def task_withdraw(request: HttpRequest, task: UUID) -> HttpResponse:
    """Take a task out that was entered by mistake."""
    refuse_who_may_not(request, Act.KEEP_TASKS)
    found_task(request, task)
    actor, reason = visit_of(request).actor, request.POST.get("reason", "")
    one_press(request, lambda: withdraw_task(actor, task, reason), _("The task was taken out; the ledger keeps it."))
    return redirect("fleet")


@open_to(Who.SIGNED_IN)
@require_POST
def sign_off_withdraw(request: HttpRequest, task: UUID, row: UUID) -> HttpResponse:
    """Withdraw a sign-off."""
    refuse_who_may_not(request, Act.SIGN_OFF)
    found_task(request, task)
    actor, reason = visit_of(request).actor, request.POST.get("reason", "")
    one_press(
        request, lambda: withdraw_sign_off(actor, row, reason), _("The sign-off is withdrawn: it counts no more.")
    )
    return _to(task)


@open_to(Who.SIGNED_IN)
@require_POST
def put_off_withdraw(request: HttpRequest, task: UUID, row: UUID) -> HttpResponse:
    """Withdraw what was put off."""
    refuse_who_may_not(request, Act.SIGN_OFF)
    found_task(request, task)
    actor, reason = visit_of(request).actor, request.POST.get("reason", "")
    one_press(request, lambda: withdraw_deferral(actor, row, reason), _("It is withdrawn."))
    return _to(task)


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def due_take_in(request: HttpRequest) -> HttpResponse:
    """Take the tasks of a due file in: all of them or none."""
    refuse_who_may_not(request, Act.KEEP_TASKS)
    actor, posted = visit_of(request).actor, request.method == "POST"
    form = DueFileForm(sent(request), request.FILES or None)
    if posted and done(request, form, lambda: _take_in(actor, form), _("The due file was taken in.")):
        return redirect("fleet")
    context = {**HERE, **may_of(request), "form": form}
    return render(request, "web/hangar/take_in.html", context, status=422 if form.errors else 200)


def _take_in(actor: Any, form: DueFileForm) -> None:
    file = form.cleaned_data["file"]
    if file.size > LARGEST_FILE:
        raise InputRefused.of("file", f"{file.size} bytes", f"at most {LARGEST_FILE}", "Take some aircraft at a time.")
    question = read_due(file.read(), None)
    take_due_in(actor, question, form.cleaned_data["word"], command_of(form))


def _one_form(request: HttpRequest, name: str, form: Any, full: Any) -> HttpResponse:
    context = {**HERE, **may_of(request), "form": form, "full": full, "state": full.check.state}
    return render(request, f"web/hangar/{name}.html", context, status=422 if form.errors else 200)


def _to(task: UUID) -> HttpResponse:
    return redirect(f"{reverse('fleet')}?task={task}")
