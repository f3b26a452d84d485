"""A workshop begins with tables: all rows or none, faults by table, row and column."""

from __future__ import annotations

from decimal import Decimal

import pytest

from hingeline.errors import InputRefused
from hingeline_app.files.onboarding_file import Sheet, read_tables
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.onboarding import onboard, preview
from hingeline_app.records.actions.rights import give_right
from hingeline_app.records.models import Aircraft, Entry, Fitting, PaperRecord, Part, Person, Right, Surface
from hingeline_app.records.permission import Matter
from hingeline_app.records.queries.counters import HOURS, total_on
from hingeline_app.records.queries.standing import may
from hingeline_app.records.roles import Act
from tests.hingeline_app.records.workshop import Fenholt

PEOPLE = "name,initials,licence number,roles\nGus Ray,GR,FH.66.90,engineer;certifying\nHal Moss,HM,,engineer\n"
AIRCRAFT = "type,registration,serial number,built on\nMerle T2,D-E11M,T2-11,2011-05-02\nMerle T2,D-E12M,T2-12,\n"
SURFACES = "registration,surface,hinge to trailing edge\nD-E11M,Rudder,300 mm\n"
COUNTERS = "registration,counter,read on,shown\nD-E11M,hours,2025-03-12,613.0\n"
PARTS = (
    "part,serial number,registration,surface,fitted on\nweight arm,0071,D-E11M,Rudder,2025-04-01\nspare arm,0072,,,\n"
)
HISTORY = "registration,surface,original date,original signer,says\nD-E11M,Rudder,2019-06-01,H. Moss,Weighed\n"
ALL = (HISTORY, PARTS, COUNTERS, SURFACES, AIRCRAFT, PEOPLE)


def tables(*texts: str) -> list[Sheet]:
    return [sheet for text in texts for sheet in read_tables(text.encode(), "table.csv")]


@pytest.fixture
def both(shop: Fenholt) -> Fenholt:
    """Fred keeps people and also works."""
    give_right(shop.fred, shop.fred.person.pk, "engineer")
    return shop


def test_everything_comes_in_by_one_entry_in_whatever_order(both: Fenholt) -> None:
    before = Entry.objects.count()
    done = onboard(both.fred, tables(*ALL))
    assert done.rows == {"people": 2, "aircraft": 2, "surfaces": 1, "counters": 1, "parts": 2, "history": 1}
    assert Entry.objects.count() == before + 1
    aircraft = Aircraft.objects.get(registration="D-E11M")
    assert total_on(aircraft, HOURS, PaperRecord.objects.get().original_date) is None
    assert Fitting.objects.get().fitted_at_hours == Decimal("613.00")
    assert Surface.objects.get(aircraft=aircraft).name == "Rudder"


def test_a_preview_makes_every_check_and_writes_nothing(both: Fenholt) -> None:
    before = Entry.objects.count(), Person.objects.count()
    assert preview(both.fred, tables(*ALL)).rows["aircraft"] == 2
    assert (Entry.objects.count(), Person.objects.count()) == before
    with pytest.raises(InputRefused):
        preview(both.fred, tables(AIRCRAFT, AIRCRAFT))


def test_one_bad_row_keeps_all_rows_out_and_every_fault_is_told(both: Fenholt) -> None:
    bad = AIRCRAFT + "Merle T2,D-E\u042513M,T2-13,\nMerle T2,D-E14M,T2-11,\n"
    with pytest.raises(InputRefused) as fault:
        onboard(both.fred, tables(bad))
    places = [each.field for each in fault.value.refusals]
    assert places == ["aircraft, row 4, registration", "aircraft, row 5, serial number"]
    assert not Aircraft.objects.exists()


@pytest.mark.parametrize(
    ("table", "words"),
    [
        (SURFACES, "table of aircraft first"),
        (PARTS, "table of aircraft first"),
        (PEOPLE.replace("FH.66.90", "FH.66.4"), "Anna Berg has it"),
        (PEOPLE.replace("Gus Ray", "anna berg"), "looks like"),
        (PEOPLE.replace("engineer;certifying", "boss"), "roles"),
    ],
)
def test_what_does_not_fit_the_records_is_refused(both: Fenholt, table: str, words: str) -> None:
    with pytest.raises(InputRefused, match=words):
        onboard(both.fred, tables(table))


def test_people_are_an_administrators_and_history_is_who_may_work(shop: Fenholt) -> None:
    for actor, table in ((shop.anna, PEOPLE), (shop.bo, AIRCRAFT), (shop.dora, AIRCRAFT)):
        with pytest.raises(NotAllowed):
            onboard(actor, tables(table))
    onboard(shop.ed, tables(AIRCRAFT, SURFACES))
    with pytest.raises(NotAllowed):
        onboard(shop.ed, tables(HISTORY))
    assert onboard(shop.anna, tables(HISTORY)).rows == {"history": 1}


def test_a_certifying_role_from_a_table_waits_for_a_second_administrator(both: Fenholt) -> None:
    onboard(both.fred, tables(PEOPLE))
    gus = Person.objects.get(name="Gus Ray")
    assert Right.objects.get(person=gus, role="certifying").confirmed_by is None
    assert not may(gus, Act.INSPECT, Matter(workshop=both.workshop.pk)).allowed


def test_a_part_without_a_place_is_on_the_shelf(both: Fenholt) -> None:
    onboard(both.fred, tables(AIRCRAFT, SURFACES, PARTS))
    assert Part.objects.get(serial_number="0072").fittings.count() == 0
