"""Texts of the workshop's own: the wording of its releases."""

from __future__ import annotations

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import acting
from hingeline_app.records.models import WorkshopText
from hingeline_app.records.queries.workshop_texts import RELEASE_WORDING
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command

LONGEST = 20_000
NAMES = (RELEASE_WORDING,)


def set_workshop_text(actor: Actor, name: str, text: str, command: Command | None = None) -> WorkshopText:
    """Set a text; an empty one means the program's own. What was signed before keeps what it said.

    Raises
    ------
    NotAllowed, InputRefused
        The actor is no administrator; there is no such text; it is too long or has signs that cannot be seen.
    """
    if name not in NAMES:
        raise InputRefused.of("text", name, " or ".join(NAMES), "Choose one of them.")
    with acting(actor, Act.MANAGE_WORKSHOP, "workshop text set", {"name": name}, command=command) as entry:
        kept = WorkshopText.objects.filter(workshop=actor.workshop, name=name).first()
        kept = kept or WorkshopText(workshop=actor.workshop, name=name)
        kept.text = _seen(text)
        entry.keep(kept)
    return kept


def _seen(text: str) -> str:
    """Refuse signs that cannot be seen; line breaks may stand."""
    plain = text.replace("\r\n", "\n").replace("\r", "\n").strip()
    unseen = [sign for sign in plain if sign != "\n" and not sign.isprintable()]
    if unseen:
        raise InputRefused.of(
            "wording", repr(unseen[0]), "characters that can be seen", "Type it without that character."
        )
    if len(plain) > LONGEST:
        raise InputRefused.of("wording", f"{len(plain)} characters", f"at most {LONGEST}", "Shorten it.")
    return plain
