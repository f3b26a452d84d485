"""Run every check and test, one line each, and close with the tests' own count.

    run_checks.py [fast | campaign [PATHS]]

A campaign may be of some tests only; its report says which.

Called by ``./check``, inside its environment. The cheap checks all run, two at a time, so that one look
shows what is to be mended; the tests start only when those pass. The last of them reads every test: what it
compiles on the way, each process of the tests and each program that they start finds ready.
"""

from __future__ import annotations

import datetime
import os
import platform
import re
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
REPORTS = ROOT / "docs" / "campaign"
CLOSING = re.compile(r"(\d+) (passed|failed|error|errors|skipped)\b")

LINT_IMPORTS = 'from importlinter.cli import lint_imports_command; lint_imports_command(["--no-logo"])'

CHEAP = {
    "ruff check": ["-m", "ruff", "check", "--quiet", "."],
    "ruff format": ["-m", "ruff", "format", "--quiet", "--check", "."],
    "mypy --strict": ["-m", "mypy", "--no-error-summary"],
    "import contracts": ["-c", LINT_IMPORTS],
    "tests are read": ["-m", "pytest", "-q", "--collect-only"],
}
# What pip cannot give: a browser, a database server, a compiler. The fast tests do without.
PROGRAMS = {"programs": ["tools/outside_programs.py"]}
# A browser and a database server are waited for, and two of three processes then have the processor. With four the
# tests that give a browser or a server its time ran out of it on a busy machine.
PROCESSES = {"fast": 2, "full": 3, "campaign": 3}
LEFT_OUT = {"fast": "not slow and not campaign", "full": "not campaign", "campaign": ""}


@dataclass(frozen=True)
class Outcome:
    """What one check gave."""

    name: str
    passed: bool
    seconds: float
    words: str

    def line(self) -> str:
        """Give the outcome as one line."""
        return f"{self.name:<18} {'passed' if self.passed else 'FAILED'} {self.seconds:7.1f} s"


def main(arguments: list[str]) -> int:
    """Run the checks of one kind; zero when all passed."""
    kind = arguments[0] if arguments else "full"
    paths = arguments[1:]
    if kind not in LEFT_OUT or (paths and kind != "campaign"):
        print('check: expected nothing, "fast" or "campaign" (then paths of tests); nothing was run', file=sys.stderr)
        return 2
    started = time.monotonic()
    first = CHEAP if kind == "fast" else CHEAP | PROGRAMS
    with ThreadPoolExecutor(max_workers=2) as at_once:
        outcomes = [show(outcome) for outcome in at_once.map(run, first.keys(), first.values())]
    if all(outcome.passed for outcome in outcomes):
        outcomes.append(show(run_tests(kind, paths)))
    seconds = time.monotonic() - started
    if kind == "campaign":
        print("report:", report(outcomes, seconds, paths).relative_to(ROOT))
    print(f"{'all':<18} {seconds / 60:.1f} min")
    print(closing_line(outcomes[-1]))
    return 0 if all(outcome.passed for outcome in outcomes) else 1


def run(name: str, command: list[str]) -> Outcome:
    """Run one cheap check and keep its words for the case that it fails."""
    started = time.monotonic()
    done = subprocess.run(
        [sys.executable, *command],
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env=surroundings(),
    )
    words = done.stdout if done.returncode else ""
    return Outcome(name, done.returncode == 0, time.monotonic() - started, words)


def run_tests(kind: str, paths: list[str]) -> Outcome:
    """Run pytest, letting its words through as they come."""
    started = time.monotonic()
    # Each process takes a row of neighbours, which share what a file of tests makes for itself, until it helps another.
    spread = ["-n", str(PROCESSES[kind]), "--dist", "worksteal"]
    command = [sys.executable, "-m", "pytest", *spread, "-q", "--durations=5", "-m", LEFT_OUT[kind], *paths]
    words: list[str] = []
    with subprocess.Popen(
        command,
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env=surroundings(),
    ) as tests:
        assert tests.stdout is not None
        for line in tests.stdout:
            print(line, end="", flush=True)
            words.append(line)
    return Outcome("tests", tests.returncode == 0, time.monotonic() - started, "".join(words))


