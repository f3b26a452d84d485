"""The printed sides: one sheet each, tagged and archival, the model inside, no word of comfort."""

from __future__ import annotations

import io
from datetime import UTC, datetime

import pytest
from pypdf import PdfReader

from hingeline_app.files.flutter_file import read_flutter
from hingeline_app.why_balance.presets import PRESETS, Preset, sentences_of
from hingeline_app.why_balance.printed import JOB_NAME, preset_named, print_sheet, print_state, short_sheets
from hingeline_app.why_balance.sentences import ON_A_BENCH, WHAT_FLUTTER_IS, slack_sentence
from hingeline_app.why_balance.state import start_of
from hingeline_app.why_balance.surfaces import SURFACES
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


@pytest.mark.parametrize("preset", PRESETS, ids=lambda preset: preset.name)
def test_a_buttons_side_says_what_its_page_says(preset: Preset) -> None:
    """On the shorter paper: one side, what flutter is, the button's two sentences, what free play does, no comfort."""
    pages = read(print_state(preset.state, NOON, "0", "letter")).pages
    text = " ".join(pages[0].extract_text().split())
    wanted = [WHAT_FLUTTER_IS, *sentences_of(preset), slack_sentence(preset.state), "What the model leaves out"]
    assert len(pages) == 1
    assert [words for words in wanted if " ".join(words.split()) not in text] == []
    assert not COMFORT.search(text)


def test_the_bench_has_a_caution_of_its_own() -> None:
    """A rig on a bench has no flight manual: what must not be done with it stands there in its place."""
    text = " ".join(read(print_state(start_of(SURFACES["bench"]), NOON, "0")).pages[0].extract_text().split())
    assert ON_A_BENCH in text
    assert "flight manual" not in text


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
    assert f"made {NOON:%Y-%m-%d %H:%M}" in text


@pytest.mark.parametrize("name", short_sheets())
def test_no_sheet_comforts(name: str) -> None:
    """No word of a short sheet says that anything is good, and its preset exists."""
    sheet = short_sheets()[name]
    said = [sheet.title, sheet.under, sheet.caution, *sheet.paragraphs, *sheet.leaves_out]
    assert [words for words in said if COMFORT.search(words)] == []
    assert sheet.preset in {preset.name for preset in PRESETS}
