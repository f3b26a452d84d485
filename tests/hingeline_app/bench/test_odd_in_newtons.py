"""Readings in newtons and in kilograms on one support are compared as the masses that they stand for."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from uuid import uuid4

from hingeline_app.bench.weighing.readings_shown import places_shown
from hingeline_app.records.queries.jobs import MeasurementRecord, ReadingRecord

GRAVITY = "9.80665 m/s^2"


def odd(readings: Sequence[tuple[str, float, str]], step: str = "5 g") -> list[str]:
    rows = tuple(
        ReadingRecord(uuid4(), "support 1", typed, value, unit, "AB", 1, "") for typed, value, unit in readings
    )
    scale = {"step": step}
    weighing = MeasurementRecord(
        uuid4(), "weighing", 1, date(2026, 11, 2), 1, {"support": [{"arm": "255 mm"}]}, scale, None, rows, None, False
    )
    return [
        each.typed.replace("\N{NO-BREAK SPACE}", " ")
        for place in places_shown(weighing, GRAVITY)
        for each in place.readings
        if each.is_odd
    ]


def test_a_reading_in_newtons_among_kilograms_is_not_far_off_by_its_unit() -> None:
    """0.840 kg pulls with 8.238 N at 9.80665 m/s² (worked by hand)."""
    readings = [("840 g", 0.840, "kg"), ("845 g", 0.845, "kg"), ("840 g", 0.840, "kg"), ("8.238 N", 8.238, "N")]
    assert odd(readings) == []
    assert odd([*readings, ("9.8 N", 9.8, "N")]) == ["9.8 N"]


def test_the_step_of_the_scale_counts_for_readings_in_newtons_too() -> None:
    """Two steps of 5 g are 0.098 N: a reading 0.08 N off is not odd, one 0.2 N off is."""
    still = [("8.238 N", 8.238, "N")] * 4
    assert odd([*still, ("8.318 N", 8.318, "N")]) == []
    assert odd([*still, ("8.438 N", 8.438, "N")]) == ["8.438 N"]
