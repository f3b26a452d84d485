"""Rows of limits: typed by one person, typed again blind by another."""

from __future__ import annotations

from datetime import date
from uuid import UUID

import pytest

from hingeline.errors import InputRefused
from hingeline_app.records.actions.accounts import add_account
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.limits import (
    add_document,
    add_issue,
    enter_limits,
    finish_draft,
    look_again,
    read_again,
)
from hingeline_app.records.actions.people import person_leaves
from hingeline_app.records.actions.rights import end_right, give_right
from hingeline_app.records.models import Issue, LimitRow, Person, Right
from hingeline_app.records.queries.approved_data import row_on_page, uses_on_page
from hingeline_app.records.queries.limits import RowRecord, rows_of_limits
from hingeline_app.records.queries.two_readings import differences
from hingeline_app.records.roles import ENGINEER
from hingeline_app.records.write_door import Actor
from tests.hingeline_app.records.merle import PRINTED, merle, weighed
from tests.hingeline_app.records.workshop import PASSWORD, Fenholt, with_role


@pytest.fixture
def issue(shop: Fenholt) -> Issue:
    document = add_document(shop.anna, "Maintenance manual", "MM-27", "Merle T2")
    return add_issue(shop.anna, document.pk, "4", date(2024, 3, 1))


@pytest.fixture
def row(shop: Fenholt, issue: Issue) -> LimitRow:
    return enter_limits(shop.anna, issue.pk, "Elevator, left half", "27-11", PRINTED)


def row_as_seen(viewer: Person, row: UUID) -> RowRecord:
    """Give one row as a person may see it."""
    return next(each for each in rows_of_limits(viewer) if each.identifier == row)


def test_the_first_reading_is_hidden_from_whoever_is_to_read_it_again(shop: Fenholt, row: LimitRow) -> None:
    for actor in (shop.bo, shop.cy, shop.ed):
        assert row_as_seen(actor.person, row.pk).printed is None
    assert row_as_seen(shop.anna.person, row.pk).printed == PRINTED


def test_two_persons_who_read_the_same_make_it_read_twice(shop: Fenholt, row: LimitRow) -> None:
    assert row.state == "read once"
    spaced = PRINTED | {"moment": ["0.00  N m", "2.10 N m "]}
    assert read_again(shop.bo, row.pk, spaced).state == "read twice"
    assert row_as_seen(shop.cy.person, row.pk).printed is not None


def test_the_same_person_cannot_be_the_second_whichever_account(shop: Fenholt, issue: Issue) -> None:
    row = enter_limits(shop.cy, issue.pk, "Rudder", "27-12", PRINTED)
    second = add_account(shop.fred, shop.cy.person.pk, "cy-second", PASSWORD)
    for actor in (shop.cy, Actor(shop.workshop, shop.cy.person, second)):
        with pytest.raises(NotAllowed, match="yourself"):
            read_again(actor, row.pk, PRINTED)
    assert LimitRow.objects.get(pk=row.pk).state == "read once"


def test_an_engineer_does_not_confirm(shop: Fenholt, row: LimitRow) -> None:
    with pytest.raises(NotAllowed):
        read_again(with_role(shop, "Gus Ray", "GR", "engineer", "FH.66.77"), row.pk, PRINTED)


@pytest.mark.parametrize("slip", [["0.00 N m", "21.0 N m"], ["0.00 N m", "2.1 N m"], ["0.00 N cm", "2.10 N m"]])
def test_what_differs_is_shown_and_neither_is_preferred(shop: Fenholt, row: LimitRow, slip: list[str]) -> None:
    """A slip of ten, a digit less, another unit."""
    again = read_again(shop.bo, row.pk, PRINTED | {"moment": slip})
    assert again.state == "read once"
    assert again.agreed is None
    for actor in (shop.anna, shop.bo):
        (difference,) = row_as_seen(actor.person, row.pk).differences
        assert difference == ("moment", PRINTED["moment"], slip)


