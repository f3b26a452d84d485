"""Reading worksheets back: what is not one, or not whole, is refused in one sentence."""

from __future__ import annotations

import io
import json

import pypdf
import pytest

from hingeline.errors import InputRefused
from hingeline_app.report import read_worksheet
from hingeline_app.report.reading import LARGEST
from tests.hingeline_app.report.demo import WEIGHING, demo_pdf, demo_result


@pytest.fixture(scope="module")
def demo() -> bytes:
    return demo_pdf()


def rewritten(attachments: dict[str, bytes], password: str = "") -> bytes:
    """Make a PDF of one empty page with these attachments."""
    writer = pypdf.PdfWriter()
    writer.add_blank_page(100, 100)
    for name, data in attachments.items():
        writer.add_attachment(name, data)
    if password:
        writer.encrypt(password, algorithm="RC4-128")
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue() + b"\n"


RECORD = {"weighing.toml": WEIGHING.encode(), "result.json": json.dumps(demo_result()).encode()}


def test_a_worksheet_whose_paper_cannot_be_read_still_gives_its_record() -> None:
    read = read_worksheet(rewritten(RECORD))
    assert (read.weighing_text, read.result, read.printed_digest) == (WEIGHING, demo_result(), None)


@pytest.mark.parametrize(
    ("data", "remedy"),
    [
        (b"", "Give the PDF that was written with --pdf."),
        (b'format = "hingeline/weighing/1"', "Give the PDF that was written with --pdf."),
        (b"%PDF-1.7 and nothing", "cut off"),
        (b"%PDF-1.7\n%%EOF", "cannot be read"),
        (b"%PDF-1.7\n" + b"\xff" * 3000 + b"%%EOF", "cannot be read"),
    ],
)
def test_what_is_no_pdf_or_a_broken_one_is_refused(data: bytes, remedy: str) -> None:
    with pytest.raises(InputRefused, match=remedy) as refused:
        read_worksheet(data)
    assert refused.value.refusals[0].expected == "a worksheet PDF made by Hingeline"


def test_a_file_that_is_too_large_is_refused_unread() -> None:
    with pytest.raises(InputRefused, match="Files over 50 MB are not read"):
        read_worksheet(b"%PDF-" + b" " * LARGEST)


@pytest.mark.parametrize("part", [0.1, 0.5, 0.9, 0.99])
def test_a_worksheet_that_was_cut_off_is_refused(demo: bytes, part: float) -> None:
    with pytest.raises(InputRefused, match="cut off"):
        read_worksheet(demo[: int(len(demo) * part)])


def test_a_pdf_of_another_kind_is_refused() -> None:
    with pytest.raises(InputRefused, match=r"a PDF without weighing\.toml inside"):
        read_worksheet(rewritten({}))
    with pytest.raises(InputRefused, match=r"a PDF without result\.json inside"):
        read_worksheet(rewritten({"weighing.toml": b""}))


def test_an_encrypted_pdf_is_refused() -> None:
    with pytest.raises(InputRefused, match="Take the protection off"):
        read_worksheet(rewritten(RECORD, password="secret"))


@pytest.mark.parametrize(
    ("result", "value"),
    [
        (b"{", "a damaged PDF"),
        (b"\xff\xfe", "a damaged PDF"),
        (b'{"format": "hingeline/weighing-result/1", "static_moment": NaN}', "a damaged PDF"),
        # Read, they had no check sum: half a letter that no text is written with, and a number beyond every float.
        (b'{"format": "hingeline/weighing-result/1", "static_moment": {}, "by": "\\ud800"}', "a damaged PDF"),
        (b'{"format": "hingeline/weighing-result/1", "static_moment": {"value": 1e999}}', "a damaged PDF"),
        (b"[" * 100_000, "a damaged PDF"),
        (b"[]", "a record of format 'list'"),
        (b'{"format": ["x"]}', """a record of format "['x']\""""),
        (b'{"format": "hingeline/flutter-result/1"}', "a record of format 'hingeline/flutter-result/1'"),
        (b'{"format": "hingeline/weighing-result/1"}', "a record without its finding"),
        (
            b'{"format": "hingeline/weighing-result/1", "static_moment": {}, "about": []}',
            "a record without its finding",
        ),
        (b" " * 6_000_000, "a record of 6 MB"),
    ],
)
def test_a_record_that_is_not_ours_is_refused(result: bytes, value: str) -> None:
    with pytest.raises(InputRefused, match="worksheet") as refused:
        read_worksheet(rewritten({"weighing.toml": b"", "result.json": result}))
    assert refused.value.refusals[0].value.startswith(value)


@pytest.mark.slow
def test_a_byte_changed_anywhere_is_read_or_refused_but_never_an_accident(demo: bytes) -> None:
    outcomes = set()
    for place in range(0, len(demo), len(demo) // 50):
        damaged = demo[:place] + bytes([demo[place] ^ 0x55]) + demo[place + 1 :]
        try:
            outcomes.add(read_worksheet(damaged).result["format"])
        except InputRefused as refused:
            outcomes.add(refused.refusals[0].expected)
    assert outcomes <= {"hingeline/weighing-result/1", "a worksheet PDF made by Hingeline"}
