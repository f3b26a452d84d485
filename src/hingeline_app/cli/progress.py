"""Say on standard error what is being worked on, where somebody watches it."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress

import click

WIPED = "\r\x1b[K"


@contextmanager
def working(sentence: str) -> Iterator[None]:
    """Show a sentence while something is worked out, then take it away; nothing where no terminal is."""
    watched = sys.stderr is not None and sys.stderr.isatty()
    if watched:
        _show(f"{sentence} …")
    try:
        yield
    finally:
        if watched:
            _show(WIPED)


def _show(text: str) -> None:
    with suppress(OSError):
        click.echo(text, err=True, nl=False)
