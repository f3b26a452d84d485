"""Nose-heavy rows of limits that were typed before a word for the sense was refused: told until they are compared."""

from __future__ import annotations

from typing import Any

import pytest

from hingeline_app.files.plus_sense import NOSE_HEAVY, PHRASES, TAIL_HEAVY
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.limits import add_issue, compare_again, enter_limits, look_again, read_again
from hingeline_app.records.actions.people import add_person, person_leaves
from hingeline_app.records.looking import NOTHING, Finding, Findings, look_at_the_records
from hingeline_app.records.looking import look as looking
from hingeline_app.records.looking.rows_to_compare import limit_findings, seen_by
from hingeline_app.records.models import LimitRow, RowReading
from hingeline_app.records.queries.approved_data import row_on_page
from hingeline_app.records.queries.limits import rows_of_limits
from hingeline_app.records.queries.turned_before import says_nose_heavy
from tests.hingeline_app.records import merle
from tests.hingeline_app.records.workshop import Fenholt

# "3 in-lb nose-heavy" … "1 in-lb nose-heavy", as it was kept.
TURNED = merle.PRINTED | {"positive": "nose-heavy", "moment": ["-3 in-lb", "-1 in-lb"]}
PRINTED = TURNED | {"moment": ["1 in-lb", "3 in-lb"]}


@pytest.fixture
def old(shop: Fenholt, monkeypatch: pytest.MonkeyPatch) -> LimitRow:
    """A row that was typed twice before the rule."""
    monkeypatch.setattr(merle, "PRINTED", TURNED)
    row = merle.limits(shop)
    RowReading.objects.update(numbers_are_bare=False)
    return row


def told(row: LimitRow, shop: Fenholt) -> bool:
    """Whether the row's page tells it and the look names it: both or neither."""
    (record,) = (each for each in rows_of_limits(shop.anna.person) if each.identifier == row.pk)
    assert record.may_be_turned == bool(found())
    return record.may_be_turned


def found() -> list[Finding]:
    return list(limit_findings("default"))


def test_a_row_of_before_is_told_on_its_page_and_at_the_look_and_stops_nothing(shop: Fenholt, old: LimitRow) -> None:
    assert told(old, shop)
    (finding,) = found()
    assert finding.stops == NOTHING
    assert all(each in finding.where for each in ("MM-T2-03", "issue 4", "27-11", "Elevator, left half"))


