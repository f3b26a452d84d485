"""What has to be said of the scale beside a statement: none is chosen, its check weight fails or is due."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from hingeline_app.records.queries.equipment import ScaleRecord


def scale_said(scale: Mapping[str, Any] | None, record: ScaleRecord | None, weighed_on: date) -> tuple[str, ...]:
    """Give the sentences; none where the daily check held on the day of the weighing."""
    if scale is None:
        return ("No scale is chosen: its step and its calibration are not in the ±.",)
    name, said = scale["name"], []
    if record is not None and record.last_is_within is False:
        said.append(f"{name} showed {record.last_shown} under its check weight of {record.check_weight}: "
                    "do not rely on it until it is checked again.")  # fmt: skip
    elif record is not None and record.check_weight and (record.last_checked_on or date.min) < weighed_on:
        said.append(f"{name} was not checked on the day of this weighing: put its check weight on.")
    return tuple(said)
