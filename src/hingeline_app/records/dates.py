"""Which day it is in the workshop: its own zone decides, not the machine's."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

from hingeline_app.records.models import Workshop


def now() -> datetime:
    """Give the time, in UTC."""
    return datetime.now(UTC)


def today(workshop: Workshop) -> date:
    """Give the day in the workshop's zone."""
    return now().astimezone(ZoneInfo(workshop.zone)).date()
