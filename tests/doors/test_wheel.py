"""The distribution: built, then installed as a library alone."""

from __future__ import annotations

import os
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

import hingeline
from tests.doors.checkouts import ROOT, Run

pytestmark = pytest.mark.slow

ALONE = """
import sys, hingeline, numpy, scipy
from importlib.util import find_spec
import {rooms}
assert hingeline.__version__ == "{version}"
outside = [name for name in ("click", "rich", "pydantic", "typst", "pypdf", "django", "av", "numba") if find_spec(name)]
assert not outside, outside
assert "hingeline_app" not in sys.modules
print("alone")
"""


def test_the_wheel_carries_both_packages_with_their_data(wheel: Path) -> None:
    """Every file of both source folders is in the wheel, tables, fonts and type marks included."""
    inside = set(zipfile.ZipFile(wheel).namelist())
    source = ROOT / "src"
    wanted = {
        os.fspath(path.relative_to(source))
        for path in source.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    assert {"hingeline/py.typed", "hingeline_app/cli/main.py"} <= wanted
    for kind in (".html", ".css", ".js", ".ttf", ".woff2", ".mo", ".toml", ".typ", ".md"):
        assert any(name.endswith(kind) for name in wanted), f"the test looks for {kind} too"
    assert wanted - inside == set()
    assert {name.split("/")[0] for name in inside} == {
        "hingeline",
        "hingeline_app",
        f"hingeline-{hingeline.__version__}.dist-info",
    }


def test_the_library_alone_installs_and_starts(wheel: Path, run: Run, tmp_path: Path) -> None:
    """With the base requirements only, the library imports; no package of the application is there."""
    environment = tmp_path / "alone"
    venv.EnvBuilder(symlinks=True, with_pip=True).create(environment)
    pip = [environment / "bin/python", "-m", "pip", "install", "--quiet"]
    hashed = run(*pip, "--require-hashes", "-r", ROOT / "requirements/base.txt")
    assert hashed.returncode == 0, hashed.stderr
    ours = run(*pip, "--no-deps", "--no-index", wheel)
    assert ours.returncode == 0, ours.stderr
    rooms = ", ".join(
        f"hingeline.{path.stem}"
        for path in sorted((ROOT / "src/hingeline").iterdir())
        if not path.stem.startswith("_") and (path.suffix == ".py" or (path / "__init__.py").is_file())
    )
    code = ALONE.format(rooms=rooms, version=hingeline.__version__)
    done = run(environment / "bin/python", "-I", "-c", code, cwd=tmp_path)
    assert (done.returncode, done.stdout) == (0, "alone\n"), done.stderr


def test_the_command_without_its_extra_says_which_to_install(wheel: Path, run: Run, tmp_path: Path) -> None:
    """Where only the base is installed, the command answers with the sentence that installs the rest."""
    environment = tmp_path / "alone"
    venv.EnvBuilder(symlinks=True, with_pip=False).create(environment)
    base = os.fspath(environment)
    packages = sysconfig.get_path("purelib", "venv", vars={"base": base, "platbase": base})
    zipfile.ZipFile(wheel).extractall(packages)
    done = run(environment / "bin/python", "-I", "-m", "hingeline_app", "--version", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    (sentence,) = done.stderr.splitlines()
    assert 'pip install "hingeline[app]"' in sentence
