"""A workshop begins: people, aircraft, surfaces, counters, parts and history from tables, all or nothing.

What is refused is told by table, row and column; a preview writes nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any, NamedTuple, Protocol

from hingeline.errors import InputRefused, Refusal
from hingeline_app.records.actions.aircraft import described_aircraft, described_surface, refuse_second_aircraft
from hingeline_app.records.actions.attaching import described_paper
from hingeline_app.records.actions.counters import described_count
from hingeline_app.records.actions.entrance import require
from hingeline_app.records.actions.parts import described_part, landings_then, refuse_ahead
from hingeline_app.records.actions.people import described_person, refuse_second_of
from hingeline_app.records.dates import today
from hingeline_app.records.legible import mark
from hingeline_app.records.models import Aircraft, Fitting, Person, Right, Surface
from hingeline_app.records.queries.counters import HOURS, total_on
from hingeline_app.records.roles import ROLES, Act
from hingeline_app.records.write_door import Actor, Command, OpenEntry, Receipt, write_door

MOST_TOLD = 50
Cells = Mapping[str, Any]


class TableRow(Protocol):
    """A row as the reader of tables gives it."""

    @property
    def number(self) -> int:
        """Its number as a spreadsheet counts."""

    @property
    def cells(self) -> Cells:
        """Its cells, read, by column."""


class Table(Protocol):
    """A table as the reader gives it."""

    @property
    def kind(self) -> str:
        """Which kind of rows it holds."""

    @property
    def rows(self) -> Sequence[TableRow]:
        """Its rows."""


class Onboarded(NamedTuple):
    """What was written, or in a preview would be: how many rows of each table, and where it stands."""

    rows: Mapping[str, int]
    receipt: Receipt | None


@dataclass
class _Onboarding:
    entry: OpenEntry
    person: Person
    refusals: list[Refusal] = field(default_factory=list)

    def aircraft(self, registration: str) -> Aircraft:
        """Find an aircraft by its registration, one of this file included."""
        wanted = mark("registration", registration)
        kept = Aircraft.objects.filter(workshop=self.entry.actor.workshop, registration=wanted).first()
        if kept is None:
            remedy = "Enter it in the table of aircraft first."
            raise InputRefused.of("registration", registration, "an aircraft of this workshop", remedy)
        return kept

    def surface(self, aircraft: Aircraft, name: str | None) -> Surface | None:
        """Find a surface of an aircraft; none where none is named."""
        if not name:
            return None
        kept = Surface.objects.filter(aircraft=aircraft, name=name).first()
        if kept is None:
            remedy = "Enter it in the table of surfaces first."
            raise InputRefused.of("surface", name, f"a surface of {aircraft}", remedy)
        return kept


class _Preview(Exception):
    """Nothing is to be written."""


def onboard(actor: Actor, tables: Sequence[Table], command: Command | None = None) -> Onboarded:
    """Write all rows of all tables in one entry, or none.

    Raises
    ------
    NotAllowed
        The actor may not keep what a table holds: people are an administrator's, history is who may work.
    InputRefused
        With every fault, by table, row and column, the first fifty of them.
    """
    with write_door(actor, "onboarded", command=command) as entry:
        rows = _onboard(entry, tables)
    return Onboarded(rows, entry.receipt)


def preview(actor: Actor, tables: Sequence[Table]) -> Onboarded:
    """Say what would be written, after every check that writing makes; nothing is written.

    Raises
    ------
    NotAllowed, InputRefused
        As for :func:`onboard`.
    """
    rows: dict[str, int] = {}
    try:
        with write_door(actor, "onboarded") as entry:
            rows = _onboard(entry, tables)
            raise _Preview
    except _Preview:
        return Onboarded(rows, None)


def _onboard(entry: OpenEntry, tables: Sequence[Table]) -> dict[str, int]:
    # In the order in which they rest on one another, however the file has them.
    ordered = sorted(tables, key=lambda table: list(WRITERS).index(table.kind))
    for table in ordered:
        person = require(entry.actor, WRITERS[table.kind].act)
        work = _Onboarding(entry, person)
        for row in table.rows:
            with _told(work, table.kind, row.number):
                WRITERS[table.kind].write(work, row.cells)
        if work.refusals:
            raise InputRefused(work.refusals[:MOST_TOLD])
    entry.says["tables"] = rows = {table.kind: len(table.rows) for table in ordered}
    return rows


@contextmanager
def _told(work: _Onboarding, kind: str, number: int) -> Iterator[None]:
    """Add what is refused of a row to the list, with its place."""
    try:
        yield
    except InputRefused as refused:
        work.refusals.extend(refused.at(f"{kind}, row {number}, ").refusals)


def _person(work: _Onboarding, cells: Cells) -> None:
    workshop = work.entry.actor.workshop
    number, expires = cells.get("licence number") or "", cells.get("licence expires")
    person = described_person(workshop, cells["name"], cells["initials"], number, expires, False)
    refuse_second_of(person, although_alike=False)
    work.entry.keep(person)
    for role in cells.get("roles") or ():
        if role not in ROLES:
            raise InputRefused.of("roles", role, " or ".join(ROLES), "Choose among them, with ; between.")
        work.entry.keep(Right(person=person, role=role, since=today(workshop), given_by=work.person))


def _aircraft(work: _Onboarding, cells: Cells) -> None:
    workshop = work.entry.actor.workshop
    kept = described_aircraft(
        workshop, cells["type"], cells["registration"], cells["serial number"], cells.get("built on")
    )
    refuse_second_aircraft(kept)
    work.entry.keep(kept)


def _surface(work: _Onboarding, cells: Cells) -> None:
    aircraft = work.aircraft(cells["registration"])
    depth = cells.get("hinge to trailing edge") or ""
    work.entry.keep(described_surface(aircraft, cells["surface"], cells.get("serial number") or "", depth))


def _counter(work: _Onboarding, cells: Cells) -> None:
    aircraft = work.aircraft(cells["registration"])
    work.entry.keep(described_count(aircraft, cells["counter"], cells["shown"], cells["read on"], work.person))


def _part(work: _Onboarding, cells: Cells) -> None:
    workshop, hours = work.entry.actor.workshop, cells.get("hours when new fitted")
    part = described_part(workshop, cells["part"], cells["serial number"], cells.get("part number") or "", hours)
    work.entry.keep(part)
    if not cells.get("registration"):
        return
    if cells.get("fitted on") is None:
        raise InputRefused.of("fitted on", "", "the day it was fitted", "Fill it, or leave the registration blank.")
    aircraft, on, at = work.aircraft(cells["registration"]), cells["fitted on"], cells.get("fitted at hours")
    refuse_ahead("fitted on", workshop, on)
    work.entry.keep(
        Fitting(
            part=part,
            aircraft=aircraft,
            surface=work.surface(aircraft, cells.get("surface")),
            fitted_on=on,
            fitted_at_hours=at if at is not None else total_on(aircraft, HOURS, on),
            fitted_at_landings=landings_then(aircraft, on, None),
        )
    )


def _history(work: _Onboarding, cells: Cells) -> None:
    aircraft = work.aircraft(cells["registration"])
    work.entry.keep(
        described_paper(
            aircraft,
            work.surface(aircraft, cells.get("surface")),
            cells["original date"],
            cells["original signer"],
            cells.get("original licence") or "",
            cells["says"],
            cells.get("moment") or "",
            work.person,
        )
    )


class _Writer(NamedTuple):
    act: Act
    write: Callable[[_Onboarding, Cells], None]


WRITERS: Mapping[str, _Writer] = {
    "people": _Writer(Act.MANAGE_PEOPLE, _person),
    "aircraft": _Writer(Act.KEEP_AIRCRAFT, _aircraft),
    "surfaces": _Writer(Act.KEEP_AIRCRAFT, _surface),
    "counters": _Writer(Act.KEEP_AIRCRAFT, _counter),
    "parts": _Writer(Act.KEEP_AIRCRAFT, _part),
    "history": _Writer(Act.TRANSCRIBE, _history),
}
