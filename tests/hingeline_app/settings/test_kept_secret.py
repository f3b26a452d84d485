"""The key that signs sessions is made once and whole."""

from __future__ import annotations

import threading
from pathlib import Path

from hingeline_app.settings.common import kept_secret


def test_a_start_that_was_broken_off_leaves_no_empty_key(tmp_path: Path) -> None:
    """With an empty one no page could be served again, and no words said why."""
    (tmp_path / "keys").mkdir()
    (tmp_path / "keys" / "sessions.key").touch()
    key = kept_secret(tmp_path)
    assert len(key) > 80
    assert kept_secret(tmp_path) == key


def test_all_that_begin_at_once_have_one_key_readable_by_this_user_alone(tmp_path: Path) -> None:
    keys = list[str]()
    begun = [threading.Thread(target=lambda: keys.append(kept_secret(tmp_path))) for _each in range(16)]
    for each in begun:
        each.start()
    for each in begun:
        each.join()
    assert (len(keys), len(set(keys))) == (16, 1)
    assert [(each.name, each.stat().st_mode & 0o777) for each in (tmp_path / "keys").iterdir()] == [
        ("sessions.key", 0o600)
    ]
