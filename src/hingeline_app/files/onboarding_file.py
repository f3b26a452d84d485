"""Tables for a workshop that begins: CSV, or a workbook with a sheet for each kind. Nothing is guessed, no row skipped.

A CSV file is of one kind, told by its header. All faults of a file are told in one list, by
row and column.
"""

from __future__ import annotations

import csv
import io
import unicodedata
import zipfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, NoReturn

from hingeline.errors import InputRefused, MissingExtra, Refusal
from hingeline_app.files.onboarding_columns import KINDS, cell_value
from hingeline_app.files.quantities import UNSEEN
from hingeline_app.files.shown import guess, shown

LARGEST_FILE = 20_000_000
LARGEST_UNPACKED = 200_000_000
MOST_ROWS, MOST_COLUMNS, LONGEST_CELL = 20_000, 40, 2_000
FARTHEST_COLUMN, FARTHEST_LINE = 5 * MOST_COLUMNS, 5 * MOST_ROWS
MOST_TOLD = 50
MARKS = {b"\xff\xfe": "utf-16", b"\xfe\xff": "utf-16"}


@dataclass(frozen=True)
class SheetRow:
    """One row: its number as a spreadsheet counts, and its cells by column."""

    number: int
    cells: Mapping[str, Any]


@dataclass(frozen=True)
class Sheet:
    """The rows of one kind."""

    kind: str
    rows: tuple[SheetRow, ...]


def read_tables(data: bytes, name: str) -> tuple[Sheet, ...]:
    """Read a CSV file or a workbook.

    Raises
    ------
    InputRefused
        With every fault, by row and column, the first fifty of them.
    """
    if not 0 < len(data) <= LARGEST_FILE:
        raise InputRefused.of("file", name, f"1 to {LARGEST_FILE // 1_000_000} MB", "Give a table with rows.")
    tables = _workbook(data, name) if data[:4] == b"PK\x03\x04" else [("", _csv_rows(data, name))]
    refusals: list[Refusal] = []
    sheets = [_sheet(title, rows, refusals) for title, rows in tables]
    if refusals:
        raise InputRefused(refusals[:MOST_TOLD])
    return tuple(sheet for sheet in sheets if sheet is not None)


def _csv_rows(data: bytes, name: str) -> list[list[str]]:
    encoding = MARKS.get(data[:2], "utf-8-sig")
    try:
        written = data.decode(encoding)
    except UnicodeDecodeError:
        # Another encoding would accept any bytes, and make other letters of them.
        raise InputRefused.of("file", name, "a file in UTF-8", "Save it again as CSV in UTF-8.") from None
    head = written.split("\n", 1)[0]
    mark = max(";,\t", key=head.count)
    try:
        return list(_bounded_lines(csv.reader(io.StringIO(written, newline=""), delimiter=mark, strict=True)))
    except csv.Error as fault:
        raise InputRefused.of("file", name, "a whole CSV file", f"Mend it: {fault}.") from None


def _bounded_lines(lines: Iterable[list[str]]) -> Iterator[list[str]]:
    """Refuse what is no table before all of it lies in memory: empty lines or columns by the million."""
    for number, line in enumerate(lines, 1):
        if len(line) > FARTHEST_COLUMN:
            _refuse_wide(f"row {number}", f"{len(line)} columns")
        if number > FARTHEST_LINE:
            told = f"more than {FARTHEST_LINE} rows"
            raise InputRefused.of("file", told, "fewer rows", "Give them in several files.")
        yield line


def _workbook(data: bytes, name: str) -> list[tuple[str, list[list[str]]]]:
    _refuse_bomb(data, name)
    try:
        from openpyxl import load_workbook
    except ModuleNotFoundError:
        raise MissingExtra('A workbook needs a package that is missing: pip install "hingeline[web]".') from None
    try:
        book = load_workbook(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
        return [(sheet.title, [_cells(row) for row in _bounded(sheet)]) for sheet in book.worksheets]
    except InputRefused:
        raise
    except Exception as fault:
        # The package raises whatever a damaged part of the file leads it into.
        raise InputRefused.of("file", name, "a whole workbook (.xlsx)", "Save it again, or as CSV.") from fault


def _bounded(sheet: Any) -> Iterable[Sequence[Any]]:
    if (sheet.max_column or 0) > FARTHEST_COLUMN:
        _refuse_wide(sheet.title, f"{sheet.max_column} columns")
    for number, row in enumerate(sheet.iter_rows(values_only=True, max_col=FARTHEST_COLUMN), 1):
        if any(cell not in (None, "") for cell in row[MOST_COLUMNS:]):
            _refuse_wide(f"{sheet.title}, row {number}", f"more than {MOST_COLUMNS} columns")
        if number > MOST_ROWS:
            raise InputRefused.of(
                sheet.title, f"more than {MOST_ROWS} rows", "fewer rows", "Give them in several files."
            )
        yield row[:MOST_COLUMNS]


def _refuse_wide(place: str, shown_width: str) -> NoReturn:
    remedy = "Save the table alone in a new workbook."
    raise InputRefused.of(place, shown_width, f"at most {MOST_COLUMNS} columns", remedy)


def _refuse_bomb(data: bytes, name: str) -> None:
    """Refuse what unpacks to far more than a table, before it is unpacked."""
    try:
        infos = zipfile.ZipFile(io.BytesIO(data)).infolist()
    except (zipfile.BadZipFile, OSError, ValueError):
        raise InputRefused.of("file", name, "a whole workbook (.xlsx)", "Save it again, or as CSV.") from None
    if len(infos) > 1000 or sum(info.file_size for info in infos) > LARGEST_UNPACKED:
        raise InputRefused.of("file", name, "a table of a usual size", "Save the table alone in a new workbook.")


def _cells(row: Sequence[Any]) -> list[str]:
    cells = [_as_text(value) for value in row]
    while cells and not cells[-1]:
        cells.pop()
    return cells


def _as_text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == datetime.min.time() else value.isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value)


