"""``./check``: what it says at its end, and what it leaves out."""

from __future__ import annotations

import importlib.util
import os
import sys
from pathlib import Path
from types import ModuleType

import pytest

from tests.doors.checkouts import ROOT, Run, copy_checkout, prepare


@pytest.fixture(scope="module")
def checks() -> ModuleType:
    specification = importlib.util.spec_from_file_location("run_checks", ROOT / "tools" / "run_checks.py")
    assert specification is not None
    assert specification.loader is not None
    module = importlib.util.module_from_spec(specification)
    sys.modules[specification.name] = module  # its dataclass looks itself up there
    specification.loader.exec_module(module)
    return module


# What the contracts want to see imported, each by its door; every other module is emptied, since a fault of
# today's code is not this test's.
DOORS = {
    "hingeline/balance/ballast/programme.py": "\nimport scipy as scipy\n",
    "hingeline/tables.py": "\nimport importlib as importlib\nimport tomllib as tomllib\n",
    "hingeline_app/cli/__init__.py": "\nimport click as click\nimport rich as rich\n",
    "hingeline_app/files/__init__.py": (
        "\nimport icalendar as icalendar\nimport openpyxl as openpyxl\nimport PIL as PIL\n"
        "import pillow_heif as pillow_heif\nimport pydantic as pydantic\nimport tomli_w as tomli_w\n"
    ),
    "hingeline_app/recordings/__init__.py": "\nimport av as av\nimport cv2 as cv2\n",
    "hingeline/flutter/compiling.py": "\nimport numba as numba\n",
    "hingeline_app/report/__init__.py": "\nimport pypdf as pypdf\nimport typst as typst\n",
    "hingeline_app/settings/__init__.py": "\nimport django as django\n",
    "hingeline_app/longwork/__init__.py": (
        "\nimport distributed as distributed\nimport django_tasks as django_tasks\n"
        "import django_tasks_db as django_tasks_db\n"
    ),
}
# The tools that ./check itself is made of; the others import what is emptied.
OWN_TOOLS = {"start.sh", "set_up.py", "run_checks.py", "outside_programs.py"}


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small checkout with one test, one slow one and one campaign, and the tests' environment."""
    there = copy_checkout(tmp_path_factory.mktemp("bench") / "hinge line")
    for place in (there / "src").rglob("*.py"):
        code = DOORS.get(place.relative_to(there / "src").as_posix(), "")
        place.write_text(f'"""Planted."""\n{code}', encoding="utf-8")
    for tool in (there / "tools").iterdir():
        if tool.name not in OWN_TOOLS:
            tool.unlink()
    prepare(there / ".venv-check", there / "requirements" / "check.txt", os.fspath(there / "src"))
    (there / "tests").mkdir()
    (there / "tests" / "test_planted.py").write_text(
        '"""Planted."""\n\nimport os\n\nimport pytest\n\n\n'
        'def test_quick() -> None:\n    assert "PLANTED" not in os.environ\n\n\n'
        "@pytest.mark.slow\ndef test_slow() -> None:\n    pass\n\n\n"
        "@pytest.mark.campaign\ndef test_campaign() -> None:\n    pass\n",
        encoding="utf-8",
    )
    return there


@pytest.mark.parametrize(
    ("words", "passed", "expected"),
    [
        ("....\n12 passed in 3.21s\n", True, "12 passed, 0 failed"),
        ("12 passed, 3 skipped, 4 deselected in 3.21s\n", True, "12 passed, 0 failed, 3 skipped"),
        ("2 failed, 12 passed, 1 error in 3.21s\n", False, "12 passed, 3 failed"),
        ("3 errors in 0.10s\n", False, "0 passed, 3 failed"),
        ("no tests ran in 0.01s\n", False, "0 passed, 1 failed"),
        ("", False, "0 passed, 1 failed"),
    ],
)
def test_the_last_line_counts_the_tests(checks: ModuleType, words: str, passed: bool, expected: str) -> None:
    """The closing line has pytest's own counts, and a run that broke off is never counted as passed."""
    assert checks.closing_line(checks.Outcome("tests", passed, 1.0, words)) == expected


def test_a_second_campaign_of_a_day_is_written_below_the_first(checks: ModuleType, tmp_path: Path) -> None:
    """What the day's report already says stays as it is; the later run stands under it, with its figures."""
    tests = [checks.Outcome("tests", True, 1.0, f"figure: {n} cuts\n{n} passed in 1 s\n") for n in (41, 42)]
    first = checks.report(tests[:1], 60.0, [], tmp_path)
    before = first.read_text("utf-8")
    second = checks.report(tests[1:], 60.0, ["tests/faults"], tmp_path)
    assert second == first or second.name > first.name
    after = second.read_text("utf-8")
    assert after.startswith(before.rstrip("\n")) or second != first
    assert "- 41 cuts" in before
    assert "- 42 cuts" in after
    assert "`tests/faults` only" in after


