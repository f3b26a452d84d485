"""A scale that came with one aircraft is met again with the next: certificates on top of those known here come in."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest

from hingeline_app.records.actions.carrying import import_aircraft
from hingeline_app.records.actions.equipment import renew_certificate
from hingeline_app.records.models import Aircraft, Scale
from hingeline_app.records.rows import Note, note_of
from tests.hingeline_app.records.test_forged_files import THEIRS, changed, forged
from tests.hingeline_app.records.workshop import Fenholt

ORIGIN = uuid4()
NEXT = Aircraft(workshop=THEIRS, type_name="Merle T2", registration="D-ENXT", serial_number="T2-98")
DAY = date(2026, 3, 1)


def scale_then() -> Scale:
    """Give the other workshop's scale as its first file has it."""
    return Scale(workshop=THEIRS, name="Their scale", step="5 g", largest="6 kg", certificate="K 1",
                 certificate_begins=DAY, certificate_expires=DAY + timedelta(days=100))  # fmt: skip


def renewed(scale: Scale, begins: date, before: list[dict[str, Any]] | None = None) -> Note:
    """Note it with one more certificate, as the second file has it."""
    known = [each.as_data() for each in scale.certificates] if before is None else before
    expires = (begins + timedelta(days=365)).isoformat()
    return changed(scale, certificate="K 2", certificate_begins=begins.isoformat(), certificate_expires=expires,
                   certificates_before=known)  # fmt: skip


def second_import(shop: Fenholt, folder: Path, note: Note, origin: UUID = ORIGIN) -> list[str]:
    """Take the next aircraft in and name the certificates of the scale, the newest first."""
    import_aircraft(shop.ed, forged(folder / "second", [note], aircraft=NEXT, origin=origin))
    return [each.name for each in Scale.objects.get(pk=note["identifier"]).certificates]


@pytest.fixture
def scale(shop: Fenholt, tmp_path: Path) -> Scale:
    """The scale as it came with the first aircraft."""
    kept = scale_then()
    import_aircraft(shop.ed, forged(tmp_path / "first", [note_of(kept)], origin=ORIGIN))
    return Scale.objects.get(pk=kept.pk)


def test_a_certificate_entered_there_since_comes_with_the_next_aircraft(
    shop: Fenholt, scale: Scale, tmp_path: Path
) -> None:
    """It had stayed away, and weighings of the second aircraft rested on one that had ended."""
    assert second_import(shop, tmp_path, renewed(scale, DAY + timedelta(days=90))) == ["K 2", "K 1"]


def test_another_workshop_gives_it_none(shop: Fenholt, scale: Scale, tmp_path: Path) -> None:
    assert second_import(shop, tmp_path, renewed(scale, DAY + timedelta(days=90)), uuid4()) == ["K 1"]


def test_a_scale_that_was_certified_here_since_stays_as_it_is(shop: Fenholt, scale: Scale, tmp_path: Path) -> None:
    note = renewed(scale, DAY + timedelta(days=90))
    renew_certificate(shop.anna, scale.pk, "Ours", DAY + timedelta(days=50), date.today() + timedelta(days=50), {})
    assert second_import(shop, tmp_path, note) == ["Ours", "K 1"]


@pytest.mark.parametrize(("days", "before"), [(-10, None), (0, None), (90, [])])
def test_what_would_take_the_place_of_a_known_one_does_not_come_in(
    shop: Fenholt, scale: Scale, tmp_path: Path, days: int, before: list[dict[str, Any]] | None
) -> None:
    """One that begins no later, and a list that leaves out what is known here."""
    assert second_import(shop, tmp_path, renewed(scale, DAY + timedelta(days=days), before)) == ["K 1"]
