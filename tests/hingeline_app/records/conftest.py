"""The workshop of the tests, in a journal folder of its own."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.hingeline_app.records.merle import Merle, merle
from tests.hingeline_app.records.workshop import Fenholt, fenholt


@pytest.fixture
def shop(db: None, tmp_path: Path, settings: Any) -> Fenholt:
    """The Fenholt workshop with a person for each role."""
    settings.JOURNAL_FOLDER = tmp_path / "journal"
    return fenholt()


@pytest.fixture
def job(shop: Fenholt) -> Merle:
    """A job on a Merle T2 with limits read twice, not weighed yet."""
    return merle(shop)
