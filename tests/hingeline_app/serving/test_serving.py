"""Starting and stopping: what is refused in words, what starts with the machine, what the settings hold."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import sysconfig
from pathlib import Path

import pytest

from hingeline.errors import InputRefused
from hingeline_app.serving import boot_unit as boot
from hingeline_app.serving.boot_unit import boot_unit, this_program
from hingeline_app.serving.options import ServeOptions
from hingeline_app.serving.start import serve
from tests.doors.checkouts import ROOT


def test_a_taken_port_is_refused_with_the_remedy(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        options = ServeOptions(tmp_path, taken.getsockname()[1], loopback=True)
        with pytest.raises(InputRefused, match="name another port"):
            serve(options, print)


def test_a_file_in_the_folder_s_place_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    with pytest.raises(InputRefused, match="Name another folder"):
        serve(ServeOptions(tmp_path / "file"), print)


def test_what_is_no_address_is_refused(tmp_path: Path) -> None:
    with pytest.raises(InputRefused, match="an address of this machine"):
        serve(ServeOptions(tmp_path, host="hangar"), print)


def test_the_unit_starts_this_folder_and_may_write_nowhere_else(tmp_path: Path) -> None:
    """A path with a space and a percent sign stands as a unit reads it. Source: systemd.unit(5), from memory."""
    options = ServeOptions(tmp_path / "Fenholt 100% records", 9443, backups=Path("/media/stick"))
    unit = boot_unit(Path("/srv/hingeline"), options)
    assert f'ExecStart="/srv/hingeline" serve --data "{tmp_path}/Fenholt 100%% records" --port 9443' in unit
    assert '--backups "/media/stick"' in unit
    assert f'ReadWritePaths="{tmp_path}/Fenholt 100%% records" "/media/stick"' in unit
    assert "ProtectSystem=strict" in unit


def test_the_unit_keeps_the_second_place_of_the_journal(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Where the journal goes to another device now, it goes there when the machine starts, and may be written there."""
    monkeypatch.setenv("HINGELINE_JOURNAL", "/media/second place")
    unit = boot_unit(Path("/srv/hingeline"), ServeOptions(tmp_path))
    assert 'Environment="HINGELINE_JOURNAL=/media/second place"\nExecStart=' in unit
    assert f'ReadWritePaths="{tmp_path}" "/media/second place"' in unit
    monkeypatch.delenv("HINGELINE_JOURNAL")
    assert "Environment=" not in boot_unit(Path("/srv/hingeline"), ServeOptions(tmp_path))


def test_the_unit_starts_the_server_as_it_was_asked(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """What was asked for on the line stands in the unit: a copy stays a copy, and four processes without a worker."""
    assert "--read-only" not in boot_unit(Path("/srv/hingeline"), ServeOptions(tmp_path))
    assert "--read-only" in boot_unit(Path("/srv/hingeline"), ServeOptions(tmp_path, read_only=True))
    monkeypatch.setenv("HINGELINE_DATABASE", "postgresql://workshop@records/hingeline")
    unit = boot_unit(Path("/srv/hingeline"), ServeOptions(tmp_path, processes=4))
    assert "--processes 4 --workers 0" in unit


def test_an_installed_package_is_started_by_its_own_command(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """In a checkout the machine starts the door; where there is none, the command beside the interpreter."""
    assert this_program() == ROOT / "hingeline"
    monkeypatch.setattr(boot, "DOOR", tmp_path / "hingeline")
    assert this_program() == Path(sysconfig.get_path("scripts")) / "hingeline"


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["server", "embedded"])
def test_the_framework_s_own_check_finds_nothing_to_say(kind: str, tmp_path: Path) -> None:
    """``check --deploy`` on the settings that are shipped: no warning; what is silenced has its reason beside it."""
    surroundings = {
        **os.environ,
        "PYTHONPATH": str(ROOT / "src"),
        "HINGELINE_DATA": str(tmp_path),
        "HINGELINE_DATABASE": "postgresql://hingeline@localhost/hingeline" if kind == "server" else "",
        "DJANGO_SETTINGS_MODULE": f"hingeline_app.settings.{kind}",
    }
    # The tests' own leave for the browser's driver is nothing that a server starts with.
    surroundings.pop("DJANGO_ALLOW_ASYNC_UNSAFE", None)
    command = [sys.executable, "-m", "django", "check", "--deploy", "--fail-level", "INFO"]
    done = subprocess.run(command, capture_output=True, text=True, env=surroundings, check=False)
    assert done.returncode == 0, done.stderr
    assert "no issues" in done.stdout


def test_each_silenced_check_has_a_reason_beside_it() -> None:
    lines = (ROOT / "src" / "hingeline_app" / "settings" / "common.py").read_text("utf-8").splitlines()
    start = lines.index("SILENCED_SYSTEM_CHECKS = [")
    block = lines[start + 1 : lines.index("]", start)]
    assert len(block) % 2 == 0
    for reason, check in zip(block[::2], block[1::2], strict=True):
        assert reason.strip().startswith("# ")
        assert check.strip().startswith('"')
