"""The pages of the signatures: second inspection, inspected again, release, its withdrawal; of one job or an order."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_http_methods

from hingeline.errors import InputRefused
from hingeline_app.bench.steps import statement_of
from hingeline_app.bench.weighing.scale_against import is_not_used
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.inspecting import sign_again, sign_as_second
from hingeline_app.records.actions.releasing import release, withdraw_release
from hingeline_app.records.actions.signing import over_of
from hingeline_app.records.actions.working import Moved
from hingeline_app.records.queries.at_the_door import guest_by_licence
from hingeline_app.records.queries.inspection import Releasing, inspection_of, numbers_of_open_jobs, releasing_of
from hingeline_app.records.queries.items import ItemRecord
from hingeline_app.records.queries.jobs import JobRecord, job_of
from hingeline_app.records.queries.orders import order_of
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.write_door import Command
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import or_no_page, viewer_of
from hingeline_app.web.forms.signing import GuestForm, ReasonedForm, SignForm
from hingeline_app.web.found_at_start import HELD, signing_is_held
from hingeline_app.web.proof import ProofRefused, fresh_proof, guest_proof
from hingeline_app.web.requests import sent, visit_of
from hingeline_app.web.steps.release import judged, moment_of, open_of

HERE = {"here": "bench"}
MOVED = gettext_lazy("The job changed since this page was shown: nothing was signed. Look at it again.")


@dataclass(frozen=True)
class Signing:
    """One kind of signature: its words, where it belongs, what is asked."""

    heading: Any
    button: Any
    step: str
    form: type[SignForm]


SIGNINGS: Mapping[str, Signing] = {
    "second": Signing(gettext_lazy("Sign as second"), gettext_lazy("Sign as second"), "second-inspection", SignForm),
    "again": Signing(
        gettext_lazy("Inspected again by the same person"), gettext_lazy("Sign: inspected again"),
        "second-inspection", ReasonedForm,
    ),
    "release": Signing(gettext_lazy("Release"), gettext_lazy("Release"), "release", SignForm),
    "withdraw": Signing(
        gettext_lazy("Withdraw the release"), gettext_lazy("Withdraw the release"), "release", ReasonedForm
    ),
}  # fmt: skip


@dataclass(frozen=True)
class Signed:
    """One job as it is about to be signed."""

    job: JobRecord
    found: Releasing
    moment: str

    @property
    def statement(self) -> str:
        """Give the word of the last weighing's statement, for whoever signs; empty where none holds."""
        return "" if is_not_used(self.job.weighing) else statement_of(self.job) or ""


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def job_sign(request: HttpRequest, number: int, what: str) -> HttpResponse:
    """Sign one job."""
    return _page(request, what, [number], reverse("job-step", args=[number, _signing(what).step]))


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def order_second_inspection(request: HttpRequest, number: int) -> HttpResponse:
    """Sign the second inspection of all open jobs of an order."""
    return _over_order(request, number, "second")


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def order_release(request: HttpRequest, number: int) -> HttpResponse:
    """Release all open jobs of an order: all of them or none."""
    return _over_order(request, number, "release")


def _signing(what: str) -> Signing:
    if what not in SIGNINGS:
        raise Http404("there is no such signature")
    return SIGNINGS[what]


def _over_order(request: HttpRequest, number: int, what: str) -> HttpResponse:
    """Sign over all jobs of an order; without an open one there is nothing to sign."""
    viewer = viewer_of(request)
    with or_no_page():
        order_of(viewer, number)
    numbers, back = numbers_of_open_jobs(viewer, number), reverse("order", args=[number])
    return _page(request, what, numbers, back) if numbers else redirect(back)


def _page(request: HttpRequest, what: str, numbers: Sequence[int], back: str) -> HttpResponse:
    signing = _signing(what)
    jobs = _jobs(request, numbers)
    guest = request.GET.get("guest", "").strip()[:60] if what == "second" else ""
    kind = GuestForm if guest else signing.form
    seen = {each.found.job: each.found.seen for each in jobs}
    form = kind(sent(request), initial={"seen": _spelled(seen), "proof_over": over_of(seen) if seen else ""})
    if request.method == "POST" and form.is_valid():
        refused = _carried_out(request, what, form, jobs, guest)
        if not refused:
            messages.success(request, _("The signature is kept."))
            return redirect(back)
        form.add_error(None, refused)
    in_the_way = [(each.job, open_of(each.job, each.found)) for each in jobs] if what == "release" else []
    context = {
        **HERE,
        "form": form,
        "signing": signing,
        "what": what,
        "jobs": jobs,
        "in_the_way": [(job, points) for job, points in in_the_way if points],
        "back": back,
        "guest": guest,
        "found_by_guest": _found_by(request, guest, numbers) if guest else [],
    }
    return render(request, "web/job_sign.html", context, status=422 if form.errors else 200)


