"""Whole pages look as they did: a line height, a cut label, a thing that moved is noticed on the page it stands on.

After a change that is meant: ``HINGELINE_REFERENCES=yes pytest tests/browser/test_whole_pages.py``, and look at every
picture of ``tests/browser/reference/pages`` that changed. The demonstration is made on the day of the test: its days
and times are written over before a page is looked at.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import TABLET, free_port
from tests.browser.demonstration import demonstration
from tests.browser.pictures_alike import alike, worst_patch
from tests.browser.test_demo import signed_in
from tests.browser.test_reference_pictures import kept

pytestmark = [pytest.mark.browser, pytest.mark.slow]

KEPT = Path(__file__).with_name("reference") / "pages"
PAGES = {
    "bench": "/bench",
    "weigh": "/job/1/weigh",
    "correct": "/job/1/correct",
    "limits": "/limits",
    "release": "/job/1/release",
    "why-balance": "/why-balance?surface=tailplane&weight=0",
    "recording": "/recordings/11",
    "records": "/records",
}
# Days, times and codes of the ledger are other ones on another day.
FREEZE = """async () => {
  await document.fonts.ready;
  const rules = [[/\\d{4}-\\d{2}-\\d{2}/g, '2027-03-12'], [/\\b\\d{1,2} [A-Z][a-z]{2,8} \\d{4}/g, '12 Mar 2027'],
    [/\\b\\d{1,2}:\\d{2}\\b/g, '09:41'], [/\\bCES?T\\b/g, 'CET']];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) for (const [what, so] of rules) {
    const now = walk.currentNode.data.replace(what, so);
    if (now !== walk.currentNode.data) walk.currentNode.data = now;
  } }"""
TALLER = "() => { for (const each of document.querySelectorAll('.view h2')) each.style.lineHeight = '1.6'; }"
CUT = "() => { document.querySelector('.act .button.main').style.maxWidth = '70px'; }"


@pytest.fixture(scope="module")
def tablet(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    """A tablet at the invented bench, by day, nothing moving."""
    with demonstration(tmp_path_factory.mktemp("whole") / "records", free_port()) as address:
        context = signed_in(browser, address, "Mara Tarrow", TABLET)
        page = context.new_page()
        page.emulate_media(reduced_motion="reduce", color_scheme="light")
        page.route("**/why-balance/band*", lambda route: route.abort())
        yield page
        context.close()


def looked_at(page: Page, address: str) -> bytes:
    """Give the picture of a page."""
    page.goto(address)
    page.wait_for_load_state("networkidle")
    page.evaluate(FREEZE)
    return page.screenshot(caret="hide")


@pytest.mark.parametrize("name", PAGES)
def test_a_whole_page_looks_as_it_did(tablet: Page, name: str) -> None:
    """No patch of 16 by 16 pixels shows more of another page than smoothing can."""
    now, path = looked_at(tablet, PAGES[name]), KEPT / f"{name}.png"
    if os.environ.get("HINGELINE_REFERENCES"):
        KEPT.mkdir(exist_ok=True)
        path.write_bytes(kept(now))
    assert alike(now, path.read_bytes()), worst_patch(now, path.read_bytes())


@pytest.mark.parametrize("change", [TALLER, CUT], ids=["a line height", "a label's room"])
def test_what_changes_on_a_page_is_noticed(tablet: Page, change: str) -> None:
    """Headings a little taller, or a button too narrow for its words: another picture."""
    before = looked_at(tablet, PAGES["bench"])
    tablet.evaluate(change)
    assert not alike(before, tablet.screenshot(caret="hide"))
