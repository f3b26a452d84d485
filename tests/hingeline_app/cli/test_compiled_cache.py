"""Compiled loops are kept in a folder of the user's own, or nowhere."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from hingeline_app.cli.compiled_cache import VARIABLE, keep_compiled_loops


@pytest.fixture(autouse=True)
def _nothing_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(VARIABLE, "")
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    monkeypatch.delenv("HOME", raising=False)


def test_a_folder_in_the_users_cache_is_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """In the user's cache a folder is made that only the user may enter, and named for the compiler."""
    monkeypatch.setenv("HOME", str(tmp_path))
    folder = keep_compiled_loops()

    assert folder == tmp_path / ".cache/hingeline/compiled"
    assert os.environ[VARIABLE] == str(folder)
    assert folder.stat().st_mode & 0o777 == 0o700


def test_what_the_user_named_is_left_alone(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A folder that is named already stays named, and nothing is made."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv(VARIABLE, "/elsewhere")

    assert keep_compiled_loops() == Path("/elsewhere")
    assert not list(tmp_path.iterdir())


def test_where_nothing_can_be_written_nothing_is_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Without a home, with a relative one, or where a file is in the way, no folder is named."""
    (tmp_path / "file").write_text("", encoding="utf-8")
    for home in ("", "relative", str(tmp_path / "file")):
        monkeypatch.setenv("XDG_CACHE_HOME", home)
        assert keep_compiled_loops() is None
        assert os.environ[VARIABLE] == ""


def test_a_folder_that_others_may_write_in_is_not_taken(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """What is kept is run again: where others could put something of theirs, nothing is kept."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    folder = tmp_path / "hingeline/compiled"
    folder.mkdir(parents=True)
    folder.chmod(0o777)

    assert keep_compiled_loops() is None
