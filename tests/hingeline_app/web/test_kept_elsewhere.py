"""A head, a receipt and a worksheet that were kept outside: what the page says is what the command line finds."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from uuid import uuid4

import pytest
from django.conf import settings
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from hingeline_app.records.giving_heads import give_head, head_of
from hingeline_app.records.heads import Head, sign_head
from hingeline_app.records.keys import signing_key
from hingeline_app.records.looking.findings import Finding, Findings
from hingeline_app.records.models import Entry, Job, JobEntry
from hingeline_app.replaying.worked_out import worked_out_again
from hingeline_app.web.found_at_start import last_look
from hingeline_app.web.pages.records import kept_elsewhere
from tests.doors.checkouts import ROOT
from tests.hingeline_app.report.test_reading import rewritten
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = pytest.mark.django_db
EXAMPLE = ROOT / "examples" / "01-elevator-left-half.toml"
FOREIGN = "nothing was compared"
NOW = datetime(2027, 3, 12, tzinfo=UTC)


def told(client: Client, code: str) -> str:
    answer = client.post("/ledger/compare", {"code": code})
    assert answer.status_code == 200, answer.content.decode()[-2000:]
    return answer.content.decode()


@pytest.mark.parametrize("chain", ["records", "security"])
def test_a_head_of_either_chain_agrees_by_its_short_code(fenholt: Fenholt, chain: str) -> None:
    """The ledger's page shows both codes, and the one of the security chain was called a forgery of the records."""
    client = fenholt.client("jon")
    head = head_of(fenholt.workshop.pk, chain, NOW)
    assert head is not None
    page = told(client, head.short.lower())
    assert "The head agrees" in page
    # The entry of this number is shown where it is the head's own: a security entry is not one of the records.
    assert (f"Entry {head.position} <span>" in page) == (chain == "records")


def test_a_signed_head_agrees_and_leads_to_the_record_of_its_entry(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    job = Job.objects.get(number=fenholt.job)
    signed = give_head(fenholt.workshop.pk)
    assert signed is not None
    assert "The head agrees" in told(client, signed.code)
    told(client, "1")
    position = JobEntry.objects.filter(job=job.pk).values_list("position", flat=True).first()
    assert position is not None
    assert f'href="/records/{fenholt.job}"' in told(client, str(position))


def test_a_head_that_the_chain_does_not_give_is_named_and_holds_no_signature(fenholt: Fenholt) -> None:
    """What a person types must not stop a workshop from signing: only a look at the records themselves may."""
    client, before = fenholt.client("jon"), last_look()
    workshop, digest = str(fenholt.workshop.pk), "ab" * 32
    other = Head(workshop, "records", 1, digest, "2027-03-12T09:00:00.000Z")
    beyond = Head(workshop, "records", 99999, digest, "2027-03-12T09:00:00.000Z")
    foreign = Head(str(uuid4()), "records", 1, digest, "2027-03-12T09:00:00.000Z")
    key = signing_key(settings.DATA_FOLDER)
    for code, words in (
        (other.short, "another entry there"),
        (sign_head(other, key).code, "another entry there"),
        (beyond.short, "tail was cut off"),
        (sign_head(foreign, key).code, FOREIGN),
    ):
        page = told(client, code)
        assert ("Not proved" if words == FOREIGN else "The head does not agree") in page
        assert words in page
    assert last_look() == before


def test_a_receipt_is_compared_by_its_eight_characters(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    entry = Entry.objects.filter(workshop=fenholt.workshop, chain="records").order_by("position").first()
    assert entry is not None
    begins = entry.digest[:8]
    assert "The receipt agrees" in told(client, f"{entry.position}-{begins}")
    assert "The receipt does not agree" in told(client, f"{entry.position}-{begins[::-1][:7]}0")
    assert "No such entry" in told(client, "99999-00000000")
    assert "receipt" not in told(client, str(entry.position)).partition("<form")[0].partition('class="say')[2]


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ({}, "Give one of them"),
        ({"code": "128-7K3M-9QRS-TVWX-YZ01-D"}, "A character was misread"),
        ({"code": "x"}, "a head"),
    ],
)
def test_what_cannot_be_compared_is_refused_in_words(fenholt: Fenholt, given: dict[str, str], words: str) -> None:
    answer = fenholt.client("jon").post("/ledger/compare", given)
    assert answer.status_code == 422
    assert words in answer.content.decode()


def test_a_worksheet_is_worked_out_again_and_another_file_is_refused(fenholt: Fenholt, a_worksheet: bytes) -> None:
    """The sheet of the first example: same to the last digit, with the check sum to compare with the paper."""
    client = fenholt.client("jon")
    page = client.post("/ledger/compare", {"sheet": SimpleUploadedFile("w.pdf", a_worksheet)}).content.decode()
    assert "Same to the last digit" in page
    assert "Elevator, left half" in page
    refused = client.post("/ledger/compare", {"sheet": SimpleUploadedFile("w.pdf", b"%PDF-1.7\n\x00")})
    assert refused.status_code == 422


@pytest.mark.parametrize(
    ("factor", "words", "never"),
    [
        (1.0, ("Not proved", "No check sum could be read"), ("Same to the last digit", "does not compute")),
        (1.0 + 1e-13, ("Not the same", "Last digits alone differ"), ("does not compute",)),
        (1.01, ("Not the same", "does not compute"), ("Last digits alone",)),
    ],
)
def test_a_sheet_whose_paper_cannot_be_read_is_neither_proved_nor_called_a_forgery(
    fenholt: Fenholt, factor: float, words: tuple[str, ...], never: tuple[str, ...]
) -> None:
    """It was said to print another check sum, "None", and so to be changed; last digits were called a forgery."""
    asked = EXAMPLE.read_bytes()
    result = worked_out_again("hingeline/weighing-result/1", asked)
    result["static_moment"]["value"] *= factor
    sheet = rewritten({"weighing.toml": asked, "result.json": json.dumps(result).encode()})
    client = fenholt.client("jon")
    page = client.post("/ledger/compare", {"sheet": SimpleUploadedFile("w.pdf", sheet)}).content.decode()
    for each in words:
        assert each in page
    for each in (*never, "prints another check sum"):
        assert each not in page


def test_a_chain_that_is_broken_elsewhere_is_not_told_of_the_head(
    fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The head was still given; that the ledger is not whole is said as that, and nothing is said to agree."""
    broken = Findings("", {}, (), (Finding("chain", "records 9", "its entry was changed"),))
    monkeypatch.setattr(kept_elsewhere, "look_at_the_records", lambda *_places: broken)
    head = head_of(fenholt.workshop.pk, "records", NOW)
    assert head is not None
    page = told(fenholt.client("jon"), head.short)
    assert "Not as it should be" in page
    assert "records 9: its entry was changed" in page
    assert "The head does not agree" not in page
    assert "The head agrees" not in page


@pytest.fixture
def a_worksheet(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    from hingeline_app.cli.main import main

    out = tmp_path_factory.mktemp("sheet") / "w.pdf"
    assert main(["weigh", str(EXAMPLE), "--pdf", str(out), "--json"]) == 0
    return out.read_bytes()
