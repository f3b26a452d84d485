"""Numbers that count on: of jobs, orders, recordings, weighings."""

from __future__ import annotations

from typing import Any

from django.db import models


def next_number(table: type[models.Model], **among: Any) -> int:
    """Give the next number among some rows; the write door lets one writer in, so that none is given twice."""
    last: int | None = table._default_manager.filter(**among).aggregate(last=models.Max("number"))["last"]
    return (last or 0) + 1
