"""Signing in, locking, proving again: what the door does, and what it writes down."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from typing import Any
from urllib.parse import urlencode

import pytest
from django.test import Client, RequestFactory

from hingeline_app.records.actions.accounts import close_account, set_pin
from hingeline_app.records.actions.people import add_person, person_leaves
from hingeline_app.records.actions.rights import give_right
from hingeline_app.records.models import Account, Entry, Person, Right
from hingeline_app.records.roles import ADMINISTRATOR, CERTIFYING, SECOND_INSPECTOR
from hingeline_app.records.sessions import SessionStore
from hingeline_app.web.proof import ProofRefused, fresh_proof, guest_proof
from tests.hingeline_app.web.conftest import PASSWORD, PIN, Fenholt

pytestmark = pytest.mark.django_db


def security(fenholt: Fenholt) -> list[str]:
    """Name what the security chain says, in order."""
    entries = Entry.objects.filter(workshop=fenholt.workshop, chain="security").order_by("position")
    return [entry.kind for entry in entries]


def pin_page(actor: Any) -> str:
    """Give the address where a person types the PIN."""
    return f"/sign-in/{actor.account.pk}"


def where(answer: Any) -> str:
    """Give where an answer sends."""
    return str(answer["Location"]).partition("?")[0]


def test_a_pin_opens_on_an_enrolled_tablet_only(fenholt: Fenholt) -> None:
    page = pin_page(fenholt.administrator)
    assert fenholt.client(on_tablet=True).post(page, {"pin": PIN}).status_code == 302
    assert fenholt.client().post(page, {"pin": PIN}).status_code == 404


def test_a_tablet_of_another_workshop_offers_none_of_these_people(fenholt: Fenholt, elsewhere: Any) -> None:
    client = fenholt.client(on_tablet=True)
    assert b"Otto Strand" not in client.get("/sign-in").content
    assert client.post(pin_page(elsewhere), {"pin": PIN}).status_code == 404


@pytest.mark.fault("F41")
def test_wrong_tries_are_counted_by_person_and_device(fenholt: Fenholt) -> None:
    """Five wrong PINs answer 429, then the right one too; another person here, and this one elsewhere, come in."""
    client, page = fenholt.client(on_tablet=True), pin_page(fenholt.administrator)
    answers = [client.post(page, {"pin": "111999"}).status_code for _ in range(5)]
    assert answers == [422, 422, 422, 422, 429]
    assert client.post(page, {"pin": PIN}).status_code == 429
    set_pin(fenholt.mate, fenholt.mate.account.pk, PIN)  # type: ignore[union-attr]
    assert client.post(pin_page(fenholt.mate), {"pin": PIN}).status_code == 302
    fenholt.client("mara")
    assert security(fenholt).count("turned away") == 4
    assert "locked out" in security(fenholt)


def test_who_is_locked_out_is_told_how_long_still_and_what_can_be_done(fenholt: Fenholt) -> None:
    """Five minutes after the last wrong try ten are left; a try meanwhile makes it no longer; the view is kept."""
    from axes.models import AccessAttempt

    client, page = fenholt.client(on_tablet=True), f"{pin_page(fenholt.administrator)}?next=%2Fbench%3Fq%3D1"
    for _ in range(5):
        client.post(page, {"pin": "111999"})
    AccessAttempt.objects.update(attempt_time=datetime.now(UTC) - timedelta(minutes=5, seconds=2))
    for typed in ("111999", PIN):
        answer = client.post(page, {"pin": typed})
        assert answer.status_code == 429
        assert 540 < int(answer["Retry-After"]) <= 598
        assert b"waits 10 minutes more on this device" in answer.content
        assert b"this person on another tablet, need not wait" in answer.content
        assert f'href="{page}"'.encode() in answer.content


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


@pytest.mark.parametrize("wanted", ["https://elsewhere.example/?a=1", "//elsewhere.example/", "javascript:alert(1)"])
def test_a_mark_of_a_person_leads_to_no_other_site(fenholt: Fenholt, wanted: str) -> None:
    marked = f"{fenholt.administrator.person.pk}:{wanted}"  # type: ignore[union-attr]
    answer = Client().post("/sign-in/password", {"sign_in_name": "mara", "password": PASSWORD, "next": marked})
    assert answer["Location"] == "/"


def test_two_accounts_of_one_person_are_one_person_to_the_counter(fenholt: Fenholt) -> None:
    from hingeline_app.records.actions.accounts import add_account

    add_account(fenholt.administrator, fenholt.administrator.person.pk, "mara2", PASSWORD)  # type: ignore[union-attr]
    client = fenholt.client()
    for name in ("mara", "mara2", "mara", "mara2", "mara"):
        answer = client.post("/sign-in/password", {"sign_in_name": name, "password": "wrong wrong wrong"})
    assert answer.status_code == 429
    assert client.post("/sign-in/password", {"sign_in_name": "mara2", "password": PASSWORD}).status_code == 429


def test_a_name_nobody_has_is_answered_like_a_wrong_password(fenholt: Fenholt) -> None:
    client = fenholt.client()
    known = client.post("/sign-in/password", {"sign_in_name": "mara", "password": "wrong wrong wrong"})
    unknown = client.post("/sign-in/password", {"sign_in_name": "nobody", "password": "wrong wrong wrong"})
    words = b"Sign-in name and password do not go together"
    assert known.status_code == unknown.status_code == 422
    assert words in known.content
    assert words in unknown.content


def test_signing_in_gives_a_new_session_key(fenholt: Fenholt) -> None:
    client = fenholt.client()
    client.post("/sign-in/passkey")
    before = client.cookies["__Host-session"].value
    client.post("/sign-in/password", {"sign_in_name": "mara", "password": PASSWORD})
    assert client.cookies["__Host-session"].value != before


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


def test_a_person_who_was_entered_is_the_next_page(fenholt: Fenholt) -> None:
    """The form says that roles and ways in come on the next page; it was the list."""
    sent = {"name": "Ida Quill", "initials": "IQ", "command_key": "k"}
    answer = fenholt.client("mara").post("/workshop/people/add", sent)
    assert where(answer) == f"/workshop/people/{Person.objects.get(name='Ida Quill').pk}"


def test_a_role_that_waits_for_a_second_administrator_is_said_in_the_list(fenholt: Fenholt) -> None:
    """The second one has to find it: it stood on the person's own page alone, and the list said "–"."""
    give_right(fenholt.administrator, fenholt.mate.person.pk, CERTIFYING)  # type: ignore[union-attr]
    shown = fenholt.client("mara").get("/workshop/people").content.decode()
    assert "certifying: waits for a second administrator" in shown