def _sheet(title: str, rows: list[list[str]], refusals: list[Refusal]) -> Sheet | None:
    """Read one table; its faults are added to the list."""
    rows = [_cells([_plain(cell) for cell in row]) for row in rows]
    filled = [(number, row) for number, row in enumerate(rows, 1) if any(row)]
    place = title or "file"
    if not filled:
        refusals.append(Refusal(place, "", "a header and rows", "It is empty."))
        return None
    header = [name.casefold() for name in filled[0][1]]
    kind = title.casefold() if title.casefold() in KINDS else _kind_of(header)
    faults = _header_faults(place, kind, header)
    if len(filled) == 1 and not faults:
        faults = [Refusal(place, "", "rows under the header", "It has a header only.")]
    refusals.extend(faults)
    if faults or kind is None:
        return None
    if len(filled) > MOST_ROWS:
        refusals.append(Refusal(place, str(len(filled)), f"at most {MOST_ROWS} rows", "Give them in several files."))
        return None
    return Sheet(kind, tuple(_row(kind, header, number, row, refusals) for number, row in filled[1:]))


def _kind_of(header: list[str]) -> str | None:
    """Tell the kind by the header: the one whose needed columns are all there, and that knows most of the others."""
    fits = {
        kind: sum(name in columns for name in header)
        for kind, columns in KINDS.items()
        if all(name in header for name, column in columns.items() if column.needed)
    }
    return max(fits, key=lambda kind: fits[kind]) if fits else None


def _header_faults(place: str, kind: str | None, header: list[str]) -> list[Refusal]:
    if kind is None:
        known = "; ".join(f"{name}: {', '.join(columns)}" for name, columns in KINDS.items())
        return [
            Refusal(f"{place}, header", shown(", ".join(header)), f"one of these tables: {known}", "Mend the header.")
        ]
    columns, faults = KINDS[kind], []
    for name in sorted({name for name in header if header.count(name) > 1}):
        faults.append(Refusal(f"{place}, header", name, "each column once", "Take one out."))
    for name in header:
        if name not in columns:
            remedy = f"It is not known here.{guess(name, columns)} Known: {', '.join(columns)}."
            faults.append(Refusal(f"{place}, header", name, f"a column of {kind}", remedy))
    for name, column in columns.items():
        if column.needed and name not in header:
            faults.append(Refusal(f"{place}, header", "missing", f'the column "{name}"', "Add it."))
    return faults


def _row(kind: str, header: list[str], number: int, row: list[str], refusals: list[Refusal]) -> SheetRow:
    cells: dict[str, Any] = {}
    if len(row) > len(header):
        # A decimal comma in a file with commas between its columns ends here.
        expected = f"{len(header)} cells"
        refusals.append(
            Refusal(f"{kind}, row {number}", f"{len(row)} cells", expected, "Put a cell with a comma in quotes.")
        )
        return SheetRow(number, cells)
    for name, cell in zip(header, row + [""] * (len(header) - len(row)), strict=True):
        try:
            _refuse_unreadable(cell)
            cells[name] = cell_value(KINDS[kind][name], cell)
        except InputRefused as refused:
            refusals.extend(refused.at(f"{kind}, row {number}, {name}").refusals)
    return SheetRow(number, cells)


def _refuse_unreadable(cell: str) -> None:
    if len(cell) > LONGEST_CELL:
        raise InputRefused.of("", shown(cell), f"at most {LONGEST_CELL} characters", "Shorten it.")
    unseen = [letter for letter in cell if unicodedata.category(letter) in UNSEEN and letter not in "\n\r\t"]
    if unseen:
        code = f"U+{ord(unseen[0]):04X}"
        raise InputRefused.of("", shown(cell), "characters that can be seen", f"Take out the character {code}.")


def _plain(cell: str) -> str:
    return unicodedata.normalize("NFC", cell).strip()
