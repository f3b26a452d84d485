"""The workshop of the tests, in a journal folder of its own; and one in a folder that a test may damage."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.hingeline_app.records.own_folder import make_workshop
from tests.hingeline_app.records.workshop import Fenholt, fenholt


@pytest.fixture
def shop(db: None, tmp_path: Path, settings: Any) -> Fenholt:
    """The Fenholt workshop with a person for each role."""
    settings.JOURNAL_FOLDER = tmp_path / "journal"
    return fenholt()


@pytest.fixture(scope="session")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workshop in a folder of its own, made through the write door, that nobody writes to."""
    return make_workshop(tmp_path_factory.mktemp("filled") / "records")


@pytest.fixture
def folder(filled: Path, tmp_path: Path) -> Path:
    """A copy of it: this test's own."""
    return Path(shutil.copytree(filled, tmp_path / "records"))
