"""Roles are given and end; the certifying role counts once two administrators agree."""

from __future__ import annotations

from datetime import date
from uuid import UUID

from django.utils.translation import gettext_lazy as _

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import NotAllowed, acting, signed_in
from hingeline_app.records.actions.people import refuse_without_administrator
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible
from hingeline_app.records.models import Person, Right
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import ROLES, Act
from hingeline_app.records.write_door import Actor, Command


def give_right(
    actor: Actor, person: UUID, role: str, since: date | None = None, command: Command | None = None
) -> Right:
    """Give a person a role from a day on.

    Raises
    ------
    NotAllowed
        The actor is no administrator; the person is a guest or has left.
    InputRefused
        There is no such role, or the person holds it already.
    """
    if role not in ROLES:
        raise InputRefused.of("role", role, " or ".join(ROLES), "Choose one of them.")
    with acting(actor, Act.MANAGE_PEOPLE, "role given", {"role": role}, command=command) as entry:
        giver = signed_in(actor)
        holder = found(giver, Person, person)
        _refuse_role(holder, role)
        right = Right(person=holder, role=role, since=since or today(actor.workshop), given_by=giver)
        entry.keep(right)
    return right


def confirm_right(actor: Actor, right: UUID) -> Right:
    """Agree to a role as the second administrator.

    Raises
    ------
    NotAllowed
        The actor is no administrator, or is the one who gave it.
    """
    with acting(actor, Act.MANAGE_PEOPLE, "role confirmed") as entry:
        second = signed_in(actor)
        kept = found(second, Right, right)
        if kept.given_by_id in (None, second.pk):
            raise NotAllowed(_("You gave this role yourself: another administrator must agree to it."))
        if kept.confirmed_by_id is None and kept.until is None:
            kept.confirmed_by = second
            entry.keep(kept)
    return kept


def end_right(actor: Actor, right: UUID, reason: str) -> Right:
    """End a role today.

    Raises
    ------
    NotAllowed
        The actor is no administrator, or the workshop would have none left.
    """
    with acting(actor, Act.MANAGE_PEOPLE, "role ended", {"reason": legible("reason", reason)}) as entry:
        kept = found(signed_in(actor), Right, right)
        kept.until = max(today(actor.workshop), kept.since)
        entry.keep(kept)
        refuse_without_administrator(actor.workshop)
    return kept


def _refuse_role(holder: Person, role: str) -> None:
    if holder.is_guest:
        raise NotAllowed(_("A guest inspects by licence number and holds no role."))
    if holder.left_on is not None:
        raise NotAllowed(_("This person has left the workshop."))
    if holder.rights.filter(role=role, until__isnull=True).exists():
        raise InputRefused.of("role", role, "a role the person does not hold", f"{holder.name} holds it already.")
