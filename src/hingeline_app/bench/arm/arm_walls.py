"""Wall readings of several places: each beside the nominal wall, the smallest counts, with the gauge's ±."""

from __future__ import annotations

import re
from dataclasses import dataclass

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.bench.compared import compared
from hingeline_app.bench.typed import as_a_file_takes
from hingeline_app.figures.wording import format_measured

MOST = 60
FIELD = "wall readings"


@dataclass(frozen=True)
class WallPlace:
    """One place: where, what the gauge showed as typed, and in words the wall and what is lost of the nominal one."""

    position: str
    reading: str
    wall: str
    lost: str


@dataclass(frozen=True)
class Wall:
    """The smallest wall found, and every place."""

    readings: tuple[str, ...]
    finding: str
    words: str
    places: tuple[WallPlace, ...]


def wall_places(typed: str) -> list[tuple[str, str]]:
    """Part readings into position and reading: ``root, top: 1.32 mm``, each on its line or behind a ``;``.

    A place without a name is called by its number.

    Raises
    ------
    InputRefused
        There is none, or more than 60.
    """
    parts = [part.strip() for part in re.split(r"[;\n]", typed) if part.strip()]
    if not 1 <= len(parts) <= MOST:
        raise InputRefused.of(FIELD, len(parts), f"1 to {MOST} readings", "Write root, top: 1.32 mm; middle: 1.29 mm.")
    return [_place(number, part) for number, part in enumerate(parts, 1)]


def smallest_wall(typed: str, uncertainty: str, limit: str, nominal: str = "") -> Wall:
    """Read the places; the smallest wall is compared with the approved data, each with the nominal wall.

    Raises
    ------
    InputRefused
        A reading cannot be read or is not above zero; there is none, or more than 60; no ± of the gauge.
    """
    told = wall_places(typed)
    values = [float(read(reading, "length", field=FIELD, page=True)) for _position, reading in told]
    smallest = told[min(range(len(values)), key=values.__getitem__)][1]
    if min(values) <= 0:
        remedy = "Take the reading again at that place."
        raise InputRefused.of(FIELD, smallest, "walls thicker than zero", remedy)
    said = compared(smallest, uncertainty, limit, "", "length")
    expanded, drawn = said.uncertainty or 0.0, _nominal(nominal)
    places = [_shown(*each, value, expanded, drawn) for each, value in zip(told, values, strict=True)]
    words = f"smallest of {len(told)}: {_millimetres(said.value, expanded)}"
    return Wall(tuple(_joined(*each) for each in told), said.finding, words, tuple(places))


def file_readings(typed: str, uncertainty: str) -> list[dict[str, object]]:
    """Give the places as an arm file has them, each with the gauge's ± (k = 2)."""
    expanded = as_a_file_takes(uncertainty, "length", field="uncertainty")
    return [
        {"position": position, "wall": {"value": _as_typed(reading), "expanded": expanded, "k": 2}}
        for position, reading in wall_places(typed)
    ]


def _as_typed(reading: str) -> str:
    return as_a_file_takes(reading, "length", field=FIELD)


def _place(number: int, part: str) -> tuple[str, str]:
    position, colon, reading = part.rpartition(":")
    named = " ".join(position.split()) if colon else ""
    return named[:60] or f"place {number}", " ".join(reading.split())


def _joined(position: str, reading: str) -> str:
    return f"{position}: {reading}"


def _nominal(text: str) -> float | None:
    if not text.strip():
        return None
    value = float(read(text, "length", field="nominal wall", page=True))
    if value <= 0.0:
        raise InputRefused.of("nominal wall", text, "a wall thicker than zero", "Copy it from the drawing.")
    return value


def _shown(position: str, reading: str, value: float, expanded: float, nominal: float | None) -> WallPlace:
    lost = "" if nominal is None else _millimetres(nominal - value, expanded)
    return WallPlace(position, reading, _millimetres(value, expanded), lost)


def _millimetres(value: float, expanded: float) -> str:
    return format_measured(1e3 * value, 1e3 * expanded, "mm")
