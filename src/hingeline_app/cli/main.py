"""The command line itself, and what happens when something goes wrong.

0: computed and reported, whatever the finding. 2: the input was refused, or an
optional part that it needs is not installed. 1: a fault of our own. 130:
interrupted. A broken pipe is silent. Never a traceback.
"""

from __future__ import annotations

import os
import sys
import traceback
from collections.abc import Sequence
from contextlib import suppress
from importlib import import_module
from typing import Any, TextIO

import click

import hingeline
from hingeline.errors import HingelineError, InputRefused
from hingeline_app.cli import output
from hingeline_app.cli.missing_extra import what_installs_it
from hingeline_app.cli.run import Run
from hingeline_app.cli.usage import usage_refused

REFUSED, OUR_FAULT, INTERRUPTED = 2, 1, 130

COMMANDS = {
    "weigh": "Say what is true of a surface after one weighing.",
    "ballast": "Find the smallest change that the approved data allows.",
    "coating": "Predict what painting or stripping does to the balance.",
    "swing": "Find the inertia about the hinge line from a swing.",
    "dynamic": "Set static balance beside dynamic balance.",
    "flutter": "Estimate where a model of a control surface starts to flutter.",
    "due": "Say which check is due when, and why.",
    "stick": "Say what an unbalanced surface does at the stick.",
    "arm": "Estimate what the arm of a balance weight stands, and how a crack would grow.",
    "motion": "Say what a recording of a shaking surface shows.",
    "limits": "Look for contradictions in printed rows of limits.",
    "demo": "Open the invented workshop of Fenholt in a browser, to try everything out.",
    "serve": "Serve the workshop's pages and records to its tablets.",
    "work": "Do a workshop's long work beside its pages.",
    "explain": "Explain a command: the equation, the signs, the sources.",
    "replay": "Work a worksheet out again and say what differs.",
    "ledger": "Look at the workshop's ledger, and take it out or in.",
    "tables": "Take tables of people, aircraft and history in.",
    "backup": "Back the records up, and try the backup.",
    "restore": "Restore a backup into a new folder.",
    "move": "Move the records to another kind of database.",
    "selftest": "Work the published cases out on this machine.",
}

# Words of 1.0.0 that a script may still say.
EARLIER = {"onboard": "tables"}


class Commands(click.Group):
    """The commands, each loaded when it is used, so that help is quick."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Name the commands in the order of the work."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Load one command."""
        cmd_name = EARLIER.get(cmd_name, cmd_name)
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"hingeline_app.cli.{cmd_name}").command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Refuse an unknown command, naming the nearest one."""
        if args and not args[0].startswith("-") and args[0] not in {*COMMANDS, *EARLIER}:
            from difflib import get_close_matches

            near = get_close_matches(args[0], COMMANDS, n=1)
            guess = f'Did you mean "{near[0]}"?' if near else "Look at hingeline --help."
            raise InputRefused.of("COMMAND", args[0], f"one of {', '.join(COMMANDS)}", guess)
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the commands without loading them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(hingeline.__version__, prog_name="hingeline", message="%(prog)s %(version)s")
def hingeline_command() -> None:
    """Weigh a movable control surface about its hinge line and say what is true.

    Work to the approved data: this shows its limits and does not replace them.
    A result is a statement about one weighing, never a release.
    """


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give its exit status."""
    given = tuple(sys.argv[1:] if arguments is None else arguments)
    run = Run(given)
    try:
        return _answered(run)
    except (BrokenPipeError, SystemExit):  # the command-line package leaves so on a broken pipe, and only then
        return _silent(0)
    except (KeyboardInterrupt, click.Abort):
        return INTERRUPTED
    except output.AnswerLost as lost:
        output.say(f"The answer could not be written to standard output: {lost}. Nothing of it may be used.")
        return _silent(REFUSED)
    finally:
        _let_go(sys.stderr)


def _answered(run: Run) -> int:
    """Run the command, and answer a refusal or a fault of our own."""
    try:
        status = hingeline_command.main(list(run.arguments), prog_name="hingeline", standalone_mode=False, obj=run)
        return status if isinstance(status, int) else 0
    except click.ClickException as fault:
        return _refused(usage_refused(fault, run.arguments), run)
    except InputRefused as refused:
        return _refused(refused, run)
    except (BrokenPipeError, output.AnswerLost, click.Abort):
        raise
    except ImportError as missing:
        sentence = what_installs_it(missing)
        return _not_installed(sentence, run) if sentence else _our_fault(missing, run)
    except Exception as fault:
        return _our_fault(fault, run)


def _refused(refused: InputRefused, run: Run) -> int:
    output.write_refusals(refused)
    if run.wants_json:
        _write_error(output.error_document(refused.refusals))
    return REFUSED


def _not_installed(sentence: str, run: Run) -> int:
    """Say what installs a part that is missing: nothing went wrong, so there are no details to keep."""
    output.say(sentence)
    if run.wants_json:
        _write_error(output.fault_document(sentence))
    return REFUSED


def _write_error(document: dict[str, Any]) -> None:
    """Write the document of an error; where nobody reads it, the exit status still says it."""
    try:
        output.write_json(document)
    except (BrokenPipeError, output.AnswerLost):
        _deafen(sys.stdout)


def _our_fault(fault: Exception, run: Run) -> int:
    """Keep what happened, say so in a sentence, and make no statement."""
    from hingeline_app.files.kept_records import keep

    known = isinstance(fault, HingelineError)
    sentence = str(fault) if known else "A fault of the program: nothing that it showed in this run may be used."
    kept = keep("".join(traceback.format_exception(fault)), run.arguments, run.inputs, output.about())
    sentence += f" The details were written to {kept}." if kept else " The details could not be written anywhere."
    output.say(sentence)
    if run.wants_json:
        _write_error(output.fault_document(sentence))
    return OUR_FAULT


def _silent(status: int) -> int:
    """Leave where nobody reads on."""
    _deafen(sys.stdout)
    return status


def _deafen(stream: TextIO | None) -> None:
    """See that the interpreter's last flush does not fail a second time."""
    with suppress(OSError, ValueError):
        if stream is not None:
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _let_go(stream: TextIO | None) -> None:
    """Flush what was said, unless nobody listens there."""
    try:
        if stream is not None:
            stream.flush()
    except (OSError, ValueError):
        _deafen(stream)
