"""An administrator says that the clock is right, though it stands long after the last entry before."""

from __future__ import annotations

from django.utils.translation import gettext_lazy as _

from hingeline_app.records.actions.entrance import NotAllowed, acting
from hingeline_app.records.models import Workshop
from hingeline_app.records.queries.clock_ahead import TIME_CONFIRMED, clock_ahead
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command


def confirm_time(actor: Actor, of: str, command: Command | None = None) -> None:
    """Say that the time did pass before an entry; what was looked at has to be what waits.

    Raises
    ------
    NotAllowed
        The actor is no administrator, or another entry waits than the one that was looked at.
    """
    with acting(actor, Act.MANAGE_WORKSHOP, TIME_CONFIRMED, {"of": [of]}, command=command):
        waiting = clock_ahead(actor.workshop.pk)
        if waiting is None or waiting.of != of:
            raise NotAllowed(_("Nothing of this waits for a word about the clock: look at the ledger's page again."))


def refuse_unconfirmed_time(workshop: Workshop) -> None:
    """Refuse what is dated by the clock while it may be ahead.

    Raises
    ------
    NotAllowed
        The clock jumped ahead, and no administrator has said that it is right.
    """
    if clock_ahead(workshop.pk) is not None:
        raise NotAllowed(_(
            "The server's clock went more than a month ahead of the last entry. Nothing is signed until an "
            "administrator has looked at it and confirmed it on the ledger's page."
        ))  # fmt: skip
