"""``./hingeline`` once its environment is there."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest

import hingeline
from tests.doors.checkouts import Run, prepare

AS_ROOT = os.geteuid() == 0
NOBODY = 65534
LEAVE_OUT = shutil.ignore_patterns(".venv", "__pycache__")


def test_from_another_folder_with_a_space_in_the_path(checkout: Path, run: Run) -> None:
    """The door works from any folder, says its version, and adds no words of its own."""
    done = run(checkout / "hingeline", "--version", cwd="/")
    assert (done.returncode, done.stderr) == (0, "")
    assert hingeline.__version__ in done.stdout


def test_through_symbolic_links(checkout: Path, run: Run, tmp_path: Path) -> None:
    """A link to a link, absolute or relative, leads to the same door."""
    (tmp_path / "bin").mkdir()
    (tmp_path / "absolute").symlink_to(checkout / "hingeline")
    (tmp_path / "bin" / "relative").symlink_to("../absolute")
    done = run(tmp_path / "bin" / "relative", "--version")
    assert (done.returncode, done.stderr) == (0, "")
    assert hingeline.__version__ in done.stdout


def test_found_on_the_search_path(checkout: Path, run: Run) -> None:
    """Called by its bare name, or by the shell with a bare name, it still finds its own folder."""
    by_name = run("/bin/sh", "-c", "hingeline --version", PATH=f"{checkout}:{os.environ['PATH']}")
    by_shell = run("/bin/sh", "hingeline", "--version", cwd=checkout)
    assert (by_name.returncode, by_name.stderr) == (0, "")
    assert by_name.stdout == by_shell.stdout


def test_files_and_variables_of_the_user_change_nothing(checkout: Path, run: Run, tmp_path: Path) -> None:
    """Neither a module in the folder where the user stands nor PYTHONPATH is ever imported."""
    for name in ("click", "hingeline", "hingeline_app", "json", "math", "fractions"):
        (tmp_path / f"{name}.py").write_text("raise SystemExit('the wrong module was imported')\n")
    done = run(checkout / "hingeline", "--version", cwd=tmp_path, PYTHONPATH=os.fspath(tmp_path))
    assert (done.returncode, done.stderr) == (0, "")


def test_a_checkout_may_be_moved(checkout: Path, run: Run, tmp_path: Path) -> None:
    """An environment beside its checkout names the source by a relative path, so both may move together."""
    old = tmp_path / "old place"
    shutil.copytree(checkout, old, symlinks=True, ignore=shutil.ignore_patterns(".venv"))
    prepare(old / ".venv", old / "requirements" / "app.txt", "../../../../src")
    new = old.rename(tmp_path / "new place")
    done = run(new / "hingeline", "--version")
    assert (done.returncode, done.stderr) == (0, "")


def test_exit_status_and_arguments_pass_through(checkout: Path, run: Run) -> None:
    """A command that does not exist is refused with status 2, whatever spaces stand in its name."""
    done = run(checkout / "hingeline", "no such  command")
    assert done.returncode == 2
    assert "no such  command" in done.stdout + done.stderr
    assert "Traceback" not in done.stderr


def test_without_a_python_the_sentence_says_what_to_install(checkout: Path, run: Run, tmp_path: Path) -> None:
    """Where no Python is new enough, one sentence says which to install; no traceback, status 1."""
    bare = copy_without_environment(checkout, tmp_path)
    for tool in ("dirname", "readlink", "cksum", "tr", "cmp"):
        (tmp_path / "bin" / tool).symlink_to(shutil.which(tool) or tool)
    old = tmp_path / "bin" / "python3"
    old.write_text("#!/bin/sh\nexit 1\n")
    old.chmod(0o755)
    done = run("/bin/sh", bare / "hingeline", "--version", PATH=os.fspath(tmp_path / "bin"))
    assert (done.returncode, done.stdout) == (1, "")
    assert re.fullmatch(r"hingeline: Python 3\.11 or newer is needed; install it .*\n", done.stderr)


def test_without_venv_the_sentence_says_what_to_install(checkout: Path, run: Run, tmp_path: Path) -> None:
    """Where Python cannot make environments, as on a bare Debian, one sentence names the package."""
    bare = copy_without_environment(checkout, tmp_path)
    for tool in ("dirname", "readlink", "cksum", "tr", "cmp"):
        (tmp_path / "bin" / tool).symlink_to(shutil.which(tool) or tool)
    lame = tmp_path / "bin" / "python3"
    lame.write_text("#!/bin/sh\necho lame\n")
    lame.chmod(0o755)
    done = run("/bin/sh", bare / "hingeline", "--version", PATH=os.fspath(tmp_path / "bin"))
    assert (done.returncode, done.stdout) == (1, "")
    assert re.fullmatch(
        r"hingeline: python3 cannot make virtual environments; install its venv package .*\n", done.stderr
    )


@pytest.mark.skipif(not AS_ROOT, reason="root alone can become another user")
def test_another_user_starts_a_checkout_that_they_cannot_write(
    checkout: Path, readable_by_all: Path, other_python: str
) -> None:
    """A user who may only read the checkout runs the environment in it, and leaves nothing behind."""
    there = shutil.copytree(checkout, readable_by_all / "hinge line", ignore=LEAVE_OUT)
    prepare(there / ".venv", there / "requirements/app.txt", "../../../../src", other_python)
    before = sorted(there.rglob("*"))
    done = as_nobody(there / "hingeline", readable_by_all)
    assert (done.returncode, done.stderr) == (0, "")
    assert hingeline.__version__ in done.stdout
    assert before == sorted(there.rglob("*"))


@pytest.mark.skipif(not AS_ROOT, reason="root alone can become another user")
def test_a_checkout_without_environment_uses_the_cache_of_its_reader(
    checkout: Path, readable_by_all: Path, other_python: str
) -> None:
    """Where the checkout cannot be written, environment and compiled files live in the user's cache."""
    there = shutil.copytree(checkout, readable_by_all / "hinge line", ignore=LEAVE_OUT)
    mark = subprocess.run(["cksum"], input=os.fsencode(there), stdout=subprocess.PIPE, check=True).stdout
    cache = readable_by_all / "cache" / "hingeline" / mark.decode().strip().replace(" ", "-")
    prepare(cache / ".venv", there / "requirements/app.txt", os.fspath(there / "src"), other_python)
    for path in (readable_by_all / "cache").rglob("*"):
        os.chown(path, NOBODY, NOBODY, follow_symlinks=False)
    before = sorted(there.rglob("*"))
    done = as_nobody(there / "hingeline", readable_by_all)
    assert (done.returncode, done.stderr) == (0, "")
    assert hingeline.__version__ in done.stdout
    assert before == sorted(there.rglob("*"))
    assert any((cache / ".venv" / "bytecode").rglob("*.pyc"))


