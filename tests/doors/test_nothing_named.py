"""Nothing committed names a machine's path, a workplace or a package registry's host."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest

from tests.doors.checkouts import ROOT

# Put together from halves, so that this file does not hold what it looks for.
HALVES = [
    (r"/ro", r"ot\b"),
    (r"/wo", r"rk/"),
    (r"/fa", r"rm\b"),
    (r"/ho", r"me/\w"),
    (r"/Us", r"ers/\w"),
    (r"/opt/", r"(pypi|wheels)"),
    (r"pypi\.", r"org"),
    (r"pytho", r"nhosted"),
    (r"npmjs\.", r"(org|com)"),
    (r"registry\.", r"(npm|yarn)"),
    (r"(deb|security)\.", r"debian\.org"),
    (r"proxy\.", r"golang"),
    (r"crates\.", r"io"),
    (r"conda\.", r"(io|anaconda)"),
    (r"jsdeliv", r"r|unpk" + "g"),
    (r"shared/", r"(design|reference)"),
]
PATTERN = re.compile("|".join(first + second for first, second in HALVES))
BINARY = {".ttf", ".woff2", ".mo", ".png", ".pdf", ".ico", ".mp4"}


def committed() -> list[Path]:
    """Give the files that git knows; in a copy without git, all but what was made here."""
    try:
        listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True).stdout
    except (OSError, subprocess.CalledProcessError):
        made = {
            ".venv",
            ".venv-check",
            "__pycache__",
            ".git",
            ".import_linter_cache",
            ".pytest_cache",
            ".ruff_cache",
            ".mypy_cache",
            ".hypothesis",
        }
        return [path for path in ROOT.rglob("*") if path.is_file() and not made & set(path.parts)]
    named = (ROOT / name for name in listed.decode().split("\0") if name)
    return [path for path in named if path.is_file()]


def found_in(text: str) -> list[str]:
    """Give each line that names something, with its number."""
    return [f"{number}: {line}" for number, line in enumerate(text.splitlines(), 1) if PATTERN.search(line)]


@pytest.mark.parametrize("halves", HALVES, ids=lambda halves: halves[0].strip("/\\."))
def test_the_guard_sees_a_planted_name(halves: tuple[str, str]) -> None:
    """Each thing that must not be named is seen when it is."""
    plain = re.sub(r"\(([^|)]*)\|[^)]*\)", r"\1", "".join(halves))
    planted = plain.split("|")[0].replace("\\b", " ").replace("\\w", "x").replace("\\", "")
    assert found_in(f"see {planted}/ there") != []


def test_no_committed_file_names_them() -> None:
    """No committed text file names a path of a machine, a registry's host or the workplace."""
    files = committed()
    assert len(files) > 20
    texts = {path: path.read_text("utf-8") for path in files if path.suffix not in BINARY}
    assert {str(path.relative_to(ROOT)): lines for path, text in texts.items() if (lines := found_in(text))} == {}
