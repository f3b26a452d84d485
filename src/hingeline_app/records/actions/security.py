"""Who came to the door and who was turned away: the security log, a chain of its own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.records.write_door import SECURITY, Actor, Receipt, write_door

SIGNED_IN, SIGNED_OUT, TURNED_AWAY = "signed in", "signed out", "turned away"
LOCKED, UNLOCKED, SWITCHED = "locked", "unlocked", "person switched"
PROVED, NOT_PROVED, DENIED = "identity proved", "identity not proved", "act refused"


def note_security(actor: Actor, kind: str, says: Mapping[str, Any] | None = None) -> Receipt:
    """Note in the security log. ``says`` never holds a password, a PIN or a token."""
    with write_door(actor, kind, says, chain=SECURITY) as entry:
        pass
    return entry.receipt
