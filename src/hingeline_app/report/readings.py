"""The readings of a worksheet: boxes for one support, a table for several, the long lists on a second page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from hingeline_app.figures.wording import NOT_KNOWN, count_of, format_number, format_quantity, unit_text, with_unit
from hingeline_app.report.pictures import mean_net
from hingeline_app.report.quantities import arm_text, heading, listed, one_unit, value_of, written
from hingeline_app.report.record import Result

BOXES = 5
MOST_BOXED = 10
MOST_IN_A_ROW = 12
LONGEST_BOXED = 8
MOST_HAND_ROWS = 3

Support = Mapping[str, Any]


def readings_view(result: Result) -> dict[str, Any]:
    """Return what the template needs to lay out the readings."""
    supports: Sequence[Support] = result.get("supports") or []
    boxed = len(supports) == 1 and not result.get("hung") and _fit_in_boxes(_all_readings(supports[0]))
    return {
        "heading": heading("Readings", _all_readings(supports[0])) if boxed else "Readings",
        "boxes": _boxes(supports[0]) if boxed else [],
        "table": [] if boxed else [_row(number, support) for number, support in enumerate(supports, 1)],
        "loads": _loads(result),
        "hand": _hand_rows(supports),
        "long": [] if boxed else _long_lists(supports),
    }


def _all_readings(support: Support) -> list[Any]:
    return [*(support.get("readings") or []), *(support.get("rising") or []), *(support.get("falling") or [])]


def _fit_in_boxes(readings: Sequence[Any]) -> bool:
    return len(readings) <= MOST_BOXED and all(len(text) <= LONGEST_BOXED for text in listed(readings))


def _boxes(support: Support) -> list[dict[str, Any]]:
    """Return rows of at most five boxes, each row with its name."""
    rows = []
    for name, key in (("weighed", "readings"), ("rising", "rising"), ("falling", "falling")):
        values = listed(support.get(key) or [])
        for start in range(0, len(values), BOXES):
            cells = values[start : start + BOXES]
            rows.append({"name": name, "first": start + 1, "cells": cells + [""] * (BOXES - len(cells))})
    return rows


def _row(number: int, support: Support) -> list[str]:
    """Return one support as a row: number and place, what was read, tare, mean less tare, force."""
    way = "" if support.get("pushes", "up") == "up" else ", hook pulls down"
    place = f"{arm_text(support)} {support.get('side', 'aft')}{way}"
    force = value_of(support.get("force"))
    newtons = NOT_KNOWN if force is None else format_quantity(abs(force), "N", digits=4)
    return [str(number), place, _summary(support), written(support.get("tare")), mean_net(support), newtons]


def _summary(support: Support) -> str:
    readings = _all_readings(support)
    if len(readings) <= MOST_IN_A_ROW:
        return _all_listed(support, readings)
    if one_unit(readings) is None:
        return f"{count_of(len(readings), 'reading')}, listed on the last sheet"
    values = [value for reading in readings if (value := value_of(reading)) is not None]
    low, high = (written({"value": end, "unit": one_unit(readings)}) for end in (min(values), max(values)))
    return f"{count_of(len(readings), 'reading')}, {low} … {high}, listed on the last sheet"


def _all_listed(support: Support, readings: Sequence[Any]) -> str:
    """List few readings on one line; a pair across friction says which is which."""
    texts, unit = listed(readings), one_unit(readings) if readings else None
    rising = len(support.get("rising") or [])
    pair = f"rising {'  '.join(texts[:rising])}; falling {'  '.join(texts[rising:])}"
    words = pair if rising else "  ".join(texts)
    return f"{words} {unit_text(unit)}" if unit else words


def _loads(result: Result) -> list[list[str]]:
    """Return hung masses and parts as rows: what, where, how heavy, what its state was."""
    rows = [
        [f"hung mass {number}", f"{arm_text(entry)} {entry.get('side', '')}", written(entry["mass"])]
        for number, entry in enumerate(result.get("hung") or [], 1)
    ]
    for entry in result.get("parts") or []:
        place = f"{arm_text(entry)} {entry.get('side', '')}"
        rows.append([f"{entry['name']}, {entry.get('state', '')}", place, written(entry["mass"])])
    return rows


def _hand_rows(supports: Sequence[Support]) -> list[str]:
    """Name the empty rows for weighing again by hand."""
    if len(supports) <= 1:
        return ["by hand"]
    return [f"by hand, support {number}" for number in range(1, min(len(supports), MOST_HAND_ROWS) + 1)]


def _long_lists(supports: Sequence[Support]) -> list[dict[str, str]]:
    """Return the full lists of supports whose readings did not stand on the first page."""
    lists = []
    for number, support in enumerate(supports, 1):
        if len(_all_readings(support)) <= MOST_IN_A_ROW:
            continue
        for key in ("readings", "rising", "falling"):
            readings = support.get(key) or []
            if readings:
                title = heading(f"Support {number}, {key}: {count_of(len(readings), 'reading')}", readings)
                lists.append({"title": title, "values": "   ".join(listed(readings))})
    return lists


def scale_words(result: Result, calibrated: str) -> str:
    """Say which scales were used, when they were calibrated, and what the tare was."""
    supports: Sequence[Support] = result.get("supports") or []
    names = list(dict.fromkeys(str(support["scale"]) for support in supports if support.get("scale")))
    words = f"Scale {', '.join(names)}" if names else "Scale not named"
    how = calibrated if calibrated.startswith("certificate") else f"calibrated {calibrated}"
    words += f", {how}. " if calibrated else ", calibrated on ____________. "
    if len(supports) == 1:
        words += f"Tare {written(supports[0].get('tare'))}. Mean less tare {mean_net(supports[0])}. "
    return f"{words}{gravity_words(result)}".strip()


def gravity_words(result: Result) -> str:
    """Say which local gravity is counted with; nothing where there is none."""
    gravity = value_of(result.get("local_gravity"))
    return "" if gravity is None else f"Local gravity {with_unit(format_number(gravity, 5), 'm/s^2')}."
