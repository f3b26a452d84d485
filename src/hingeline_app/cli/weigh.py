"""``hingeline weigh``: parse, one call, present."""

from __future__ import annotations

from typing import Any

import click

from hingeline.balance import plan_weighing, weigh
from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline_app.cli.options import job_file
from hingeline_app.cli.output import say, with_about, write_json, write_what_was_written
from hingeline_app.cli.run import Run
from hingeline_app.files.weighing_file import WeighingJob, read_weighing


@click.command("weigh", short_help="Say what is true of a surface after one weighing.")
@job_file
@click.option("--before", is_flag=True, help="Before the work: what the scale may show. Readings are not needed.")
@click.option("--pdf", metavar="OUT.pdf", help="Write the worksheet, with input and result attached.")
@click.option("--blank", metavar="OUT.pdf", help="Write a blank worksheet to fill in by hand. Readings are not needed.")
@click.option(
    "--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True, help="Size of the sheet."
)
@click.option("--draws", type=click.IntRange(10_000, 10_000_000), help="Check U by that many Monte Carlo draws.")
@click.option("--seed", type=click.IntRange(0, 2**32 - 1), default=0, show_default=True, help="For --draws.")
@click.pass_obj
def command(
    run: Run,
    file: str,
    as_json: bool,
    before: bool,
    pdf: str | None,
    blank: str | None,
    paper: str,
    draws: int | None,
    seed: int,
) -> None:
    """Say what is true of a surface after one weighing.

    FILE is a weighing file (see examples/), or - for standard input. The page
    shows the static moment with its uncertainty, the statement by the simple and
    by the guarded rule, what the uncertainty is made of, and what was not stated.

    Each quantity carries its unit, as "842 g". A moment is positive tail-heavy: the
    trailing edge drops.

    Example: hingeline weigh examples/01-elevator-left-half.toml

    For a bench without a tablet: hingeline weigh FILE --blank blank.pdf
    """
    _refuse_what_needs_readings("--before" if before else "--blank" if blank is not None else "", pdf, draws)
    text = run.read(file)
    job = read_weighing(text)
    if blank is not None:
        _write_blank(blank, text, job, paper)
    if before:
        _before(job, as_json=as_json)
    elif blank is not None and as_json:
        write_what_was_written(blank)
    if before or blank is not None:
        return
    result = weigh(job.weighing)
    document = with_about(to_document(result))
    if draws is not None:
        document["monte_carlo"] = _second_way(job, draws, seed)
    if pdf is not None:
        _write_worksheet(pdf, text, job, document, paper)
    if as_json:
        write_json(document)
    else:
        from hingeline_app.cli.weigh_page import show_weighing

        show_weighing(document)
    if pdf is not None:
        say(f"The worksheet was written to {pdf}.")


def _refuse_what_needs_readings(ahead: str, pdf: str | None, draws: int | None) -> None:
    """Refuse the worksheet and the draws of a weighing beside what is done before there is one."""
    for name, asked in (("--pdf", pdf), ("--draws", draws)):
        if ahead and asked is not None:
            raise InputRefused.of(name, asked, f"none beside {ahead}, which works ahead of the readings",
                                  "Leave one of the two out.")  # fmt: skip


def _before(job: WeighingJob, *, as_json: bool) -> None:
    document = with_about(to_document(plan_weighing(job.weighing)))
    if as_json:
        write_json(document)
    else:
        from hingeline_app.cli.weigh_page import show_plan

        show_plan(document)


def _second_way(job: WeighingJob, draws: int, seed: int) -> dict[str, Any] | None:
    from hingeline.balance.simulate import simulate

    simulation = simulate(job.weighing, draws=draws, seed=seed)
    return None if simulation is None else to_document(simulation)


def _write_worksheet(out: str, text: bytes, job: WeighingJob, document: dict[str, Any], paper: str) -> None:
    from hingeline_app.cli.worksheet import write_worksheet

    write_worksheet(out, text.decode("utf-8-sig"), job.sheet, document, paper)


def _write_blank(out: str, text: bytes, job: WeighingJob, paper: str) -> None:
    """Write a blank worksheet; without a reading window where none holds."""
    from hingeline_app.cli.worksheet import write_blank
    from hingeline_app.report.blank import plan_or_none

    plan = plan_or_none(job.weighing)
    write_blank(out, text.decode("utf-8-sig"), job.sheet, plan, to_document(job.weighing), paper)
    say(f"The blank worksheet was written to {out}.")
