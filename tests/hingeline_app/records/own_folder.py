"""A workshop in a folder of its own, with the command line beside it."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

from jsonschema import Draft202012Validator

from hingeline_app.files.schemas import other_schemas
from hingeline_app.files.schemas_of_records import schemas_of_records

ROOT = Path(__file__).resolve().parents[3]
ENTRIES = 12
# Set for tests that are tried once more on another database: those without one would only be the same again.
ONLY_OF_THE_DATABASE = "TESTS_ONLY_OF_THE_DATABASE"


def surroundings(folder: Path, **more: str) -> dict[str, str]:
    """Give the environment of a program that works in one folder, on SQLite."""
    ours = {
        name: value for name, value in os.environ.items() if not name.startswith(("HINGELINE_", "DJANGO_", "PYTEST_"))
    }
    path = os.pathsep.join([os.fspath(ROOT / "src"), os.fspath(ROOT)])
    return ours | {"PYTHONPATH": path, "HINGELINE_DATA": os.fspath(folder), "XDG_STATE_HOME": os.fspath(folder)} | more


def run(
    *command: str | Path, folder: Path, status: int = 0, timeout: float = 300, **more: str
) -> subprocess.CompletedProcess[str]:
    """Run a program of ours, and look at how it ended."""
    done = subprocess.run(
        [sys.executable, "-W", "error", *map(os.fspath, command)],
        env=surroundings(folder, **more),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=timeout,
    )
    assert done.returncode == status, done.stdout + done.stderr
    return done


def hingeline(*words: str | Path, folder: Path, status: int = 0, **more: str) -> str:
    """Run a command and give what it said."""
    return run("-m", "hingeline_app", *words, folder=folder, status=status, **more).stdout


def hingeline_json(*words: str | Path, folder: Path, status: int = 0, **more: str) -> dict[str, Any]:
    """Run a command and read its document."""
    document: dict[str, Any] = json.loads(hingeline(*words, "--json", folder=folder, status=status, **more))
    refuse_another_shape(document)
    return document


def refuse_another_shape(document: dict[str, Any]) -> None:
    """Hold a document against the closed schema of its format: no field is missing, none is not described."""
    every = schemas_of_records(closed=True) | other_schemas()
    Draft202012Validator(every[document["format"]]).validate(document)


def make_workshop(folder: Path, entries: int = ENTRIES, **more: str) -> Path:
    """Fill a folder."""
    run(Path(__file__).with_name("fill_workshop.py"), folder, str(entries), folder=folder, **more)
    return folder
