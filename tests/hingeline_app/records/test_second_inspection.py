"""Second inspection: item by item, by a person who did none of the work."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from hingeline.errors import InputRefused
from hingeline_app.records.actions.accounts import add_account
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.inspecting import (
    Disturbed,
    ask_for_inspection,
    look,
    sign_as_second,
)
from hingeline_app.records.actions.jobs import choose_limits, set_detail
from hingeline_app.records.actions.measuring import add_reading, record_result
from hingeline_app.records.actions.people import correct_person
from hingeline_app.records.actions.rights import give_right
from hingeline_app.records.models import InspectionItem, Signature
from hingeline_app.records.queries.items import items_of
from hingeline_app.records.queries.matter import SECOND, standing_signature
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.write_door import Actor
from tests.hingeline_app.records.merle import (
    CHECKED,
    INSIDE,
    Merle,
    inspected,
    proof,
    refused_release,
    released,
    weighed,
)
from tests.hingeline_app.records.workshop import PASSWORD, with_role


def test_the_workers_word_is_hidden_until_the_inspector_has_looked(job: Merle) -> None:
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    assert items_of(job.shop.bo.person, job.job)[0].tick is None
    look(job.shop.bo, item.pk, "not looked at")
    assert items_of(job.shop.bo.person, job.job)[0].tick is None
    look(job.shop.bo, item.pk, "differs", "one screw is loose")
    assert items_of(job.shop.bo.person, job.job)[0].tick == "torqued and locked"


def test_an_item_has_a_name_of_two_hundred_characters_at_most(job: Merle) -> None:
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [Disturbed("s" * 200, "locked")])
    assert len(item.name) == 200
    with pytest.raises(InputRefused, match="200"):
        ask_for_inspection(job.shop.anna, job.job.pk, [Disturbed("s" * 201, "locked")])


def test_who_may_not_inspect_does_not_look_either(job: Merle) -> None:
    """An engineer without part in the work and an administrator find nothing at an item; no look is kept."""
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    for actor in (with_role(job.shop, "Gus Ray", "GR", "engineer", "FH.66.77"), job.shop.ed):
        with pytest.raises(NotAllowed, match="None of your roles"):
            look(actor, item.pk, "agreed")
    assert not item.looks.exists()


@pytest.mark.parametrize("finding", [None, "differs", "not looked at"])
def test_an_open_item_is_not_signed(job: Merle, finding: str | None) -> None:
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    if finding:
        look(job.shop.bo, item.pk, finding)
    with pytest.raises(NotAllowed, match="screws"):
        sign_as_second(job.shop.bo, job.as_seen, proof(job.shop.bo))


def test_the_last_look_counts(job: Merle) -> None:
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    look(job.shop.bo, item.pk, "differs")
    look(job.shop.bo, item.pk, "agreed", "screw was replaced")
    assert sign_as_second(job.shop.bo, job.as_seen, proof(job.shop.bo))


def test_nothing_listed_is_nothing_inspected(job: Merle) -> None:
    with pytest.raises(NotAllowed, match="Nothing is listed"):
        sign_as_second(job.shop.bo, job.as_seen, proof(job.shop.bo))
    with pytest.raises(InputRefused):
        ask_for_inspection(job.shop.anna, job.job.pk, [])


@pytest.mark.fault("F36")
def test_who_worked_is_not_the_second_whichever_account(job: Merle) -> None:
    """Fault F36: two accounts of one person."""
    weighed(job, by=job.shop.cy)
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    second = add_account(job.shop.fred, job.shop.cy.person.pk, "cy-second", PASSWORD)
    for actor in (job.shop.cy, Actor(job.shop.workshop, job.shop.cy.person, second)):
        look(actor, item.pk, "agreed")
        with pytest.raises(NotAllowed, match="whichever account"):
            sign_as_second(actor, job.as_seen, proof(actor))
    assert not Signature.objects.exists()


def test_even_one_reading_makes_a_worker(job: Merle) -> None:
    weighing = weighed(job)
    add_reading(job.shop.cy, weighing.pk, "840 g")
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    look(job.shop.cy, item.pk, "agreed")
    with pytest.raises(NotAllowed, match="yourself"):
        sign_as_second(job.shop.cy, job.as_seen, proof(job.shop.cy))


def _tick(job: Merle, actor: Actor) -> None:
    set_detail(actor, job.job.pk, "arrive.drains", None, "open")


def _choose(job: Merle, actor: Actor) -> None:
    choose_limits(actor, job.job.pk, job.row.pk, job.now.limit_row_id)


def _there_and_back(job: Merle, actor: Actor) -> None:
    _tick(job, actor)
    set_detail(actor, job.job.pk, "arrive.drains", "open", None)


@pytest.mark.parametrize("act", [_tick, _choose, _there_and_back])
def test_a_tick_or_a_choice_makes_a_worker_even_where_it_was_taken_back(
    job: Merle, act: Callable[[Merle, Actor], None]
) -> None:
    """What leaves no row of its own counts too: whoever answered for arrival or limits does not inspect them."""
    act(job, job.shop.cy)
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    look(job.shop.cy, item.pk, "agreed")
    with pytest.raises(NotAllowed, match="yourself"):
        sign_as_second(job.shop.cy, job.as_seen, proof(job.shop.cy))


def test_to_look_and_to_sign_makes_no_worker(job: Merle) -> None:
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    look(job.shop.bo, item.pk, "agreed")
    sign_as_second(job.shop.bo, job.as_seen, proof(job.shop.bo))
    assert str(job.shop.bo.person.pk) not in job.now.worked_on_by


def test_a_change_after_the_second_inspection_ends_it(job: Merle) -> None:
    weighing = weighed(job)
    inspected(job)
    add_reading(job.shop.anna, weighing.pk, "840 g")
    record_result(job.shop.anna, job.job.pk, INSIDE, measurement=weighing.pk)
    assert standing_signature(job.now, SECOND) is None
    refused_release(job, "no second inspection")


def test_a_released_job_is_not_inspected_anew(job: Merle) -> None:
    """Neither looked at nor signed, by whom nothing else forbids it, until the release is withdrawn."""
    released(job)
    count = Signature.objects.count()
    with pytest.raises(NotAllowed, match="withdraw"):
        sign_as_second(job.shop.bo, job.as_seen, proof(job.shop.bo))
    with pytest.raises(NotAllowed, match="withdraw"):
        look(job.shop.bo, InspectionItem.objects.get().pk, "differs")
    assert Signature.objects.count() == count


@pytest.mark.fault("F36")
def test_roles_given_later_do_not_make_the_worker_another_person(job: Merle) -> None:
    weighed(job)
    details = {"name": "Anna Berg", "initials": "AB", "licence_number": "FH.66.4", "licence_expires": None}
    correct_person(job.shop.fred, job.shop.anna.person.pk, "checked", **details)
    give_right(job.shop.fred, job.shop.anna.person.pk, "second inspector")
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    look(job.shop.anna, item.pk, "agreed")
    with pytest.raises(NotAllowed, match="yourself"):
        sign_as_second(job.shop.anna, job.as_seen, proof(job.shop.anna))


def test_a_stranger_finds_no_job_to_sign(job: Merle) -> None:
    with pytest.raises(Nowhere):
        sign_as_second(job.shop.bo, {job.shop.workshop.pk: "0" * 64}, proof(job.shop.bo))
