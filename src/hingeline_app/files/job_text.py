"""Bytes of a job file to a plain dictionary.

TOML's own reader lets ``nan``, ``inf``, ``1_000.5`` and hexadecimal numbers pass.
In a file that an aeroplane's tail hangs on they are slips of the keyboard, and
are refused here, in the raw text.
"""

from __future__ import annotations

import datetime
import math
import re
import tomllib
from collections.abc import Iterator
from typing import Any

from hingeline.errors import InputRefused, Refusal

LARGEST_FILE = 1_000_000
DEEPEST = 20

_BARE = re.compile(r"(?<![\w.])[+-]?(?:nan|inf)(?![\w])|(?<![\w.])[+-]?[0-9][0-9a-zA-Z_]*_[0-9_.]*|(?<![\w.])0[xob]\w*")
_QUOTED = re.compile(r'"""(?:\\.|[^\\])*?"""|\'\'\'.*?\'\'\'|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'|#[^\n]*', re.DOTALL)
_AT = re.compile(r"\(at line (\d+), column (\d+)\)")


def read_job(data: bytes) -> dict[str, Any]:
    """Read a job file.

    Parameters
    ----------
    data : bytes
        TOML in UTF-8.

    Returns
    -------
    dict
        Texts, numbers, lists and tables; dates as texts.

    Raises
    ------
    InputRefused
        It is empty, too large, in another encoding, no TOML, too deep, or holds a number that is none.
    """
    text = _decoded(data)
    refusals = list(_numbers_refused(text))
    if refusals:
        raise InputRefused(refusals)
    document = _parsed(text)
    _refuse_depth_and_size(document)
    return document


def _decoded(data: bytes) -> str:
    if not data.strip():
        raise InputRefused.of("file", "empty", "a job file", "Start from one of the numbered examples.")
    if len(data) > LARGEST_FILE:
        size = f"{len(data)} bytes"
        raise InputRefused.of("file", size, f"at most {LARGEST_FILE} bytes", "A job file holds one weighing.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        shown = f"byte {data[fault.start]:#04x} at place {fault.start}"
        remedy = "Save it as UTF-8. If it opens in an office program, export it as plain text."
        raise InputRefused.of("file", shown, "text in UTF-8", remedy) from None


def _numbers_refused(text: str) -> Iterator[Refusal]:
    bare = _QUOTED.sub(lambda found: re.sub(r"[^\n]", " ", found.group()), text)
    for number, line in enumerate(bare.splitlines(), 1):
        # A key may be called inf; only what stands on the right of the sign is a number.
        value = line.partition("=")[2] or (line if not line.lstrip().startswith("[") else "")
        for found in _BARE.findall(value):
            expected = "a plain number: digits, one decimal point, no grouping"
            yield Refusal(f"line {number}", found, expected, "Write it out, for example 1000.5.")


def _parsed(text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise _not_toml(text, str(fault)) from None
    except RecursionError:
        raise InputRefused.of("file", "deep nesting", f"at most {DEEPEST} levels", "No job is that deep.") from None
    except ValueError as fault:  # a number too long for the interpreter
        raise InputRefused.of("file", str(fault)[:60], "numbers of ordinary size", "Check for a stuck key.") from None


def _not_toml(text: str, sentence: str) -> InputRefused:
    found, lines = _AT.search(sentence), text.splitlines()
    place = f"line {found[1]}, column {found[2]}" if found else "end of the file"
    line = lines[int(found[1]) - 1] if found and int(found[1]) <= len(lines) else ""
    remedy = 'A quantity stands in quotes, with a decimal point and its unit: arm = "12.6 in".'
    reason = _AT.sub("", sentence).strip()
    return InputRefused.of(place, line.strip()[:120], f"a line of TOML ({reason})", remedy)


def _refuse_depth_and_size(document: dict[str, Any]) -> None:
    refusals = list(_walk(document, "", 0))
    if refusals:
        raise InputRefused(refusals)


def _walk(value: Any, place: str, depth: int) -> Iterator[Refusal]:
    """Refuse what is too deep or not finite; turn dates into texts on the way."""
    if depth > DEEPEST:
        yield Refusal(place, "…", f"at most {DEEPEST} levels", "No job is that deep.")
    elif isinstance(value, float) and not math.isfinite(value):
        yield Refusal(place, str(value), "a number of ordinary size", "Check its exponent.")
    elif isinstance(value, dict | list):
        for key, item in value.items() if isinstance(value, dict) else enumerate(value):
            below = f"{place}[{key}]" if isinstance(value, list) else f"{place}.{key}".lstrip(".")
            if isinstance(item, datetime.date | datetime.time):
                value[key] = item.isoformat()
            yield from _walk(value[key], below, depth + 1)
