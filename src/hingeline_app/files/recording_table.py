"""A table of a recording (CSV): columns by quantity and unit in the header, to the library's record."""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice, pairwise

from hingeline.errors import InputRefused, Refusal
from hingeline.motion.model import Channel, Quantity, Recording, TimeScale
from hingeline.units import STANDARD_GRAVITY

MOST_ROWS, MOST_TOLD, LONGEST_CELL = 1_000_000, 20, 64
UNITS_OF: dict[str, dict[str, float]] = {
    "time": {"s": 1.0, "ms": 1e-3, "us": 1e-6, "ns": 1e-9},
    "plunge": {"m": 1.0, "mm": 1e-3, "cm": 1e-2, "in": 0.0254},
    "pitch": {"rad": 1.0, "deg": math.pi / 180.0},
    "surface": {"rad": 1.0, "deg": math.pi / 180.0},
    "acceleration": {"m_s2": 1.0, "g": STANDARD_GRAVITY},
    "airspeed": {"m_s": 1.0, "kn": 1852.0 / 3600.0, "km_h": 1.0 / 3.6},
}
QUANTITIES: dict[str, Quantity] = {
    "plunge": "plunge",
    "pitch": "pitch",
    "surface": "surface",
    "acceleration": "acceleration",
}
NAMES = "time_s, plunge_m, pitch_deg, surface_deg, acceleration_x_m_s2, airspeed_m_s"
Track = list[float | None]
MISSING = {"", "nan", "na", "null", "none", "-"}
_NUMBER = re.compile(r"[+\-−]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+\-]?[0-9]+)?")
_NAME = re.compile(r"(time|plunge|pitch|surface|acceleration|airspeed)(?:_([a-z0-9]+))??_(m_s2|m_s|km_h|[a-z]+)")


@dataclass(frozen=True, slots=True)
class Column:
    """One column that is read: its quantity, its name as given, what turns it into SI, where it stands."""

    quantity: str
    name: str
    factor: float
    index: int


def read_recording_table(
    data: bytes, columns: Mapping[str, str] | None = None, captured_at: float | None = None, name: str = ""
) -> Recording:
    """Read a table.

    Parameters
    ----------
    data : bytes
        Text in UTF-8: a header, then numbers; parted by commas, semicolons or tabs. An empty cell is a lost value.
        A comma may be the decimal sign where commas do not part the columns; never beside a point.
    columns : mapping of str to str, optional
        Header that stands for a name of ours, such as ``{"pitch_deg": "Angle"}``.
    captured_at : float, optional
        True rate of the samples, for a table made from a slow-motion video [1/s].
    name : str

    Raises
    ------
    InputRefused
        With every fault of the header, or of the first rows that have one.
    """
    (_, first), *rows = _rows(_decoded(data))
    header = [cell.strip().lstrip("\ufeff") for cell in first]
    found = _columns(header, columns or {})
    values = _values(rows, found, len(header))
    times = [value for value in values[0] if value is not None]
    rest = [[value for value, at in zip(track, values[0], strict=True) if at is not None] for track in values[1:]]
    return Recording(
        times=tuple(times),
        channels=tuple(
            Channel(QUANTITIES[column.quantity], tuple(track), column.name)
            for column, track in zip(found[1:], rest, strict=True)
            if column.quantity in QUANTITIES
        ),
        airspeed=next(
            (tuple(track) for column, track in zip(found[1:], rest, strict=True) if column.quantity == "airspeed"), None
        ),
        time_scale=scale_of(times, captured_at),
        name=name,
    )


