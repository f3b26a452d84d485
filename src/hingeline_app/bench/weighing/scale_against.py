"""Why no release rests on a weighing, as far as its scale goes: no certificate held that day, or it has no date."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from hingeline_app.records.certificates import ENDED, NO_DATE, NOT_YET, Certificate
from hingeline_app.records.queries.jobs import MeasurementRecord

# No statement is used: the scale had no certificate on the day of weighing.
NOT_CERTIFIED = frozenset({ENDED, NOT_YET})


def scale_against(weighing: MeasurementRecord | None) -> str:
    """Name what speaks against the scale of a weighing; empty where nothing does, or no scale was chosen."""
    return "" if weighing is None else scale_against_on(weighing.scale, weighing.begun_on)


def scale_against_on(scale: Mapping[str, Any] | None, on: date) -> str:
    """Name it for a scale on a day: the first and the last day of its certificate count."""
    if scale is None:
        return ""
    begins, expires = scale.get("certificate_begins"), scale.get("certificate_expires")
    return Certificate("", begins, expires, {}).against(on)


def is_not_used(weighing: MeasurementRecord | None) -> bool:
    """Whether the scale had no certificate on the day of weighing: whatever the statement is, it is not used."""
    return scale_against(weighing) in NOT_CERTIFIED


def why_not_used(weighing: MeasurementRecord) -> str:
    """Say in one sentence why the statement of a weighing cannot be used; empty where the scale is no reason."""
    scale = weighing.scale or {}
    name, begins, expires = scale.get("name"), scale.get("certificate_begins"), scale.get("certificate_expires")
    found = scale_against(weighing)
    if found == ENDED:
        return (f"This statement cannot be used: the certificate of {name} ended on {_day(expires)}. "
                "Weigh again on a scale whose certificate holds.")  # fmt: skip
    if found == NOT_YET:
        return (f"This statement cannot be used: the certificate of {name} begins on {_day(begins)}, after the "
                "day of weighing. Weigh again on a scale whose certificate holds.")  # fmt: skip
    if found == NO_DATE:
        return (f"No release rests on this statement yet: nobody entered until when the certificate of {name} holds. "
                "Enter its last day under Workshop, Scales.")  # fmt: skip
    return ""


def _day(day: Any) -> str:
    return f"{day.day} {day:%B %Y}"
