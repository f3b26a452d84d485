"""The printed sides: one sheet each, tagged and archival, the model inside, no word of comfort."""

from __future__ import annotations

import io
from datetime import UTC, datetime

import pytest
from pypdf import PdfReader

from hingeline_app.files.flutter_file import read_flutter
from hingeline_app.why_balance.presets import PRESETS
from hingeline_app.why_balance.printed import JOB_NAME, preset_named, print_sheet, print_state, short_sheets
from tests.hingeline_app.why_balance.test_why_balance import COMFORT

pytestmark = pytest.mark.slow

NOON = datetime(2027, 3, 12, 12, 0, tzinfo=UTC)


def read(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_owners_side_is_one_side_with_its_model_inside(paper: str) -> None:
    """It fits one side on both papers, and what is attached is the model of the page."""
    state = preset_named("weight-lost").state
    pages = read(print_state(state, NOON, "0", paper))  # type: ignore[arg-type]
    assert len(pages.pages) == 1
    assert read_flutter(pages.attachments[JOB_NAME][0]) == state.surface.model(state.settings)
    assert "Growth starts at 103" in pages.pages[0].extract_text()


@pytest.mark.parametrize("name", short_sheets())
def test_each_short_sheet_is_one_side_and_says_what_it_leaves_out(name: str) -> None:
    """One side, its caution in words, and what it leaves out; the same input gives the same bytes."""
    sheet = short_sheets()[name]
    pdf = print_sheet(sheet, NOON, "0")
    text = " ".join(read(pdf).pages[0].extract_text().split())
    assert len(read(pdf).pages) == 1
    assert "What this leaves out" in text
    assert sheet.caution.split(":")[0] in text
    assert pdf == print_sheet(sheet, NOON, "0")


@pytest.mark.parametrize("name", short_sheets())
def test_no_sheet_comforts(name: str) -> None:
    """No word of a short sheet says that anything is good, and its preset exists."""
    sheet = short_sheets()[name]
    said = [sheet.title, sheet.under, sheet.caution, *sheet.paragraphs, *sheet.leaves_out]
    assert [words for words in said if COMFORT.search(words)] == []
    assert sheet.preset in {preset.name for preset in PRESETS}
