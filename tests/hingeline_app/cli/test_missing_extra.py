"""Where an optional part is not installed, the command says in one sentence what installs it."""

from __future__ import annotations

import json
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from hingeline_app.cli.main import main
from hingeline_app.cli.missing_extra import BROUGHT_BY, what_installs_it
from tests.doors.checkouts import ROOT
from tests.hingeline_app.cli.processes import shell

EXTRAS = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]["optional-dependencies"]
OWNER = {canonicalize_name(Requirement(each).name): extra for extra, named in EXTRAS.items() for each in named}


def test_every_package_of_an_extra_is_named_with_its_extra() -> None:
    """What an extra of the distribution brings is known by the name it is imported by, and by nothing else."""
    imported = {
        name: OWNER[owners.pop()]
        for name, found in packages_distributions().items()
        if not name.startswith("_") and name != "hingeline"
        if (owners := {canonicalize_name(each) for each in found} & OWNER.keys())
    }
    assert set(BROUGHT_BY) <= set(imported)
    assert {name: imported[name] for name in BROUGHT_BY} == BROUGHT_BY
    assert set(BROUGHT_BY.values()) == set(EXTRAS)
    distributions = packages_distributions()
    named = {canonicalize_name(each) for name in BROUGHT_BY for each in distributions[name]}
    assert OWNER.keys() - named == {"click", "hingeline"}, "click is asked for before any command is known"


@pytest.mark.slow
@pytest.mark.parametrize(
    ("package", "command", "extra"),
    [
        ("icalendar", "due examples/due/01-checks-of-a-merle.toml --ics out.ics", "app"),
        ("django", "ledger verify", "web"),
        ("psycopg", "move --to postgresql://hingeline@localhost/hingeline", "server"),
        ("cryptography", "serve --loopback --data records --port 8999", "web"),
        ("cv2", "motion examples/motion/07-section-filmed.mp4 --marks examples/motion/07-section-filmed.marks.toml "
                "--captured-at 60", "video"),
        ("distributed", "flutter examples/flutter/01-elevator-strip.toml --scatter 10 --cluster tcp://localhost:1",
         "cluster"),
    ],
)  # fmt: skip
def test_a_command_without_its_package_names_the_extra_and_nothing_else(
    package: str, command: str, extra: str, tmp_path: Path
) -> None:
    """One sentence, status 2, no traceback, no record of a fault that is none."""
    (tmp_path / "records").mkdir()
    (tmp_path / "records" / "records.sqlite3").touch()
    (tmp_path / "examples").symlink_to(ROOT / "examples")
    without = f"import sys; sys.modules[{package!r}] = None; from hingeline_app.cli.main import main; sys.exit(main())"
    words = f"HINGELINE_DATA=records '{sys.executable}' -c \"{without}\" {command}"
    done = shell(words, tmp_path)
    assert (done.returncode, done.stdout) == (2, ""), done.stderr
    (sentence,) = done.stderr.splitlines()
    assert f'pip install "hingeline[{extra}]"' in sentence


def test_as_json_the_sentence_is_the_remedy(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """With --json the one document carries the sentence, and no field that somebody could mend in the file."""
    monkeypatch.setitem(sys.modules, "distributed", None)
    example = str(ROOT / "examples" / "flutter" / "01-elevator-strip.toml")
    assert main(["flutter", example, "--scatter", "10", "--cluster", "tcp://localhost:1", "--json"]) == 2
    (error,) = json.loads(capsys.readouterr().out)["errors"]
    assert error["field"] is None
    assert 'pip install "hingeline[cluster]"' in error["remedy"]


@pytest.mark.parametrize("fault", [ModuleNotFoundError("no", name="hingeline.nothing"), ImportError("broken library")])
def test_what_no_extra_brings_is_a_fault_of_our_own(fault: ImportError) -> None:
    """A file of ours that is missing, or a library that does not load, is not answered with an install line."""
    assert what_installs_it(fault) is None