def surroundings() -> dict[str, str]:
    """Give the environment, without what could change a result from one user to the next."""
    # PYTHONDONTWRITEBYTECODE, which many containers set, would have every program compile all of ours again.
    ours = {name: value for name, value in os.environ.items() if not name.startswith(("PYTEST_", "PYTHON"))}
    # The processes of the tests fill the processor: a second thread of linear algebra in each would only turn round.
    return ours | {"PYTHONUTF8": "1", "COLUMNS": "110", "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}


def show(outcome: Outcome) -> Outcome:
    """Print the line of a check, and its words where it failed."""
    if outcome.name != "tests" and outcome.words:
        print(outcome.words.strip())
    print(outcome.line(), flush=True)
    return outcome


def closing_line(last: Outcome) -> str:
    """Say the count of tests alone on a line; where none ran, that the cheap checks stopped it."""
    if last.name != "tests":
        return "0 passed, 1 failed"
    found = CLOSING.findall(last.words.strip().splitlines()[-1]) if last.words.strip() else []
    counts = {what.rstrip("s"): int(number) for number, what in found}
    failed = counts.get("failed", 0) + counts.get("error", 0)
    # pytest may stop without counting anything, for example at a fault in a conftest.py.
    failed = failed or (0 if last.passed else 1)
    skipped = f", {counts['skipped']} skipped" if "skipped" in counts else ""
    return f"{counts.get('passed', 0)} passed, {failed} failed{skipped}"


def report(outcomes: list[Outcome], seconds: float, paths: list[str], folder: Path = REPORTS) -> Path:
    """Write what a campaign did, on which day and machine, into the documentation; below what the day already has."""
    now = datetime.datetime.now()
    path = folder / f"{now.date().isoformat()}.md"
    folder.mkdir(parents=True, exist_ok=True)
    earlier = path.read_text("utf-8").rstrip("\n") if path.exists() else f"# Campaign of {now.date().isoformat()}"
    of_what = f"of `{'`, `'.join(paths)}` only" if paths else "all tests"
    text = [
        earlier,
        "",
        f"## At {now:%H:%M}, {of_what}",
        "",
        f"Commit {commit()}. Python {platform.python_version()} on {platform.system()} "
        f"{platform.machine()}, {os.cpu_count()} cores, load {os.getloadavg()[1]:.0f}. "
        f"{seconds / 60:.1f} minutes in all.",
        "",
        *told_by_tests(outcomes[-1].words),
        "```text",
        *(outcome.line() for outcome in outcomes),
        "```",
        "",
        "The tests' last words:",
        "",
        "```text",
        *last_words(outcomes[-1].words),
        "```",
        "",
    ]
    path.write_text("\n".join(text), encoding="utf-8")
    return path


def told_by_tests(words: str) -> list[str]:
    """Give the figures that tests told, as a list of the document."""
    figures = [line.removeprefix("figure: ") for line in words.splitlines() if line.startswith("figure: ")]
    return [*(f"- {figure}" for figure in figures), ""] if figures else []


def last_words(words: str) -> list[str]:
    """Give the tests' last lines without their figures, and without where this checkout lies."""
    lines = [line for line in words.strip().splitlines() if not line.startswith("figure: ")]
    return [line.replace(os.fspath(ROOT), ".") for line in lines[-12:]]


def commit() -> str:
    """Name the commit that was tried, and say so when the files differ from it."""
    try:
        name = subprocess.run(
            ["git", "describe", "--always", "--dirty"], cwd=ROOT, capture_output=True, text=True, check=True
        )
    except (OSError, subprocess.CalledProcessError):
        return "unknown"
    return name.stdout.strip()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
