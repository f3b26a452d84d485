"""Each page that the demonstration prints says that what it tells is invented; a workshop's own papers never say so."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pypdf
import pytest
from django.utils.translation import gettext, override

from hingeline_app import web
from tests.hingeline_app.web.printed import Weighed, told

__all__ = ["told"]
pytestmark = pytest.mark.django_db

SAID = {"en": "numbers are invented", "de": "Zahlen sind erfunden", "fr": "nombres sont inventés"}
PAPERS = {
    "/job/1/worksheet.pdf?language=de": "de",
    "/job/1/blank.pdf?language=fr": "fr",
    "/job/1/owner.pdf?language=de": "de",
    "/job/1/balance-line.pdf?language=fr": "fr",
    "/job/1/release-wording.pdf?language=en": "en",
    "/recordings/marks.pdf?language=de&paper=Letter": "de",
    "/why-balance/sheets/what-balance-does.pdf?language=fr": "fr",
}


def pages_of(pdf: bytes) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]


@pytest.mark.parametrize(("address", "language"), PAPERS.items())
def test_every_page_of_every_paper_says_that_it_is_invented(
    told: Weighed, settings: Any, address: str, language: str
) -> None:
    settings.IS_INVENTED = True
    pages = pages_of(bytes(told.client.get(address).content))
    assert pages
    for page in pages:
        assert SAID[language] in page, page


def test_a_workshops_own_paper_does_not(told: Weighed) -> None:
    assert SAID["en"] not in " ".join(pages_of(told.printed("worksheet", "?language=en")))


@pytest.mark.parametrize("language", SAID)
def test_what_a_browser_prints_says_it_in_the_words_of_the_pages(language: str) -> None:
    """The upper margin of a printed page takes its words from a stylesheet, which no catalogue fills in."""
    with override(language):
        said = gettext("Demonstration: workshop, aircraft and numbers are invented. Nothing here is approved data.")
    style = (Path(web.__file__).parent / "static" / "web" / "print.css").read_text(encoding="utf-8")
    written = style.partition(f"@page invented-{language}{{")[2].partition('content:"')[2].partition('"')[0]
    assert written.replace("\u00a0", " ") == said.replace("\u00a0", " ")