def test_a_cheap_check_that_failed_is_counted(checks: ModuleType) -> None:
    """Where the tests were not begun, the last line says that one thing failed."""
    assert checks.closing_line(checks.Outcome("mypy", True, 1.0, "")) == "0 passed, 1 failed"


def test_an_unknown_word_is_refused(bench: Path, run: Run) -> None:
    """A word that ./check does not know is refused with status 2 and the words that it knows."""
    done = run(bench / "check", "everything")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == 'check: expected nothing, "fast" or "campaign" (then paths of tests); nothing was run\n'


@pytest.mark.slow
@pytest.mark.parametrize(("word", "passed"), [("fast", 1), ("", 2), ("campaign", 3)])
def test_it_runs_every_check_in_order(bench: Path, run: Run, word: str, passed: int) -> None:
    """A line each, in order; fast leaves slow tests out, and only a campaign runs the long ones."""
    done = run(bench / "check", *filter(None, [word]), CI="true")
    lines = done.stdout.splitlines()
    assert done.returncode == 0, done.stdout + done.stderr
    places = [
        next(number for number, line in enumerate(lines) if line.startswith(f"{name} "))
        for name in ("ruff check", "ruff format", "mypy", "import contracts", "tests are", "tests", "all")
    ]
    assert places == sorted(places)
    assert lines[-1] == f"{passed} passed, 0 failed"
    reports = list((bench / "docs" / "campaign").glob("*.md"))
    assert len(reports) == (word == "campaign")
    assert all(os.fspath(bench) not in report.read_text("utf-8") for report in reports)


@pytest.mark.slow
def test_a_failing_test_fails_it(bench: Path, run: Run) -> None:
    """One failing test gives a status other than zero and is counted in the last line."""
    done = run(bench / "check", "fast", PLANTED="1")
    assert done.returncode == 1
    assert done.stdout.splitlines()[-1] == "0 passed, 1 failed"


@pytest.mark.slow
def test_all_cheap_checks_run_although_the_first_fails(bench: Path, run: Run) -> None:
    """A fault of manner is shown, the other cheap checks still run, and the tests do not start."""
    planted = bench / "tools" / "planted.py"
    planted.write_text("import os\n", encoding="utf-8")
    try:
        done = run(bench / "check", "fast")
    finally:
        planted.unlink()
    assert done.returncode == 1
    assert "F401" in done.stdout
    assert [line.split("  ")[0] for line in done.stdout.splitlines() if " passed " in line] == [
        "ruff format",
        "mypy --strict",
        "import contracts",
        "tests are read",
    ]
    assert done.stdout.splitlines()[-1] == "0 passed, 1 failed"


def test_the_submission_check_says_the_same_word() -> None:
    """What runs at a submission is ./check itself, with nothing before or after it."""
    script = (ROOT / ".ci" / "run").read_text("utf-8")
    assert script.splitlines()[-1] == "exec ./check"
    assert os.access(ROOT / "check", os.X_OK)
    assert os.access(ROOT / "hingeline", os.X_OK)


@pytest.fixture
def programs() -> ModuleType:
    specification = importlib.util.spec_from_file_location("outside", ROOT / "tools" / "outside_programs.py")
    assert specification is not None
    assert specification.loader is not None
    module = importlib.util.module_from_spec(specification)
    specification.loader.exec_module(module)
    return module


def test_what_pip_cannot_give_is_named_in_one_line(
    programs: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where nothing may be installed, one line says what to install, and the check fails."""
    monkeypatch.setattr(programs, "may_install", lambda: False)
    monkeypatch.setattr(programs, "is_here", lambda name, _: name == "cc")
    assert programs.main() == 1
    assert capsys.readouterr().out == "to be installed first (Debian, Ubuntu): apt-get install chromium postgresql\n"


def test_what_is_missing_is_installed_where_that_is_allowed(
    programs: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The packages of what is missing, and no others, go to the package manager; then it is looked again."""
    installed: list[str] = []
    monkeypatch.setattr(programs, "may_install", lambda: True)
    monkeypatch.setattr(programs, "is_here", lambda name, _: name != "initdb" or bool(installed))
    monkeypatch.setattr(programs, "install", lambda missing: installed.extend(programs.packages(missing)))
    assert programs.main() == 0
    assert installed == ["postgresql"]
