"""A file that says it is another workshop's aircraft, made by somebody who wants more: nothing of it is taken in."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest

from hingeline.errors import InputRefused
from hingeline_app.records.actions.carrying import import_aircraft
from hingeline_app.records.canonical import canonical
from hingeline_app.records.chain import ORIGIN, Link, link_digest
from hingeline_app.records.dates import now
from hingeline_app.records.ledger_file import Ledger, write_ledger
from hingeline_app.records.models import (
    Account,
    Aircraft,
    Entry,
    Job,
    LimitRow,
    Passkey,
    Person,
    Right,
    ShakeRecording,
    Signature,
    Surface,
    Tablet,
    Workshop,
)
from hingeline_app.records.roles import ADMINISTRATOR
from hingeline_app.records.rows import Note, note_of
from tests.hingeline_app.records.merle import Merle, merle
from tests.hingeline_app.records.workshop import Fenholt

THEIRS = Workshop(name="Elsewhere")
CARRIED = Aircraft(workshop=THEIRS, type_name="Merle T2", registration="D-EFRG", serial_number="T2-99")


def forged(
    folder: Path,
    notes: list[Note],
    instead: dict[str, Any] | None = None,
    *,
    aircraft: Aircraft = CARRIED,
    origin: UUID | None = None,
) -> Path:
    """Write a file of one aircraft that brings more; every digest in it holds."""
    body = canonical({"position": 1, "rows": []})
    chain = [Link(1, ORIGIN, link_digest(ORIGIN, body), body)]
    apart = instead["rows"] if instead else [note_of(aircraft), *notes]
    folder.mkdir(exist_ok=True)
    about = {"aircraft": str(aircraft.pk), "workshop": "Elsewhere", "rows_apart": json.loads(json.dumps(apart))}
    write_ledger(folder / "forged.zip", Ledger(str(origin or uuid4()), {"records": chain}, (), about), {})
    return folder / "forged.zip"


def as_bo(job: Merle) -> Person:
    """Give a person of the other workshop with the licence number of somebody here."""
    return Person(workshop=THEIRS, name="Bo Lind", initials="BL", licence_number=job.shop.bo.person.licence_number)


def changed(row: Any, **values: Any) -> Note:
    """Note a row that is here as somebody else would like it."""
    note = note_of(row)
    return note | {"values": note["values"] | values}


def a_way_in(job: Merle) -> list[Note]:
    """An account of a person known here by licence, and a passkey of its own: it would open the door."""
    account = Account(person=as_bo(job), sign_in_name="bo.too")
    return [note_of(account.person), note_of(account), note_of(passkey(account))]


def a_passkey(job: Merle) -> list[Note]:
    """A passkey for an account that is here."""
    account = job.shop.ed.account
    assert account is not None
    return [note_of(passkey(account))]


def passkey(account: Account) -> Passkey:
    """Give a key of the forger's own."""
    keys = {"credential": "c" * 20, "public_key": "k" * 20, "server_name": "hangar"}
    return Passkey(account=account, name="mine", added_on=date(2026, 1, 1), **keys)


def a_right(job: Merle) -> list[Note]:
    """The administration, for somebody known here by licence."""
    person = as_bo(job)
    return [note_of(person), note_of(Right(person=person, role=ADMINISTRATOR, since=date(2026, 1, 1)))]


def a_tablet(job: Merle) -> list[Note]:
    return [note_of(Tablet(workshop=THEIRS, name="mine", token_digest="d" * 64))]


def the_workshop(job: Merle) -> list[Note]:
    """The workshop itself, under another name."""
    return [changed(job.shop.workshop, name="Ours now")]


def a_job_here(job: Merle) -> list[Note]:
    """A job that is here, as somebody would like it; with the surface and the aircraft that it names."""
    rows = [job.aircraft, job.surface, job.row, job.row.issue, job.row.issue.document, *Person.objects.all()]
    return [*map(note_of, rows), changed(job.now, state="released")]


def a_signature_here(job: Merle) -> list[Note]:
    """A second inspection under a job that is here."""
    signed = Signature(job=job.job, change=1, made_by=job.shop.bo.person, purpose="second inspection", text="{}",
                       digest="d" * 64, seen=job.seen, proved_by="password", signed_at=now())  # fmt: skip
    return [*a_job_here(job)[:-1], note_of(job.now), note_of(signed)]


def a_signature_of_no_text(job: Merle) -> list[Note]:
    """One under a job of its own that says nothing: the look would name it, and nothing here be signed any more."""
    person, surface = as_bo(job), Surface(aircraft=CARRIED, name="Rudder")
    made = Job(workshop=THEIRS, number=1, surface=surface, opened_by=person, opened_on=date(2026, 1, 1),
               state="open", why_here="painted")  # fmt: skip
    signed = Signature(job=made, change=1, made_by=person, purpose="release", text="{}", digest="d" * 64, seen="s" * 64,
                       proved_by="password", signed_at=now())  # fmt: skip
    return [note_of(each) for each in (person, surface, made, signed)]


def a_surface_of_ours(job: Merle) -> list[Note]:
    """A surface more on an aircraft that is here."""
    rows = (job.aircraft, job.shop.dora.person, Surface(aircraft=job.aircraft, name="Rudder"))
    return [note_of(each) for each in rows]


def what_is_not_in_the_file(job: Merle) -> list[Note]:
    """A surface of an aircraft that the file does not hold."""
    return [note_of(Surface(aircraft=job.aircraft, name="Rudder"))]


