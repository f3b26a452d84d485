"""The people of a workshop on the pages: entered, given a role, gone."""

from __future__ import annotations

from datetime import date

import pytest

from hingeline_app.records.actions.accounts import close_account
from hingeline_app.records.actions.people import person_leaves
from hingeline_app.records.actions.rights import give_right
from hingeline_app.records.models import Entry, Person, Right
from hingeline_app.records.roles import ADMINISTRATOR, CERTIFYING, SECOND_INSPECTOR
from tests.hingeline_app.web.conftest import Fenholt, where

pytestmark = pytest.mark.django_db


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


def test_the_page_where_certifying_is_given_explains_the_two_person_way(fenholt: Fenholt) -> None:
    """What a workshop of two does, and what one person alone cannot."""
    shown = fenholt.client("mara").get(f"/workshop/people/{fenholt.mate.person.pk}").content.decode()  # type: ignore[union-attr]
    assert "In a workshop of two: first give the second person the role of administrator" in shown
    assert "One person alone certifies nobody" in shown
