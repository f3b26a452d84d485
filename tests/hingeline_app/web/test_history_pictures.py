"""What was done between two weighings is known in whatever language the job was opened."""

from __future__ import annotations

from dataclasses import replace
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
    [
        *[("Painted", "painted"), ("Lackiert", "painted"), ("Peint", "painted"), ("Réparé: nervure", "repaired")],
        *[("Korrosion behandelt", "corrosion"), ("Weight or arm off", "weight off")],
    ],
)
def test_what_a_job_was_opened_for_is_recorded_work_in_every_language_of_the_pages(why_here: str, why: str) -> None:
    """The words are those of the page it was opened on; what was chosen is the same in all of them."""
    assert not seen(why_here, why).called_out


def test_a_change_with_no_work_recorded_between_is_called_out() -> None:
    """0.60 N m against ± 0.028 N m (k = 2): twice the root of 0.01 squared and 0.01 squared."""
    assert len(seen("Schwingungen gemeldet", "vibration").called_out) == 1


def again(**done: bool) -> HistoryOnPage:
    """Weigh twice in one job, 0.60 N m apart."""
    first = past(1, date(2026, 3, 1), 1.00, "Vibration reported", "vibration")
    second = replace(
        first, weighing=2, document=past(1, first.on, 1.60, "", "").document, is_first_of_job=False, **done
    )
    return history_on_page(SurfaceHistory(uuid4(), "Elevator", uuid4(), "D-EFHM", "Merle T2", (first, second), ()))


def test_a_second_weighing_of_a_job_is_a_correction_only_where_one_was_fitted() -> None:
    """Weighed again untouched, a change beyond the ± is called out as any other."""
    assert again().rows[1].work_before == "weighed again"
    assert len(again().called_out) == 1
    assert again(is_corrected=True).rows[1].work_before == "corrected, weighed again"
    assert again(is_treated=True).rows[1].work_before == "the arm treated, weighed again"
    assert not again(is_corrected=True).called_out


def test_another_piece_is_told_and_not_compared() -> None:
    weighings = past(1, date(2024, 3, 1), 1.0, "", ""), past(2, date(2026, 3, 1), 1.6, "cracked", "other")
    swapped = weighings[0], replace(weighings[1], is_other_piece=True)
    shown = history_on_page(SurfaceHistory(uuid4(), "Elevator", uuid4(), "D-EFHM", "Merle T2", swapped, ()))
    assert (shown.rows[1].work_before, shown.called_out) == ("another piece fitted", ())
