"""``hingeline serve``: the workshop's pages, for its tablets."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from hingeline.errors import InputRefused
from hingeline_app.cli.compiled_cache import keep_compiled_loops
from hingeline_app.cli.output import say


@click.command("serve", short_help="Serve the workshop's pages and records to its tablets.")
@click.option("--data", type=click.Path(path_type=Path), metavar="DIR",
              help="Folder of the records; without it, hingeline in your data folder.")  # fmt: skip
@click.option("--port", type=click.IntRange(1, 65535), help="Port to listen at: 8443, on loopback 8480.")
@click.option("--host", help="Address of this machine to listen at; without it, all of them.")
@click.option("--backups", type=click.Path(path_type=Path), metavar="DIR",
              help="Where the hourly backups go, best on another device; without it, beside the records.")  # fmt: skip
@click.option("--loopback", is_flag=True, help="Plain pages for this machine alone, without certificates.")
@click.option("--processes", type=click.IntRange(1, 64), metavar="N",
              help="Processes that serve the pages: 2 where a server keeps the records, else 1.")  # fmt: skip
@click.option("--workers", type=click.IntRange(0, 64), metavar="N",
              help="Workers beside them for videos and studies: 2 where a server keeps the records.")  # fmt: skip
@click.option("--read-only", is_flag=True,
              help="Show a copy of the records and keep nothing: for a disk that may not be written.")  # fmt: skip
@click.option("--print-unit", is_flag=True, help="Print a systemd unit that starts this with the machine, and end.")
def command(
    data: Path | None,
    port: int | None,
    host: str | None,
    backups: Path | None,
    loopback: bool,
    processes: int | None,
    workers: int | None,
    read_only: bool,
    print_unit: bool,
) -> int:
    """Serve the workshop's pages and records to its tablets.

    From an empty folder, a code is printed and the pages ask for it once to set
    the workshop up. Pages travel under the workshop's own certificate; /trust
    says how a tablet comes to trust it. Where HINGELINE_DATABASE names a
    PostgreSQL server, two processes serve and two workers do the long work.
    With --read-only a copy is shown, which needs no right to write there.

    Example: hingeline serve --data records
    """
    _refuse_a_host_beside_loopback(host, loopback)
    from hingeline_app.serving.options import ServeOptions
    from hingeline_app.settings.places import data_folder

    folder = data.expanduser().absolute() if data else data_folder()
    options = ServeOptions(
        folder, port, host, loopback, backups.expanduser().absolute() if backups else None,
        *_how_many(processes, workers), read_only,
    )  # fmt: skip
    if print_unit:
        from hingeline_app.serving.boot_unit import boot_unit, this_program

        click.echo(boot_unit(this_program(), options), nl=False)
        return 0
    return _serve(options)


def _refuse_a_host_beside_loopback(host: str | None, loopback: bool) -> None:
    if loopback and host:
        raise InputRefused.of("--host", host, "no host beside --loopback", "Leave one of the two out.")


def _how_many(processes: int | None, workers: int | None) -> tuple[int, int]:
    """Give processes and workers: several of them only where a server keeps the records."""
    from hingeline_app.settings.places import DATABASE, database_address

    if database_address():
        return (2 if processes is None else processes, 2 if workers is None else workers)
    for name, asked in (("--processes", (processes or 1) - 1), ("--workers", workers)):
        if asked:
            remedy = f"Leave it out, or move the records to a server and set {DATABASE}."
            raise InputRefused.of(name, processes if name == "--processes" else workers, "none of it here", remedy)
    return 1, 0


def _serve(options: object) -> int:
    from hingeline_app.serving.start import serve

    keep_compiled_loops()
    sys.stderr.reconfigure(line_buffering=True)  # type: ignore[union-attr]
    return serve(options, say)  # type: ignore[arg-type]
