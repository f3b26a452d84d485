"""``hingeline work``: one worker more for a workshop whose records a server keeps."""

from __future__ import annotations

import os
from pathlib import Path

import click

from hingeline_app.cli.compiled_cache import keep_compiled_loops
from hingeline_app.cli.options import data_folder
from hingeline_app.cli.output import say


@click.command("work", short_help="Do a workshop's long work beside its pages.")
@data_folder
@click.option("--with-the-pages", is_flag=True, hidden=True, help="Started by them, and ended with them.")
def command(data: Path | None, with_the_pages: bool) -> int:
    """Do a workshop's long work beside its pages.

    Only where HINGELINE_DATABASE names a server, which starts workers of its own: this is
    one more, on this machine or on another that has the same folder. It follows videos and
    works studies, one at a time; where one dies, another takes over what it had.

    Example: hingeline work --data records
    """
    from hingeline_app.serving.working import work
    from hingeline_app.settings import places

    if data is not None:
        os.environ[places.DATA] = os.fspath(data.absolute())
    keep_compiled_loops()
    return work(say, with_the_pages=with_the_pages)
