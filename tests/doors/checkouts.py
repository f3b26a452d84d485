"""Copies of this checkout, with and without an environment."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import sysconfig
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
FILES = ["hingeline", "check", "tools", "requirements", "src", "pyproject.toml"]
Run = Callable[..., "subprocess.CompletedProcess[str]"]


def copy_checkout(to: Path) -> Path:
    """Copy what a user's start needs, without anything that was made here."""
    to.mkdir(parents=True)
    for name in FILES:
        source = ROOT / name
        if source.is_dir():
            shutil.copytree(source, to / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy2(source, to / name)
    return to


def prepare(environment: Path, requirements: Path, source: str, python: str = sys.executable) -> None:
    """Make an environment that borrows the tests' packages, stamped as if it had been installed."""
    make = [python, "-I", "-m", "venv", "--without-pip", os.fspath(environment)]
    subprocess.run(make, check=True, stdin=subprocess.DEVNULL)
    (packages,) = environment.glob("lib/python3.*/site-packages")
    borrowed = Path(sysconfig.get_path("purelib"))
    (packages / "borrowed.pth").write_text(f"{source}\n{borrowed}\n", encoding="utf-8")
    shutil.copy2(requirements, environment / "stamp")
