"""One JSON document, or a page for people."""

from __future__ import annotations

import json
import platform
import shutil
import sys
from collections.abc import Iterable, Mapping
from contextlib import suppress
from typing import Any
from unicodedata import category

import click

import hingeline
from hingeline.errors import InputRefused, Refusal

WIDEST = 100
NO_TERMINAL = 92
MOST_REFUSALS = 50
EMPTY = "empty"


class AnswerLost(Exception):
    """Standard output does not take the answer: the disk is full, or the like."""


def write_json(document: Mapping[str, Any]) -> None:
    """Write exactly one JSON document and nothing else."""
    put(visible(json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False), in_json=True))


def write_what_was_written(out: str) -> None:
    """Answer a call with --json that computes nothing and writes a sheet: one document, as everywhere."""
    write_json(with_about({"format": "hingeline/written/1", "written": out}))


def put(text: str) -> None:
    """Write the answer to standard output.

    Raises
    ------
    BrokenPipeError
        Nobody reads on.
    AnswerLost
        It cannot be written there.
    """
    try:
        click.echo(text)
    except BrokenPipeError:
        raise
    except OSError as fault:
        raise AnswerLost(fault.strerror or str(fault)) from None


def visible(text: str, *, in_json: bool = False) -> str:
    r"""Write characters that cannot be seen, or that steer a terminal, as ``\u001b``; ends of lines stay.

    In JSON the same escape stands for the same character, so that nothing is lost.
    """
    if all(line.isprintable() for line in text.split("\n")):
        return text
    return "".join(_escaped(letter, in_json=in_json) if _unseen(letter) else letter for letter in text)


def _unseen(letter: str) -> bool:
    return letter != "\n" and category(letter) in ("Cc", "Cf", "Cn", "Co", "Cs", "Zl", "Zp")


def _escaped(letter: str, *, in_json: bool) -> str:
    code = ord(letter)
    if code < 0x10000:
        return f"\\u{code:04x}"
    return json.dumps(letter)[1:-1] if in_json else f"\\U{code:08x}"


def with_about(document: Mapping[str, Any]) -> dict[str, Any]:
    """Add what is not part of the record that must replay."""
    return {**document, "about": about()}


def about() -> dict[str, str]:
    """Say which program computed this, and on what."""
    return {
        "program": "Hingeline",
        "version": hingeline.__version__,
        "python": platform.python_version(),
        "machine": f"{platform.system()} {platform.machine()}",
    }


def error_document(refusals: Iterable[Refusal]) -> dict[str, Any]:
    """Give the document of an error."""
    errors = [
        {"field": each.field, "value": _or_empty(each.value), "expected": each.expected, "remedy": each.remedy}
        for each in refusals
    ]
    return {"format": "hingeline/error/1", "errors": errors}


def _or_empty(value: str) -> str:
    return value if value.strip() else EMPTY


def fault_document(sentence: str) -> dict[str, Any]:
    """Give the document of a fault of our own."""
    error = {"field": None, "value": None, "expected": None, "remedy": sentence}
    return {"format": "hingeline/error/1", "errors": [error]}


def write_refusals(refused: InputRefused) -> None:
    """Write every fault of the input to standard error, as sentences."""
    refusals = refused.refusals
    count = "1 fault" if len(refusals) == 1 else f"{len(refusals)} faults"
    say(f"Refused: {count}, nothing was computed.")
    for refusal in refusals[:MOST_REFUSALS]:
        say(f"  {refusal.field}: {_quoted(refusal.value)}")
        say(f"    expected {refusal.expected}")
        say(f"    {refusal.remedy}")
    if len(refusals) > MOST_REFUSALS:
        say(f"  … and {len(refusals) - MOST_REFUSALS} more")


def _quoted(value: str) -> str:
    value = _or_empty(value).replace("\n", "\\n")
    return value if value in ("missing", "none", EMPTY) else f'"{value}"'


def say(sentence: str) -> None:
    """Write a sentence to standard error; where nobody listens there, it is lost."""
    with suppress(OSError):
        click.echo(visible(sentence), err=True)


def to_terminal() -> bool:
    """Whether somebody looks at the answer as it comes."""
    return sys.stdout is not None and sys.stdout.isatty()


def columns() -> int:
    """Give the width of a page: the terminal's, within reason."""
    if not to_terminal():
        return NO_TERMINAL
    return max(40, min(WIDEST, shutil.get_terminal_size().columns))
