"""One JSON document, or a page for people."""

from __future__ import annotations

import json
import platform
import shutil
import sys
from collections.abc import Iterable, Mapping
from typing import Any

import click

import hingeline
from hingeline.errors import InputRefused, Refusal

WIDEST = 100
NO_TERMINAL = 92
MOST_REFUSALS = 50


def write_json(document: Mapping[str, Any]) -> None:
    """Write exactly one JSON document and nothing else."""
    click.echo(json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False))


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
        {"field": each.field, "value": each.value, "expected": each.expected, "remedy": each.remedy}
        for each in refusals
    ]
    return {"format": "hingeline/error/1", "errors": errors}


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
    return value if value in ("missing", "none") else f'"{value}"'


def say(sentence: str) -> None:
    """Write a sentence to standard error."""
    click.echo(sentence.encode("utf-8", "backslashreplace").decode(), err=True)


def columns() -> int:
    """Give the width of a page: the terminal's, within reason."""
    if not sys.stdout.isatty():
        return NO_TERMINAL
    return max(40, min(WIDEST, shutil.get_terminal_size().columns))
