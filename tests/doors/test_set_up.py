"""The steps of tools/set_up.py, without a network."""

from __future__ import annotations

import importlib.util
import os
import threading
from pathlib import Path
from types import ModuleType

import pytest

from tests.doors.checkouts import ROOT, prepare

REQUIREMENTS = ROOT / "requirements" / "app.txt"


@pytest.fixture(scope="module")
def set_up() -> ModuleType:
    specification = importlib.util.spec_from_file_location("set_up", ROOT / "tools" / "set_up.py")
    assert specification is not None
    assert specification.loader is not None
    module = importlib.util.module_from_spec(specification)
    specification.loader.exec_module(module)
    return module


@pytest.fixture
def environment(tmp_path: Path) -> Path:
    prepare(tmp_path / ".venv", REQUIREMENTS, os.fspath(ROOT / "src"))
    return tmp_path / ".venv"


def test_a_stamped_environment_is_left_alone(
    set_up: ModuleType, environment: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A second start that waited for the first finds the stamp and does nothing, in silence."""
    before = sorted(environment.rglob("*"))
    assert set_up.main(environment, REQUIREMENTS, ROOT / "src") == 0
    assert capsys.readouterr().err == ""
    assert sorted(environment.rglob("*")) == sorted([*before, environment / "lock"])


def test_changed_requirements_are_not_ready(set_up: ModuleType, environment: Path, tmp_path: Path) -> None:
    """One changed byte in the requirements makes the environment out of date."""
    changed = tmp_path / "app.txt"
    changed.write_bytes(REQUIREMENTS.read_bytes().replace(b"sha256", b"sha255", 1))
    assert set_up.is_ready(environment, REQUIREMENTS)
    assert not set_up.is_ready(environment, changed)


def test_a_python_that_went_away_is_not_ready(set_up: ModuleType, environment: Path) -> None:
    """After the system's Python was removed or renamed the environment is made anew."""
    (environment / "bin" / "python").unlink()
    (environment / "bin" / "python").symlink_to("/no/such/python3.11")
    assert not set_up.is_ready(environment, REQUIREMENTS)


def test_emptying_takes_all_but_the_lock(set_up: ModuleType, environment: Path, tmp_path: Path) -> None:
    """What a killed install left is taken away, links without what they point to, the lock kept."""
    kept = tmp_path / "kept"
    kept.mkdir()
    (environment / "link").symlink_to(kept)
    (environment / "lock").touch()
    set_up.empty(environment)
    assert [entry.name for entry in environment.iterdir()] == ["lock"]
    assert kept.is_dir()


def test_the_second_start_waits_for_the_first(
    set_up: ModuleType, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """While one start holds the lock another waits, says so, and goes on when it is free."""
    lock = tmp_path / "lock"
    through = threading.Event()

    def second() -> None:
        with lock.open("a") as held:
            set_up.wait_for(held.fileno())
            through.set()

    with lock.open("a") as held:
        set_up.wait_for(held.fileno())
        waiting = threading.Thread(target=second)
        waiting.start()
        assert not through.wait(0.3)
    waiting.join(10)
    assert through.is_set()
    assert capsys.readouterr().err == "hingeline: another start is setting up; waiting for it\n"


def test_pip_is_told_nothing_that_leads_elsewhere(set_up: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    """A user's own settings that make pip install elsewhere are kept from it; a mirror is not."""
    for name in ("PIP_USER", "PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "PYTHONPATH"):
        monkeypatch.setenv(name, "1")
    monkeypatch.setenv("PIP_INDEX_URL", "mirror")
    given = set_up.plain()
    assert not {"PIP_USER", "PIP_TARGET", "PIP_PREFIX", "PIP_ROOT", "PYTHONPATH"} & given.keys()
    assert given["PIP_INDEX_URL"] == "mirror"


@pytest.mark.parametrize(("where", "expected"), [("", "../../../../src"), ("cache", "{source}")])
def test_the_source_is_named_relative_only_beside_the_checkout(
    set_up: ModuleType, tmp_path: Path, where: str, expected: str
) -> None:
    """Beside the checkout the line is relative, so that both can be moved; in a cache it is absolute."""
    checkout = tmp_path / "check out"
    environment = (tmp_path / where if where else checkout) / ".venv"
    prepare(environment, REQUIREMENTS, "")
    set_up.name_source(environment, checkout / "src")
    (line,) = [path.read_text("utf-8") for path in environment.rglob("hingeline_source.pth")]
    assert line == expected.format(source=checkout / "src") + "\n"
