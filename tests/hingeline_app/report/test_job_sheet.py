"""Sheets of a coating, a swing and a dynamic balance: what they say, carry and replay to."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from pypdf import PdfReader

from hingeline.balance.coating import predict_coating
from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline_app.cli.main import main
from hingeline_app.cli.output import with_about
from hingeline_app.files.coating_file import read_coating
from hingeline_app.report import SheetDetails, make_job_sheet, read_worksheet
from hingeline_app.said import reading_in, says
from tests.doors.checkouts import ROOT

CASES = {
    "coating": ("12-aileron-repaint.toml", "Painting and stripping, predicted — not weighed", "0.346 ± 0.016 N·m"),
    "swing": ("14-rudder-swung-with-a-mass.toml", "Moment of inertia, from a swing", "0.0204 ± 0.0019 kg m²"),
    "dynamic": ("15-aileron-dynamic-balance.toml", "Dynamic balance, an estimate", "inboard end"),
}


def sheet_of(command: str, folder: Path, *options: str) -> bytes:
    """Make the sheet of an example."""
    out = folder / f"{command}.pdf"
    assert main([command, str(ROOT / "examples" / CASES[command][0]), "--pdf", str(out), *options]) == 0
    return out.read_bytes()


def words_of(pdf: bytes) -> str:
    """Give the text of all pages, its spaces made plain."""
    document = pypdfium2.PdfDocument(pdf)
    return " ".join(" ".join(page.get_textpage().get_text_range() for page in document).split())


@pytest.mark.parametrize("command", CASES)
def test_a_sheet_says_what_the_page_says(command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Title, finding, caution and check sum stand on one sheet of paper."""
    pdf = sheet_of(command, tmp_path)
    _, title, finding = CASES[command]
    words = words_of(pdf)
    assert title in words
    assert finding in words
    assert "Not a release." in words
    assert "check sum" in words
    assert len(pypdfium2.PdfDocument(pdf)) == 1
    assert "The sheet was written to" in capsys.readouterr().err


def test_the_heading_of_a_sheet_is_in_its_readers_language(tmp_path: Path) -> None:
    """It was taken for a name of the template's own, and stood in English over a German sheet."""
    with reading_in("de"):
        pdf = sheet_of("swing", tmp_path)
    assert says_in_german(CASES["swing"][1]) in words_of(pdf)
    assert CASES["swing"][1] not in words_of(pdf)


def says_in_german(english: str) -> str:
    """Give the book's German."""
    with reading_in("de"):
        return str(says(english))


@pytest.mark.parametrize("command", CASES)
def test_a_sheet_carries_its_record(command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The input stands in it byte for byte, and the result is that of --json but for ``about``."""
    pdf = sheet_of(command, tmp_path)
    text = (ROOT / "examples" / CASES[command][0]).read_text("utf-8")
    assert PdfReader(BytesIO(pdf)).attachments[f"{command}.toml"][0] == text.encode()
    capsys.readouterr()
    main([command, str(ROOT / "examples" / CASES[command][0]), "--json"])
    shown: dict[str, Any] = json.loads(capsys.readouterr().out)
    read = read_worksheet(pdf)
    assert {**read.result, "about": None} == {**shown, "about": None}
    assert read.printed_digest is not None


@pytest.mark.parametrize("command", CASES)
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_sheet_replays_to_the_last_digit(
    command: str, paper: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Worked out again it is the same, and its check sum holds."""
    sheet_of(command, tmp_path, "--paper", paper)
    capsys.readouterr()
    assert main(["replay", str(tmp_path / f"{command}.pdf"), "--json"]) == 0
    replayed = json.loads(capsys.readouterr().out)
    assert replayed["same"] is True
    assert replayed["check_sum_holds"] is True
    assert main(["replay", str(tmp_path / f"{command}.pdf")]) == 0
    assert "Same to the last digit." in capsys.readouterr().out


def test_a_sheet_of_before_is_worked_out_by_what_its_percentage_meant_then(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A bare "3 %" beside a part of a whole, which 1.0.0 read as 3 % of it, comes out the same, and it is said."""
    today = (ROOT / "examples" / "13-elevator-strip-and-patch.toml").read_text("utf-8")
    assert today.count("limit = 0.03") == 1
    told, then = (today.replace("limit = 0.03", f'limit = "{words}"') for words in ("3 % of it", "3 %"))
    result = with_about(to_document(predict_coating(read_coating(told.encode()))))
    made = datetime(2026, 11, 28, 9, 41, tzinfo=UTC)
    path = tmp_path / "then.pdf"
    path.write_bytes(make_job_sheet(result, then, SheetDetails(), made, "0", parts=[], cautions=[], name="Elevator"))
    assert main(["replay", str(path), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["same"] is True
    assert "layer[2].volume_solids.limit is 3 %: read as a part of the value" in found["cautions"][0]
    assert not any("read as a part" in each for each in found["cautions"][1:])
    with pytest.raises(InputRefused, match="a percentage that says of what"):
        read_coating(then.encode())


def test_the_title_block_is_filled_from_the_sheet_table(tmp_path: Path) -> None:
    """Workshop, aircraft and job of ``[sheet]`` stand on the paper; an unknown field there is refused."""
    text = (ROOT / "examples" / CASES["swing"][0]).read_text("utf-8")
    job = tmp_path / "swing.toml"
    job.write_text(
        text + '\n[sheet]\nworkshop = "Fenholt workshop"\naircraft = "Merle T2 · T2-03"\njob = "0431"\n', "utf-8"
    )
    assert main(["swing", str(job), "--pdf", str(tmp_path / "s.pdf")]) == 0
    words = words_of((tmp_path / "s.pdf").read_bytes())
    assert all(word in words for word in ("Fenholt workshop", "Merle T2 · T2-03", "0431"))
    job.write_text(text + '\n[sheet]\nworkshp = "Fenholt"\n', "utf-8")
    assert main(["swing", str(job), "--pdf", str(tmp_path / "t.pdf")]) == 2
    assert not (tmp_path / "t.pdf").exists()


def test_a_record_without_its_finding_is_refused() -> None:
    """In words that say what it lacks."""
    made = datetime(2027, 3, 12, 9, 41, tzinfo=UTC)
    result = {"format": "hingeline/swing-result/1", "about": {}}
    pdf = make_job_sheet(result, "x", SheetDetails(), made, "0", parts=[], cautions=[], name="Rudder")
    with pytest.raises(InputRefused, match="without its finding"):
        read_worksheet(pdf)
