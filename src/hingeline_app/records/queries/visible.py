"""The one door for reads: what a person may see of a table, and nothing else exists.

Every table says how its rows belong to a workshop, and how to an aircraft. A person with
work to do sees the workshop's rows; an owner sees rows of own aircraft; others see nothing.
"""

from __future__ import annotations

from typing import NamedTuple, TypeVar
from uuid import UUID

from django.db.models import Q, QuerySet

from hingeline_app.records import models
from hingeline_app.records.dates import today
from hingeline_app.records.models import Person
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.queries.standing import standing_of
from hingeline_app.records.roles import OWNER

Row = TypeVar("Row", bound=KeptRow)


class Belongs(NamedTuple):
    """How a table's rows belong: the look-up to the workshop, and to the aircraft's owner where there is one."""

    workshop: str
    owner: str | None = None


BY_WORKSHOP = Belongs("workshop")
BY_PERSON = Belongs("person__workshop")
BY_AIRCRAFT = Belongs("aircraft__workshop", "aircraft__owner")
BY_TASK = Belongs("task__workshop", "task__aircraft__owner")
BY_JOB = Belongs("job__workshop", "job__surface__aircraft__owner")

BELONGS: dict[type[KeptRow], Belongs] = {
    models.Workshop: Belongs("pk"),
    models.WorkshopText: BY_WORKSHOP,
    models.Person: BY_WORKSHOP,
    models.Right: BY_PERSON,
    models.Account: BY_PERSON,
    models.Passkey: Belongs("account__person__workshop"),
    models.Tablet: BY_WORKSHOP,
    models.Aircraft: Belongs("workshop", "owner"),
    models.Surface: BY_AIRCRAFT,
    models.Part: BY_WORKSHOP,
    models.Fitting: BY_AIRCRAFT,
    models.CounterReading: BY_AIRCRAFT,
    models.MeterChange: BY_AIRCRAFT,
    models.Scale: BY_WORKSHOP,
    models.DailyCheck: Belongs("scale__workshop"),
    models.Stand: BY_WORKSHOP,
    models.Material: BY_WORKSHOP,
    models.ApprovedDocument: BY_WORKSHOP,
    models.Issue: Belongs("document__workshop"),
    models.LimitRow: Belongs("issue__document__workshop"),
    models.RowReading: Belongs("row__issue__document__workshop"),
    models.WorkOrder: Belongs("workshop", "aircraft__owner"),
    models.Job: Belongs("workshop", "surface__aircraft__owner"),
    models.Measurement: BY_JOB,
    models.Reading: BY_JOB,
    models.Result: BY_JOB,
    models.BallastProposal: BY_JOB,
    models.Correction: BY_JOB,
    models.InspectionItem: BY_JOB,
    models.Look: BY_JOB,
    models.Signature: BY_JOB,
    models.Attachment: Belongs("workshop", "aircraft__owner"),
    models.PaperRecord: BY_AIRCRAFT,
    models.Task: Belongs("workshop", "aircraft__owner"),
    models.SignOff: BY_TASK,
    models.Deferral: BY_TASK,
    models.CalendarFeed: BY_PERSON,
    models.ShakeRecording: Belongs("workshop", "aircraft__owner"),
    models.ShakeFinding: Belongs("recording__workshop", "recording__aircraft__owner"),
    models.ShakeSeries: Belongs("workshop", "aircraft__owner"),
}


def visible_to(person: Person, table: type[Row]) -> QuerySet[Row]:
    """Give the rows of a table that a person may see."""
    standing = standing_of(person, today(person.workshop))
    rows: QuerySet[Row] = table._default_manager.all()
    if standing.has_left or standing.is_guest or not standing.roles:
        return rows.none()
    belongs = BELONGS[table]
    own = rows.filter(**{belongs.workshop: standing.workshop}).filter(not_blind(person, table))
    if standing.roles != {OWNER}:
        return own
    return own.filter(**{belongs.owner: standing.person}) if belongs.owner else rows.none()


def not_blind(person: Person, table: type[KeptRow]) -> Q:
    """Hide the first reading of a row of limits from everybody else, until a second person has read it too."""
    if table is not models.RowReading:
        return Q()
    return Q(read_by=person) | Q(row__second_reader__isnull=False)


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
