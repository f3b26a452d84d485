"""Run the command in this process, and read what it said."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite
from pathlib import Path
from typing import Any, NoReturn

import pytest

from hingeline_app.cli.main import main

KEYS = ("field", "value", "expected", "remedy")
# Words of the packages behind the command, which are no words for an engineer at the bench.
FOREIGN = ("Traceback", "Input should be", "pydantic", "ValidationError", "Expected newline", "tomllib", "click")


@dataclass(frozen=True)
class Answer:
    """What one run gave."""

    status: int
    out: str
    err: str

    @property
    def document(self) -> dict[str, Any]:
        """The one JSON document on standard output: strict, and without a number that is none."""
        read = json.loads(self.out, parse_constant=_no_number, parse_float=_finite)
        assert isinstance(read, dict)
        return read

    @property
    def errors(self) -> list[dict[str, str]]:
        """The entries of an error document, each with its four texts."""
        document = self.document
        assert set(document) == {"format", "errors"}
        assert document["format"] == "hingeline/error/1"
        for entry in document["errors"]:
            assert set(entry) == set(KEYS)
            assert all(isinstance(entry[key], str) and entry[key].strip() for key in KEYS), entry
        return list(document["errors"])


def _no_number(name: str) -> NoReturn:
    raise AssertionError(f"{name} in a JSON document")


def _finite(text: str) -> float:
    assert isfinite(float(text)), text
    return float(text)


def assert_no_foreign_word(answer: Answer) -> None:
    """Neither stream holds a word of the packages behind the command."""
    for word in FOREIGN:
        assert word not in answer.err, word
        assert word not in answer.out, word


class Runner:
    """Writes an input where the command can read it, and runs the command."""

    def __init__(self, folder: Path, captured: pytest.CaptureFixture[str]) -> None:
        self.folder, self.captured = folder, captured

    def file(self, content: str | bytes, name: str = "job.toml") -> Path:
        """Write a file."""
        path = self.folder / name
        path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
        return path

    def command(self, *arguments: str | Path) -> Answer:
        """Run the command with these arguments."""
        self.captured.readouterr()
        status = main([str(argument) for argument in arguments])
        out, err = self.captured.readouterr()
        return Answer(status, out, err)

    def on(self, content: str | bytes, command: str = "weigh", *options: str) -> Answer:
        """Run one command on a file with this content."""
        return self.command(command, self.file(content), *options)


@pytest.fixture
def runner(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Runner:
    """Runs commands in this process; the records of their faults are kept in the test's own folder."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return Runner(tmp_path, capsys)


def refused(answer: Answer) -> Sequence[dict[str, str]]:
    """The errors of a refusal, after checking that it is one."""
    assert answer.status == 2, answer.err or answer.out[:500]
    assert_no_foreign_word(answer)
    return answer.errors
