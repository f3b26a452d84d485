"""``hingeline arm``: parse, one call, present."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import click

from hingeline.arm import ArmTask, examine
from hingeline.document import to_document
from hingeline_app.cli.options import job_file, picture_file, sheet
from hingeline_app.cli.output import say, with_about, write_json
from hingeline_app.cli.run import Run
from hingeline_app.cli.whole_file import put_whole
from hingeline_app.files.arm_file import read_arm

WITHOUT_DRAWS = "The draws stand on the page and not on the sheet, which must follow from its file alone."


@click.command("arm", short_help="Estimate what the arm of a balance weight stands, and how a crack would grow.")
@job_file
@sheet
@click.option("--scatter", type=click.IntRange(100, 1_000_000), metavar="N", help="Draw the crack's life N times.")
@click.option("--seed", type=click.IntRange(0, 2**32 - 1), default=0, show_default=True, help="For --scatter.")
@picture_file("Draw the arm to scale, with what is lost and where to look.")
@click.pass_obj
def command(
    run: Run,
    file: str,
    as_json: bool,
    pdf: str | None,
    paper: str,
    scatter: int | None,
    seed: int,
    picture: str | None,
) -> None:
    """Estimate what the arm of a balance weight stands, and how a crack would grow.

    FILE holds the tube or bar, what was lost of it, the weight, and if wanted loads, an
    oscillation and an assumed crack, or is - for standard input. The page shows stress
    and margins, the arm's own frequency, and the crack's growth beside the approved
    interval. An estimate never makes the approved interval longer.

    Each quantity carries its unit, as "19 mm". A margin is allowable over stress, less 1:
    below 0 the model does not carry the load.

    Example: hingeline arm examples/arm/01-elevator-arm-stripped.toml
    """
    data = run.read(file)
    task = read_arm(data)
    document = with_about(to_document(examine(task, samples=scatter, seed=seed)))
    if pdf is not None:
        _write_sheet(pdf, data, task, document, paper)
    if picture is not None:
        _draw(picture, task, document)
    if as_json:
        write_json(document)
        return
    from hingeline_app.cli.arm_page import show_arm

    show_arm(document)


def _write_sheet(out: str, data: bytes, task: ArmTask, document: Mapping[str, Any], paper: str) -> None:
    from hingeline_app.cli.arm_page import fill_arm
    from hingeline_app.cli.worksheet import write_job_sheet
    from hingeline_app.figures.arm.picture import arm_svg

    sheet_document = {**document, "crack": _without_draws(document["crack"])}

    def fill(sections: Any, found: Mapping[str, Any]) -> None:
        fill_arm(sections, found, picture=arm_svg(task, found))

    write_job_sheet(out, data, sheet_document, paper, fill)
    if sheet_document != document:
        say(WITHOUT_DRAWS)
    say(f"The sheet was written to {out}.")


def _without_draws(crack: Mapping[str, Any] | None) -> Mapping[str, Any] | None:
    return None if crack is None else {**crack, "distribution": None}


def _draw(out: str, task: ArmTask, document: Mapping[str, Any]) -> None:
    from hingeline_app.figures.arm.picture import arm_svg

    put_whole(out, arm_svg(task, document).encode("utf-8"), "--picture")
    say(f"The picture was written to {out}.")
