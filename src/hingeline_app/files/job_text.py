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
from collections.abc import Iterable, Iterator
from typing import Any

from hingeline.errors import InputRefused, Refusal
from hingeline_app.files.shown import step
from hingeline_app.files.toml_faults import not_toml

LARGEST_FILE = 1_000_000
DEEPEST = 20
MOST_DIGITS = 40
LARGEST_WHOLE = 10**18

_BARE = re.compile(r"(?<![\w.])[+-]?(?:nan|inf)(?![\w])|(?<![\w.])[+-]?[0-9][0-9a-zA-Z_]*_[0-9_.]*|(?<![\w.])0[xob]\w*")
_NOT_FINITE = re.compile("[+-]?(?:nan|inf)")
_LONG = re.compile(rf"[0-9]{{{MOST_DIGITS + 1},}}")
_QUOTED = re.compile(r'"""(?:\\.|[^\\])*?"""|\'\'\'.*?\'\'\'|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'|#[^\n]*', re.DOTALL)
_HEADER = re.compile(r"\s*\[[^,]*\]\s*")
_BETWEEN_KEYS = re.compile(r"[=\[\]{},]")


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
    document, refusals = read_with_faults(data)
    if refusals:
        raise InputRefused(refusals)
    return document


def read_with_faults(data: bytes) -> tuple[dict[str, Any], list[Refusal]]:
    """Read a job file, and give the numbers that are none beside it, so that its other faults are found too.

    Raises
    ------
    InputRefused
        It cannot be read on: no TOML, too large, too deep.
    """
    text = _decoded(data)
    refusals = list(_no_numbers(text))
    unreadable = list(_refused_in_the_raw(text))
    if unreadable:
        raise InputRefused([*refusals, *unreadable])
    try:
        document = _parsed(text)
    except InputRefused as fault:
        raise InputRefused([*refusals, *fault.refusals]) from None
    # What is not finite is found again in the document, where it has a name.
    return document, [*(each for each in refusals if not _NOT_FINITE.fullmatch(each.value)), *_walk(document, "", 0)]


def _decoded(data: bytes) -> str:
    if not data.strip():
        raise InputRefused.of("file", "empty", "a job file", "Start from one of the numbered examples.")
    if len(data) > LARGEST_FILE:
        size = f"{len(data)} bytes"
        raise InputRefused.of("file", size, f"at most {LARGEST_FILE} bytes", "A job file is one page of text.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        shown = f"byte {data[fault.start]:#04x} at place {fault.start + 1}, line {data.count(10, 0, fault.start) + 1}"
        remedy = "Save it as UTF-8. If it opens in an office program, export it as plain text."
        raise InputRefused.of("file", shown, "text in UTF-8", remedy) from None


def _bare_lines(text: str) -> Iterator[tuple[int, str, str]]:
    """Go through the lines, with what stands in quotes and in remarks left blank: number, line, values in it."""
    bare = _QUOTED.sub(lambda found: re.sub(r"[^\n]", " ", found.group()), text)
    for number, line in enumerate(bare.split("\n"), 1):
        # A key may be called inf; only what stands on the right of the sign is a number.
        yield number, line, line.partition("=")[2] or ("" if _HEADER.fullmatch(line) else line)


def _no_numbers(text: str) -> Iterator[Refusal]:
    for number, _, value in _bare_lines(text):
        for found in _BARE.findall(value):
            expected = "a plain number: digits, one decimal point, no grouping"
            yield Refusal(f"line {number}", found[:80], expected, "Write it out, for example 1000.5.")


def _refused_in_the_raw(text: str) -> Iterator[Refusal]:
    for number, line, value in _bare_lines(text):
        for found in _LONG.findall(value):
            remedy = "Is a key stuck? Write the number as it was read."
            yield Refusal(f"line {number}", found[:20] + "…", f"a number of at most {MOST_DIGITS} digits", remedy)
        # Refused before it is parsed: the reader's time grows with the square of such a key.
        if any(part.count(".") > DEEPEST for part in _BETWEEN_KEYS.split(line)):
            yield _too_deep(f"line {number}", line.strip()[:40] + "…")


def _too_deep(place: str, shown: str) -> Refusal:
    return Refusal(place, shown, f"at most {DEEPEST} levels", "No job is that deep: check brackets and dots.")


def _parsed(text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise not_toml(text, str(fault)) from None
    except RecursionError:
        raise InputRefused([_too_deep("file", "brackets within brackets")]) from None
    except ValueError:  # a date that no calendar has, or a number that the interpreter does not read
        raise InputRefused.of("file", "a number or date", "numbers and dates that exist", "Put it in quotes.") from None


def _walk(value: dict[str, Any] | list[Any], place: str, depth: int) -> Iterator[Refusal]:
    """Refuse what is too deep or no number; turn dates into texts on the way."""
    items: Iterable[tuple[Any, Any]] = value.items() if isinstance(value, dict) else enumerate(value)
    for key, item in list(items):
        below = (place + step(key)).lstrip(".")
        fault = _fault_of(item, below, depth + 1)
        if isinstance(item, datetime.date | datetime.time):
            value[key] = item.isoformat()
        elif fault is not None:
            value[key] = fault.value  # a text, so that whoever reads on is safe from it
            yield fault
        elif isinstance(item, dict | list):
            yield from _walk(item, below, depth + 1)


def _fault_of(item: Any, place: str, depth: int) -> Refusal | None:
    if isinstance(item, dict | list):
        return _too_deep(place, "a level too many") if depth > DEEPEST else None
    if isinstance(item, float) and not math.isfinite(item):
        shown = "nan" if math.isnan(item) else f"{'-' if item < 0.0 else ''}inf, or beyond 1e308"
        remedy = "Write what was measured, or leave it out." if math.isnan(item) else "Check its exponent."
        return Refusal(place, shown, "a number that can be measured", remedy)
    if isinstance(item, int) and abs(item) >= LARGEST_WHOLE:
        shown = f"a number of {item.bit_length() * 3 // 10 + 1} digits"
        return Refusal(place, shown, "a number of ordinary size", "Check its digits.")
    return None
