"""Every document ever written still loads: to the same record, to the last digit."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from hingeline.balance import Weighing, WeighingResult, weigh
from hingeline.document import from_document, to_document
from hingeline.units import Typed
from tests.formats import make as maker
from tests.formats.records import FOLDER, IN_THE_MAKING, NEVER_READ_BACK, RECORDS, declared, everything

FROZEN = sorted(FOLDER.glob("*.json"))


def load(path: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(path.read_text("utf-8"))
    return found


def kind_of(name: str) -> str:
    return name.rpartition("/")[0]


def record_of(frozen: dict[str, Any]) -> Any:
    types = {kind_of(name): record for name, record in declared().items()}
    return from_document(frozen, types[kind_of(frozen["format"])])


def still_says(now: Any, then: Any, place: str = "") -> None:
    """All that was said then is said now, alike; fields that came later may stand beside it."""
    if isinstance(then, dict):
        for name, value in then.items():
            assert name in now, f"{place}.{name}"
            still_says(now[name], value, f"{place}.{name}")
    elif isinstance(then, list):
        assert len(now) == len(then), place
        for index, (one, other) in enumerate(zip(now, then, strict=True)):
            still_says(one, other, f"{place}[{index}]")
    else:
        assert now == then, place
        assert type(now) is type(then), place


@pytest.mark.fault("F34")
@pytest.mark.parametrize("path", FROZEN, ids=lambda path: path.stem)
def test_a_frozen_document_loads_to_the_same_record(path: Path) -> None:
    """Read, and written again, it says what it said; read once more, it is the same record."""
    frozen = load(path)
    record = record_of(frozen)
    again = json.loads(json.dumps(to_document(record), allow_nan=False))
    if again["format"] == frozen["format"]:
        still_says(again, frozen)
    assert record_of(again) == record


@pytest.mark.fault("F34")
def test_every_declared_format_is_frozen() -> None:
    """A format without a frozen document could change its meaning, and nobody would notice."""
    frozen = {load(path)["format"] for path in FROZEN}
    left_out = IN_THE_MAKING | NEVER_READ_BACK
    assert set(declared()) - left_out <= frozen, "run python -m tests.formats.make"
    assert not IN_THE_MAKING & frozen, "frozen: take it out of IN_THE_MAKING"


@pytest.mark.fault("F34")
def test_every_frozen_format_is_still_declared() -> None:
    """No kind of document is dropped: what was once written must load."""
    kinds = {kind_of(name) for name in declared()}
    assert {kind_of(load(path)["format"]) for path in FROZEN} <= kinds
    assert {path.stem for path in FROZEN} >= set(RECORDS)


@pytest.mark.fault("F34")
@pytest.mark.slow
def test_making_never_overwrites(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is there stays as it is, even where it is wrong; what is missing is written."""
    monkeypatch.setattr(maker, "FOLDER", tmp_path)
    first = "weighing-record-1-everything"
    (tmp_path / f"{first}.json").write_text("as it was", "utf-8")
    names = maker.make()
    assert f"{first}.json" not in names
    assert (tmp_path / f"{first}.json").read_text("utf-8") == "as it was"
    assert len(names) == len(RECORDS) - 1
    assert maker.make() == []


@pytest.mark.fault("F34")
def test_a_frozen_weighing_keeps_its_typed_texts() -> None:
    """Texts of files and pages come back, and so does the gravity that they were read with."""
    record = record_of(load(FOLDER / "weighing-record-1-everything.json"))
    assert record == everything()
    mass, limit = record.surface.mass, record.limits.bands[1].upper
    assert isinstance(mass, Typed)
    assert isinstance(limit, Typed)
    assert (mass.text, limit.text, limit.local_gravity) == ("4,100 kg", "20.0 kg cm", 9.81)


@pytest.mark.fault("F34")
@pytest.mark.parametrize("name", ["everything", "across-friction", "example"])
def test_a_frozen_weighing_gives_its_frozen_result(name: str) -> None:
    """Weighed again today, the frozen input gives the frozen numbers to 1e-12 and the same statements.

    To the last digit it is owed only by the same version; a later one may add exactly where an earlier
    one rounded. A difference beyond that is a change of meaning, and needs a new version.
    """
    weighing = record_of(load(FOLDER / f"weighing-record-1-{name}.json"))
    then = record_of(load(FOLDER / f"weighing-result-1-{name}.json"))
    assert isinstance(weighing, Weighing)
    assert isinstance(then, WeighingResult)
    now = weigh(weighing)
    for moment in ("static_moment", "mass_moment"):
        one, other = getattr(now, moment), getattr(then, moment)
        assert one.value == pytest.approx(other.value, rel=1e-12)
        assert one.expanded_uncertainty == pytest.approx(other.expanded_uncertainty, rel=1e-12)
    assert [row.source for row in now.budget] == [row.source for row in then.budget]
    for made in ("statement", "statement_simple", "statement_guarded", "rule"):
        assert getattr(now, made) == getattr(then, made)
