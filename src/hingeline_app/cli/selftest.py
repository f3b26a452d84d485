"""``hingeline selftest``: work everything out, present, and say in the exit status whether it agrees."""

from __future__ import annotations

import sys
import time
from typing import Any

import click

from hingeline.document import to_document
from hingeline_app.cli.output import say, with_about, write_json
from hingeline_app.selftest import SelfTest, run_selftest
from hingeline_app.selftest.run import SEED, WEIGHINGS

AGREES, DISAGREES = 0, 1


@click.command("selftest", short_help="Work the published cases out on this machine.")
@click.option("--weighings", type=click.IntRange(1, 1_000_000), default=WEIGHINGS, show_default=True,
              help="How many invented weighings to compute by both routes.")  # fmt: skip
@click.option("--seed", type=click.IntRange(0, 2**32 - 1), default=SEED, show_default=True, help="Which ones.")
@click.option("--json", "as_json", is_flag=True, help="Write one JSON document instead of a page.")
def command(weighings: int, seed: int, as_json: bool) -> int:
    """Work the published cases out on this machine.

    Published values of measurement uncertainty and of units are computed here and
    compared with their print; invented weighings are computed by two routes that
    share no arithmetic. Exit status 0 when all agree, 1 when not.

    Example: hingeline selftest
    """
    started = time.perf_counter()
    outcome = run_selftest(weighings, seed)
    document = _document(outcome, time.perf_counter() - started)
    if as_json:
        write_json(document)
    else:
        from hingeline_app.cli.selftest_page import show_selftest

        show_selftest(document)
    if outcome.agrees:
        return AGREES
    say(outcome.sentence)
    return DISAGREES


def _document(outcome: SelfTest, seconds: float) -> dict[str, Any]:
    """Add on what machine, and in what time."""
    document = with_about(to_document(outcome))
    document["about"] |= {"numpy": _numpy_version(), "elapsed": round(seconds, 3)}
    return document


def _numpy_version() -> str | None:
    """Name the NumPy that the draws were made with, if it was needed."""
    numpy = sys.modules.get("numpy")
    return None if numpy is None else str(numpy.__version__)