def test_the_look_at_the_records_names_it(shop: Fenholt, old: LimitRow, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(looking, "schema_findings", lambda _connection: [])
    assert [each for each in look_at_the_records().findings if each.what == "limits"] == found()
    assert found()


def test_the_look_names_a_row_to_nobody_who_may_not_see_it(shop: Fenholt, old: LimitRow) -> None:
    """The page of the ledger is anybody's of the workshop; a person without a role reads no document's number there."""
    findings = Findings("2026-11-28T22:00:00Z", {}, (), (*found(), Finding("clock", "records", "behind")))
    assert [each.what for each in seen_by(shop.anna.person, findings).findings] == ["limits", "clock"]
    nobody = add_person(shop.fred, "Ulla Storm", "US")
    assert [each.what for each in seen_by(nobody, findings).findings] == ["clock"]


def test_a_row_typed_since_is_not_told(shop: Fenholt, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(merle, "PRINTED", TURNED)
    assert not told(merle.limits(shop), shop)


@pytest.mark.parametrize("other", [{"positive": "tail-heavy"}, {"moment": [], "mass": ["4 kg", "5 kg"]}])
def test_a_row_that_nothing_could_turn_is_not_told(
    shop: Fenholt, monkeypatch: pytest.MonkeyPatch, other: dict[str, Any]
) -> None:
    monkeypatch.setattr(merle, "PRINTED", TURNED | other)
    row = merle.limits(shop)
    RowReading.objects.update(numbers_are_bare=False)
    assert not told(row, shop)


@pytest.mark.parametrize("where", ["second_unit", "bands"])
def test_a_number_said_a_second_time_and_a_mass_band_are_asked_too(
    shop: Fenholt, monkeypatch: pytest.MonkeyPatch, where: str
) -> None:
    ends = ["-3 in-lb", "-1 in-lb"]
    said = {"second_unit": ends} if where == "second_unit" else {"bands": [{"mass": ["4 kg", "5 kg"], "moment": ends}]}
    monkeypatch.setattr(merle, "PRINTED", TURNED | {"moment": []} | said | {"reading": ["1 kg", "2 kg"]})
    row = merle.limits(shop)
    RowReading.objects.update(numbers_are_bare=False)
    assert told(row, shop)


def test_whoever_finds_the_same_in_the_document_ends_it(shop: Fenholt, old: LimitRow) -> None:
    kept = compare_again(shop.cy, old.pk, TURNED)
    assert (kept.state, kept.agreed, kept.second_reader) == ("read twice", TURNED, shop.cy.person)
    assert not told(old, shop)
    with pytest.raises(NotAllowed, match="waits to be compared"):
        compare_again(shop.bo, old.pk, TURNED)


def test_what_differs_is_turned_by_two_persons_never_by_the_program(shop: Fenholt, old: LimitRow) -> None:
    kept = compare_again(shop.bo, old.pk, PRINTED)
    assert (kept.state, kept.agreed) == ("read once", None)
    assert told(old, shop)
    assert look_again(shop.anna, old.pk, PRINTED).state == "read once", "one alone settles nothing"
    settled = look_again(shop.bo, old.pk, PRINTED)
    assert (settled.state, settled.agreed) == ("read twice", PRINTED)
    assert not told(old, shop)


def test_who_looked_again_after_a_comparison_is_not_said_to_have_read_it_blind(shop: Fenholt, old: LimitRow) -> None:
    """The one who compares sees no number; the first reader, who looks again then, saw both readings."""
    anna: Any = shop.anna.person
    assert row_on_page(anna, old.pk).looked_again == ()
    compare_again(shop.bo, old.pk, PRINTED)
    assert row_on_page(anna, old.pk).looked_again == ()
    look_again(shop.anna, old.pk, PRINTED)
    assert row_on_page(anna, old.pk).looked_again == (anna.name,)


def test_where_the_first_reader_has_left_what_differs_is_read_by_two_who_are_there(
    shop: Fenholt, old: LimitRow
) -> None:
    """Nobody would look again, and the row that jobs rest on could never be settled."""
    person_leaves(shop.fred, shop.anna.person.pk)
    kept = compare_again(shop.cy, old.pk, PRINTED)
    assert (kept.state, kept.first_reader, kept.second_reader) == ("read once", shop.cy.person, None)
    (hidden,) = (each for each in rows_of_limits(shop.bo.person) if each.identifier == old.pk)
    assert (hidden.printed, found()) == (None, [])
    settled = read_again(shop.bo, old.pk, PRINTED)
    assert (settled.state, settled.agreed) == ("read twice", PRINTED)
    assert found() == []


def test_where_the_first_reader_has_left_the_same_ends_it_too(shop: Fenholt, old: LimitRow) -> None:
    person_leaves(shop.fred, shop.anna.person.pk)
    kept = compare_again(shop.cy, old.pk, TURNED)
    assert (kept.state, kept.first_reader, kept.second_reader) == ("read twice", shop.anna.person, shop.cy.person)
    assert found() == []


def test_the_first_reader_is_not_the_one_who_compares(shop: Fenholt, old: LimitRow) -> None:
    with pytest.raises(NotAllowed):
        compare_again(shop.anna, old.pk, TURNED)
    assert told(old, shop)


def test_a_superseded_row_is_told_and_compared_too(shop: Fenholt, old: LimitRow) -> None:
    """A released job may rest on it; whatever is found, it stays superseded."""
    add_issue(shop.anna, old.issue.document_id, "5", old.issue.issued_on.replace(year=2025))
    assert told(old, shop)
    assert compare_again(shop.bo, old.pk, PRINTED).state == "superseded"
    assert told(old, shop), "what differs stays told"
    assert compare_again(shop.bo, old.pk, TURNED).state == "superseded"
    assert not told(old, shop)


def test_one_superseded_before_it_was_read_again_is_not_told(shop: Fenholt, old: LimitRow) -> None:
    """No release rests on it, and its reading is hidden from whoever would compare it: it was told for good."""
    compare_again(shop.bo, old.pk, TURNED)
    once = enter_limits(shop.anna, old.issue_id, "Rudder", "27-12", TURNED)
    RowReading.objects.filter(row=once).update(numbers_are_bare=False)
    assert told(once, shop)
    add_issue(shop.anna, old.issue.document_id, "5", old.issue.issued_on.replace(year=2025))
    assert not told(once, shop)


def test_each_phrase_for_nose_heavy_is_asked_and_none_for_tail_heavy() -> None:
    assert [each for each in PHRASES[NOSE_HEAVY] if not says_nose_heavy(f"Positive is {each.upper()}")] == []
    assert [each for each in PHRASES[TAIL_HEAVY] if says_nose_heavy(each)] == []
    assert says_nose_heavy("L.E. heavy")
