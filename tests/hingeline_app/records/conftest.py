"""The workshop of the tests and a job in it, in a journal folder of its own."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from django.test import override_settings

from tests.hingeline_app.made_once import Made, made_once
from tests.hingeline_app.records.merle import Merle, merle
from tests.hingeline_app.records.own_folder import ONLY_OF_THE_DATABASE
from tests.hingeline_app.records.workshop import Fenholt, fenholt


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Where test_on_postgresql.py asks for it, try only those that use the database of this process."""
    if ONLY_OF_THE_DATABASE not in os.environ:
        return
    use_it = [each for each in items if _uses_the_database(each)]
    others = [each for each in items if each not in use_it]
    config.hook.pytest_deselected(items=others)
    items[:] = use_it


def _uses_the_database(test: pytest.Item) -> bool:
    return "db" in getattr(test, "fixturenames", ()) or test.get_closest_marker("django_db") is not None


@pytest.fixture(scope="session")
def fenholt_made(
    django_db_setup: None, django_db_blocker: Any, tmp_path_factory: pytest.TempPathFactory
) -> Made[Fenholt]:
    """The Fenholt workshop with a person for each role, as the acts leave it."""
    folder = tmp_path_factory.mktemp("fenholt")
    with django_db_blocker.unblock(), override_settings(JOURNAL_FOLDER=folder / "journal"):
        return made_once(fenholt, folder)


@pytest.fixture(scope="session")
def merle_made(
    fenholt_made: Made[Fenholt], django_db_blocker: Any, tmp_path_factory: pytest.TempPathFactory
) -> Made[Merle]:
    """A job on a Merle T2 in that workshop."""
    folder = tmp_path_factory.mktemp("merle")
    with django_db_blocker.unblock(), override_settings(JOURNAL_FOLDER=folder / "journal"):
        return made_once(merle, folder, onto=fenholt_made)


@pytest.fixture
def shop(db: None, fenholt_made: Made[Fenholt], tmp_path: Path, settings: Any) -> Fenholt:
    """The Fenholt workshop with a person for each role."""
    settings.JOURNAL_FOLDER = tmp_path / "journal"
    return fenholt_made.put_into(tmp_path)


@pytest.fixture
def job(shop: Fenholt, merle_made: Made[Merle], tmp_path: Path) -> Merle:
    """A job on a Merle T2 with limits read twice, not weighed yet."""
    return replace(merle_made.put_into(tmp_path), shop=shop)
