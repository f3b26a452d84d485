"""What every act asks first: whether this person may do it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from django.utils.translation import gettext_lazy as _

from hingeline_app.records.models import Person
from hingeline_app.records.permission import NOTHING, Answer, Matter, Words
from hingeline_app.records.queries.standing import may
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command, OpenEntry, write_door


class NotAllowed(Exception):
    """A rule of the workshop stands against it; the reason is a sentence for the person."""

    def __init__(self, reason: Words) -> None:
        super().__init__(str(reason))
        self.reason = reason


def require(actor: Actor, act: Act, about: Matter = NOTHING) -> Person:
    """Give the person who acts, who may.

    Raises
    ------
    NotAllowed
        The table of roles has no yes for it.
    """
    person = signed_in(actor)
    refuse_unless(_same_workshop(actor))
    refuse_unless(may(person, act, about))
    return person


def signed_in(actor: Actor) -> Person:
    """Give the person who acts.

    Raises
    ------
    NotAllowed
        Nobody is signed in.
    """
    if actor.person is None:
        raise NotAllowed(_("Nobody is signed in."))
    return actor.person


@contextmanager
def acting(
    actor: Actor,
    act: Act,
    kind: str,
    says: Mapping[str, Any] | None = None,
    *,
    about: Matter = NOTHING,
    command: Command | None = None,
) -> Iterator[OpenEntry]:
    """Open the write door for one act of a person who may do it; asked behind the door, where nobody else writes.

    Raises
    ------
    NotAllowed
        The table of roles has no yes for it: nothing is written.
    """
    with write_door(actor, kind, says, command=command) as entry:
        require(actor, act, about)
        yield entry


def refuse_unless(answer: Answer) -> None:
    """Refuse in the words of an answer that is no.

    Raises
    ------
    NotAllowed
        It is no.
    """
    if not answer.allowed:
        raise NotAllowed(answer.reason)


def _same_workshop(actor: Actor) -> Answer:
    person, account = actor.person, actor.account
    same = person is not None and person.workshop_id == actor.workshop.pk
    own = account is None or (account.person_id == (person.pk if person else None) and account.is_active)
    return Answer(same and own, _("This account is not open in this workshop."))
