"""Tables of a workshop that begins: what is read, and every fault by row and column (table 3C of the bad input)."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable
from datetime import date, datetime
from decimal import Decimal
from typing import Any

import pytest
from openpyxl import Workbook

from hingeline.errors import InputRefused
from hingeline_app.files.onboarding_file import MOST_TOLD, read_tables

COUNTERS = "registration,counter,read on,shown\nD-E03M,hours,2026-03-12,613.0\n"


def refused(data: bytes | str) -> list[str]:
    with pytest.raises(InputRefused) as fault:
        read_tables(data.encode() if isinstance(data, str) else data, "table.csv")
    return [str(each) for each in fault.value.refusals]


def workbook(sheets: dict[str, Iterable[Iterable[Any]]]) -> bytes:
    book = Workbook()
    book.remove(book.active)
    for title, rows in sheets.items():
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(list(row))
    written = io.BytesIO()
    book.save(written)
    return written.getvalue()


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_a_csv_file_is_known_by_its_header(encoding: str, mark: str) -> None:
    (sheet,) = read_tables(COUNTERS.replace(",", mark).encode(encoding), "x")
    assert sheet.kind == "counters"
    (row,) = sheet.rows
    assert (row.number, row.cells["read on"], row.cells["shown"]) == (2, date(2026, 3, 12), Decimal("613.0"))


def test_a_decimal_comma_stands_in_a_file_with_semicolons() -> None:
    (sheet,) = read_tables(COUNTERS.replace(",", ";").replace("613.0", "613,5").encode(), "x")
    assert sheet.rows[0].cells["shown"] == Decimal("613.5")


def test_a_decimal_comma_in_a_file_with_commas_is_refused_with_its_row() -> None:
    (fault,) = refused(COUNTERS.replace("613.0", "613,5"))
    assert "row 2" in fault
    assert "5 cells" in fault


@pytest.mark.parametrize(
    ("table", "words"),
    [
        ("", "1 to 20 MB"),
        ("\n\n", "empty"),
        ("registration,counter,read on,shown\n", "header only"),
        ("registration,counter,read on\nD,hours,2026-03-12\n", "one of these tables"),
        (COUNTERS.replace("counter,", "counter,counter,", 1).replace("hours", "hours,hours"), "each column once"),
        (COUNTERS.replace("shown\n", "shown,owner\n"), "not known here"),
        (COUNTERS.replace("613.0", ""), "row 2, shown"),
        (COUNTERS.replace("613.0", "#N/A"), "says that there is none"),
        (COUNTERS.replace("613.0", "-"), "says that there is none"),
        (COUNTERS.replace("613.0", "1e3"), "plain digits"),
        (COUNTERS.replace("613.0", "1 613.0"), "thousands"),
        (COUNTERS.replace("613.0", "６１３"), "plain digits"),
        (COUNTERS.replace("613.0", "nan"), "none"),
        (COUNTERS.replace("2026-03-12", "12.03.2026"), "2026-03-12"),
        (COUNTERS.replace("2026-03-12", "2026-02-30"), "2026-03-12"),
        (COUNTERS.replace("hours", "x" * 3000), "at most 2000"),
        ('a,b\n"1,2\n', "whole CSV"),
        (COUNTERS.replace("hours", "ho\x00urs"), "U+0000"),
        (COUNTERS.replace("hours", "hou\u200brs"), "U+200B"),
        (COUNTERS.replace("\n", "\n\ufeff", 1), "U+FEFF"),
    ],
)
def test_what_is_refused_says_where_and_why(table: str, words: str) -> None:
    assert any(words in fault for fault in refused(table)), refused(table)


def test_another_encoding_is_refused_and_never_guessed() -> None:
    (fault,) = refused("name,initials\nJürgen,J\n".encode("latin-1"))
    assert "UTF-8" in fault


def test_all_faults_are_told_in_one_list_of_fifty_at_most() -> None:
    rows = "".join("D-E03M,hours,never,x\n" for _ in range(40))
    assert len(refused("registration,counter,read on,shown\n" + rows)) == MOST_TOLD


def test_a_misspelt_column_is_guessed_in_words_only() -> None:
    assert any("licence number" in fault for fault in refused("name,initials,license number\nAnna,AB,1\n"))


def test_a_workbook_has_a_sheet_for_each_kind() -> None:
    data = workbook(
        {
            "People": [["Name", "Initials", "Roles"], ["Müller", "M", "engineer; certifying"]],
            "counters": [
                ["registration", "counter", "read on", "shown"],
                ["D-E03M", "hours", datetime(2026, 3, 12), 613.5],
                ["D-E03M", "landings", date(2026, 3, 12), 900],
            ],
        }
    )
    people, counters = read_tables(data, "begin.xlsx")
    assert people.rows[0].cells["roles"] == ("engineer", "certifying")
    assert [row.cells["shown"] for row in counters.rows] == [Decimal("613.5"), Decimal("900")]


@pytest.mark.slow
def test_empty_cells_to_the_right_are_no_cells_and_filled_ones_far_out_are_refused() -> None:
    """A spreadsheet writes its separators to the end; what stands far to the right was left out without a word."""
    (sheet,) = read_tables(b"name,initials,\nNora Ashby,NA,,,\n,,,\n", "x")
    assert [dict(row.cells) for row in sheet.rows] == [{"name": "Nora Ashby", "initials": "NA"}]
    for far in (45, 16_000):
        (fault,) = refused(workbook({"People": [["name", "initials"], ["A", "B", *[None] * far, "x"]]}))
        assert "at most 40 columns" in fault


@pytest.mark.parametrize("table", ["\n" * 200_000, ",".join(map(str, range(400))), "a\n" * 100_001])
def test_lines_and_columns_without_end_are_refused_as_they_come(table: str) -> None:
    """Empty lines by the million took gigabytes, and as many names of columns hours, before they were refused."""
    (told,) = refused(table)
    assert "rows" in told or "columns" in told


def test_a_decomposed_name_is_composed() -> None:
    (sheet,) = read_tables("name,initials\nMu\u0308ller,M\n".encode(), "x")
    assert sheet.rows[0].cells["name"] == "Müller"


def test_initials_may_be_n_and_a() -> None:
    """Nora Ashby is NA; in any other column the same letters say that there is no value."""
    (sheet,) = read_tables(b"name,initials\nNora Ashby,NA\n", "x")
    assert sheet.rows[0].cells["initials"] == "NA"
    (fault,) = refused("name,initials\nNA,AB\n")
    assert "row 2, name" in fault
    (fault,) = refused("name,initials\nNora Ashby,n/a\n")
    assert "row 2, initials" in fault


@pytest.mark.slow
def test_a_damaged_workbook_and_a_bomb_are_refused() -> None:
    whole = workbook({"People": [["name", "initials"], ["A", "B"]]})
    for data in (whole[:200], whole[: len(whole) // 2], b"PK\x03\x04" + bytes(100)):
        refused(data)
    bomb = io.BytesIO()
    with zipfile.ZipFile(bomb, "w", zipfile.ZIP_DEFLATED) as archive:
        for number in range(3):
            archive.writestr(f"xl/{number}.xml", bytes(90_000_000))
    (fault,) = refused(bomb.getvalue())
    assert "usual size" in fault