def _carried_out(request: HttpRequest, what: str, form: SignForm, jobs: Sequence[Signed], guest: str) -> str:
    """Sign, or say why not."""
    try:
        _refuse_held()
        seen = _read(form.cleaned_data["seen"], jobs)
        ACTS[what](request, form, seen, guest)
    except Moved:
        return str(MOVED)
    except (NotAllowed, ProofRefused, InputRefused) as refused:
        return str(getattr(refused, "reason", refused))
    except Nowhere as nothing:
        raise Http404(str(nothing)) from nothing
    return ""


def _second(request: HttpRequest, form: SignForm, seen: dict[UUID, str], guest: str) -> None:
    actor = visit_of(request).actor
    if not guest:
        sign_as_second(actor, seen, fresh_proof(request, over_of(seen)), command=_command(form, "second", seen))
        return
    fresh_proof(request, over_of(seen))
    found = guest_by_licence(actor.workshop, guest)
    proof = guest_proof(request, guest, over_of(seen))
    as_guest = replace(actor, person=found, account=None)
    sign_as_second(as_guest, seen, proof, witness=actor.person, command=_command(form, "second", seen))


def _again(request: HttpRequest, form: SignForm, seen: dict[UUID, str], _guest: str) -> None:
    (job, digest), *_others = seen.items()
    reason = form.cleaned_data["reason"]
    sign_again(
        visit_of(request).actor, job, digest, reason, fresh_proof(request, digest), _command(form, "again", seen)
    )


def _release(request: HttpRequest, form: SignForm, seen: dict[UUID, str], _guest: str) -> None:
    proof = fresh_proof(request, over_of(seen))
    command = _command(form, "release", seen)
    release(visit_of(request).actor, seen, proof, judge=judged, on_own_inspection=True, command=command)


def _withdraw(request: HttpRequest, form: SignForm, seen: dict[UUID, str], _guest: str) -> None:
    (job, digest), *_others = seen.items()
    proof = fresh_proof(request, digest)
    reason = form.cleaned_data["reason"]
    withdraw_release(visit_of(request).actor, job, reason, proof, _command(form, "withdraw", seen))


Act = Callable[[HttpRequest, SignForm, dict[UUID, str], str], None]
ACTS: Mapping[str, Act] = {"second": _second, "again": _again, "release": _release, "withdraw": _withdraw}


def _refuse_held() -> None:
    if signing_is_held():
        raise NotAllowed(HELD)


def _jobs(request: HttpRequest, numbers: Sequence[int]) -> list[Signed]:
    """Read each job twice, its digest first: what changes between the two is found to have moved."""
    viewer = viewer_of(request)
    with or_no_page():
        found = [(releasing_of(viewer, number), job_of(viewer, number)) for number in numbers]
    return [Signed(job, one, moment_of(job)) for one, job in found]


def _found_by(request: HttpRequest, licence: str, numbers: Sequence[int]) -> list[ItemRecord]:
    """Give what a guest found at each item: it was entered on the page of a witness, and the signature covers it."""
    guest = guest_by_licence(visit_of(request).actor.workshop, licence)
    if guest is None:
        return []
    return [item for number in numbers for item in inspection_of(viewer_of(request), number, guest).items]


def _read(text: str, jobs: Sequence[Signed]) -> dict[UUID, str]:
    """Give what the page showed of each job; what it is now has to be the same."""
    now = {each.found.job: each.found.seen for each in jobs}
    try:
        seen = {UUID(job): str(digest) for job, digest in json.loads(text).items()}
    except (ValueError, AttributeError, RecursionError):
        seen = {}
    if not seen or seen != now:
        raise Moved(*({str(job): digest for job, digest in each.items()} for each in (seen, now)))
    return seen


def _spelled(seen: Mapping[UUID, str]) -> str:
    return json.dumps({str(job): digest for job, digest in seen.items()})


def _command(form: SignForm, what: str, seen: Mapping[UUID, str]) -> Command | None:
    key = form.cleaned_data.get("command_key")
    return Command(key, {"sign": what, "seen": _spelled(seen)}) if key else None