def test_a_role_that_begins_later_waits_for_its_day_and_for_nobody(fenholt: Fenholt) -> None:
    """Every role that did not count yet was said to wait for a second administrator."""
    right = give_right(fenholt.administrator, fenholt.mate.person.pk, SECOND_INSPECTOR)  # type: ignore[union-attr]
    Right.objects.filter(pk=right.pk).update(since=date(2999, 1, 2))
    client = fenholt.client("mara")
    for address in ("/workshop/people", f"/workshop/people/{fenholt.mate.person.pk}"):  # type: ignore[union-attr]
        shown = client.get(address).content.decode()
        assert "counts from 2999-01-02" in shown
        assert "waits for a second administrator" not in shown


def test_local_gravity_is_written_with_a_raised_two_and_kept_as_files_have_it(fenholt: Fenholt) -> None:
    client = fenholt.client("mara")
    for address in ("/workshop", "/workshop/change"):
        shown = client.get(address).content.decode().replace("\xa0", " ")
        assert "9.80665 m/s²" in shown
        assert "m/s^2" not in shown
    fenholt.workshop.refresh_from_db()
    assert fenholt.workshop.local_gravity == "9.80665 m/s^2"


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


@pytest.mark.fault("F14")
def test_the_same_form_sent_twice_is_one_entry(fenholt: Fenholt) -> None:
    """F14: a double press of one form enters one person; both presses are answered as done."""
    client = fenholt.client("mara")
    said = {"name": "Ida Quill", "initials": "IQ", "command_key": "one-key"}
    assert [client.post("/workshop/people/add", said).status_code for _ in range(2)] == [302, 302]
    assert Person.objects.filter(name="Ida Quill").count() == 1


