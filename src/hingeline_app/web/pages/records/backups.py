"""Backups: when the last one was made and tried, where they lie, one more at once."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from hingeline.errors import HingelineError
from hingeline_app.records.actions.security import note_security
from hingeline_app.records.backing_up.manifest import backups_in, time_of
from hingeline_app.records.backing_up.schedule import backup_and_trial, state_of_backups
from hingeline_app.said import say
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.requests import visit_of

SHOWN = 12


@open_to(Who.ADMINISTRATOR)
@require_safe
def backups(request: HttpRequest) -> HttpResponse:
    """Show the backups."""
    folder = Path(settings.BACKUP_FOLDER)
    there = [(each.name, time_of(each.name)) for each in reversed(backups_in(folder)[-SHOWN:])]
    state = state_of_backups(folder, datetime.now(UTC))
    same_disk = folder.exists() and folder.stat().st_dev == Path(settings.DATA_FOLDER).stat().st_dev
    context = {"here": "backups", "section": "workshop", "state": state, "there": there, "same_disk": same_disk}
    return render(request, "web/backups.html", context)


@open_to(Who.ADMINISTRATOR)
@require_POST
def backup_now(request: HttpRequest) -> HttpResponse:
    """Make one now, and restore it as a trial."""
    try:
        made = backup_and_trial(Path(settings.BACKUP_FOLDER), datetime.now(UTC))
    except (HingelineError, OSError) as fault:
        messages.error(request, _("No backup was made: %(why)s") % {"why": say(str(fault))})
    else:
        note_security(visit_of(request).actor, "backed up", {"backup": made.folder.name, "entries": made.entries})
        if made.not_tried:
            said = {"name": made.folder.name, "why": say(made.not_tried)}
            messages.warning(request, _("Backed up, but not restored as a trial: %(name)s. %(why)s") % said)
        else:
            messages.success(request, _("Backed up and restored as a trial: %(name)s") % {"name": made.folder.name})
    return redirect("backups")