def another_with_our_registration(job: Merle) -> list[Note]:
    return [note_of(Aircraft(workshop=THEIRS, type_name="Merle T2", registration=job.aircraft.registration))]


def details_of_another_shape(job: Merle) -> list[Note]:
    """What pages read as a table is a list: they would fall over it for ever."""
    person, surface = as_bo(job), Surface(aircraft=CARRIED, name="Rudder")
    made = Job(workshop=THEIRS, number=1, surface=surface, opened_by=person, opened_on=date(2026, 1, 1),
               state="open", why_here="painted", details=[])  # fmt: skip
    return [note_of(person), note_of(surface), note_of(made)]


def words_for_numbers(job: Merle) -> list[Note]:
    return [changed(Surface(aircraft=CARRIED, name="Rudder"), aircraft_id="x")]


def a_name_too_long(job: Merle) -> list[Note]:
    return [note_of(Surface(aircraft=CARRIED, name="R" * 9000))]


def no_values(job: Merle) -> list[Note]:
    return [{"table": "surface", "identifier": str(uuid4()), "values": []}]


def no_identifier(job: Merle) -> list[Note]:
    return [note_of(Surface(aircraft=CARRIED, name="Rudder")) | {"identifier": "'; drop"}]


def a_table_of_no_kind(job: Merle) -> list[Note]:
    return [{"table": "entry", "identifier": str(uuid4()), "values": {}}]


TRIES = [
    a_way_in, a_passkey, a_right, a_tablet, the_workshop, a_signature_here, a_signature_of_no_text,
    a_surface_of_ours, what_is_not_in_the_file, another_with_our_registration, details_of_another_shape,
    words_for_numbers, a_name_too_long, no_values, no_identifier, a_table_of_no_kind,
]  # fmt: skip
COUNTED = (Account, Aircraft, Job, LimitRow, Passkey, Person, Right, ShakeRecording, Signature, Surface, Tablet)


def stands(job: Merle) -> Any:
    """Give what must be as it was."""
    rows = [note_of(row) for table in COUNTED for row in table._base_manager.order_by("pk")]
    return rows, note_of(Workshop.objects.get(pk=job.shop.workshop.pk)), Entry.objects.count()


@pytest.mark.fault("F37")
def test_nothing_comes_in_but_rows_of_the_aircraft(shop: Fenholt, tmp_path: Path) -> None:
    """It is refused in words, whatever it tries, and every table and the ledger are as before."""
    job = merle(shop)
    for what in TRIES:
        file, before = forged(tmp_path / what.__name__, what(job)), stands(job)
        with pytest.raises(InputRefused, match=r"Have the aircraft exported again|It is here already"):
            import_aircraft(shop.ed, file)
        assert stands(job) == before, what.__name__


def test_a_list_of_rows_that_is_none_is_refused_in_words(shop: Fenholt, tmp_path: Path) -> None:
    apart: tuple[Any, ...] = (["x"], [1], [{}], [{"table": "aircraft"}], {"table": "aircraft"}, 5, None)
    for number, each in enumerate(apart):
        with pytest.raises(InputRefused, match="exported again"):
            import_aircraft(shop.ed, forged(tmp_path / str(number), [], {"rows": each}))


def test_the_same_file_without_more_is_taken_in(shop: Fenholt, tmp_path: Path) -> None:
    """So that what is refused above is refused for what it brings."""
    assert import_aircraft(shop.ed, forged(tmp_path, [])).registration == "D-EFRG"


def test_what_is_here_already_stays_as_it_is(shop: Fenholt, tmp_path: Path) -> None:
    """A person, a row of limits, a job: the next file does not write over them, and hangs on them."""
    job = merle(shop)
    anna = shop.anna.person
    surface = Surface(aircraft=CARRIED, name="Rudder", hinge_to_trailing_edge="270 mm")
    opened = Job(workshop=THEIRS, number=7, surface=surface, opened_by=anna, opened_on=date(2026, 1, 1), state="open",
                 why_here="painted", limit_row=job.row)  # fmt: skip
    theirs = [changed(anna, name="Anna Elsewhere", left_on="2020-01-01"), changed(job.row, page="1")]
    rest = [note_of(row) for row in (surface, opened)]
    import_aircraft(shop.ed, forged(tmp_path, [*a_job_here(job), *theirs, *rest]))
    assert Job.objects.get(pk=job.job.pk).state == "open"
    assert note_of(Person.objects.get(pk=anna.pk)) == note_of(anna)
    assert LimitRow.objects.get(pk=job.row.pk).page == job.row.page
    assert Job.objects.get(pk=opened.pk).limit_row == job.row


def test_jobs_are_numbered_here_in_the_order_that_they_had(shop: Fenholt, tmp_path: Path) -> None:
    """Which weighing was the last, and what came after a piece was swapped, is told by the numbers."""
    person, surface = as_bo(merle(shop)), Surface(aircraft=CARRIED, name="Rudder", hinge_to_trailing_edge="270 mm")
    jobs = [
        Job(workshop=THEIRS, number=number, surface=surface, opened_by=person, opened_on=date(2026, 1, 1),
            state="open", why_here=f"visit {number}")
        for number in range(11, 19)
    ]  # fmt: skip
    import_aircraft(shop.ed, forged(tmp_path, [note_of(each) for each in (person, surface, *jobs)]))
    came = Job.objects.filter(surface=surface.pk).order_by("number").values_list("why_here", flat=True)
    assert list(came) == [f"visit {number}" for number in range(11, 19)]
