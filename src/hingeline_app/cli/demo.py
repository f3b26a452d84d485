"""``hingeline demo``: the invented workshop of Fenholt, on this machine, to try everything out."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

import click

from hingeline_app.cli.compiled_cache import keep_compiled_loops
from hingeline_app.cli.output import say


@click.command("demo", short_help="Open the invented workshop of Fenholt in a browser, to try everything out.")
@click.option("--data", type=click.Path(path_type=Path), metavar="DIR",
              help="Keep it in this empty folder; without it, it is thrown away at the end.")  # fmt: skip
@click.option("--port", type=click.IntRange(1, 65535), help="Port to listen at on this machine: 8480.")
def command(data: Path | None, port: int | None) -> int:
    """Open the invented workshop of Fenholt, to try everything out.

    Four invented Merle T2, a dozen surfaces, jobs in every state, people whose
    PINs are printed here. Only this machine can reach it. Nothing in it is
    approved data, and nothing of it may be used on an aircraft.

    Example: hingeline demo
    """
    from hingeline_app.demo.opening import open_the_demo
    from hingeline_app.serving.options import ServeOptions

    keep_compiled_loops()
    sys.stderr.reconfigure(line_buffering=True)  # type: ignore[union-attr]
    if data is not None:
        return open_the_demo(ServeOptions(data.expanduser().absolute(), port, loopback=True), say)
    with tempfile.TemporaryDirectory(prefix="hingeline-demo-", ignore_cleanup_errors=True) as folder:
        return open_the_demo(ServeOptions(Path(folder) / "records", port, loopback=True), say)
