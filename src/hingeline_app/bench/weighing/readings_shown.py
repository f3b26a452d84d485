"""The readings of a weighing one by one, withdrawn ones among them, and the question about one that is odd."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.bench.weighing.odd_readings import odd_readings
from hingeline_app.records.queries.jobs import MeasurementRecord, ReadingRecord
from hingeline_app.report.quantities import as_typed

_NUMBER_THEN_UNIT = re.compile(r"^\s*(?P<number>[-+−]?[\d.,\s]*\d)\s*(?P<unit>\D*)$")
RISING, FALLING = "rising", "falling"


@dataclass(frozen=True)
class ReadingShown:
    """One reading."""

    identifier: UUID
    # Its number among those that count; a dash for a withdrawn one.
    number: str
    typed: str
    bare: str
    place: str
    by: str
    withdrawn: str
    is_odd: bool


@dataclass(frozen=True)
class PlaceShown:
    """The readings of one place: a support, or one way of moving across friction."""

    place: str
    words: str
    readings: tuple[ReadingShown, ...]

    @property
    def next_number(self) -> int:
        """Give the number of the reading that comes next."""
        return sum(1 for each in self.readings if not each.withdrawn) + 1


def places_shown(weighing: MeasurementRecord, gravity: str) -> tuple[PlaceShown, ...]:
    """Give the places of a weighing with their readings, in their order; ``gravity`` is that of the workshop."""
    supports = weighing.set_up.get("support") or []
    names = [f"support {number}" for number in range(1, len(supports) + 1)]
    read_at = dict.fromkeys(each.place for each in weighing.readings)
    listed = list(dict.fromkeys([*names, *sorted(read_at)]))
    return tuple(_place(weighing, name, supports, gravity) for name in listed)


def last_unit(weighing: MeasurementRecord) -> str:
    """Give the unit that was typed last, else the unit of the scale's step."""
    typed = [each.typed for each in weighing.readings] or [(weighing.scale or {}).get("step", "")]
    found = _NUMBER_THEN_UNIT.match(typed[-1])
    return (found["unit"].strip() if found else "") or "kg"


def _place(weighing: MeasurementRecord, name: str, supports: Any, gravity: str) -> PlaceShown:
    rows = [each for each in weighing.readings if each.place == name]
    counting = [each for each in rows if not each.withdrawn_because]
    odd = {counting[index].identifier for index in odd_readings(_masses(counting, gravity), _step(weighing))}
    shown, number = [], 0
    for row in rows:
        number += not row.withdrawn_because
        shown.append(_reading(row, number, row.identifier in odd))
    return PlaceShown(name, _words(name, len(supports) > 1, supports), tuple(shown))


def _words(name: str, several: bool, supports: Any) -> str:
    """Name a place: nothing for a single support, whose readings need no name."""
    way = next((each for each in (RISING, FALLING) if name.endswith(each)), "")
    number = name.split()[1] if len(name.split()) > 1 else ""
    if not several:
        return way
    index = int(number) - 1 if number.isdecimal() else -1
    support: Mapping[str, Any] = supports[index] if 0 <= index < len(supports) else {}
    where = f" at {support['arm']} {support.get('side', 'aft')}" if support.get("arm") else ""
    return f"Support {number}{where}" + (f", {way}" if way else "")


def _masses(readings: Sequence[ReadingRecord], gravity: str) -> list[float]:
    """Give readings as the masses that they stand for [kg]: one in newtons is not far off, it is another unit."""
    local = float(read(gravity, "acceleration"))
    return [each.si_value / local if each.si_unit == "N" else each.si_value for each in readings]


def _step(weighing: MeasurementRecord) -> float:
    try:
        return float(read((weighing.scale or {}).get("step") or "0 kg", "mass"))
    except InputRefused:
        return 0.0


def _reading(row: ReadingRecord, number: int, is_odd: bool) -> ReadingShown:
    found = _NUMBER_THEN_UNIT.match(row.typed)
    return ReadingShown(
        row.identifier,
        "—" if row.withdrawn_because else str(number),
        as_typed(row.typed),
        found["number"] if found else row.typed,
        row.place,
        row.made_by,
        row.withdrawn_because,
        is_odd,
    )
