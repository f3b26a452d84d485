"""Who looks at an item: the person at the tablet, or a guest on the page of the witness."""

from __future__ import annotations

from dataclasses import replace

from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.queries.at_the_door import guest_by_licence
from hingeline_app.records.write_door import Actor
from hingeline_app.web.entry_kinds.told import Told


def who_looks(told: Told) -> Actor:
    """Give who looks.

    Raises
    ------
    NotAllowed
        There is no guest of that licence number.
    """
    licence = told.text("guest")
    if not licence:
        return told.actor
    guest = guest_by_licence(told.actor.workshop, licence)
    if guest is None:
        raise NotAllowed("No guest with this licence number was entered in this workshop.")
    return replace(told.actor, person=guest, account=None, witness=told.actor.person)
