"""One entry on a job: found, carried out once, and answered with what became of it.

    POST /job/<number>/entry
    kind          which kind of entry (see ``entry_kinds``)
    command_key   chosen by the tablet; the same key twice is one entry
    follows       the key of the entry before it about the same row, where both waited or the page is not taken anew yet
    …             the fields of that kind
    X-Entry: 1    asks for the answer as data

The answer: ``{"state": "kept", "receipt": "812-1f0c93ab"}``; ``refused`` with ``faults``
(field and sentence), which nothing was written of; ``moved`` with ``yours`` and ``theirs``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from django.http import HttpRequest

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.working import Moved
from hingeline_app.records.queries.jobs import job_identifier
from hingeline_app.records.write_door import AlreadyDone, Command, OtherBody
from hingeline_app.said import say
from hingeline_app.web.entry_kinds import KINDS
from hingeline_app.web.entry_kinds.told import Told
from hingeline_app.web.requests import visit_of

KEPT, REFUSED, MOVED = "kept", "refused", "moved"
NOT_OF_THE_ENTRY = ("csrfmiddlewaretoken", "command_key", "step", "follows")
STATUS = {KEPT: 200, REFUSED: 422, MOVED: 409}


@dataclass(frozen=True)
class Outcome:
    """What became of an entry."""

    state: str
    receipt: str = ""
    faults: tuple[tuple[str, str], ...] = ()
    yours: Mapping[str, Any] = field(default_factory=dict)
    theirs: Mapping[str, Any] = field(default_factory=dict)

    @property
    def status(self) -> int:
        """Give the status that answers it."""
        return STATUS[self.state]

    @property
    def sentences(self) -> tuple[str, ...]:
        """Give what is to be told; nothing where it was kept."""
        if self.state == MOVED:
            return (f"It was changed by another person since you saw it: {_in_words(self.theirs)}. Look again.",)
        return tuple(sentence for _name, sentence in self.faults)

    def as_data(self) -> dict[str, Any]:
        """Give the answer as data, its sentences in the reader's language."""
        faults = [{"field": name, "says": say(sentence)} for name, sentence in self.faults]
        return {
            "state": self.state,
            "receipt": self.receipt,
            "faults": faults,
            "yours": dict(self.yours),
            "theirs": dict(self.theirs),
        }


def _in_words(theirs: Mapping[str, Any]) -> str:
    """Say what stands now: each place by its last name, a row by those of its fields that say something."""
    return "; ".join(
        f"{place.rpartition('.')[2].replace('_', ' ')}: {_value_in_words(one)}" for place, one in theirs.items()
    )


def _value_in_words(value: Any) -> str:
    if value is None or value == "":
        return "–"
    if isinstance(value, Mapping):
        return ", ".join(
            f"{name.replace('_', ' ')} {one}" for name, one in value.items() if one and isinstance(one, str)
        )
    return "✓" if value is True else str(value)


def carry_out(request: HttpRequest, number: int) -> Outcome:
    """Carry one entry out.

    Raises
    ------
    Nowhere
        There is no such job, or nothing of that name, for this person.
    """
    told = _told(request, number)
    kind = KINDS.get(told.text("kind"))
    if kind is None:
        return Outcome(REFUSED, faults=(("kind", "This page is older than the program: load it again."),))
    try:
        kind(told)
    except AlreadyDone as before:
        return Outcome(KEPT, before.receipt.short)
    except Moved as moved:
        return Outcome(MOVED, yours=moved.yours, theirs=moved.theirs)
    except (InputRefused, NotAllowed, OtherBody) as refused:
        return Outcome(REFUSED, faults=tuple(_faults(refused)))
    return Outcome(KEPT)


def _told(request: HttpRequest, number: int) -> Told:
    actor = visit_of(request).actor
    fields = {name: value for name, value in request.POST.items() if name not in NOT_OF_THE_ENTRY}
    key = request.POST.get("command_key", "")
    follows = request.POST.get("follows", "")[:64]
    command = Command(key, {"job": number, **fields}, follows) if key else None
    return Told(actor, job_identifier(actor.person, number), number, fields, command, request.FILES)  # type: ignore[arg-type]


def _faults(refused: Exception) -> list[tuple[str, str]]:
    if isinstance(refused, InputRefused):
        return [(each.field, str(each)) for each in refused.refusals]
    return [("", str(getattr(refused, "reason", refused)))]
