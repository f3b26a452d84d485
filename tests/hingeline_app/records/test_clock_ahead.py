"""A clock that stands long after the last entry: told from time that passed by a person, and by nothing else."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from hingeline_app.records import write_door
from hingeline_app.records.actions.confirming_time import confirm_time
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.inspecting import ask_for_inspection, look, sign_as_second
from hingeline_app.records.actions.people import add_person
from hingeline_app.records.actions.security import note_security
from hingeline_app.records.heads import CHAINS
from hingeline_app.records.looking.clock import clock_findings, confirmed_in
from hingeline_app.records.looking.walking import walk
from hingeline_app.records.models import Entry, Signature
from hingeline_app.records.queries.clock_ahead import clock_ahead
from hingeline_app.records.write_door import Command
from tests.hingeline_app.records.merle import CHECKED, merle, proof
from tests.hingeline_app.records.workshop import Fenholt

pytestmark = pytest.mark.fault("F07")


@pytest.fixture
def ahead(monkeypatch: pytest.MonkeyPatch) -> Callable[[float], None]:
    """Set the clock of what is written so many days ahead."""

    def move(days: float) -> None:
        at = datetime.now(UTC) + timedelta(days=days)
        text = at.isoformat(timespec="milliseconds").replace("+00:00", "Z")
        monkeypatch.setattr(write_door, "now_as_text", lambda: text)

    return move


def last_entry(chain: str = "records") -> dict[str, object]:
    body: dict[str, object] = json.loads(Entry.objects.filter(chain=chain).latest("position").body)
    return body


@pytest.mark.parametrize(("days", "flagged"), [(30.9, False), (31.1, True), (3653.0, True)])
def test_an_entry_long_after_the_one_before_says_so(
    shop: Fenholt, ahead: Callable[[float], None], days: float, flagged: bool
) -> None:
    """More than 31 days: the entry names when the one before was; those after it say nothing more."""
    before = last_entry()["at"]
    ahead(days)
    add_person(shop.fred, "Ulla Storm", "US")
    assert last_entry().get("clock_ahead_of") == (before if flagged else None)
    add_person(shop.fred, "Veit Kranz", "VK")
    assert "clock_ahead_of" not in last_entry()
    waiting = clock_ahead(shop.workshop.pk)
    assert (waiting.days if waiting else None) == (int(days) if flagged else None)


def test_an_entry_of_the_other_chain_says_that_time_passed(shop: Fenholt, ahead: Callable[[float], None]) -> None:
    """Nobody worked on records for 40 days, and somebody came in each week: no jump, in either chain."""
    note_security(shop.fred, "signed in")
    for days in (10, 20, 30, 40):
        ahead(days)
        note_security(shop.fred, "signed in")
    add_person(shop.fred, "Ulla Storm", "US")
    assert "clock_ahead_of" not in last_entry()
    assert clock_ahead(shop.workshop.pk) is None


def test_nothing_is_signed_until_an_administrator_confirmed_the_time(
    shop: Fenholt, ahead: Callable[[float], None]
) -> None:
    """Ten years on all is kept and nothing signed; an engineer's word does not count, nor one of another jump."""
    job = merle(shop)
    for item in ask_for_inspection(shop.anna, job.job.pk, [CHECKED]):
        look(shop.bo, item.pk, "agreed")
    assert clock_ahead(shop.workshop.pk) is None
    ahead(3653)
    note_security(shop.bo, "signed in")
    with pytest.raises(NotAllowed, match="more than a month ahead"):
        sign_as_second(shop.bo, job.as_seen, proof(shop.bo))
    assert not Signature.objects.exists()
    waiting = clock_ahead(shop.workshop.pk)
    assert waiting is not None
    with pytest.raises(NotAllowed):
        confirm_time(shop.anna, waiting.of)
    with pytest.raises(NotAllowed, match="look at the ledger's page again"):
        confirm_time(shop.fred, "records 1")
    assert named_in_a_look(shop) == [waiting.of]
    confirm_time(shop.fred, waiting.of, Command("sure", {"of": waiting.of}))
    assert clock_ahead(shop.workshop.pk) is None
    assert named_in_a_look(shop) == []
    assert sign_as_second(shop.bo, job.as_seen, proof(shop.bo))


def named_in_a_look(shop: Fenholt) -> list[str]:
    """Name the entries of either chain whose time a look at the records finds wanting."""
    both = [walk(shop.workshop.pk, chain, "default") for chain in CHAINS]
    return [each.where for walked in both for each in clock_findings(walked, "9999", confirmed_in(both))]


def test_a_clock_set_back_after_a_jump_keeps_the_jump_known(shop: Fenholt, ahead: Callable[[float], None]) -> None:
    """Set right again, the entry of the jump still waits for a word, and the look names both."""
    ahead(3653)
    add_person(shop.fred, "Ulla Storm", "US")
    ahead(1)
    add_person(shop.fred, "Veit Kranz", "VK")
    assert clock_ahead(shop.workshop.pk) is not None
    says = [each.says for each in clock_findings(walk(shop.workshop.pk, "records", "default"), "9999")]
    assert any("long after the entry before it" in each for each in says)
    assert any("had been moved back" in each for each in says)


def test_what_somebody_types_is_no_flag(shop: Fenholt) -> None:
    """The words of the flag in a person's name are text."""
    typed = 'x","clock_ahead_of":"2000-01-01T00:00:00.000Z'
    with write_door.write_door(shop.fred, "noted", {"text": typed}):
        pass
    assert "clock_ahead_of" in Entry.objects.latest("position").body
    assert clock_ahead(shop.workshop.pk) is None


def test_an_entry_that_was_written_over_stops_no_save() -> None:
    """A date that is none is the look's matter."""
    assert not write_door.is_long_after("2027-03-12T00:00:00.000Z", "yesterday")
