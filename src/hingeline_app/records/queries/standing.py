"""What a person is in the workshop today, and whether that person may do something."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date
from uuid import UUID

from django.db.models import Q, QuerySet

from hingeline_app.records.dates import today
from hingeline_app.records.models import Person, Right, Workshop
from hingeline_app.records.permission import NOTHING, Answer, Matter, Standing, answer
from hingeline_app.records.roles import ADMINISTRATOR, BY_TWO_ADMINISTRATORS, Act

# What was read of persons since one look at a page began; None: nobody looks, and each question is read anew.
_OF_THIS_LOOK: ContextVar[dict[tuple[UUID, date], Standing] | None] = ContextVar("standings of a look", default=None)


@contextmanager
def one_look() -> Iterator[None]:
    """Read what a person is once for everything that one look at a page asks; for what is only looked at."""
    begun = _OF_THIS_LOOK.set({})
    try:
        yield
    finally:
        _OF_THIS_LOOK.reset(begun)


def may(person: Person, act: Act, about: Matter = NOTHING, on: date | None = None) -> Answer:
    """Say whether a person may do this today, and in words why not."""
    on = on or today(person.workshop)
    return answer(standing_of(person, on), act, about, on)


def standing_of(person: Person, on: date) -> Standing:
    """Give what a person is on a day, anew from the database for each look and act: who was disabled is disabled."""
    read = _OF_THIS_LOOK.get()
    if read is None:
        return _read(person, on)
    if (person.pk, on) not in read:
        read[person.pk, on] = _read(person, on)
    return read[person.pk, on]


def _read(person: Person, on: date) -> Standing:
    now = Person.objects.get(pk=person.pk)
    return Standing(
        person=now.pk,
        workshop=now.workshop_id,
        roles=frozenset(rights_in_force(on).filter(person=now).values_list("role", flat=True)),
        is_guest=now.is_guest,
        has_left=now.left_on is not None and now.left_on <= on,
        licence_number=now.licence_number,
        licence_expires=now.licence_expires,
    )


def rights_in_force(on: date) -> QuerySet[Right]:
    """Give the rights that count on a day: begun, not ended, and confirmed where two have to agree."""
    begun = Right.objects.filter(since__lte=on).filter(Q(until__isnull=True) | Q(until__gt=on))
    return begun.exclude(role__in=BY_TWO_ADMINISTRATORS, confirmed_by__isnull=True)


def administrators(workshop: Workshop, on: date) -> QuerySet[Person]:
    """Give those who hold the administrator's role on a day, are still here and can sign in."""
    holders = rights_in_force(on).filter(role=ADMINISTRATOR).values("person")
    here = Person.objects.filter(Q(left_on__isnull=True) | Q(left_on__gt=on), workshop=workshop, pk__in=holders)
    return here.filter(accounts__is_active=True).distinct()
