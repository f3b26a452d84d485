"""Which hour it was: kept in UTC, shown in the workshop's zone with its name, the day by the workshop's own clock."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from hingeline_app.bench.on_paper.record_of import _signed
from hingeline_app.records import dates
from hingeline_app.records.models import Workshop
from hingeline_app.records.queries.job_record import SignedRecord

BERLIN = "Europe/Berlin"


def printed(at: datetime) -> str:
    """Give the hour as a worksheet prints it."""
    return _signed(SignedRecord("release", "Ruth", "FH.66.1", at, "password", "", (), True, ""), BERLIN).at


@pytest.mark.fault("F08")
def test_both_hours_of_a_doubled_one_differ() -> None:
    """On 25 October 2026 half past two came twice in Berlin; in print they differ, and so does the day's last hour."""
    assert printed(datetime(2026, 10, 25, 0, 30, tzinfo=UTC)) == "2026-10-25, 02:30 CEST"
    assert printed(datetime(2026, 10, 25, 1, 30, tzinfo=UTC)) == "2026-10-25, 02:30 CET"


@pytest.mark.fault("F08")
def test_an_hour_that_was_left_out_is_never_shown() -> None:
    """On 29 March 2026 two o'clock did not come in Berlin: the minute after 01:59 was 03:00."""
    assert printed(datetime(2026, 3, 29, 0, 59, tzinfo=UTC)) == "2026-03-29, 01:59 CET"
    assert printed(datetime(2026, 3, 29, 1, 0, tzinfo=UTC)) == "2026-03-29, 03:00 CEST"


@pytest.mark.fault("F08")
@pytest.mark.parametrize(("zone", "day"), [("UTC", 24), (BERLIN, 25), ("America/New_York", 24)])
def test_the_day_is_the_workshops_own(zone: str, day: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Half past ten in the evening by UTC is the next day in Berlin, whatever the machine's own zone."""
    monkeypatch.setenv("TZ", "Pacific/Auckland")
    monkeypatch.setattr(dates, "now", lambda: datetime(2026, 10, 24, 22, 30, tzinfo=UTC))
    assert dates.today(Workshop(zone=zone)) == date(2026, 10, day)
