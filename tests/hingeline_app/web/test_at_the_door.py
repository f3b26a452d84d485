"""Signing in, locking, proving again: what the door does, and what it writes down."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from django.test import Client, RequestFactory

from hingeline_app.records.actions.accounts import set_pin
from hingeline_app.records.actions.people import add_person
from hingeline_app.records.models import Account, Entry
from hingeline_app.web.proof import ProofRefused, fresh_proof, guest_proof
from tests.hingeline_app.web.conftest import PASSWORD, PIN, Fenholt, where

pytestmark = pytest.mark.django_db


def security(fenholt: Fenholt) -> list[str]:
    """Name what the security chain says, in order."""
    entries = Entry.objects.filter(workshop=fenholt.workshop, chain="security").order_by("position")
    return [entry.kind for entry in entries]


def pin_page(actor: Any) -> str:
    """Give the address where a person types the PIN."""
    return f"/sign-in/{actor.account.pk}"


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


def test_local_gravity_is_written_with_a_raised_two_and_kept_as_files_have_it(fenholt: Fenholt) -> None:
    client = fenholt.client("mara")
    for address in ("/workshop", "/workshop/change"):
        shown = client.get(address).content.decode().replace("\xa0", " ")
        assert "9.80665 m/s²" in shown
        assert "m/s^2" not in shown
    fenholt.workshop.refresh_from_db()
    assert fenholt.workshop.local_gravity == "9.80665 m/s^2"


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
