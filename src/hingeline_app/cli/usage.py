"""What is wrong with the way a command was called, in our own sentences."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import click

from hingeline.errors import InputRefused


def usage_refused(fault: click.ClickException, arguments: Sequence[str]) -> InputRefused:
    """Turn a fault of the command-line package into a refusal.

    Parameters
    ----------
    fault : click.ClickException
    arguments : sequence of str
        As typed.
    """
    help_page = _help_page(fault, arguments)
    if isinstance(fault, click.NoSuchOption):
        return _no_such_option(fault, help_page)
    if isinstance(fault, click.BadOptionUsage):
        return InputRefused.of(fault.option_name, "missing", "a value after it", help_page)
    if isinstance(fault, click.BadParameter):
        return _bad_parameter(fault, arguments, help_page)
    typed = " ".join(arguments)
    if isinstance(fault, click.UsageError) and "unexpected extra" in fault.message:
        return InputRefused.of("COMMAND", typed, "one FILE and no more", help_page)
    return InputRefused.of("COMMAND", typed or "missing", "a complete command", help_page)


def _help_page(fault: click.ClickException, arguments: Sequence[str]) -> str:
    context = fault.ctx if isinstance(fault, click.UsageError) else None
    words = " ".join(["hingeline", *arguments[:1]]) if isinstance(fault, click.BadOptionUsage) else "hingeline"
    return f'See "{context.command_path if context else words} --help".'


def _no_such_option(fault: click.NoSuchOption, help_page: str) -> InputRefused:
    options = (
        []
        if fault.ctx is None
        else [max(p.opts, key=len) for p in fault.ctx.command.get_params(fault.ctx) if _named(p)]
    )
    near = f'Did you mean "{fault.possibilities[0]}"? ' if fault.possibilities else ""
    expected = f"one of {', '.join(options)}" if options else "a known option"
    return InputRefused.of("OPTION", fault.option_name, expected, near + help_page)


def _named(parameter: click.Parameter) -> bool:
    return isinstance(parameter, click.Option)


def _bad_parameter(fault: click.BadParameter, arguments: Sequence[str], help_page: str) -> InputRefused:
    parameter = fault.param
    name = fault.param_hint if isinstance(fault.param_hint, str) else ""
    if parameter is not None:
        name = parameter.opts[0] if _named(parameter) else parameter.make_metavar(click.Context(click.Command(None)))
    if isinstance(fault, click.MissingParameter):
        return InputRefused.of(name, "missing", "the file to work on, or - for standard input", help_page)
    expected = "another value" if parameter is None else _expected(parameter.type)
    return InputRefused.of(name, _typed(name, arguments), expected, help_page)


def _expected(kind: Any) -> str:
    if isinstance(kind, click.IntRange):
        return f"a whole number from {kind.min} to {kind.max}"
    if isinstance(kind, click.Choice):
        return f"one of {', '.join(kind.choices)}"
    return "another value"


def _typed(name: str, arguments: Sequence[str]) -> str:
    """Find what was typed for an option, after it or after its sign =."""
    for at, argument in enumerate(arguments):
        if argument == name:
            return arguments[at + 1] if at + 1 < len(arguments) else ""
        if argument.startswith(name + "="):
            return argument[len(name) + 1 :]
    return " ".join(arguments)