def test_both_look_again_until_they_read_the_same(shop: Fenholt, row: LimitRow) -> None:
    slip = PRINTED | {"moment": ["0.00 N m", "21.0 N m"]}
    read_again(shop.bo, row.pk, slip)
    with pytest.raises(NotAllowed):
        look_again(shop.cy, row.pk, PRINTED)
    with pytest.raises(NotAllowed):
        read_again(shop.cy, row.pk, PRINTED)
    assert look_again(shop.anna, row.pk, PRINTED).state == "read once"
    settled = look_again(shop.bo, row.pk, PRINTED)
    assert (settled.state, settled.agreed) == ("read twice", PRINTED)
    assert settled.readings.count() == 4


def test_one_who_types_what_the_other_read_settles_nothing_alone(shop: Fenholt, row: LimitRow) -> None:
    """The row would look like read by two, and a slip of ten would carry a release."""
    slip = PRINTED | {"moment": ["0.00 N m", "21.0 N m"]}
    read_again(shop.bo, row.pk, slip)
    agreed = look_again(shop.anna, row.pk, slip)
    assert (agreed.state, agreed.agreed) == ("read once", None)
    shown = row_as_seen(shop.bo.person, row.pk)
    assert shown.differences == ()
    assert shown.is_unsettled, "no statement rests on it"
    assert row_on_page(shop.cy.person, row.pk).looks_again == (shop.bo.person.name,)
    assert look_again(shop.bo, row.pk, PRINTED).state == "read once", "they differ again, the other way round"
    assert look_again(shop.anna, row.pk, PRINTED).state == "read once", "both looked, and differed: both look once more"
    assert look_again(shop.bo, row.pk, PRINTED).state == "read twice"


def test_one_who_gives_in_after_both_looked_settles_nothing_alone(shop: Fenholt, row: LimitRow) -> None:
    """Both stand by what they read; then one types what the other has: nobody looked since they differed last."""
    slip = PRINTED | {"moment": ["0.00 N m", "21.0 N m"]}
    read_again(shop.bo, row.pk, slip)
    look_again(shop.anna, row.pk, PRINTED)
    look_again(shop.bo, row.pk, slip)
    assert set(row_on_page(shop.cy.person, row.pk).looks_again) == {shop.anna.person.name, shop.bo.person.name}
    gave_in = look_again(shop.anna, row.pk, slip)
    assert (gave_in.state, gave_in.agreed) == ("read once", None)
    assert row_as_seen(shop.bo.person, row.pk).is_unsettled, "no statement rests on it"
    settled = look_again(shop.bo, row.pk, slip)
    assert (settled.state, settled.agreed) == ("read twice", slip)


def test_where_one_of_two_who_differ_has_left_another_takes_the_place(shop: Fenholt, row: LimitRow) -> None:
    """Nobody would look again, and the row could never be settled."""
    slip = PRINTED | {"moment": ["0.00 N m", "21.0 N m"]}
    read_again(shop.bo, row.pk, slip)
    look_again(shop.bo, row.pk, PRINTED)
    person_leaves(shop.fred, shop.anna.person.pk)
    assert row_on_page(shop.cy.person, row.pk).waits_for_another
    settled = read_again(shop.cy, row.pk, PRINTED)
    assert (settled.state, settled.first_reader, settled.second_reader) == (
        "read twice", shop.bo.person, shop.cy.person,
    )  # fmt: skip


def test_who_is_the_first_since_another_left_looks_again_too(shop: Fenholt, row: LimitRow) -> None:
    """A second inspector enters no rows: nobody could have settled what a third read otherwise."""
    slip = PRINTED | {"moment": ["0.00 N m", "21.0 N m"]}
    read_again(shop.bo, row.pk, slip)
    person_leaves(shop.fred, shop.anna.person.pk)
    assert read_again(shop.cy, row.pk, PRINTED).state == "read once"
    assert look_again(shop.bo, row.pk, PRINTED).state == "read once"
    assert look_again(shop.cy, row.pk, PRINTED).state == "read twice"