def test_without_any_folder_to_write_it_says_what_to_set(checkout: Path, readable_by_all: Path) -> None:
    """No writable checkout, no home and no cache folder: one sentence says what to set; status 1."""
    if not AS_ROOT:
        pytest.skip("root alone can become another user")
    there = shutil.copytree(checkout, readable_by_all / "hinge line", ignore=LEAVE_OUT)
    done = as_nobody(there / "hingeline", None)
    assert (done.returncode, done.stdout) == (1, "")
    assert "set XDG_CACHE_HOME to a folder of yours" in done.stderr


@pytest.fixture
def readable_by_all() -> Iterator[Path]:
    """A folder outside pytest's own, which only its maker may enter."""
    with tempfile.TemporaryDirectory(prefix="hinge line ") as made:
        Path(made).chmod(0o755)
        yield Path(made)


@pytest.fixture
def other_python() -> str:
    """A Python that every user of this machine may run."""
    for name in (sys.executable, "/usr/bin/python3", "/usr/local/bin/python3"):
        real = os.path.realpath(name)
        command = [real, "-c", "import sys; sys.exit(sys.version_info < (3, 11))"]
        with suppress(OSError):
            if subprocess.run(command, user=NOBODY, group=NOBODY, extra_groups=[], cwd="/").returncode == 0:
                return real
    pytest.skip("no Python here that another user may run")


def as_nobody(door: Path, folder: Path | None) -> subprocess.CompletedProcess[str]:
    """Ask the door for its version as a user who owns nothing."""
    places = {"XDG_CACHE_HOME": os.fspath(folder / "cache")} if folder else {}
    return subprocess.run(
        [door, "--version"],
        cwd="/",
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        user=NOBODY,
        group=NOBODY,
        extra_groups=[],
        env={"PATH": os.environ["PATH"], **places},
    )


def copy_without_environment(checkout: Path, to: Path) -> Path:
    """Copy a checkout as it is before its first start, and an empty folder for programs beside it."""
    (to / "bin").mkdir()
    return shutil.copytree(checkout, to / "bare", ignore=shutil.ignore_patterns(".venv"))
