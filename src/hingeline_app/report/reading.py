"""Back from a worksheet's PDF to the record inside it."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING, Any, NoReturn

from hingeline.errors import InputRefused, MissingExtra
from hingeline_app.report.record import (
    DIGEST_LENGTH,
    INPUT_NAME,
    INPUT_NAMES,
    NEVER_MISSING,
    RESULT_FORMAT,
    RESULT_NAME,
    numbered,
)

if TYPE_CHECKING:
    from pypdf import PdfReader

LARGEST = 50_000_000
LARGEST_RECORD = 5_000_000
_TAIL = 2048
_NUMBERED = re.compile(r"weighing-[\w-]+\.toml")
# As the foot of a sheet names them, in each language in which one is printed.
_RECORD = re.compile(r"(?:Record|Nachweis|Dossier)\s+(\S+)\s+·")
_CHECK_SUM = r"(?:check\s+sum|Prüfsumme|somme\s+de\s+contrôle)"
_DIGEST = re.compile(rf"{_CHECK_SUM}\s+([0-9a-f]{{4}})\s*([0-9a-f]{{4}})\s*([0-9a-f]{{4}})")


@dataclass(frozen=True, slots=True)
class ReadWorksheet:
    """What a worksheet carries.

    Parameters
    ----------
    weighing_text : str
        The input as it was typed.
    result : dict
        The result document.
    printed_digest : str or None
        The check sum on the paper, twelve hexadecimal digits; None where none can be read.
    """

    weighing_text: str
    result: dict[str, Any]
    printed_digest: str | None


def read_worksheet(pdf: bytes) -> ReadWorksheet:
    """Read the record out of a worksheet.

    Raises
    ------
    InputRefused
        When the file is no worksheet of ours, or cannot be read whole.
    """
    reader = _whole(pdf)
    return _read(reader, _input_name(reader), RESULT_NAME, _printed_digest(reader))


def read_worksheets(pdf: bytes) -> list[ReadWorksheet]:
    """Read every record out of a file: one of a worksheet, as many as it has jobs of a work order.

    Raises
    ------
    InputRefused
        When the file is no worksheet of ours, or cannot be read whole.
    """
    reader = _whole(pdf)
    inputs = [name for name in _names(reader) if _NUMBERED.fullmatch(name)]
    if not inputs:
        return [read_worksheet(pdf)]
    printed = _printed_digests(reader)
    found = []
    for name in inputs:
        record = name.removeprefix("weighing-").removesuffix(".toml")
        found.append(_read(reader, name, f"result-{record}.json", printed.get(record)))
    return found


def _read(reader: PdfReader, name: str, result_name: str, printed: str | None) -> ReadWorksheet:
    text, result = _attached(reader, name), _result(_attached(reader, result_name))
    kind = INPUT_NAME if _NUMBERED.fullmatch(name) else name
    if INPUT_NAMES[result["format"]] != kind:
        _refuse(f"{name} beside a result of another kind", "The record was changed: use the file as first written.")
    return ReadWorksheet(text, result, printed)


def _whole(pdf: bytes) -> PdfReader:
    """Open a file that is a PDF and not cut off."""
    if len(pdf) > LARGEST:
        _refuse(f"{len(pdf) / 1e6:.0f} MB", "Files over 50 MB are not read: give the worksheet itself.")
    if pdf.lstrip()[:5] != b"%PDF-":
        _refuse("not a PDF", "Give the PDF that was written with --pdf.")
    if b"%%EOF" not in pdf[-_TAIL:]:
        _refuse("a PDF that ends too early", "The file was cut off: copy it again from where it was kept.")
    return _opened(pdf)


def _refuse(value: str, remedy: str) -> NoReturn:
    raise InputRefused.of("worksheet", value, "a worksheet PDF made by Hingeline", remedy)


def _opened(pdf: bytes) -> PdfReader:
    try:
        from pypdf import PdfReader
    except ImportError as missing:
        raise MissingExtra('Reading worksheets needs the package pypdf: pip install "hingeline[app]".') from missing
    try:
        reader = PdfReader(BytesIO(pdf), strict=False)
        encrypted = reader.is_encrypted
        if not encrypted:
            len(reader.pages)
    except Exception as failure:
        _refuse_damaged(failure)
    if encrypted:
        _refuse("an encrypted PDF", "Take the protection off, or use the file as it was first written.")
    return reader


def _refuse_damaged(failure: BaseException) -> NoReturn:
    """Refuse a file that the PDF reader stumbles over, however it stumbles."""
    try:
        _refuse("a damaged PDF", "The file cannot be read: copy it again from where it was kept.")
    except InputRefused as refused:
        raise refused from failure


def _input_name(reader: PdfReader) -> str:
    """Find which kind of input a sheet carries; the first kind where it carries none."""
    attached = set(_names(reader))
    return next((name for name in INPUT_NAMES.values() if name in attached), INPUT_NAMES[RESULT_FORMAT])


def _names(reader: PdfReader) -> list[str]:
    try:
        return list(reader.attachments)
    except Exception as failure:
        _refuse_damaged(failure)


def _attached(reader: PdfReader, name: str) -> str:
    try:
        contents = reader.attachments.get(name, [])
        data = bytes(contents[0]) if contents else None
    except Exception as failure:
        _refuse_damaged(failure)
    if data is None:
        _refuse(f"a PDF without {name} inside", "Only worksheets that still carry their record can be read back.")
    if len(data) > LARGEST_RECORD:
        _refuse(
            f"a record of {len(data) / 1e6:.0f} MB", "No weighing is that large: use the file as it was first written."
        )
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as failure:
        _refuse_damaged(failure)


def _result(text: str) -> dict[str, Any]:
    try:
        result = json.loads(text, parse_constant=_no_such_number)
        # As its check sum is taken: no half of a letter, no number beyond what a float holds.
        json.dumps(result, ensure_ascii=False, allow_nan=False).encode()
    except (ValueError, RecursionError) as failure:
        _refuse_damaged(failure)
    if not isinstance(result, dict) or result.get("format") not in tuple(INPUT_NAMES):
        found = result.get("format") if isinstance(result, dict) else type(result).__name__
        _refuse(f"a record of format {str(found)[:60]!r}", f"This version reads {' and '.join(INPUT_NAMES)}.")
    if not isinstance(result.get(NEVER_MISSING[result["format"]]), dict | list) or not isinstance(
        result.get("about", {}), dict
    ):
        _refuse("a record without its finding", "The record inside was changed: use the file as it was first written.")
    return result


def _no_such_number(name: str) -> NoReturn:
    raise ValueError(f"{name} is no number")


def _printed_digests(reader: PdfReader) -> dict[str, str]:
    """Return the check sums as printed, by the record they stand beside."""
    found: dict[str, str] = {}
    for page in reader.pages:
        try:
            text = page.extract_text()
        except Exception:
            continue
        record, digest = _RECORD.search(text), _DIGEST.search(text)
        if record and digest:
            plain = numbered("weighing.toml", record[1].replace("\u200b", ""))
            found[plain.removeprefix("weighing-").removesuffix(".toml")] = "".join(digest.groups())
    return found


def _printed_digest(reader: PdfReader) -> str | None:
    """Return the check sum as printed; the paper may be signed or stamped over, so it may be missing."""
    try:
        found = _DIGEST.search(reader.pages[0].extract_text())
    except Exception:
        return None
    digest = "".join(found.groups()) if found else ""
    return digest if len(digest) == DIGEST_LENGTH else None
