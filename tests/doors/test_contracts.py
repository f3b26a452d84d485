"""Which way the doors open: the contracts hold, and faults planted in a copy are reported."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.doors.checkouts import ROOT, Run

LINT = 'from importlinter.cli import lint_imports_command; lint_imports_command(["--no-logo", "--no-cache"])'

# file, what is planted in it, the contract that must break, the arrow that must be named
FAULTS = {
    "os in the library": (
        "hingeline/balance/planted.py",
        "import os",
        "The library is sealed",
        "hingeline.balance.planted -> os",
    ),
    "sqlite3 hidden in a function": (
        "hingeline/uncertainty/planted.py",
        "def f() -> None:\n    import sqlite3",
        "The library is sealed",
        "hingeline.uncertainty.planted -> sqlite3",
    ),
    "the application in the library": (
        "hingeline/balance/planted.py",
        "from hingeline_app import files",
        "The library is sealed",
        "hingeline.balance.planted -> hingeline_app.files",
    ),
    "a table read elsewhere": (
        "hingeline/balance/planted.py",
        "import tomllib",
        "Tables of numbers",
        "hingeline.balance.planted -> tomllib",
    ),
    "units know a room": (
        "hingeline/units/planted.py",
        "import hingeline.balance",
        "The library's floors",
        "hingeline.units.planted -> hingeline.balance",
    ),
    "the exact reader leans on the first": (
        "hingeline/exact.py",
        "import hingeline.units",
        "The second route shares no arithmetic",
        "hingeline.exact -> hingeline.units",
    ),
    "decimals lean on floats": (
        "hingeline/uncertainty/decimals.py",
        "import hingeline.uncertainty.budget",
        "The second route shares no arithmetic",
        "hingeline.uncertainty.decimals -> hingeline.uncertainty.budget",
    ),
    "files know the report": (
        "hingeline_app/files/planted.py",
        "import hingeline_app.report",
        "The application's storeys",
        "hingeline_app.files.planted -> hingeline_app.report",
    ),
    "click outside the command line": (
        "hingeline_app/files/planted.py",
        "import click",
        "One door for the command-line packages",
        "hingeline_app.files.planted -> click",
    ),
    "typst outside the report": (
        "hingeline_app/cli/planted.py",
        "import typst",
        "One door for the PDF packages",
        "hingeline_app.cli.planted -> typst",
    ),
    "pydantic outside the files": (
        "hingeline_app/report/planted.py",
        "import pydantic",
        "One door for the job-file package",
        "hingeline_app.report.planted -> pydantic",
    ),
    "a second opinion in the product": (
        "hingeline_app/selftest/planted.py",
        "import pint",
        "Second opinions stay in the tests",
        "hingeline_app.selftest.planted -> pint",
    ),
    "a solver in the application": (
        "hingeline_app/cli/planted.py",
        "def f() -> None:\n    import scipy",
        "One door for solvers",
        "hingeline_app.cli.planted -> scipy",
    ),
    "an undeclared folder in the library": (
        "hingeline/utilities/__init__.py",
        "",
        "The library's floors",
        "utilities",
    ),
    "an undeclared folder in the application": (
        "hingeline_app/helpers/__init__.py",
        "",
        "The application's storeys",
        "helpers",
    ),
}


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    there = tmp_path_factory.mktemp("contracts") / "copy"
    shutil.copytree(ROOT / "src", there / "src", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy2(ROOT / "pyproject.toml", there)
    return there


def lint(there: Path, run: Run, python: str) -> tuple[int, str]:
    """Check the contracts of a checkout; the words on one line, since the report folds its own."""
    done = run(python, "-c", LINT, cwd=there, PYTHONPATH=f"{there / 'src'}", COLUMNS="400")
    return done.returncode, " ".join((done.stdout + done.stderr).split())


def test_the_contracts_hold(run: Run, python: str) -> None:
    """Every import in both packages goes the way that pyproject.toml says."""
    status, words = lint(ROOT, run, python)
    assert (status, " 0 broken" in words) == (0, True), words


def test_every_folder_of_source_is_a_package() -> None:
    """A folder with code but no __init__.py would be importable and yet unseen by the contracts."""
    folders = {path.parent for path in (ROOT / "src").rglob("*.py")}
    assert [folder for folder in folders if not (folder / "__init__.py").is_file()] == []


@pytest.mark.parametrize("fault", FAULTS)
def test_a_planted_fault_is_reported(fault: str, copy: Path, run: Run, python: str) -> None:
    """Each planted fault breaks the contract that is meant to catch it, and the report names the place."""
    name, code, contract, arrow = FAULTS[fault]
    place = copy / "src" / name
    before = place.read_text("utf-8") if place.exists() else None
    made = not place.parent.exists()
    place.parent.mkdir(exist_ok=True)
    try:
        place.write_text(f"{before or ''}\n{code}\n", encoding="utf-8")
        status, words = lint(copy, run, python)
    finally:
        place.unlink()
        if before is not None:
            place.write_text(before, encoding="utf-8")
        if made:
            shutil.rmtree(place.parent)
    assert status == 1, words
    broken = words.split("Broken contracts", 1)[1]
    assert contract in broken
    assert arrow in broken
