"""Fenholt set up, and its people at the door."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from django.test import Client, override_settings

from hingeline_app.records.actions.accounts import add_account, set_pin
from hingeline_app.records.actions.aircraft import add_aircraft, add_surface
from hingeline_app.records.actions.attaching import Upload, attach_to_row
from hingeline_app.records.actions.equipment import add_scale
from hingeline_app.records.actions.jobs import open_job, open_order
from hingeline_app.records.actions.limits import add_document, add_issue, enter_limits
from hingeline_app.records.actions.people import add_person
from hingeline_app.records.actions.rights import give_right
from hingeline_app.records.actions.tablets import enrol_tablet
from hingeline_app.records.actions.workshop import set_up_workshop
from hingeline_app.records.dates import today
from hingeline_app.records.models import Account, Person, Right, Tablet, Workshop
from hingeline_app.records.roles import ADMINISTRATOR, ENGINEER
from hingeline_app.records.write_door import Actor, write_door
from tests.hingeline_app.made_once import Made, made_once
from tests.hingeline_app.web.in_one_line import OneLineClient

PASSWORD, PIN = "a long walk to the hangar", "730418"


@dataclass
class Fenholt:
    """The workshop with an administrator, a team mate and a tablet."""

    workshop: Workshop
    administrator: Actor
    mate: Actor
    tablet: Tablet
    token: str
    scale: UUID
    # The number of an open job on an elevator half.
    job: int
    # A document, its issue, a draft of a row by the mate, and a photograph of its page.
    approved: dict[str, UUID]
    surface: UUID
    aircraft: UUID
    # The number of an open work order that holds no job yet.
    order: int

    def client(self, name: str | None = None, *, on_tablet: bool = False) -> Client:
        """Give a browser, signed in by password as somebody."""
        client = OneLineClient()
        if on_tablet:
            client.cookies["__Host-tablet"] = self.token
        if name:
            answer = client.post("/sign-in/password", {"sign_in_name": name, "password": PASSWORD})
            assert answer.status_code == 302, answer.content
        return client


def where(answer: Any) -> str:
    """Give where an answer sends, without its query."""
    return str(answer["Location"]).partition("?")[0]


@pytest.fixture(scope="session")
def fenholt_made(
    django_db_setup: None, django_db_blocker: Any, tmp_path_factory: pytest.TempPathFactory
) -> Made[Fenholt]:
    """The workshop as the acts leave it."""
    folder = tmp_path_factory.mktemp("fenholt")
    with django_db_blocker.unblock(), override_settings(DATA_FOLDER=folder, **_folders(folder)):
        return made_once(_fenholt, folder)


@pytest.fixture
def fenholt(db: None, fenholt_made: Made[Fenholt], tmp_path: Path, settings: Any) -> Fenholt:
    """The workshop in a folder of the test's own."""
    settings.DATA_FOLDER = tmp_path
    for name, folder in _folders(tmp_path).items():
        setattr(settings, name, folder)
    return fenholt_made.put_into(tmp_path)


def _folders(folder: Path) -> dict[str, Path]:
    return {"JOURNAL_FOLDER": folder / "journal", "BACKUP_FOLDER": folder / "backups"}


def _fenholt() -> Fenholt:
    founded = set_up_workshop("Fenholt", person="Mara Tarrow", initials="MT", sign_in_name="mara", password=PASSWORD)
    actor = Actor(founded.workshop, founded.person, founded.account)
    set_pin(actor, founded.account.pk, PIN)
    mate = _somebody(actor, "Jon Ashby", "jon", ENGINEER)
    enrolled = enrol_tablet(actor, "Hangar 1")
    scale = add_scale(mate, "HL-3", step="5 g", largest="15 kg", check_weight="2 kg", check_tolerance="5 g")
    aircraft = add_aircraft(mate, "Merle T2", "D-EFHM", "T2-07")
    surface = add_surface(mate, aircraft.pk, "Elevator, left half", hinge_to_trailing_edge="270 mm")
    job = open_job(mate, surface.pk, "painted")
    order = open_order(mate, aircraft.pk, "Tail repainted")
    return Fenholt(
        founded.workshop, actor, mate, enrolled.tablet, enrolled.token, scale.pk, job.number, _approved(mate),
        surface.pk, aircraft.pk, order.number,
    )  # fmt: skip


def _approved(mate: Actor) -> dict[str, UUID]:
    document = add_document(mate, "Maintenance manual", "MM-T2", "Merle T2")
    issue = add_issue(mate, document.pk, "C", date(2026, 3, 2))
    row = enter_limits(mate, issue.pk, "Rudder", "27-12", {"moment": ["0.20 N m", "1.60 N m"]}, is_draft=True)
    photograph = attach_to_row(mate, row.pk, Upload("page", b"page", "image/png", preview=b"drawn anew"))
    return {"document": document.pk, "issue": issue.pk, "row": row.pk, "photograph": photograph.pk}


def _somebody(actor: Actor, name: str, sign_in_name: str, role: str, licence: str = "") -> Actor:
    person = add_person(actor, name, name[:1], licence_number=licence)
    account = add_account(actor, person.pk, sign_in_name, PASSWORD)
    give_right(actor, person.pk, role)
    return Actor(actor.workshop, person, account)


@pytest.fixture
def elsewhere(fenholt: Fenholt) -> Actor:
    """An administrator of another workshop in the same database."""
    return add_elsewhere(fenholt)


def add_elsewhere(fenholt: Fenholt) -> Actor:
    """Add the other workshop."""
    workshop = Workshop(name="Elsewhere")
    person = Person(workshop=workshop, name="Otto Strand", initials="OS")
    account = Account(person=person, sign_in_name="otto", password=fenholt.administrator.account.password)  # type: ignore[union-attr]
    with write_door(Actor(workshop), "workshop set up") as entry:
        for row in (workshop, person, account, Right(person=person, role=ADMINISTRATOR, since=today(workshop))):
            entry.keep(row)
    return Actor(workshop, person, account)


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> Callable[[float], None]:
    """Move the pages' clock ahead by so many seconds."""
    import time

    ahead = [0.0]
    real = time.time
    monkeypatch.setattr("hingeline_app.web.middleware.who_is_here.time.time", lambda: real() + ahead[0])

    def move(seconds: float) -> None:
        ahead[0] += seconds

    return move
