"""May this person sign, release, enter, about that? Facts in, an answer with its reason out; no database here.

A guest has no role: a guest may inspect, by licence number, and nothing else.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple
from uuid import UUID

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from hingeline_app.records.roles import CELLS, SECOND_INSPECTOR, SIGNATURES, Act, Condition

Words = str | Promise


class Answer(NamedTuple):
    """Whether, and in words why not."""

    allowed: bool
    reason: Words = ""


@dataclass(frozen=True)
class Standing:
    """What a person is in the workshop on a day."""

    person: UUID
    workshop: UUID
    roles: frozenset[str] = frozenset()
    is_guest: bool = False
    has_left: bool = False
    licence_number: str = ""
    # From this day on the licence no longer holds.
    licence_expires: date | None = None


@dataclass(frozen=True)
class Matter:
    """What an act is about: only what the conditions ask for."""

    workshop: UUID | None = None
    owner: UUID | None = None
    # Everybody who did any of the work, or entered the rows.
    workers: frozenset[UUID] = frozenset()
    is_released: bool = False
    inspected_by: UUID | None = None
    # The worker looked again alone, and the release says so.
    on_own_inspection: bool = False
    is_proved: bool = False


NOTHING = Matter()
YES = Answer(True)
NO_ROLE = Answer(False, _("None of your roles covers this. An administrator gives roles under Workshop, People."))
ELSEWHERE = Answer(False, _("There is nothing of this kind in your workshop."))
LEFT = Answer(False, _("You have left this workshop."))
OWN_WORK = Answer(
    False, _("You worked on this yourself: a second inspection is by another person, whichever account is used.")
)
NO_LICENCE = Answer(
    False, _("A signature needs a licence or authorisation number: ask an administrator to enter yours.")
)
EXPIRED = Answer(False, _("Your licence has expired: a signature needs one that holds today."))


def answer(who: Standing, act: Act, about: Matter, on: date) -> Answer:
    """Say whether a person may do this on this day; the first reason where not."""
    for refusal in _refusals(who, act, about, on):
        return refusal
    found = [MET[condition](who, about) for role, condition in CELLS[act].items() if role in _roles(who, act)]
    if any(each.allowed for each in found):
        return YES
    return found[0] if found else NO_ROLE


def _refusals(who: Standing, act: Act, about: Matter, on: date) -> list[Answer]:
    signs = act in SIGNATURES
    refused = {
        ELSEWHERE: about.workshop is not None and about.workshop != who.workshop,
        LEFT: who.has_left,
        EXPIRED: signs and who.licence_expires is not None and on >= who.licence_expires,
        # Said before what an administrator could give: no role and no licence lets anybody inspect their own work.
        OWN_WORK: act is Act.INSPECT and who.person in about.workers,
        NO_LICENCE: signs and not who.licence_number,
    }
    return [each for each, holds in refused.items() if holds]


def _roles(who: Standing, act: Act) -> frozenset[str]:
    if who.is_guest:
        return frozenset({SECOND_INSPECTOR}) if act is Act.INSPECT else frozenset()
    return who.roles


def _own_aircraft(who: Standing, about: Matter) -> Answer:
    return _met(about.owner == who.person, _("This is not your aircraft."))


def _before_release(_who: Standing, about: Matter) -> Answer:
    return _met(not about.is_released, _("It was released: withdraw the release first."))


def _own_before_release(who: Standing, about: Matter) -> Answer:
    if who.person not in about.workers:
        return Answer(False, _("You may correct what you entered yourself; a certifying person may correct the rest."))
    return _before_release(who, about)


def _other_person(who: Standing, about: Matter) -> Answer:
    return _met(who.person not in about.workers, _("You entered this yourself: another person must read it again."))


def _not_own_work(who: Standing, about: Matter) -> Answer:
    return YES if who.person not in about.workers else OWN_WORK


def _own_work(who: Standing, about: Matter) -> Answer:
    return _met(who.person in about.workers, _("You did not work on this: make it a second inspection."))


def _inspected_and_proved(who: Standing, about: Matter) -> Answer:
    if about.inspected_by is None and not about.on_own_inspection:
        return Answer(False, _("There is no second inspection yet."))
    if about.inspected_by == who.person:
        return Answer(False, _("You made the second inspection: the release is signed by another person."))
    return _met(about.is_proved, _("Prove again who you are: a release needs it."))


def _met(holds: bool, reason: Words) -> Answer:
    return YES if holds else Answer(False, reason)


MET: Mapping[Condition, Callable[[Standing, Matter], Answer]] = {
    Condition.ALWAYS: lambda _who, _about: YES,
    Condition.OWN_AIRCRAFT: _own_aircraft,
    Condition.BEFORE_RELEASE: _before_release,
    Condition.OWN_BEFORE_RELEASE: _own_before_release,
    Condition.OTHER_PERSON: _other_person,
    Condition.NOT_OWN_WORK: _not_own_work,
    Condition.OWN_WORK: _own_work,
    Condition.INSPECTED_AND_PROVED: _inspected_and_proved,
}
