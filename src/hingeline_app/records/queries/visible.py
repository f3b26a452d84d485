"""The one door for reads: what a person may see of a table, and nothing else exists.

Every table says how its rows belong to a workshop, and how to an aircraft. A person with
work to do sees the workshop's rows; an owner sees rows of own aircraft; others see nothing.
"""

from __future__ import annotations

from typing import NamedTuple, TypeVar
from uuid import UUID

from django.db.models import QuerySet

from hingeline_app.records.dates import today
from hingeline_app.records.models import Account, Passkey, Person, Right, Tablet, Workshop
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.queries.standing import standing_of
from hingeline_app.records.roles import OWNER

Row = TypeVar("Row", bound=KeptRow)


class Belongs(NamedTuple):
    """How a table's rows belong: the look-up to the workshop, and to the aircraft's owner where there is one."""

    workshop: str
    owner: str | None = None


BELONGS: dict[type[KeptRow], Belongs] = {
    Workshop: Belongs("pk", None),
    Person: Belongs("workshop", None),
    Right: Belongs("person__workshop", None),
    Account: Belongs("person__workshop", None),
    Passkey: Belongs("account__person__workshop", None),
    Tablet: Belongs("workshop", None),
}


def visible_to(person: Person, table: type[Row]) -> QuerySet[Row]:
    """Give the rows of a table that a person may see."""
    standing = standing_of(person, today(person.workshop))
    rows: QuerySet[Row] = table._default_manager.all()
    if standing.has_left or standing.is_guest or not standing.roles:
        return rows.none()
    belongs = BELONGS[table]
    own = rows.filter(**{belongs.workshop: standing.workshop})
    if standing.roles != {OWNER}:
        return own
    return own.filter(**{belongs.owner: standing.person}) if belongs.owner else rows.none()


def found(person: Person, table: type[Row], identifier: UUID | str) -> Row:
    """Give one row that a person may see.

    Raises
    ------
    Nowhere
        It does not exist, or not for this person: the two look the same.
    """
    try:
        return visible_to(person, table).get(pk=UUID(str(identifier)))
    except (table.DoesNotExist, ValueError) as nothing:
        raise Nowhere(f"there is no such {table._meta.verbose_name}") from nothing


class Nowhere(LookupError):
    """There is nothing of that name that this person may see."""
