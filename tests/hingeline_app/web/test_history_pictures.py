"""What was done between two weighings is known in whatever language the job was opened."""

from __future__ import annotations

from datetime import date
from typing import Any
from uuid import uuid4

import pytest

from hingeline_app.records.queries.records_search import PastWeighing, SurfaceHistory
from hingeline_app.web.history_pictures import HistoryOnPage, history_on_page


def past(number: int, on: date, moment: float, why_here: str, why: str) -> PastWeighing:
    document: dict[str, Any] = {"static_moment": {"value": moment, "standard_uncertainty": 0.01}}
    return PastWeighing(number, 1, on, number, document, why_here, is_first_of_job=True, why=why)


def seen(why_here: str, why: str) -> HistoryOnPage:
    weighings = past(1, date(2024, 3, 1), 1.00, "", ""), past(2, date(2026, 3, 1), 1.60, why_here, why)
    return history_on_page(SurfaceHistory(uuid4(), "Elevator", uuid4(), "D-EFHM", "Merle T2", weighings, ()))


@pytest.mark.parametrize(
    ("why_here", "why"),
    [("Painted", "painted"), ("Lackiert", "painted"), ("Peint", "painted"), ("Réparé: nervure", "repaired")],
)
def test_paint_and_repair_are_recorded_work_in_every_language_of_the_pages(why_here: str, why: str) -> None:
    """The words are those of the page it was opened on; what was chosen is the same in all of them."""
    assert not seen(why_here, why).called_out


def test_a_change_with_no_work_recorded_between_is_called_out() -> None:
    """0.60 N m against ± 0.028 N m (k = 2): twice the root of 0.01 squared and 0.01 squared."""
    assert len(seen("Schwingungen gemeldet", "vibration").called_out) == 1
