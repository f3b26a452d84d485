"""Where the input comes from, and what bytes it may be."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.faults.good_files import EXAMPLE
from tests.faults.running import Answer, Runner, refused
from tests.hingeline_app.cli.processes import shell

Result = dict[str, object]
Put = Callable[[bytes], None]


def record(answer: Answer) -> Result:
    """What was found, without what is about the run."""
    assert answer.status == 0, answer.err
    return {name: value for name, value in answer.document.items() if name != "about"}


@pytest.fixture
def standard_input(monkeypatch: pytest.MonkeyPatch) -> Put:
    """Put bytes on standard input."""

    def put(data: bytes) -> None:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data), encoding="utf-8"))

    return put


def test_a_dash_reads_standard_input(runner: Runner, standard_input: Put) -> None:
    """A file and the same bytes on standard input give the same record."""
    by_file = record(runner.on(EXAMPLE, "weigh", "--json"))
    standard_input(EXAMPLE.encode())
    assert record(runner.command("weigh", "-", "--json")) == by_file


@pytest.mark.parametrize(
    ("spoil", "claim"),
    [
        (lambda text: b"\xef\xbb\xbf" + text.encode(), "a byte-order mark"),
        (lambda text: text.replace("\n", "\r\n").encode(), "ends of lines as Windows writes them"),
        (lambda text: text.rstrip("\n").encode(), "no end of the last line"),
        (lambda text: ("\n" * 500 + text).encode(), "empty lines before"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_bytes_that_editors_add_change_nothing(spoil: Callable[[str], bytes], claim: str, runner: Runner) -> None:
    """A byte-order mark, Windows' ends of lines and the like give the same record."""
    assert record(runner.on(spoil(EXAMPLE), "weigh", "--json")) == record(runner.on(EXAMPLE, "weigh", "--json")), claim


@pytest.mark.parametrize(
    ("data", "field", "value", "word"),
    [
        (b"", "file", "empty", "numbered examples"),
        (b" \n\t\r\n", "file", "empty", "numbered examples"),
        (b"# " + b"x" * 2_000_000, "file", "2000002 bytes", "1000000"),
        (b"\x00" * 2_000_000, "file", "2000000 bytes", "1000000"),
        (EXAMPLE.encode("utf-16"), "file", "byte 0xff at place 1, line 1", "UTF-8"),
        (EXAMPLE.encode("utf-16-le"), "file", None, "UTF-8"),
        (EXAMPLE.replace("Elevator", "Höhenruder").encode("latin-1", "replace"), "file", None, "UTF-8"),
        (EXAMPLE.replace("Elevator", "Ele\x00vator").encode(), "line 12, column 12", None, "cannot be seen"),
        (EXAMPLE.replace("\n", "\r").encode(), "line 1, column 75", None, "ends of lines"),
        (b"%PDF-1.7\n1 0 obj\n", "line 1, column 1", "%PDF-1.7", "a name, a sign ="),
        (b'{"format": "hingeline/weighing/1"}', "line 1, column 1", None, "a name, a sign ="),
    ],
    ids=[
        *("nothing", "blanks", "2 MB", "2 MB of NUL", "UTF-16", "UTF-16 without a mark", "Latin-1"),
        *("NUL", "CR alone", "a PDF", "JSON"),
    ],
)
def test_bytes_that_are_no_job_file_are_refused(
    data: bytes, field: str, value: str | None, word: str, runner: Runner
) -> None:
    """Nothing, too much, another encoding, another kind of file: refused by content, in one sentence each."""
    (error,) = refused(runner.on(data, "weigh", "--json"))
    assert error["field"] == field
    assert value is None or error["value"] == value
    assert word in error["expected"] + error["remedy"]
    assert len(error["value"]) <= 120


def test_what_is_no_file_is_refused(tmp_path: Path, runner: Runner) -> None:
    """A missing file, a folder, a link to nowhere, a link to itself, no name: each refused with its own remedy."""
    (tmp_path / "nowhere").symlink_to(tmp_path / "gone")
    (tmp_path / "circle").symlink_to(tmp_path / "circle")
    wanted = {
        str(tmp_path / "missing.toml"): "none of this name",
        str(tmp_path): "folder",
        str(tmp_path / "nowhere"): "none of this name",
        str(tmp_path / "circle"): "links",
        "a\x00b": "cannot be read",
        "x" * 5000: "cannot be read",
    }
    for name, word in wanted.items():
        (error,) = refused(runner.command("weigh", name, "--json"))
        assert (error["field"], error["value"]) == ("FILE", name)
        assert word in error["remedy"]
    (error,) = refused(runner.command("weigh", "", "--json"))
    assert error["value"] == "empty"


def test_a_file_that_may_not_be_read_is_refused(runner: Runner, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file without the right to read it is refused, with a remedy; who may read everything is made not to."""
    path = runner.file(EXAMPLE)
    path.chmod(0)
    if os.access(path, os.R_OK):

        def forbidden(*_: object, **__: object) -> None:
            raise PermissionError(13, "Permission denied")

        monkeypatch.setattr(Path, "open", forbidden)
    (error,) = refused(runner.command("weigh", path, "--json"))
    assert error["remedy"] == "You may not read it: ask for the right."


def test_a_closed_standard_input_is_refused(tmp_path: Path) -> None:
    """With standard input closed the dash is refused, not taken for a fault of ours."""
    done = shell("hingeline weigh - <&-", tmp_path)
    assert done.returncode == 2
    assert "closed" in done.stderr


def test_a_device_without_end_is_refused(tmp_path: Path) -> None:
    """Reading stops where no input is that large."""
    done = shell("hingeline weigh /dev/zero", tmp_path)
    assert done.returncode == 2
    assert "at most 60000000 bytes" in done.stderr


@pytest.mark.parametrize("ahead", [["--before"], ["--blank", "blank.pdf"]], ids=["before", "blank"])
@pytest.mark.parametrize(("name", "asked"), [("--pdf", "out.pdf"), ("--draws", "10000")])
def test_what_needs_readings_is_refused_beside_what_is_done_without(
    runner: Runner, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ahead: list[str], name: str, asked: str
) -> None:
    """A worksheet that was asked for was not written, and the command ended as if it had been; nothing is written."""
    monkeypatch.chdir(tmp_path)
    (error,) = refused(runner.on(EXAMPLE, "weigh", "--json", *ahead, name, asked))
    assert (error["field"], error["value"]) == (name, asked)
    assert ahead[0] in error["expected"]
    assert not list(tmp_path.glob("*.pdf"))
