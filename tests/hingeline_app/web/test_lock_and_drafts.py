"""A page that is locked or left: the view that comes back, what was typed into it, and whose it is."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any
from urllib.parse import urlencode

import pytest
from django.test import Client

from hingeline_app.records.actions.rights import give_right
from hingeline_app.records.models import Person
from hingeline_app.records.roles import ADMINISTRATOR
from hingeline_app.records.sessions import SessionStore
from tests.hingeline_app.web.conftest import PASSWORD, PIN, Fenholt, where

pytestmark = pytest.mark.django_db


def test_a_lock_comes_back_to_the_view_that_was_left(fenholt: Fenholt, clock: Callable[[float], None]) -> None:
    """Page and query: an idle session's next request, the button Lock, and what is asked once more for a proof."""
    client, view = fenholt.client("mara"), "/bench?of=7&x=a%20b"
    assert b'name="next" value="/bench?of=7&amp;x=a%20b"' in client.get(view).content
    clock(6 * 60)
    lock = client.get(view)["Location"]
    whose = fenholt.administrator.person.pk  # type: ignore[union-attr]
    assert lock == f"/lock?{urlencode({'next': f'{whose}:{view}'})}"
    assert client.post(lock, {"proof_password": PASSWORD})["Location"] == view


@pytest.mark.slow
@pytest.mark.parametrize(("name", "opened"), [("mara", "/bench?of=7&x=a%20b"), ("jon", "/bench")])
def test_what_was_typed_into_an_address_comes_back_to_its_person_only(
    fenholt: Fenholt, clock: Callable[[float], None], name: str, opened: str
) -> None:
    """After a session that is over, and one that was locked before, the next person's sign-in opens the page alone."""
    view, locked, left_open = "/bench?of=7&x=a%20b", fenholt.client("mara"), fenholt.client("mara")
    clock(6 * 60)
    lock = locked.get(view)["Location"]
    clock(13 * 3600)
    for client, asked in ((locked, lock), (left_open, view)):
        door = client.get(asked)["Location"].replace("/sign-in", "/sign-in/password", 1)
        assert client.post(door, {"sign_in_name": name, "password": PASSWORD})["Location"] == opened
    somebody_was_here = Client()
    somebody_was_here.cookies["__Host-form"] = "of a form"
    unknown = somebody_was_here.get(view)["Location"]
    assert unknown == f"/sign-in?{urlencode({'next': '/bench'})}", "nobody knows who typed it"


def test_a_link_opened_where_nobody_of_us_ever_was_keeps_all_of_it(fenholt: Fenholt) -> None:
    """`?weighing=1` is another page than the last weighing. Once somebody signed in here, it may have been typed."""
    link, browser = "/bench?of=7&x=a%20b", Client()
    door = browser.get(link)["Location"].replace("/sign-in", "/sign-in/password", 1)
    assert browser.post(door, {"sign_in_name": "mara", "password": PASSWORD})["Location"] == link
    browser.post("/switch")
    # A browser drops a cookie that is over; this one keeps it, emptied.
    del browser.cookies["__Host-session"]
    assert browser.cookies, "what says that somebody was here outlives a session"
    assert all(int(each["max-age"]) > 3e7 for each in browser.cookies.values())
    assert browser.get(link)["Location"] == f"/sign-in?{urlencode({'next': '/bench'})}"


def test_who_came_in_by_another_tab_opens_no_address_of_the_one_before(fenholt: Fenholt) -> None:
    """A page of Mara's that locks itself, or waits at the door, while Jon is in: the page, without what she typed."""
    hers = f"{fenholt.administrator.person.pk}:/bench?of=7#there"  # type: ignore[union-attr]
    for name, opened in (("jon", "/bench"), ("mara", "/bench?of=7#there")):
        for door in ("/lock", "/sign-in"):
            assert fenholt.client(name).get(f"{door}?{urlencode({'next': hers})}")["Location"] == opened
    assert fenholt.client("jon").get(f"/lock?{urlencode({'next': '/bench?of=7'})}")["Location"] == "/bench"


