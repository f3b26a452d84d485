"""``hingeline flutter``: parse, one call, present."""

from __future__ import annotations

from typing import Any

import click

from hingeline.document import to_document
from hingeline_app.cli.options import job_file
from hingeline_app.cli.output import with_about, write_json
from hingeline_app.cli.run import Run

ROOTS_SHOWN = 12


@click.command("flutter", short_help="Find the speed at which a model starts to grow: an estimate.")
@job_file
@click.option("--roots", is_flag=True, help="Add frequency and damping ratio of every mode over speed.")
@click.option("--sensitivity", is_flag=True, help="Add how the onset moves with each number of the model.")
@click.pass_obj
def command(run: Run, file: str, as_json: bool, roots: bool, sensitivity: bool) -> None:
    """Find the speed at which a model starts to grow: an estimate.

    FILE describes a strip, an all-moving tailplane, a wing with its aileron, or
    measured modes; or is - for standard input. Speeds are true airspeeds. A model
    is never proof: none found up to a speed is a finding with a range.

    Example: hingeline flutter examples/flutter/01-elevator-strip.toml
    """
    from hingeline.flutter import analyse
    from hingeline_app.files.flutter_file import read_flutter

    task = read_flutter(run.read(file))
    low, high = task.speeds
    at = tuple(low + (high - low) * step / (ROOTS_SHOWN - 1) for step in range(ROOTS_SHOWN)) if roots else ()
    document: dict[str, Any] = with_about(to_document(analyse(task, roots_at=at, with_sensitivities=sensitivity)))
    document["notes"] = [*document["notes"], *_left_out(task)]
    if as_json:
        write_json(document)
        return
    from hingeline_app.cli.flutter_page import show_flutter

    show_flutter(document)


def _left_out(task: Any) -> list[str]:
    """Say what the file asks for and this version does not work out."""
    asked = {"free play": task.free_play, "scatter": task.scatter}
    return [f"The file states {name}: this version does not work it out." for name, given in asked.items() if given]
