"""``hingeline due``: parse, one call, present."""

from __future__ import annotations

import click

from hingeline.document import to_document
from hingeline.due import falls_together, what_is_due
from hingeline_app.cli.options import job_file
from hingeline_app.cli.output import say, with_about, write_json
from hingeline_app.cli.run import Run
from hingeline_app.cli.whole_file import put_whole
from hingeline_app.files.bare_numbers import as_day
from hingeline_app.files.due_file import read_due


@click.command("due", short_help="Say which check is due when, and why.")
@job_file
@click.option("--on", metavar="DATE", help="The day that is asked about, in place of the file's own.")
@click.option("--ics", metavar="OUT.ics", help="Write the due points as a calendar file.")
@click.pass_obj
def command(run: Run, file: str, as_json: bool, on: str | None, ics: str | None) -> None:
    """Say which check is due when, and why.

    FILE holds aircraft with their counters, parts that move with their hours, and
    tasks with their rules and history, or is - for standard input. The approved data
    governs; a forecast is an estimate from past use, and never the due point.

    The hours of an aircraft are what its meter shows; done and due are totals. A day is
    written 2027-04-15.

    Example: hingeline due examples/due/01-checks-of-a-merle.toml
    """
    question = read_due(run.read(file), None if on is None else as_day(on, "--on"))
    result = what_is_due(question.aircraft, question.parts, question.tasks, question.on)
    document = with_about(to_document(result))
    if ics is not None:
        from hingeline_app.files.due_calendar import write_calendar

        put_whole(ics, write_calendar(document), "--ics")
        say(f"The calendar file was written to {ics}.")
    if as_json:
        write_json(document)
        return
    from hingeline_app.cli.due_page import show_due

    show_due(document, [visit.line for visit in falls_together(result)])
