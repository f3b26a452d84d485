"""Results as the records keep them, those of earlier versions among them, are said wholly in every language."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from hingeline_app.said import reading_in, says

FROZEN = Path(__file__).parents[2] / "formats" / "frozen"
# Where a result holds sentences and words of the program; the rest of it is numbers and names.
SENTENCES = {
    "assumptions", "cautions", "ground", "measure", "next", "notes", "points_to", "reasons", "refused", "role",
    "second_way", "sentence", "size_is", "statement", "statement_guarded", "statement_simple",
}  # fmt: skip
KEPT = sorted(FROZEN.glob("*-result-1-*.json"))


@pytest.mark.parametrize("language", ["de", "fr"])
@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.stem)
def test_every_sentence_of_a_kept_result_is_said(path: Path, language: str) -> None:
    """A note that an older version wrote is read by whoever opens the record today."""
    sentences = dict.fromkeys(_sentences(json.loads(path.read_text("utf-8"))))
    assert sentences
    with reading_in(language):
        assert [each for each in sentences if says(each) is None] == []


def _sentences(value: Any, name: str = "") -> Iterator[str]:
    if isinstance(value, str):
        yield from [value] if name in SENTENCES and value else []
    elif isinstance(value, list):
        for each in value:
            yield from _sentences(each, name)
    elif isinstance(value, dict):
        for key, each in value.items():
            yield from _sentences(each, key)
