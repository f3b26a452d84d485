"""The ledger: where it stands, since when it is whole, its head to take away, and a look at once."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import segno
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.safestring import SafeString, mark_safe
from django.views.decorators.http import require_POST, require_safe

from hingeline_app.records.actions.confirming_time import confirm_time
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.giving_heads import give_head, head_of
from hingeline_app.records.looking import Findings, look_at_the_records
from hingeline_app.records.looking.rows_to_compare import seen_by
from hingeline_app.records.queries.clock_ahead import clock_ahead
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import AlreadyDone, Command
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import may_do, refuse_who_may_not, viewer_of
from hingeline_app.web.found_at_start import last_look, remember
from hingeline_app.web.requests import visit_of

HERE = {"here": "ledger", "section": "workshop"}


@open_to(Who.SIGNED_IN)
@require_safe
def ledger(request: HttpRequest) -> HttpResponse:
    """Show where the chains stand, and what the last look found."""
    return _page(request, last_look())


@open_to(Who.SIGNED_IN)
@require_POST
def ledger_verify(request: HttpRequest) -> HttpResponse:
    """Look at everything now."""
    refuse_who_may_not(request, Act.VERIFY)
    findings = look_at_the_records()
    remember(findings)
    return _page(request, findings, looked_now=True)


@open_to(Who.SIGNED_IN)
@require_POST
def ledger_head(request: HttpRequest) -> HttpResponse:
    """Give the head away, signed: to print, to photograph, to keep elsewhere."""
    refuse_who_may_not(request, Act.VERIFY)
    signed = give_head(visit_of(request).actor.workshop.pk)
    code = qr(signed.code) if signed else ""
    return _page(request, last_look(), signed=signed, given_at=_minute(signed.head.at) if signed else "", qr=code)


@open_to(Who.ADMINISTRATOR)
@require_POST
def ledger_time(request: HttpRequest) -> HttpResponse:
    """Take an administrator's word that the clock is right."""
    key = request.POST.get("command_key", "")[:60]
    of = request.POST.get("of", "")[:60]
    try:
        confirm_time(visit_of(request).actor, of, Command(key, {"of": of}) if key else None)
    except NotAllowed as refused:
        messages.warning(request, str(refused.reason))
    except AlreadyDone:
        pass
    return redirect("ledger")


def qr(text: str) -> SafeString:
    """Draw a text as a QR code."""
    return mark_safe(segno.make(text, error="m").svg_inline(scale=1, omitsize=True, dark="#000", light="#fff"))


def _minute(at: str) -> str:
    """Give a time of the ledger as a person reads it: 2027-03-12 09:41 UTC."""
    return f"{at[:10]} {at[11:16]}\u00a0UTC"


def _page(request: HttpRequest, findings: Findings | None, **more: Any) -> HttpResponse:
    workshop = visit_of(request).actor.workshop
    now = datetime.now(UTC)
    findings = seen_by(viewer_of(request), findings) if findings else None
    chains = [each for each in findings.chains if each.workshop == str(workshop.pk)] if findings else []
    # A look from before this workshop was set up says nothing of it.
    looked = findings if chains or (findings and findings.findings) else None
    context = {
        **HERE,
        "heads": [head_of(workshop.pk, chain, now) for chain in ("records", "security")],
        "looked": looked,
        "looked_at": _minute(looked.at) if looked else "",
        "chains": chains,
        "clock": clock_ahead(workshop.pk),
        "may_verify": may_do(request, Act.VERIFY),
        **more,
    }
    return render(request, "web/ledger.html", context)
