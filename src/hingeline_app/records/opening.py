"""Open a folder's records from a command: choose the settings, start the framework, once a process."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from hingeline.errors import InputRefused, MissingExtra
from hingeline_app.records.reaching import refuse_a_server_that_does_not_answer, refuse_what_is_no_address
from hingeline_app.settings import databases, places

SETTINGS = "DJANGO_SETTINGS_MODULE"


def open_records(data: Path | None = None, *, must_exist: bool = True, up_to_date: bool = False) -> Path:
    """Open the records in a folder, by default the one that the settings name, and give the folder.

    Parameters
    ----------
    data : Path, optional
    must_exist : bool
        Whether a folder without records is refused.
    up_to_date : bool
        Whether records that an earlier program left are refused: for what reads or writes rows.

    Raises
    ------
    InputRefused
        There are no records, the server that keeps them does not answer, or an earlier program left them.
    MissingExtra
        The framework is not installed.
    """
    if data is not None:
        os.environ[places.DATA] = os.fspath(data.absolute())
    folder = places.data_folder()
    address = places.database_address()
    if must_exist and not address and not (folder / databases.FILE_NAME).is_file():
        remedy = "Name the folder with --data DIR, or set a workshop up first: hingeline serve."
        raise InputRefused.of("--data", str(folder), "a folder that holds a workshop's records", remedy)
    os.environ.setdefault(SETTINGS, f"hingeline_app.settings.{'server' if address else 'embedded'}")
    _start()
    if up_to_date:
        _refuse_records_of_an_earlier_program(folder)
    return folder


@contextmanager
def nothing_opened() -> Iterator[None]:
    """Start the framework without any workshop: for what makes a new folder and names it itself."""
    with tempfile.TemporaryDirectory(prefix="hingeline-") as folder:
        os.environ.pop(places.DATABASE, None)
        os.environ.pop(places.JOURNAL, None)
        open_records(Path(folder), must_exist=False)
        yield


def _start() -> None:
    refuse_what_is_no_address()
    try:
        import django
    except ModuleNotFoundError:
        raise MissingExtra('The records need a package that is missing: pip install "hingeline[web]".') from None
    django.setup()
    refuse_a_server_that_does_not_answer()


def _refuse_records_of_an_earlier_program(folder: Path) -> None:
    """Only the start of the pages brings tables up to date: after a backup, with nobody at work."""
    from hingeline_app.records.steps import APP, is_new, steps_to_take

    if is_new("default") or not [step for step in steps_to_take("default") if step.startswith(f"{APP}.")]:
        return
    remedy = f"Start the pages once, which brings them up after a checked backup: hingeline serve --data {folder}."
    raise InputRefused.of("--data", str(folder), "records that were brought up to this program", remedy)
