"""What every command takes."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click


def job_file(function: Callable[..., Any]) -> Callable[..., Any]:
    """Add ``FILE`` and ``--json``."""
    function = click.argument("file", metavar="FILE")(function)
    return click.option("--json", "as_json", is_flag=True, help="Write one JSON document instead of a page.")(function)
