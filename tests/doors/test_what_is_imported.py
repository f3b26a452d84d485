"""What a start costs: which packages each door brings in."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.doors.checkouts import ROOT, Run

EXAMPLES = sorted((ROOT / "examples").glob("01-*.toml"))
HEAVY = {"numpy", "scipy", "pint", "GTC", "typst", "pypdf"}


def imported(words: str) -> set[str]:
    """Read the top-level packages from what -X importtime wrote."""
    lines = [line for line in words.splitlines() if line.startswith("import time:")]
    return {line.rsplit("|", 1)[1].strip().split(".")[0] for line in lines}


def test_the_library_imports_without_numpy(run: Run, python: str) -> None:
    """Every module but those of the flutter and motion rooms imports without numpy, scipy or any outside package."""
    source = ROOT / "src"
    names = sorted(
        ".".join(path.relative_to(source).with_suffix("").parts).removesuffix(".__init__")
        for path in (source / "hingeline").rglob("*.py")
        if not {"flutter", "motion"} & set(path.relative_to(source).parts)
    )
    done = run(python, "-X", "importtime", "-c", "import " + ", ".join(names), PYTHONPATH=f"{source}")
    assert done.returncode == 0, done.stderr
    found = imported(done.stderr)
    assert "hingeline" in found
    assert not found & (HEAVY | {"click", "rich", "pydantic", "hingeline_app"})


@pytest.mark.parametrize("words", [["--help"], ["--version"], ["weigh", "--help"]])
def test_help_imports_nothing_heavy(words: list[str], run: Run, python: str) -> None:
    """Help and version come without numpy and PDF packages; the outer help without job-file ones too."""
    done = run(python, "-X", "importtime", "-m", "hingeline_app", *words, PYTHONPATH=f"{ROOT / 'src'}")
    assert done.returncode == 0, done.stderr
    found = imported(done.stderr)
    assert "click" in found
    assert not found & (HEAVY if "weigh" in words else HEAVY | {"pydantic", "rich"})


@pytest.mark.parametrize("example", EXAMPLES[:1] or [ROOT / "examples" / "01-missing.toml"])
def test_a_weighing_imports_no_numpy(example: Path, run: Run, python: str) -> None:
    """The first example is weighed without numpy, scipy or a PDF package."""
    command = [python, "-X", "importtime", "-m", "hingeline_app", "weigh", example, "--json"]
    done = run(*command, PYTHONPATH=f"{ROOT / 'src'}")
    assert done.returncode == 0, done.stderr
    assert not imported(done.stderr) & HEAVY
