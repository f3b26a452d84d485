"""Wrong passwords and PINs, counted by person and device, written in turn with everything else."""

from __future__ import annotations

import math
from datetime import UTC, datetime
from typing import Any

from axes.handlers.database import AxesDatabaseHandler
from axes.models import AccessAttempt
from django.conf import settings
from django.db.models import Max
from django.http import HttpRequest

from hingeline_app.records.locking import one_writer
from hingeline_app.records.models import Account

LONGEST_NAME = 60


def person_and_device(request: HttpRequest, credentials: dict[str, Any] | None) -> str | None:
    """Name who is tried on which device; None where nobody is tried, which counts nothing."""
    name = (credentials or {}).get("username")
    return f"{_person(str(name))} on {device_of(request)}" if name else None


def device_of(request: HttpRequest) -> str:
    """Name the device: the enrolled tablet, else the address it comes from."""
    tablet = getattr(request, "tablet", None)
    return f"tablet {tablet.pk}" if tablet else f"address {request.META.get('REMOTE_ADDR', '')}"


def _person(name: str) -> str:
    """Two sign-in names of one person are one person; a name nobody has is itself."""
    account = Account.objects.filter(sign_in_name__iexact=name).first()
    return f"person {account.person_id}" if account else f"nobody {name[:LONGEST_NAME].lower()}"


def seconds_to_wait(request: HttpRequest, credentials: dict[str, Any] | None) -> int:
    """Say how long who is locked out here still waits: the whole time where nothing was counted."""
    tried = AccessAttempt.objects.filter(username=person_and_device(request, credentials))
    last = tried.aggregate(last=Max("attempt_time"))["last"]
    over = datetime.now(UTC) - last if last else settings.AXES_COOLOFF_TIME * 0
    return max(1, math.ceil((settings.AXES_COOLOFF_TIME - over).total_seconds()))


class AttemptsInTurn(AxesDatabaseHandler):  # type: ignore[misc]
    """The counter, behind the one lock of all writers."""

    def user_login_failed(self, *arguments: Any, **options: Any) -> None:
        """Count a wrong one."""
        with one_writer():
            super().user_login_failed(*arguments, **options)

    def user_logged_in(self, *arguments: Any, **options: Any) -> None:
        """Forget the wrong ones before a right one."""
        with one_writer():
            super().user_logged_in(*arguments, **options)


def forget_attempts(request: HttpRequest, account: Account) -> None:
    """Forget the wrong ones of a person on this device, after a right one."""
    with one_writer():
        AttemptsInTurn().reset_user_attempts(request, {"username": account.sign_in_name})
