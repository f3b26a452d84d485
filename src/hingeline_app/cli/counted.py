"""Count on standard error how far long work has come, and let Ctrl-C stop it with what is done."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from hingeline_app.cli.run import Run

Report = Callable[[int, int], bool]


@contextmanager
def counted(sentence: str, total: int, run: Run) -> Iterator[Report]:
    """Give a function to report to: it shows what is done, and answers False once somebody pressed Ctrl-C.

    A second Ctrl-C ends the program at once. Nothing is shown where nobody watches, nor beside ``--json``.
    """
    pressed: list[int] = []

    def press(number: int, _: Any) -> None:
        pressed.append(number)
        signal.signal(signal.SIGINT, before)

    before = signal.signal(signal.SIGINT, press)
    try:
        with _shown(sentence, total, run) as show:

            def report(done: int, _: int) -> bool:
                show(done)
                return not pressed

            yield report
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def _shown(sentence: str, total: int, run: Run) -> Iterator[Callable[[int], None]]:
    if run.wants_json or sys.stderr is None or not sys.stderr.isatty():
        yield lambda done: None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(sentence, total=total)
        yield lambda done: bar.update(task, completed=done)