def scale_of(times: Sequence[float], captured_at: float | None) -> TimeScale:
    """Give the time scale: as in the file, or by the true rate of its samples."""
    if captured_at is None:
        return TimeScale()
    steps = sorted(later - before for before, later in pairwise(times))
    usual = steps[len(steps) // 2] if steps else 0.0
    if usual <= 0.0:
        raise InputRefused.of("--captured-at", captured_at, "times that rise", "Check the time column.")
    return TimeScale(1.0 / (usual * captured_at), "given")


def _decoded(data: bytes) -> str:
    if not data.strip():
        raise InputRefused.of("FILE", "empty", "a table of a recording", f"Name its columns so: {NAMES}.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data.count(10, 0, fault.start) + 1
        shown = f"byte {data[fault.start]:#04x} in line {line}"
        raise InputRefused.of("FILE", shown, "a table in UTF-8, or a WAV file", "Save it as plain text.") from None


def _rows(text: str) -> list[tuple[int, list[str]]]:
    """Part the text into rows, each with the line where it ends, as an editor counts."""
    numbered = [(number, line) for number, line in enumerate(text.splitlines(), 1) if line.strip()]
    numbered = [(number, line) for number, line in numbered if not line.startswith("#")]
    lines = [line for _, line in numbered]
    if len(lines) < 2:
        raise InputRefused.of("FILE", f"{len(lines)} lines", "a header and rows of numbers", f"Columns: {NAMES}.")
    if len(lines) > MOST_ROWS + 1:
        remedy = "Cut out the part that matters."
        raise InputRefused.of("FILE", f"{len(lines)} lines", f"at most {MOST_ROWS} rows", remedy)
    separator = max(";\t,", key=lambda each: (lines[0].count(each), each != ","))
    try:
        reader = csv.reader(lines, delimiter=separator)
        return [(numbered[reader.line_num - 1][0], row) for row in reader]
    except csv.Error as fault:
        raise InputRefused.of("FILE", str(fault), "a table", "Save it as plain CSV.") from None


def _columns(header: Sequence[str], renamed: Mapping[str, str]) -> list[Column]:
    """Find the columns that are read, time first; every fault of the header at once."""
    faults: list[Refusal] = []
    found: list[Column] = []
    for place, given in _named(header, renamed, faults):
        column = _column(given, place)
        if column is not None:
            found.append(column)
    if not any(column.quantity == "time" for column in found):
        shown = ", ".join(header)[:200]
        faults.append(Refusal("header", shown, "a column time_s", 'Name it so, or write --column time_s="its header".'))
    if not any(column.quantity in QUANTITIES for column in found):
        remedy = 'Name it by quantity and unit, or write --column pitch_deg="its header".'
        faults.append(Refusal("header", ", ".join(header)[:200], f"a motion among {NAMES}", remedy))
    for quantity in ("time", "airspeed", "plunge", "pitch", "surface"):
        twice = [column.name for column in found if column.quantity == quantity]
        if len(twice) > 1:
            faults.append(Refusal("header", ", ".join(twice), f"one column of {quantity}", "Rename the others."))
    names = [column.name.lower() for column in found if column.quantity == "acceleration"]
    for name in sorted({each for each in names if names.count(each) > 1}):
        faults.append(Refusal("header", name, "each column once", "Rename one of them, as acceleration_x_m_s2."))
    if faults:
        raise InputRefused(faults)
    return sorted(found, key=lambda column: column.quantity != "time")


def _named(header: Sequence[str], renamed: Mapping[str, str], faults: list[Refusal]) -> Iterator[tuple[int, str]]:
    """Give place and name of each column, a header that was mapped under the name it stands for."""
    mapped: dict[int, str] = {}
    for ours, theirs in renamed.items():
        if _column(ours, 0) is None:
            faults.append(Refusal("--column", ours, f"a name such as {NAMES}", "Quantity first, unit last."))
        elif theirs not in header:
            shown = ", ".join(header)[:200]
            faults.append(
                Refusal("--column", f"{ours}={theirs}", f"a header of the file: {shown}", "Check its spelling.")
            )
        elif header.count(theirs) > 1:
            faults.append(Refusal("--column", f"{ours}={theirs}", "a header that stands once", "Rename one of them."))
        elif header.index(theirs) in mapped:
            remedy = "Leave one of the two out."
            faults.append(Refusal("--column", f"{ours}={theirs}", "one name for each column", remedy))
        else:
            mapped[header.index(theirs)] = ours
    for place, given in enumerate(header):
        yield place, mapped.get(place, given)


def _column(given: str, place: int) -> Column | None:
    match = _NAME.fullmatch(given.lower())
    if match is None:
        return None
    quantity, unit = match[1], match[3]
    factor = UNITS_OF[quantity].get(unit)
    return None if factor is None else Column(quantity, given, factor, place)


def _values(rows: Sequence[tuple[int, Sequence[str]]], columns: Sequence[Column], width: int) -> list[Track]:
    faults: list[Refusal] = []
    found: list[Track] = [[] for _ in columns]
    signs: dict[str, str] = {}
    for number, row in rows:
        if any(map(str.strip, row[width:])):
            remedy = "A comma in a number needs semicolons or tabs between the columns."
            faults.append(Refusal(f"row {number}", f"{len(row)} cells", f"{width} cells, as in the header", remedy))
        for column, track in zip(columns, found, strict=True):
            cell = row[column.index].strip() if column.index < len(row) else ""
            track.append(_value(cell, f"{column.name}, row {number}", column.factor, signs, faults))
    if len(signs) > 1:
        place = signs[","]
        shown, remedy = f"a comma, beside a point at {signs['.']}", "Write every number with the same one."
        faults.append(Refusal(place, shown, "one decimal sign in the whole table", remedy))
    if faults:
        raise InputRefused(islice(faults, MOST_TOLD))
    return found


def _value(cell: str, place: str, factor: float, signs: dict[str, str], faults: list[Refusal]) -> float | None:
    """Read a cell; where each decimal sign stands first is noted."""
    if cell.lower() in MISSING:
        return None
    has_comma = cell.count(",") == 1 and "." not in cell
    plain = cell.replace("−", "-").replace(",", ".") if has_comma else cell
    if len(plain) <= LONGEST_CELL and _NUMBER.fullmatch(plain):
        value = float(plain.replace("−", "-")) * factor
        if math.isfinite(value):
            if "." in plain:
                signs.setdefault("," if has_comma else ".", place)
            return value
    remedy = "Leave the cell empty where the value was lost."
    faults.append(Refusal(place, cell[:LONGEST_CELL], "a number", remedy))
    return None
