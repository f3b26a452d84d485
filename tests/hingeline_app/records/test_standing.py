"""What a person is on a day: from which day a role counts, to which, and for how long it is remembered."""

from __future__ import annotations

from datetime import timedelta
from uuid import UUID

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.inspecting import look
from hingeline_app.records.actions.people import add_person, person_leaves
from hingeline_app.records.actions.rights import end_right, give_right
from hingeline_app.records.dates import today
from hingeline_app.records.models import Person
from hingeline_app.records.queries.standing import administrators, may, one_look, standing_of
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.roles import ENGINEER, Act
from hingeline_app.records.write_door import Actor
from tests.hingeline_app.records.workshop import Fenholt, added

DAY = timedelta(days=1)


def test_a_role_counts_from_its_first_day_to_the_day_before_it_ends(shop: Fenholt) -> None:
    person, day = added(shop.fred, "Gus Ray", "GR"), today(shop.workshop)
    right = give_right(shop.fred, person.pk, ENGINEER, since=day - 3 * DAY)
    end_right(shop.fred, right.pk, "moved on")
    days = {days: may(person, Act.WORK, on=day + days * DAY).allowed for days in (-4, -3, -1, 0, 1)}
    assert days == {-4: False, -3: True, -1: True, 0: False, 1: False}


def test_who_leaves_has_left_from_that_day_on(shop: Fenholt) -> None:
    """The day before, the person was still here, and an administrator counted."""
    day = today(shop.workshop)
    person_leaves(shop.fred, shop.ed.person.pk)
    person = Person.objects.get(pk=shop.ed.person.pk)
    assert [standing_of(person, day + days * DAY).has_left for days in (-1, 0, 1)] == [False, True, True]
    assert [person in administrators(shop.workshop, day + days * DAY) for days in (0, 1)] == [False, False]
    assert shop.fred.person in administrators(shop.workshop, day)


def test_one_look_reads_a_person_once_a_day_and_the_next_reads_anew(shop: Fenholt) -> None:
    """For what is only looked at: after the look, who was disabled is disabled."""
    anna, day = shop.anna.person, today(shop.workshop)
    with one_look():
        assert may(anna, Act.WORK).allowed
        with CaptureQueriesContext(connection) as again:
            assert may(anna, Act.WORK).allowed
        with CaptureQueriesContext(connection) as another_day:
            assert not standing_of(anna, day - 2 * DAY).roles
        with CaptureQueriesContext(connection) as another_person:
            assert standing_of(shop.cy.person, day).roles
    assert [len(each) for each in (again, another_day, another_person)] == [0, 2, 2]
    person_leaves(shop.fred, anna.pk)
    with one_look():
        assert not may(anna, Act.WORK).allowed
    with CaptureQueriesContext(connection) as outside:
        may(anna, Act.WORK)
        may(anna, Act.WORK)
    assert len(outside) == 4


def look_and_fail(person: Person) -> None:
    with one_look():
        assert may(person, Act.WORK).allowed
        raise ZeroDivisionError


def test_a_look_that_fails_is_forgotten_too(shop: Fenholt) -> None:
    with pytest.raises(ZeroDivisionError):
        look_and_fail(shop.anna.person)
    person_leaves(shop.fred, shop.anna.person.pk)
    assert not may(shop.anna.person, Act.WORK).allowed


def test_a_role_that_there_is_not_or_for_who_left_is_not_given(shop: Fenholt) -> None:
    with pytest.raises(InputRefused, match="engineer or second inspector"):
        give_right(shop.fred, shop.anna.person.pk, "captain")
    person_leaves(shop.fred, shop.anna.person.pk)
    with pytest.raises(NotAllowed, match="has left"):
        give_right(shop.fred, shop.anna.person.pk, "owner")


def test_a_finding_that_there_is_not_and_an_item_that_there_is_not(shop: Fenholt) -> None:
    """A word of its own is refused before anything is looked for; a guest finds nothing that is not there."""
    nothing = UUID(int=7)
    with pytest.raises(InputRefused, match="agreed"):
        look(shop.bo, nothing, "fine")
    person = add_person(shop.fred, "Gus Ray", "GR", licence_number="XX.66.1", is_guest=True)
    with pytest.raises(Nowhere):
        look(Actor(shop.workshop, person), nothing, "agreed")


def test_a_role_that_a_person_holds_is_not_given_twice(shop: Fenholt) -> None:
    """Anna is an engineer already; after that role ended she may be one again."""
    with pytest.raises(InputRefused, match="Anna Berg holds it already"):
        give_right(shop.fred, shop.anna.person.pk, ENGINEER)
    end_right(shop.fred, shop.anna.person.rights.get().pk, "away for a year")
    assert give_right(shop.fred, shop.anna.person.pk, ENGINEER).until is None
