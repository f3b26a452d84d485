"""The ledger's page: what it says of a whole ledger, of one that was changed, and of one nobody looked at."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path

import pytest
from django.conf import settings

from hingeline_app.records import write_door
from hingeline_app.records.giving_heads import heads_file
from hingeline_app.records.looking.findings import ChainState, Finding, Findings
from hingeline_app.records.models import Entry
from hingeline_app.records.queries.clock_ahead import clock_ahead
from hingeline_app.web import found_at_start
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = pytest.mark.django_db


def looked(fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch, *found: Finding, known: bool = True) -> str:
    """Give the page after a look that found this."""
    chain = ChainState(str(fenholt.workshop.pk), "Fenholt", "records", 7, "", "", "ab", True, 1, "2027-03-12", 0)
    findings = Findings("2027-03-12T09:00:00Z", {}, (chain,) if known else (), found)
    monkeypatch.setattr(found_at_start, "_found", [findings])
    return fenholt.client("mara").get("/ledger").content.decode()


def test_a_look_that_found_nothing_says_since_when_it_is_whole(
    fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = looked(fenholt, monkeypatch)
    assert "Since when it is whole" in page
    assert "2027-03-12" in page
    assert not found_at_start.signing_is_held()


def test_a_changed_row_is_named_and_holds_signatures(fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch) -> None:
    page = looked(fenholt, monkeypatch, Finding("row", "person", "it was changed by hand"))
    assert "Nothing can be signed until this is mended" in page
    assert "it was changed by hand" in page
    assert found_at_start.signing_is_held()


def test_a_look_from_before_this_workshop_says_nothing_of_it(fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch) -> None:
    assert "Not looked at yet" in looked(fenholt, monkeypatch, known=False)


def test_a_signed_head_is_given_as_a_code_and_as_a_picture(fenholt: Fenholt) -> None:
    page = fenholt.client("mara").post("/ledger/head").content.decode()
    assert re.search(r"Given at \d{4}-\d\d-\d\d \d\d:\d\d\xa0UTC\.", page)
    assert 'class="code"' in page
    assert 'class="qr"' in page
    assert heads_file(fenholt.workshop.pk).exists()


def test_what_one_process_finds_holds_in_the_others(
    fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """A look that another process of the pages remembered since is the newest one here too."""
    monkeypatch.setattr(settings, "DATA_FOLDER", tmp_path)
    monkeypatch.setattr(found_at_start, "_found", [])
    monkeypatch.setattr(found_at_start, "_written", [])
    found_at_start.remember(Findings("2027-03-11T08:00:00Z", {}))
    assert not found_at_start.signing_is_held()
    later = Findings("2027-03-11T09:00:00Z", {}, (), (Finding("row", "Job 3", "it was changed"),))
    (tmp_path / "last-look.json").write_text(json.dumps(later.document()))
    os.utime(tmp_path / "last-look.json", (1, 1))
    assert found_at_start.signing_is_held()
    assert found_at_start.last_look() == later


@pytest.mark.fault("F07")
def test_a_clock_that_jumped_ahead_is_asked_about_on_the_ledger_and_in_the_hangar(
    fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Both pages ask; the button is the administrator's, and after it neither asks any more. Sent twice it is once."""
    mara, jon = fenholt.client("mara"), fenholt.client("jon")
    monkeypatch.setattr(write_door, "now_as_text", lambda: "2100-01-01T08:00:00.000Z")
    fenholt.client("jon")
    for client, button in ((mara, True), (jon, False)):
        page = client.get("/ledger").content.decode()
        assert "Is the clock right?" in page
        assert "2100-01-01" in page
        assert ("The clock is right: confirm" in page) == button
        assert "Is the clock right?" in client.get("/fleet").content.decode()
    of = clock_ahead(fenholt.workshop.pk).of  # type: ignore[union-attr]
    assert jon.post("/ledger/time", {"of": of}).status_code == 403
    for _ in range(2):
        assert mara.post("/ledger/time", {"of": of, "command_key": "k1"})["Location"] == "/ledger"
    assert Entry.objects.filter(kind="time confirmed").count() == 1
    assert "Is the clock right?" not in jon.get("/fleet").content.decode()
