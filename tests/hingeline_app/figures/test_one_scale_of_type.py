"""One scale of type: pages and pictures use its sizes and no other, and nothing is under 14 px."""

from __future__ import annotations

import re
import tomllib
from importlib.resources import files
from pathlib import Path

import pytest

from tests.hingeline_app.figures.test_contrast_of_every_token import SHEETS

SCALE = tomllib.loads((files("hingeline_app.figures") / "tokens.toml").read_text(encoding="utf-8"))["type"]
SIZE = re.compile(r"(?:font-size:\s*|font:\s*(?:italic )?(?:[1-9]00 )?)(?P<size>[^;}\s/]+)")
# Taken from what is around: no size of its own.
INHERITED = {"inherit", "1em", "100%"}


def test_the_scale_has_nine_sizes_and_its_floor_is_14() -> None:
    assert sorted(SCALE.values()) == [14, 15, 16, 17, 18, 23, 24, 28, 32]


@pytest.mark.parametrize("name", SHEETS)
def test_every_size_of_type_is_one_of_the_scale(name: str) -> None:
    """Each ``font`` and ``font-size`` of a sheet is a size of the scale in px, or is inherited."""
    sizes = {f"{each}px" for each in SCALE.values()} | INHERITED
    assert {found["size"].removesuffix("!important") for found in SIZE.finditer(SHEETS[name])} <= sizes


def test_no_template_and_no_drawing_sets_a_size_of_its_own() -> None:
    """Type is set by the sheets: no ``style`` and no ``font-size`` stands in a page or in what draws."""
    waiting = [files("hingeline_app.web") / "templates" / "web", files("hingeline_app.figures")]
    texts = []
    while waiting:
        for each in waiting.pop().iterdir():
            if each.is_dir():
                waiting.append(each)
            elif each.name.endswith((".html", ".py")):
                texts.append(each.read_text(encoding="utf-8"))
    assert len(texts) > 150
    assert [text[:80] for text in texts if re.search(r"font-size|\bstyle=", text)] == []


def test_a_template_has_an_element_a_line() -> None:
    """Whole views stood on one line each: a diff showed nothing. Decision 217; the bound is ours."""
    pages = Path(str(files("hingeline_app.web"))) / "templates"
    lines = [line for page in pages.rglob("*.html") for line in page.read_text(encoding="utf-8").splitlines()]
    assert len(lines) > 5000
    assert [line[:100] for line in lines if len(line) > 750] == []