@pytest.mark.fault("F41")
def test_who_leaves_is_out_with_the_next_request(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    assert client.get("/records").status_code == 200
    person_leaves(fenholt.administrator, fenholt.mate.person.pk)  # type: ignore[union-attr]
    assert where(client.get("/records")) == "/sign-in"


def test_the_reason_why_a_person_leaves_stands_in_the_ledger(fenholt: Fenholt) -> None:
    """The page asks for it and says so."""
    person = fenholt.mate.person.pk  # type: ignore[union-attr]
    answer = fenholt.client("mara").post(f"/workshop/people/{person}/leave", {"reason": "moved to the coast"})
    assert answer.status_code == 302
    assert "moved to the coast" in Entry.objects.get(workshop=fenholt.workshop, kind="person left").body


@pytest.mark.fault("F41")
def test_a_closed_account_is_out_with_the_next_request(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    close_account(fenholt.administrator, fenholt.mate.account.pk, "lost password")  # type: ignore[union-attr]
    assert where(client.get("/records")) == "/sign-in"


def test_a_role_that_ended_opens_no_page_any_more(fenholt: Fenholt) -> None:
    from hingeline_app.records.actions.rights import end_right

    right = give_right(fenholt.administrator, fenholt.mate.person.pk, ADMINISTRATOR)  # type: ignore[union-attr]
    client = fenholt.client("jon")
    assert client.get("/workshop/people/add").status_code == 200
    end_right(fenholt.administrator, right.pk, "for a day only")
    assert client.get("/workshop/people/add").status_code == 403


def test_administration_asks_for_a_password_after_a_pin_and_ten_minutes_later(
    fenholt: Fenholt, clock: Callable[[float], None]
) -> None:
    client = fenholt.client(on_tablet=True)
    client.post(pin_page(fenholt.administrator), {"pin": PIN})
    assert where(client.get("/workshop/people/add")) == "/prove"
    assert client.post("/prove", {"proof_password": "wrong wrong wrong"}).status_code == 422
    assert client.post("/prove", {"proof_password": PASSWORD}).status_code == 302
    assert client.get("/workshop/people/add").status_code == 200
    for _ in range(4):
        clock(3 * 60)
        client.get("/records")
    assert where(client.get("/workshop/people/add")) == "/prove"


def test_nobody_changes_the_pin_on_a_colleagues_open_page(fenholt: Fenholt) -> None:
    """Whoever finds a page that was opened by PIN has to know the password too: else a way in was theirs."""
    client = fenholt.client(on_tablet=True)
    client.post(pin_page(fenholt.administrator), {"pin": PIN})
    before = Account.objects.get(sign_in_name="mara").pin
    for answer in (client.get("/own/pin"), client.post("/own/pin", {"pin": "918273", "pin_again": "918273"})):
        assert where(answer) == "/prove"
    assert Account.objects.get(sign_in_name="mara").pin == before
    client.post("/prove", {"proof_password": PASSWORD})
    assert where(client.post("/own/pin", {"pin": "918273", "pin_again": "918273"})) == "/own"
    assert Account.objects.get(sign_in_name="mara").pin != before


def test_a_pin_set_by_an_administrator_is_good_once(fenholt: Fenholt) -> None:
    """It opens the door, leads to the choice of an own one, and the own one is no longer for once."""
    account = fenholt.mate.account
    assert account is not None
    set_pin(fenholt.administrator, account.pk, "482915")
    client = fenholt.client(on_tablet=True)
    assert client.post(pin_page(fenholt.mate), {"pin": "482915"}).status_code == 302
    assert where(client.get("/records")) == "/own/pin"
    client.post("/own/pin", {"pin": PIN, "pin_again": PIN})
    assert client.get("/records").status_code == 200
    assert not Account.objects.get(pk=account.pk).pin_is_for_once


def test_a_new_password_ends_the_other_sessions(fenholt: Fenholt) -> None:
    here, there = fenholt.client("mara"), fenholt.client("mara")
    new = "some other words for it"
    assert here.post("/own/password", {"new_password": new, "proof_password": PASSWORD}).status_code == 302
    assert here.get("/records").status_code == 200
    assert where(there.get("/records")) == "/sign-in"


def test_nobody_is_sent_to_another_site_after_signing_in(fenholt: Fenholt) -> None:
    for wanted in ("https://elsewhere.example/", "//elsewhere.example/", "javascript:alert(1)"):
        answer = Client().post("/sign-in/password", {"sign_in_name": "mara", "password": PASSWORD, "next": wanted})
        assert answer["Location"] == "/"


@pytest.mark.fault("F39")
def test_a_form_without_the_token_of_its_page_is_refused_and_noted(fenholt: Fenholt) -> None:
    """F39: a request forged from another site is answered 403."""
    client = Client(enforce_csrf_checks=True)
    assert client.post("/sign-in/password", {"sign_in_name": "mara", "password": PASSWORD}).status_code == 403
    assert security(fenholt)[-1] == "form from elsewhere refused"


def request_of(fenholt: Fenholt, said: dict[str, str]) -> Any:
    """Give a request as a page of the administrator gets it."""
    from hingeline_app.records.queries.at_the_door import here
    from hingeline_app.web.requests import Visit

    request: Any = RequestFactory().post("/sign", said)
    request.session, request.tablet = {}, fenholt.tablet
    person = fenholt.administrator.person
    assert person is not None
    request.visit = Visit(fenholt.administrator, here(person), "password", True, False)
    return request


def test_a_signature_takes_a_proof_of_now(fenholt: Fenholt) -> None:
    """The session alone proves nothing; the right password does, for this person and these bytes."""
    over = "ab" * 32
    for said in ({}, {"proof_password": "wrong wrong wrong"}, {"proof_assertion": "{}"}):
        with pytest.raises(ProofRefused, match="Mara Tarrow"):
            fresh_proof(request_of(fenholt, said), over)
    proof = fresh_proof(request_of(fenholt, {"proof_password": PASSWORD}), over)
    assert fenholt.administrator.person is not None
    assert (proof.person, proof.how, proof.over) == (fenholt.administrator.person.pk, "password", over)
    assert security(fenholt)[-4:] == ["identity not proved"] * 3 + ["identity proved"]


def test_a_right_proof_forgets_the_wrong_ones_before_it(fenholt: Fenholt) -> None:
    """Four wrong ones and a right one, twice over, lock nobody out."""
    for _ in range(2):
        for _ in range(4):
            with pytest.raises(ProofRefused):
                fresh_proof(request_of(fenholt, {"proof_password": "wrong wrong wrong"}))
        fresh_proof(request_of(fenholt, {"proof_password": PASSWORD}))


@pytest.mark.fault("F41")
def test_after_five_wrong_proofs_the_right_one_is_refused_too(fenholt: Fenholt) -> None:
    for _ in range(5):
        with pytest.raises(ProofRefused):
            fresh_proof(request_of(fenholt, {"proof_password": "wrong wrong wrong"}))
    with pytest.raises(ProofRefused):
        fresh_proof(request_of(fenholt, {"proof_password": PASSWORD}))


def test_a_guest_proves_by_licence_number(fenholt: Fenholt) -> None:
    guest = add_person(fenholt.administrator, "Pia Holm", "PH", licence_number="IS-77", is_guest=True)
    proof = guest_proof(request_of(fenholt, {}), "is-77")
    assert (proof.person, proof.account, proof.how) == (guest.pk, None, "licence number")
    with pytest.raises(ProofRefused, match="No guest"):
        guest_proof(request_of(fenholt, {}), "IS-78")


def test_the_page_where_certifying_is_given_explains_the_two_person_way(fenholt: Fenholt) -> None:
    """What a workshop of two does, and what one person alone cannot."""
    shown = fenholt.client("mara").get(f"/workshop/people/{fenholt.mate.person.pk}").content.decode()  # type: ignore[union-attr]
    assert "In a workshop of two: first give the second person the role of administrator" in shown
    assert "One person alone certifies nobody" in shown