def test_what_a_page_sends_by_itself_is_not_taken_from_another_person(fenholt: Fenholt) -> None:
    """Its draft, its lock, its live parts: each names whose page it is, and Jon's visit answers none of them."""
    jon, hers = fenholt.client("jon"), {"X-Entry-Person": str(fenholt.administrator.person.pk)}  # type: ignore[union-attr]
    for answer in (
        jon.post("/draft", {"draft_page": "/bench", "remark": "hers"}, headers=hers),
        jon.post("/lock/now", headers=hers),
        jon.get("/bench", headers={**hers, "X-Live": "1"}),
    ):
        assert answer.status_code == 401
        assert answer.json() == {"state": "other"}
    assert jon.get("/bench").status_code == 200


@pytest.mark.slow
def test_an_idle_session_is_locked_and_over_after_twelve_hours(
    fenholt: Fenholt, clock: Callable[[float], None]
) -> None:
    client = fenholt.client("mara")
    clock(4 * 60)
    assert client.get("/records").status_code == 200
    clock(5 * 60 + 30)
    assert where(client.get("/records")) == "/lock"
    assert client.post("/lock", {"proof_password": PASSWORD}).status_code == 302
    assert client.get("/records").status_code == 200
    for _ in range(160):
        clock(4.6 * 60)
        client.get("/records")
    assert where(client.get("/records")) == "/sign-in"


def test_an_answer_that_takes_long_takes_no_lock_away(
    fenholt: Fenholt, clock: Callable[[float], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A piece of an upload is begun, the page is locked meanwhile: at its end the session is locked still."""
    client = fenholt.client("mara")
    clock(60)

    def locked_meanwhile(request: Any, who: Any) -> Any:
        other = SessionStore(request.session.session_key)
        other["locked"] = True
        other.save()
        return None

    with monkeypatch.context() as patched:
        patched.setattr("hingeline_app.web.middleware.who_is_here._door", locked_meanwhile)
        assert client.get("/records").status_code == 200
    assert where(client.get("/records")) == "/lock"


@pytest.mark.fault("F17")
def test_a_form_sent_too_late_waits_for_the_same_person_only(fenholt: Fenholt, clock: Callable[[float], None]) -> None:
    """F17: same form, same values, labelled as not kept; nothing was entered; another administrator sees none of it."""
    give_right(fenholt.administrator, fenholt.mate.person.pk, ADMINISTRATOR)  # type: ignore[union-attr]
    client, page = fenholt.client("mara"), "/workshop/people/add"
    clock(6 * 60)
    assert where(client.post(page, {"name": "Ida Quill", "initials": "IQ", "command_key": "k"})) == "/lock"
    assert not Person.objects.filter(name="Ida Quill").exists()
    assert b"Ida Quill" not in fenholt.client("jon").get(page).content
    client.post("/lock", {"proof_password": PASSWORD})
    left = client.get(page).content
    assert b'value="Ida Quill"' in left
    assert b"They are not kept yet" in left
    client.post(page, {"name": "Ida Quill", "initials": "IQ", "command_key": "k"})
    assert Person.objects.filter(name="Ida Quill").count() == 1
    assert b'value="Ida Quill"' not in client.get(page).content


def test_no_secret_is_ever_left_as_a_draft(fenholt: Fenholt) -> None:
    client = fenholt.client("mara")
    sent = {"draft_page": "/own/password", "new_password": "x" * 20, "pin": PIN, "proof_over": "y", "name": "Ida"}
    assert client.post("/draft", sent).status_code == 204
    from hingeline_app.records.models import Draft

    assert json.loads(Draft.objects.get().fields) == {"name": ["Ida"]}


def test_signing_out_removes_the_drafts(fenholt: Fenholt) -> None:
    from hingeline_app.records.models import Draft

    client = fenholt.client("mara")
    client.post("/draft", {"draft_page": "/workshop/people/add", "name": "Ida"})
    client.post("/sign-out")
    assert not Draft.objects.exists()
