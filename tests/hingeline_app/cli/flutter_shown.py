"""What the flutter command shows of a file, on its page and as a document."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from hingeline.flutter import analyse
from hingeline_app.cli.main import main
from hingeline_app.files.flutter_file import read_flutter
from tests.doors.checkouts import ROOT

EXAMPLES = sorted((ROOT / "examples" / "flutter").glob("*.toml"))
STRIP, TAB = EXAMPLES[:2]


def page_of(path: Path, capsys: pytest.CaptureFixture[str], *options: str) -> str:
    """Run the command; give its page with every run of spaces and frames as one space."""
    assert main(["flutter", str(path), *options]) == 0
    return re.sub(r"[\s│]+", " ", capsys.readouterr().out)


def document_of(path: Path, capsys: pytest.CaptureFixture[str], *options: str) -> Any:
    """Run the command with --json; give its document."""
    assert main(["flutter", str(path), "--json", *options]) == 0
    return json.loads(capsys.readouterr().out)


def changed(path: Path, folder: Path, *changes: tuple[str, str]) -> Path:
    """Write an example with lines of it changed."""
    text = path.read_text("utf-8")
    for old, new in changes:
        assert re.search(old, text, re.MULTILINE), old
        text = re.sub(old, new, text, flags=re.MULTILINE)
    (folder / "changed.toml").write_text(text, "utf-8")
    return folder / "changed.toml"


def onset_of(path: Path) -> Any:
    """Give what the library itself finds."""
    found = analyse(read_flutter(path.read_bytes())).flutter
    assert found is not None
    return found
