"""Nothing that a released version gave out is gone: docs/what_is_kept.md, held for every version."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pytest

from tests.doors.checkouts import ROOT
from tests.formats import kept
from tools import write_docs

VERSIONS = sorted(kept.FOLDER.glob("*.json"))


@cache
def now() -> dict[str, kept.Names]:
    """What this version gives out."""
    return kept.now()


@pytest.mark.parametrize("version", VERSIONS, ids=lambda path: path.stem)
@pytest.mark.parametrize("kind", ["fields", "options", "library"])
def test_no_name_of_an_earlier_version_is_gone(version: Path, kind: str) -> None:
    """Every format with its fields, every command with its options, every public name with its parameters is there."""
    before = json.loads(version.read_text("utf-8"))[kind]
    assert sum(map(len, before.values())) > 100, "the list is not empty"
    gone = {each: sorted(set(names) - set(now()[kind].get(each, []))) for each, names in before.items()}
    assert {each: names for each, names in gone.items() if names} == {}
    assert before.keys() <= now()[kind].keys()


@pytest.mark.parametrize("version", VERSIONS, ids=lambda path: path.stem)
def test_no_file_of_an_earlier_version_lacks_a_field_that_became_required(version: Path) -> None:
    """What a file had to have then is all that it has to have now."""
    before = json.loads(version.read_text("utf-8"))["required"]
    more = {each: sorted(set(now()["required"][each]) - set(names)) for each, names in before.items()}
    assert {each: names for each, names in more.items() if names} == {}


def test_there_is_a_list_of_the_first_release() -> None:
    """The promise begins with 1.0.0, so that the tests above are not empty."""
    assert "1.0.0" in [path.stem for path in VERSIONS]


def test_the_page_lists_every_format() -> None:
    """The list of formats on the page is the one of the schemas: else run tools/write_docs.py."""
    page = write_docs.KEPT.read_text("utf-8")
    assert page == write_docs.with_every_format(page)
    assert page.count("| `hingeline/") == len(list((ROOT / "docs" / "reference" / "schemas").glob("*.json"))) > 30
