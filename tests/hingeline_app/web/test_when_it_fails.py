"""When it fails: the right status, a plain page, nothing leaked, and it is noted."""

from __future__ import annotations

from typing import Any

import pytest
from django.template.loader import render_to_string
from django.test import Client

from hingeline_app.records.disk import NotAcknowledged
from hingeline_app.records.locking import Busy
from hingeline_app.records.models import Entry
from hingeline_app.records.second_place import OlderCopy
from hingeline_app.report.typesetters import SheetNotMade
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = pytest.mark.django_db


def failing(monkeypatch: pytest.MonkeyPatch, fault: Exception) -> None:
    """Let the list of people fail."""

    def fails(*_arguments: Any) -> None:
        raise fault

    monkeypatch.setattr("hingeline_app.web.pages.workshop.people.people", fails)


@pytest.mark.fault("F05", "F11", "F26", "F29", "F45")
@pytest.mark.parametrize(
    ("fault", "status", "words"),
    [
        (Busy("another save"), 503, b"your entries are still in the form"),
        (NotAcknowledged("not saved: disk full"), 507, b"do not count on them"),
        (OlderCopy("the journal ends at entry 7"), 503, b"older copy"),
        (RuntimeError("secret-detail"), 500, b"A fault of the program"),
        (SheetNotMade("stopped after 60 s"), 503, b"What was recorded stands"),
    ],
)
def test_a_fault_is_a_plain_page(
    fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch, fault: Exception, status: int, words: bytes
) -> None:
    client = fenholt.client("mara")
    client.raise_request_exception = False
    failing(monkeypatch, fault)
    answer = client.get("/workshop/people")
    assert answer.status_code == status
    assert words in answer.content
    assert b"secret-detail" not in answer.content
    assert b"Traceback" not in answer.content


@pytest.mark.fault("F45")
def test_a_fault_of_ours_is_noted_with_the_number_that_the_page_shows(
    fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch
) -> None:
    client = fenholt.client("mara")
    client.raise_request_exception = False
    failing(monkeypatch, RuntimeError("secret-detail"))
    client.cookies["light"] = "night"
    shown = client.get("/workshop/people").content.decode()
    assert 'data-light="night"' in shown
    last = Entry.objects.filter(chain="security").latest("position")
    number = last.body.partition('"number":"')[2][:8]
    assert len(number) == 8
    assert number in shown
    assert "secret-detail" not in last.body


@pytest.mark.fault("F11", "F45")
def test_a_fault_before_any_page_is_a_plain_page_too(fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch) -> None:
    """Sessions are saved after the page: a held lock there is answered as busy, not as a trace."""

    def held(*_arguments: Any, **_options: Any) -> None:
        raise Busy("another save is still being written")

    client = fenholt.client("mara")
    client.raise_request_exception = False
    monkeypatch.setattr("hingeline_app.records.sessions.SessionStore.save", held)
    assert client.post("/own/passkey/options").status_code == 503


@pytest.mark.fault("F20")
def test_what_is_too_large_is_refused_before_it_is_read(fenholt: Fenholt) -> None:
    """F20: an announced 20 GB is answered 413 at once; so is a form of 2 MB."""
    client = fenholt.client("mara")
    client.raise_request_exception = False
    assert client.post("/draft", {"a": "b"}, headers={"content-length": str(20 * 1024**3)}).status_code == 413
    assert client.post("/draft", "a=" + "b" * 2_000_000, "application/x-www-form-urlencoded").status_code == 413


@pytest.mark.parametrize("page", ["/", "/sign-in/password", "/trust", "/workshop/people", "/nowhere"])
def test_every_page_carries_the_headers(fenholt: Fenholt, page: str) -> None:
    """Policy, nosniff, referrer, no framing, no store; cookies are host-only, secure, unseen by scripts."""
    client = fenholt.client("mara")
    answer = client.get(page, secure=True)
    policy = answer["Content-Security-Policy"]
    for part in ("default-src 'self'", "script-src 'self'", "style-src 'self'", "object-src 'none'",
                 "base-uri 'none'", "frame-ancestors 'none'", "form-action 'self'"):  # fmt: skip
        assert part in policy
    assert "unsafe" not in policy
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Referrer-Policy"] == "same-origin"
    assert answer["X-Frame-Options"] == "DENY"
    assert answer["Cache-Control"] == "no-store"
    assert answer["Strict-Transport-Security"].startswith("max-age=")
    session = client.cookies["__Host-session"]
    assert session["secure"]
    assert session["httponly"]
    assert session["samesite"] == "Strict"
    assert session["path"] == "/"


def test_no_page_carries_inline_script_or_style(fenholt: Fenholt) -> None:
    import re

    client = fenholt.client("mara")
    for page in ("/records", "/workshop", "/workshop/people", "/workshop/people/add", "/own", "/ledger", "/trust"):
        text = client.get(page).content.decode()
        assert not re.search(r"\sstyle=|<style|\son[a-z]+=|javascript:", text), page
        assert all("src=" in tag for tag in re.findall(r"<script[^>]*>", text)), page


def test_an_address_of_another_host_is_refused(fenholt: Fenholt) -> None:
    client = Client(raise_request_exception=False)
    assert client.get("/", headers={"host": "elsewhere.example"}).status_code == 400


def test_the_sign_of_what_was_not_taken_is_not_that_of_outside() -> None:
    """A dot beyond a bracket says that a moment lies outside its limits: a refused form said it too."""
    drawn = {name: render_to_string("web/sign.html", {"sign": name}) for name in ("fault", "kept")}
    assert "<circle" not in drawn["fault"]
    assert drawn["fault"] != drawn["kept"]
