"""One door for reads: each table has its place there, and other workshops' rows do not exist."""

from __future__ import annotations

from typing import Any

import pytest
from django.apps import apps

from hingeline_app.records.models import Person, Right, Workshop
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.queries.standing import one_look
from hingeline_app.records.queries.visible import BELONGS, visible_to
from hingeline_app.records.roles import ROLES
from hingeline_app.records.write_door import Actor, write_door
from tests.hingeline_app.records.merle import merle, released
from tests.hingeline_app.records.workshop import Fenholt

TABLES = [model for model in apps.get_app_config("records").get_models() if issubclass(model, KeptRow)]


def test_every_table_says_how_its_rows_belong() -> None:
    assert set(TABLES) == set(BELONGS)


@pytest.mark.fault("F40")
def test_a_person_of_another_workshop_sees_no_row(shop: Fenholt) -> None:
    """A second workshop in one database is made beside the act, which refuses it."""
    released(merle(shop))
    workshop = Workshop(name="Elsewhere")
    stranger = Person(workshop=workshop, name="Max Stone", initials="MS")
    with write_door(Actor(workshop), "workshop set up") as entry:
        entry.keep(workshop)
        entry.keep(stranger)
        for role in ROLES:
            entry.keep(Right(person=stranger, role=role, since="2020-01-01", confirmed_by=stranger))
    own = {workshop.pk, stranger.pk, *stranger.rights.values_list("pk", flat=True)}
    for table in TABLES:
        assert {row.pk for row in visible_to(stranger, table)} <= own, table
        assert not {row.pk for row in visible_to(shop.cy.person, table)} & own, table


def test_an_owner_sees_nothing_of_anothers_aircraft(shop: Fenholt) -> None:
    released(merle(shop, owner=shop.fred))
    assert [table for table in TABLES if visible_to(shop.dora.person, table).exists()] == []


def test_what_a_person_is_is_read_once_a_look_and_anew_at_the_next(
    shop: Fenholt, django_assert_num_queries: Any
) -> None:
    """One look asks once, whatever it shows; who has left since sees nothing at the next look."""
    released(merle(shop))
    person = shop.cy.person
    assert person is not None
    with one_look():
        with django_assert_num_queries(2):
            visible_to(person, Right)
            visible_to(person, Workshop)
        with write_door(shop.cy, "person left") as entry:
            kept = Person.objects.get(pk=person.pk)
            kept.left_on = "2020-01-01"
            entry.keep(kept)
        assert visible_to(person, Workshop).exists(), "what this look shows is of one moment"
    assert not visible_to(person, Workshop).exists()
    with one_look():
        assert not visible_to(person, Workshop).exists()
