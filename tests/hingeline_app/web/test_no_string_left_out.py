"""No page of the demonstration shows a sentence that only English readers get."""

from __future__ import annotations

import html
import json
import re
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from hingeline_app.demo.story import tell
from hingeline_app.records.models import Account, Entry
from hingeline_app.web.middleware import who_is_here
from tests.hingeline_app.web.brackets import CLOSED, OPENED, bracketed, left_out, rest_of
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = [pytest.mark.django_db, pytest.mark.slow]

STEPS = ("arrive", "limits", "weigh", "correct", "arm", "refit", "second-inspection", "release")
NOT_FOLLOWED = re.compile(
    r"/(sign-out|lock|switch|set-up|trust|sign-in)|\.(pdf|toml|ics|crt|json|csv|zip|xlsx)\b|^/static|^/photo"
)
# What stands as it is in every language, and is not typed by anybody here.
AS_IT_IS = frozenset({
    # names of the program, of what it writes and of where it runs; languages by their own names
    "Hingeline", "hingeline", "iCalendar", "testserver", "English", "Deutsch", "Français", "PIN", "UTC", "CET", "CEST",
    # a product of inertia over an inertia; the arrow for a kilopond
    "K/I", "kp",
    # columns of a recording's file
    "time_s", "plunge_mm", "pitch_deg", "surface_deg", "acceleration_m_s2",
    # a time zone by its name in the tables of zones
    "Europe/Berlin", "Letter",
})  # fmt: skip
# What a record holds is shown as it was written, field by field; keys, digests and places on disk.
AS_WRITTEN = re.compile(r"^[{[]|^hingeline/|^/tmp/|^[0-9a-f-]{8,}$|^\d+-[0-9a-f]{8}$|^[A-Z][A-Za-z_]+/[A-Z]")


def test_what_is_not_translated_stands_out() -> None:
    """The measure itself: a bracket hides, a number and a name stay, a bare word is seen."""
    page = f"<p>{OPENED}Inside{CLOSED} {OPENED}x{CLOSED} 2.1 mm Mara</p><p>left over</p><i title='read out'>Mara</i>"
    assert left_out(page, frozenset({"Mara", "2.1 mm Mara"})) == ["left over", "read out"]


@pytest.mark.parametrize(
    "step", ["arrive", "limits", "weigh", "correct", "arm", "refit", "second-inspection", "release"]
)
def test_a_new_job_s_steps_leave_nothing_out(fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    """Each step of a job that has nothing yet: what is asked, what is missing, what is in the way."""
    client = fenholt.client("jon", on_tablet=True)
    with bracketed(monkeypatch):
        page = client.get(f"/job/{fenholt.job}/{step}").content.decode()
    assert page.count(OPENED) > 30
    assert left_out(page, typed_texts() | AS_IT_IS) == []


@pytest.mark.campaign
def test_no_page_of_the_demonstration_leaves_a_string_out(
    db: None, tmp_path: Path, settings: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every page of each kind that an administrator's links lead to; what is left out is listed with its page."""
    settings.DATA_FOLDER, settings.JOURNAL_FOLDER = tmp_path, tmp_path / "journal"
    tell(lambda _words: None)
    typed = typed_texts() | AS_IT_IS
    with bracketed(monkeypatch):
        found = {each: address for address, page in pages() for each in left_out(page, typed)}
    found = {text: address for text, address in found.items() if not AS_WRITTEN.search(text)}
    assert found == {}, "\n".join(f"{address}: {rest_of(text)}" for text, address in found.items())


def typed_texts() -> frozenset[str]:
    """Give every text that somebody typed, as the ledger has it; a result's own words are not typed."""
    return frozenset(
        text for entry in Entry.objects.exclude(kind__contains="result") for text in _texts(json.loads(entry.body))
    )


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        for each in value.values():
            yield from _texts(each)
    elif isinstance(value, list):
        for each in value:
            yield from _texts(each)
    elif isinstance(value, str):
        yield value


def pages() -> Iterator[tuple[str, str]]:
    """Follow the links, two addresses of each kind."""
    client, waiting, seen = _administrator(), ["/"], []
    while waiting:
        address = waiting.pop()
        kind = re.sub(r"[0-9a-f]{8}-[0-9a-f-]{27}|\d+", "…", address.partition("?")[0].partition("#")[0])
        if seen.count(kind) >= 2:
            continue
        seen.append(kind)
        answer = client.get(address)
        if answer.status_code in (301, 302):
            waiting.append(answer["Location"])
        elif "html" in answer.get("Content-Type", ""):
            page = answer.content.decode()
            yield address, page
            links = [html.unescape(each) for each in re.findall(r'<a[^>]+href="(/[^"]*)"', page)]
            waiting += [each for each in links if not NOT_FOLLOWED.search(each)]


def _administrator() -> Client:
    client, now = Client(), time.time()
    client.force_login(Account.objects.get(person__name="Mara Tarrow"), "hingeline_app.records.ways_in.PasswordWay")
    session = client.session
    session.update({who_is_here.BEGAN: now, who_is_here.SEEN: now, who_is_here.HOW: "password",
                    who_is_here.PROVED: now, who_is_here.LOCKED: False})  # fmt: skip
    session.save()
    return client
