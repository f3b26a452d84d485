"""People come, get rights, lose them and leave."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from hingeline.errors import InputRefused
from hingeline_app.records.actions.accounts import add_account, close_account, set_password, set_pin
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.people import add_person, correct_person, person_leaves
from hingeline_app.records.actions.rights import confirm_right, end_right, give_right
from hingeline_app.records.actions.security import SIGNED_IN, note_security
from hingeline_app.records.actions.tablets import enrol_tablet, withdraw_tablet
from hingeline_app.records.actions.workshop import change_workshop, set_up_workshop
from hingeline_app.records.canonical import digest_of
from hingeline_app.records.models import Account, Entry, Person, Right
from hingeline_app.records.permission import Matter
from hingeline_app.records.queries.people import people, tablet_of, tablets
from hingeline_app.records.queries.standing import may
from hingeline_app.records.queries.visible import Nowhere, visible_to
from hingeline_app.records.roles import ADMINISTRATOR, CERTIFYING, ENGINEER, OWNER, Act
from hingeline_app.records.ways_in import pin_is
from hingeline_app.records.write_door import Actor
from tests.hingeline_app.records.workshop import PASSWORD, Fenholt, added, with_role


def bodies(shop: Fenholt) -> str:
    return "\n".join(Entry.objects.filter(workshop=shop.workshop).values_list("body", flat=True))


def test_a_workshop_is_set_up_once(shop: Fenholt) -> None:
    with pytest.raises(InputRefused, match="set up before"):
        set_up_workshop("Second", person="X", initials="X", sign_in_name="x", password=PASSWORD)


def test_only_an_administrator_manages_people(shop: Fenholt) -> None:
    for actor in (shop.anna, shop.bo, shop.cy, shop.dora, Actor(shop.workshop)):
        with pytest.raises(NotAllowed):
            add_person(actor, "Gus Ray", "GR")
    assert not Person.objects.filter(name="Gus Ray").exists()


def test_a_closed_account_and_another_persons_account_act_for_nobody(shop: Fenholt) -> None:
    with pytest.raises(NotAllowed):
        add_person(Actor(shop.workshop, shop.fred.person, shop.anna.account), "Gus Ray", "GR")
    assert shop.ed.account is not None
    close_account(shop.fred, shop.ed.account.pk, "lost")
    shop.ed.account.refresh_from_db()
    with pytest.raises(NotAllowed):
        add_person(shop.ed, "Gus Ray", "GR")


def test_a_person_is_entered_once_by_licence_number(shop: Fenholt) -> None:
    """Written in another way it is the same number."""
    with pytest.raises(InputRefused, match="Anna Berg has it"):
        added(shop.fred, "Somebody Else", "SE", " fh.66.4 ")


def test_names_that_look_alike_are_asked_about(shop: Fenholt) -> None:
    with pytest.raises(InputRefused, match="looks like"):
        added(shop.fred, "Änna  Berg", "AB")
    assert add_person(shop.fred, "Änna Berg", "AB", although_alike=True).name == "Änna Berg"


@pytest.mark.parametrize("number", ["FH.66.\u04257", "FH\u200b66", "FH\u202e66"])
def test_a_licence_number_of_two_scripts_or_with_unseen_characters_is_refused(shop: Fenholt, number: str) -> None:
    with pytest.raises(InputRefused, match=r"U\+0425|U\+200B|U\+202E"):
        added(shop.fred, "Gus Ray", "GR", number)


def test_the_certifying_role_counts_once_a_second_administrator_agrees(shop: Fenholt) -> None:
    person = added(shop.fred, "Gus Ray", "GR", "FH.66.77")
    right = give_right(shop.fred, person.pk, CERTIFYING)
    assert not may(person, Act.WORK).allowed
    for actor in (shop.fred, shop.anna, shop.cy):
        with pytest.raises(NotAllowed):
            confirm_right(actor, right.pk)
    confirm_right(shop.ed, right.pk)
    assert may(person, Act.WORK).allowed


def test_a_role_begins_on_its_day_and_ends_when_ended(shop: Fenholt) -> None:
    person = added(shop.fred, "Gus Ray", "GR")
    later = date.today() + timedelta(days=30)
    right = give_right(shop.fred, person.pk, ENGINEER, since=later)
    assert not may(person, Act.WORK).allowed
    assert may(person, Act.WORK, on=later).allowed
    end_right(shop.fred, right.pk, "by mistake")
    assert not may(person, Act.WORK, on=later).allowed


def test_a_role_that_was_to_begin_later_ends_on_the_day_it_was_to_begin(shop: Fenholt) -> None:
    """It never held; a role that holds ends today."""
    later = date.today() + timedelta(days=30)
    person = added(shop.fred, "Gus Ray", "GR")
    ahead, held = give_right(shop.fred, person.pk, ENGINEER, since=later), give_right(shop.fred, person.pk, OWNER)
    assert end_right(shop.fred, ahead.pk, "by mistake").until == later
    assert end_right(shop.fred, held.pk, "by mistake").until == date.today()


def test_a_role_that_ended_is_not_agreed_to_and_the_first_who_agreed_stays(shop: Fenholt) -> None:
    """Only what nobody agreed to yet and still stands can be agreed to."""
    person = added(shop.fred, "Gus Ray", "GR")
    ended = give_right(shop.fred, person.pk, CERTIFYING)
    end_right(shop.fred, ended.pk, "by mistake")
    confirm_right(shop.ed, ended.pk)
    assert Right.objects.get(pk=ended.pk).confirmed_by is None
    third = with_role(shop, "Hal Moor", "HM", ADMINISTRATOR)
    again = give_right(shop.fred, person.pk, CERTIFYING)
    for second in (shop.ed, third):
        confirm_right(second, again.pk)
    assert Right.objects.get(pk=again.pk).confirmed_by == shop.ed.person


def test_the_last_administrator_cannot_go(shop: Fenholt) -> None:
    person_leaves(shop.fred, shop.ed.person.pk)
    own = Right.objects.get(person=shop.fred.person, role=ADMINISTRATOR)
    before = Entry.objects.count()
    for go in (
        lambda: person_leaves(shop.fred, shop.fred.person.pk),
        lambda: end_right(shop.fred, own.pk, "tired"),
        lambda: close_account(shop.fred, shop.fred.account.pk, "tired"),
    ):
        with pytest.raises(NotAllowed, match="last administrator"):
            go()
    assert Entry.objects.count() == before
    assert may(shop.fred.person, Act.MANAGE_PEOPLE).allowed


def test_who_leaves_loses_rights_and_accounts_and_stays_in_the_records(shop: Fenholt) -> None:
    person_leaves(shop.fred, shop.anna.person.pk)
    assert not may(shop.anna.person, Act.SEE).allowed
    assert not Account.objects.get(pk=shop.anna.account.pk).is_active
    assert Person.objects.get(pk=shop.anna.person.pk).name == "Anna Berg"
    with pytest.raises(NotAllowed):
        give_right(shop.fred, shop.anna.person.pk, ENGINEER)
    with pytest.raises(NotAllowed):
        add_account(shop.fred, shop.anna.person.pk, "anna2")


def test_a_licence_that_expired_signs_again_once_it_is_renewed(shop: Fenholt) -> None:
    matter = Matter(workshop=shop.workshop.pk)
    details = {"name": "Bo Lind", "initials": "BL", "licence_number": "FH.66.3"}
    correct_person(shop.fred, shop.bo.person.pk, "checked", licence_expires=date(2020, 1, 1), **details)
    assert "expired" in str(may(shop.bo.person, Act.INSPECT, matter).reason)
    correct_person(shop.fred, shop.bo.person.pk, "renewed", licence_expires=date(2999, 1, 1), **details)
    assert may(shop.bo.person, Act.INSPECT, matter).allowed


def test_a_guest_needs_a_licence_number_and_holds_no_role(shop: Fenholt) -> None:
    with pytest.raises(InputRefused, match="guest"):
        add_person(shop.fred, "Gus Ray", "GR", is_guest=True)
    guest = add_person(shop.fred, "Gus Ray", "GR", licence_number="XX.66.1", is_guest=True)
    with pytest.raises(NotAllowed):
        give_right(shop.fred, guest.pk, ENGINEER)
    with pytest.raises(NotAllowed):
        add_account(shop.fred, guest.pk, "gus")


def test_no_secret_reaches_the_ledger(shop: Fenholt) -> None:
    set_password(shop.anna, shop.anna.account.pk, "another hinge line, later")
    set_pin(shop.anna, shop.anna.account.pk, "271828")
    tablet = enrol_tablet(shop.fred, "Bench 1")
    account = Account.objects.get(pk=shop.anna.account.pk)
    written = bodies(shop)
    for secret in (
        "another hinge line",
        "271828",
        account.password,
        account.pin,
        tablet.token,
        digest_of(tablet.token.encode()),
    ):
        assert secret not in written
    assert account.check_password("another hinge line, later")
    assert pin_is(account, "271828")
    assert not pin_is(account, "271829")


def test_a_password_and_a_pin_are_set_by_their_owner_or_an_administrator(shop: Fenholt) -> None:
    with pytest.raises(NotAllowed):
        set_password(shop.bo, shop.anna.account.pk, PASSWORD)
    set_pin(shop.fred, shop.anna.account.pk, "271828")


@pytest.mark.parametrize(
    "pin", ["12345", "123456", "000000", "987654", "890123", "12a456", "１２３４５６", "", "1" * 13]
)
def test_a_weak_pin_is_refused_and_not_shown(shop: Fenholt, pin: str) -> None:
    with pytest.raises(InputRefused) as refused:
        set_pin(shop.anna, shop.anna.account.pk, pin)
    assert refused.value.refusals[0].value == "…"


@pytest.mark.parametrize("password", ["short", "aaaaaaaaaaaaaaaa", ""])
def test_a_weak_password_is_refused(shop: Fenholt, password: str) -> None:
    with pytest.raises(InputRefused):
        set_password(shop.anna, shop.anna.account.pk, password)


def test_a_withdrawn_tablet_is_unknown(shop: Fenholt) -> None:
    tablet, token = enrol_tablet(shop.fred, "Bench 1")
    digest = digest_of(token.encode())
    assert tablet_of(digest) == tablet
    withdraw_tablet(shop.fred, tablet.pk, "lost in the field")
    assert tablet_of(digest) is None
    assert tablets(shop.anna.person)[0].withdrawn_on is not None


def test_who_came_to_the_door_stands_in_a_chain_of_its_own(shop: Fenholt) -> None:
    receipt = note_security(shop.anna, SIGNED_IN, {"by": "password"})
    assert receipt.position == 1
    assert Entry.objects.get(chain="security").kind == SIGNED_IN


@pytest.mark.parametrize(
    "bad", [{"zone": "Mars/Base"}, {"local_gravity": "9.9 m/s^2"}, {"local_gravity": "nan"}, {"name": ""}]
)
def test_a_workshop_is_not_set_to_nonsense(shop: Fenholt, bad: dict[str, str]) -> None:
    good = {
        "name": "Fenholt",
        "approval_number": "",
        "authority": "",
        "local_gravity": "9.8135 m/s^2",
        "zone": "UTC",
        "language": "en",
    }
    with pytest.raises(InputRefused):
        change_workshop(shop.fred, **(good | bad))
    assert change_workshop(shop.fred, **good).local_gravity == "9.8135 m/s^2"


def test_people_are_listed_with_their_roles_in_few_queries(shop: Fenholt, django_assert_num_queries: object) -> None:
    with django_assert_num_queries(7):
        listed = people(shop.anna.person)
    assert {each.name: each.roles for each in listed}["Cy Vale"] == (CERTIFYING,)


def test_an_owner_and_a_stranger_see_no_people(shop: Fenholt) -> None:
    assert people(shop.dora.person) == []
    nobody = added(shop.fred, "Gus Ray", "GR")
    assert not visible_to(nobody, Person).exists()


@pytest.mark.parametrize("identifier", ["", "abc", "00000000-0000-0000-0000-000000000000"])
def test_what_is_not_there_is_nowhere(shop: Fenholt, identifier: str) -> None:
    with pytest.raises((Nowhere, InputRefused)):
        person_leaves(shop.fred, identifier)