def test_where_one_of_two_who_differ_may_read_no_more_another_takes_the_place(shop: Fenholt, row: LimitRow) -> None:
    """An inspector who is an engineer now: nobody could look again, and nobody take the place."""
    read_again(shop.bo, row.pk, PRINTED | {"moment": ["0.00 N m", "21.0 N m"]})
    assert shop.bo.person is not None
    as_inspector = Right.objects.get(person=shop.bo.person).pk
    give_right(shop.fred, shop.bo.person.pk, ENGINEER)
    end_right(shop.fred, as_inspector, "took other work")
    with pytest.raises(NotAllowed):
        look_again(shop.bo, row.pk, PRINTED)
    assert row_on_page(shop.cy.person, row.pk).waits_for_another
    assert read_again(shop.cy, row.pk, PRINTED).state == "read twice"


def test_where_both_who_differ_have_left_the_row_begins_anew(shop: Fenholt, row: LimitRow) -> None:
    read_again(shop.bo, row.pk, PRINTED | {"moment": ["0.00 N m", "21.0 N m"]})
    person_leaves(shop.fred, shop.anna.person.pk)
    person_leaves(shop.fred, shop.bo.person.pk)
    again = read_again(shop.cy, row.pk, PRINTED)
    assert (again.state, again.first_reader, again.second_reader) == ("read once", shop.cy.person, None)


def test_nobody_looks_again_before_a_second_person_has_read(shop: Fenholt, row: LimitRow) -> None:
    with pytest.raises(NotAllowed):
        look_again(shop.anna, row.pk, PRINTED)


def test_a_draft_waits_for_its_author(shop: Fenholt, issue: Issue) -> None:
    row = enter_limits(shop.anna, issue.pk, "Rudder", "27-12", PRINTED, is_draft=True)
    assert row.state == "draft"
    with pytest.raises(NotAllowed):
        read_again(shop.bo, row.pk, PRINTED)
    with pytest.raises(NotAllowed):
        finish_draft(shop.cy, row.pk, PRINTED)
    assert finish_draft(shop.anna, row.pk, PRINTED).state == "read once"


def test_a_row_without_a_limit_is_refused(shop: Fenholt, issue: Issue) -> None:
    with pytest.raises(InputRefused, match="limit"):
        enter_limits(shop.anna, issue.pk, "Rudder", "27-12", {"surface": "Rudder"})


def test_contradictions_are_kept_with_the_reading(shop: Fenholt, issue: Issue) -> None:
    found = [{"between": "moment and second unit", "difference_percent": 900.0}]
    row = enter_limits(shop.anna, issue.pk, "Rudder", "27-12", PRINTED, contradictions=found)
    assert row_as_seen(shop.anna.person, row.pk).contradictions == tuple(found)
    assert row_as_seen(shop.bo.person, row.pk).contradictions == ()


def test_a_new_issue_supersedes_rows_and_lists_what_used_them(shop: Fenholt) -> None:
    job = merle(shop)
    weighed(job)
    add_issue(shop.anna, job.row.issue.document_id, "5", date(2025, 1, 1))
    assert row_as_seen(shop.anna.person, job.row.pk).state == "superseded"
    (use,) = uses_on_page(shop.anna.person, [job.row.pk])
    assert (use.number, use.statements) == (job.job.number, 1)
    with pytest.raises(NotAllowed, match="newer issue"):
        enter_limits(shop.anna, job.row.issue_id, "Rudder", "27-12", PRINTED)


def test_an_issue_out_of_order_is_refused(shop: Fenholt, issue: Issue) -> None:
    with pytest.raises(InputRefused, match="in their order"):
        add_issue(shop.anna, issue.document_id, "3", date(2023, 3, 1))


def test_rows_are_listed_in_few_queries(shop: Fenholt, issue: Issue, django_assert_num_queries: object) -> None:
    for surface in ("Rudder", "Elevator", "Aileron"):
        enter_limits(shop.anna, issue.pk, surface, "27-12", PRINTED)
    person = shop.anna.person
    with django_assert_num_queries(6):
        assert [each.surface for each in rows_of_limits(person)] == ["Aileron", "Elevator", "Rudder"]


def test_the_true_minus_and_spaces_are_print_not_meaning() -> None:
    assert differences({"moment": "\u22120.2 in-lb"}, {"moment": "-0.2  in-lb"}) == []
    assert differences({"page": ""}, {}) == []
    assert len(differences({"moment": "0.2 in-lb"}, {"moment": "-0.2 in-lb"})) == 1
