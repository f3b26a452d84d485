"""Who may do what, one test a cell, beside a table typed anew here.

Source of the table: common practice of approved maintenance workshops (independent inspection after
145.A.48(c) and ML.A.403(c) of Regulation (EU) 1321/2014, from memory); the cells for equipment and
aircraft are our own choice.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from uuid import UUID

import pytest

from hingeline_app.records.permission import Matter, Standing, answer
from hingeline_app.records.roles import CELLS, ROLES, SIGNATURES, Act

ON = date(2027, 3, 12)
HERE, ELSEWHERE = UUID(int=1), UUID(int=2)
ME, OTHER = UUID(int=11), UUID(int=12)

# engineer, second inspector, certifying, owner, administrator; "-" is never.
TABLE = """
see a job                                   | yes | yes | yes   | own  | yes
open a job, weigh, upload                   | yes | -   | yes   | -    | -
correct an entry                            | mine| -   | open  | -    | -
propose ballast                             | yes | -   | yes   | -    | -
enter limits                                | yes | -   | yes   | -    | -
confirm limits                              | -   | other | other | -  | -
second inspection                           | -   | other | other | -  | -
inspect again as the same person            | -   | self | self  | -   | -
release                                     | -   | -   | ready | -    | -
withdraw a release                          | -   | -   | yes   | -    | -
delete                                      | -   | -   | -     | -    | -
keep scales, stands and materials           | yes | -   | yes   | -    | -
keep aircraft, surfaces, parts and counters | yes | -   | yes   | -    | yes
transcribe a paper record                   | yes | -   | yes   | -    | -
see checks ahead, and keep a calendar of them | yes | yes | yes | yes | yes
keep the tasks of the approved programme    | yes | -   | yes   | -    | -
enter that a check was done, or put off     | yes | -   | yes   | -    | -
manage people and devices                   | -   | -   | -     | -    | yes
set the workshop up                         | -   | -   | -     | -    | yes
back up and restore                         | -   | -   | -     | -    | yes
read the security log                       | -   | -   | -     | -    | yes
export the records                          | -   | -   | -     | -    | yes
verify the ledger                           | yes | yes | yes   | own  | yes
"""
ROWS = [[cell.strip() for cell in line.split("|")] for line in TABLE.strip().splitlines()]
EXPECTED = [(row[0], role, cell) for row in ROWS for role, cell in zip(ROLES, row[1:], strict=True)]

MINE = Matter(workshop=HERE, workers=frozenset({ME}))
NOT_MINE = Matter(workshop=HERE, workers=frozenset({OTHER}))
READY = Matter(workshop=HERE, workers=frozenset({OTHER, ME}), inspected_by=OTHER, is_proved=True)
# Each word of the table: matters where it is allowed, and where it is not.
WORDS: dict[str, tuple[list[Matter], list[Matter]]] = {
    "yes": ([MINE, NOT_MINE], []),
    "-": ([], [MINE, NOT_MINE, READY, replace(READY, owner=ME)]),
    "own": ([replace(NOT_MINE, owner=ME)], [NOT_MINE, replace(NOT_MINE, owner=OTHER)]),
    "mine": ([MINE], [NOT_MINE, replace(MINE, is_released=True)]),
    "open": ([MINE, NOT_MINE], [replace(NOT_MINE, is_released=True)]),
    "other": ([NOT_MINE], [MINE]),
    "self": ([MINE], [NOT_MINE]),
    "ready": (
        [READY, replace(READY, inspected_by=None, on_own_inspection=True)],
        [replace(READY, inspected_by=None), replace(READY, is_proved=False), replace(READY, inspected_by=ME)],
    ),
}


def standing(*roles: str) -> Standing:
    return Standing(ME, HERE, frozenset(roles), licence_number="FH.66.7", licence_expires=date(2028, 1, 1))


@pytest.mark.parametrize(("act", "role", "cell"), EXPECTED)
def test_cell(act: str, role: str, cell: str) -> None:
    """A role may do an act exactly where its cell says so."""
    allowed, refused = WORDS[cell]
    assert all(answer(standing(role), Act(act), matter, ON).allowed for matter in allowed)
    for matter in refused:
        found = answer(standing(role), Act(act), matter, ON)
        assert not found.allowed
        assert str(found.reason).endswith(".")


def test_the_table_here_has_every_act() -> None:
    assert {row[0] for row in ROWS} == {str(act) for act in Act} == {str(act) for act in CELLS}


def test_nobody_without_a_role_may_do_anything() -> None:
    assert not any(answer(standing(), act, matter, ON).allowed for act in Act for matter in (MINE, NOT_MINE, READY))


def test_an_administrator_alone_never_signs() -> None:
    assert not any(answer(standing("administrator"), act, READY, ON).allowed for act in SIGNATURES)


def test_several_roles_do_not_make_one_person_two() -> None:
    everything = standing(*ROLES)
    assert not answer(everything, Act.INSPECT, MINE, ON).allowed
    assert not answer(everything, Act.CONFIRM_LIMITS, MINE, ON).allowed
    assert not answer(everything, Act.RELEASE, replace(READY, inspected_by=ME), ON).allowed


@pytest.mark.parametrize("act", sorted(SIGNATURES))
@pytest.mark.parametrize("expires", [ON, date(2020, 1, 1)])
def test_an_expired_licence_signs_nothing(act: Act, expires: date) -> None:
    """The day it expires counts as expired."""
    expired = replace(standing(*ROLES), licence_expires=expires)
    found = [answer(expired, act, matter, ON) for matter in (MINE, NOT_MINE, READY)]
    assert not any(each.allowed for each in found)
    assert "expired" in str(found[0].reason)


@pytest.mark.parametrize("act", sorted(SIGNATURES))
def test_without_a_licence_number_nobody_signs(act: Act) -> None:
    nameless = replace(standing(*ROLES), licence_number="")
    assert not any(answer(nameless, act, matter, ON).allowed for matter in (MINE, NOT_MINE, READY))


def test_who_did_the_work_is_told_so_and_not_sent_for_a_licence_number() -> None:
    """No number and no role would let them inspect it: an administrator was to be asked for one in vain."""
    found = answer(Standing(ME, HERE, frozenset({"engineer"})), Act.INSPECT, MINE, ON)
    assert not found.allowed
    assert "another person" in str(found.reason)
    assert "licence" in str(answer(Standing(ME, HERE, frozenset({"engineer"})), Act.INSPECT, NOT_MINE, ON).reason)


def test_an_expired_licence_may_still_weigh() -> None:
    assert answer(replace(standing("engineer"), licence_expires=date(2020, 1, 1)), Act.WORK, MINE, ON).allowed


@pytest.mark.parametrize("act", list(Act))
def test_who_has_left_may_do_nothing(act: Act) -> None:
    left = replace(standing(*ROLES), has_left=True)
    assert not any(answer(left, act, matter, ON).allowed for matter in (MINE, NOT_MINE, READY))


@pytest.mark.parametrize("act", list(Act))
def test_another_workshops_rows_are_nobodys(act: Act) -> None:
    foreign = [replace(matter, workshop=ELSEWHERE, owner=ME) for matter in (MINE, NOT_MINE, READY)]
    assert not any(answer(standing(*ROLES), act, matter, ON).allowed for matter in foreign)


@pytest.mark.parametrize("act", list(Act))
def test_a_guest_may_inspect_and_nothing_else(act: Act) -> None:
    """Whatever roles a guest was given by mistake."""
    guest = replace(standing(*ROLES), is_guest=True)
    assert answer(guest, act, NOT_MINE, ON).allowed == (act is Act.INSPECT)


# RE-01. Sources: AMC4 145.A.48(b) of the United Kingdom (read): an independent qualified person, who did not do the
# task; the same person only where it could not be foreseen, with the reason recorded. 14 CFR 121.371(c), 125.251(b),
# 135.429(c) (read): nobody inspects own work, so looking again is never the second inspection. Part-ML, Appendix II
# (read): a pilot-owner does not release a critical task.
QUALIFIED, NOT_QUALIFIED, OWNS = standing("second inspector"), standing("engineer"), standing("owner")
WHO_INSPECTS = [
    ("who did it, though others were there", QUALIFIED, Act.INSPECT, MINE, False),
    ("another, who is authorised", QUALIFIED, Act.INSPECT, NOT_MINE, True),
    ("another, who is not", NOT_QUALIFIED, Act.INSPECT, NOT_MINE, False),
    ("who did it, again, and the reason is recorded", QUALIFIED, Act.INSPECT_AGAIN, MINE, True),
    ("who did it, where nobody inspects own work", QUALIFIED, Act.INSPECT, MINE, False),
    ("the owner who did it releases a critical task", OWNS, Act.RELEASE, replace(READY, owner=ME), False),
]


@pytest.mark.parametrize(("case", "who", "act", "about", "allowed"), WHO_INSPECTS, ids=[row[0] for row in WHO_INSPECTS])
def test_who_may_make_the_second_inspection(case: str, who: Standing, act: Act, about: Matter, allowed: bool) -> None:
    """Of the six cases that the rules in print tell apart each is answered as they say."""
    assert answer(who, act, about, ON).allowed is allowed, case
