"""How the laws draw their examples: the same on every run, so that a check is the same for everybody.

A campaign looks further: ``pytest --hypothesis-profile=campaign``.
"""

from __future__ import annotations

import gc
import os
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.hingeline_app.records.own_folder import make_workshop
from tests.one_run import SHARED
from tests.private_postgresql import Server, private_server

# A busy machine is no fault of a law.
settings.register_profile("house", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("campaign", deadline=None, max_examples=1000, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("house")


def pytest_configure() -> None:
    """Make this process's folder; its settings take it away at the end."""
    from django.conf import settings as of_the_program

    from tests.static_found_once import find_static_files_once

    Path(of_the_program.DATA_FOLDER).mkdir(parents=True, exist_ok=True)
    find_static_files_once()


def pytest_collection() -> None:
    """Look for no garbage while the tests are read: all that is made then stays; looking takes a sixth of the time."""
    gc.disable()


def pytest_collection_finish() -> None:
    """Look for it again from here, and leave alone what stays until the end."""
    gc.freeze()
    gc.enable()


@pytest.fixture(scope="session", autouse=True)
def shared_between_processes(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Say where the processes that share a run of the tests find what is made once for all of them."""
    own = tmp_path_factory.getbasetemp()
    SHARED["folder"] = own.parent if own.name.startswith("popen-") else own


@pytest.fixture(scope="session")
def postgresql() -> Iterator[Server]:
    """A database server of this run's own."""
    with private_server() as server:
        yield server


@pytest.fixture(scope="session")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workshop in a folder of its own, made through the write door, that nobody writes to."""
    return make_workshop(tmp_path_factory.mktemp("filled") / "records")


@pytest.fixture
def folder(filled: Path, tmp_path: Path) -> Path:
    """A copy of it: this test's own."""
    return Path(shutil.copytree(filled, tmp_path / "records"))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print the figures that long tests give, for the report of a campaign."""
    for report in terminalreporter.getreports("passed"):
        for name, said in getattr(report, "user_properties", ()):
            if name == "figure":
                terminalreporter.write_line(f"figure: {said}")


# The browser's driver leaves its loop in the thread of the tests, where every later use of the database would be
# refused as if it came from asynchronous code. Nothing of ours is asynchronous.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"

# Compiled loops are kept beside the tests' environment, so that they are compiled once and not in each process of each
# run. The compiler reads this when it is imported, which any file of tests may be the first to do.
os.environ.setdefault("NUMBA_CACHE_DIR", str(Path(sys.prefix) / "compiled"))
