"""What stands around every sheet: the rail, the title block, the person, the light."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from django.conf import settings
from django.http import HttpRequest
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from hingeline_app.web.disk_room import disk_room
from hingeline_app.web.drafts import SECRETS
from hingeline_app.web.tablet_settings import settings_of

LIGHT_COOKIE = "light"
LIGHTS = ("day", "night", "sun")


@dataclass(frozen=True)
class Room:
    """A door of the rail or a tab: address, word, drawn sign."""

    name: str
    word: Any
    sign: str = ""
    administrators: bool = False

    @property
    def address(self) -> str:
        """Give the address."""
        return reverse(self.name)


RAIL = (
    Room("bench", _("Bench"), "bench"),
    Room("fleet", _("Hangar"), "hangar"),
    Room("limits", _("Limits"), "limits"),
    Room("recordings", _("Recordings"), "recordings"),
    Room("why-balance", _("Why balance"), "why-balance"),
    Room("records", _("Records"), "records"),
)
WORKSHOP_TABS = (
    Room("workshop", _("Workshop")),
    Room("aircraft", _("All aircraft")),
    Room("people", _("People")),
    Room("tablets", _("Tablets")),
    Room("this-tablet", _("This tablet")),
    Room("scales", _("Scales")),
    Room("stands", _("Stands")),
    Room("coating", _("Coating plan")),
    Room("swing", _("Swing")),
    Room("labels", _("Labels")),
    Room("ledger", _("Ledger")),
    Room("security", _("Security log"), administrators=True),
    Room("backups", _("Backups"), administrators=True),
    Room("onboarding", _("Tables"), administrators=True),
    Room("release-wording", _("Release wording"), administrators=True),
    Room("trust", _("Certificate")),
    Room("own", _("Yourself")),
)


def light_of(request: HttpRequest) -> str:
    """Give the light that a hand chose here; nothing where the system's wish holds."""
    light = request.COOKIES.get(LIGHT_COOKIE, "")
    return light if light in LIGHTS else ""


def around_the_sheet(request: HttpRequest) -> dict[str, Any]:
    """Give every page what its frame shows."""
    visit = getattr(request, "visit", None)
    tablet = getattr(request, "tablet", None)
    return {
        "visit": visit if visit and not visit.locked else None,
        "locked_visit": visit if visit and visit.locked else None,
        "tablet": tablet,
        "rail": RAIL,
        "tabs": _tabs(visit),
        "light": light_of(request),
        "set_to": settings_of(request),
        "read_only": settings.READ_ONLY,
        # Looked at by the pages that show it alone.
        "disk_room": disk_room,
        "LANGUAGE_CODE": getattr(request, "LANGUAGE_CODE", settings.LANGUAGE_CODE),
        "is_demo": settings.IS_INVENTED,
        "idle_seconds": settings.IDLE_SECONDS,
        # Which fields the scripts keep nothing of: the same that the server keeps nothing of.
        "secrets": "|".join(SECRETS),
        # Each time it is asked for, another: one form, one command.
        "new_key": lambda: uuid4().hex,
    }


def _tabs(visit: Any) -> list[Room]:
    return [each for each in WORKSHOP_TABS if not each.administrators or (visit and visit.here.administers)]
