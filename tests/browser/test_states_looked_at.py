"""What a page is in for a while: refused, covered, under a dialog, without a connection; and columns that stand level.

The rules are those of axe-core (WCAG 2.2 A and AA), asked of each state as ``test_demo.py`` asks them of each page.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.conftest import PHONE, TABLET, free_port
from tests.browser.demonstration import demonstration
from tests.browser.test_demo import prove, signed_in
from tests.browser.test_every_page_is_usable import OVERFLOW, serious

pytestmark = [pytest.mark.browser, pytest.mark.slow]

# Each with its button; what is sent is what stands there when it opens.
REFUSED = {
    "/workshop/people/add": "Add",
    "/workshop/scales/add": "Add",
    "/workshop/aircraft/add": "Add",
    "/fleet/task/add": "Add",
    "/swing": "Work out the inertia",
}
UNASKED = "() => { for (const each of document.forms) each.noValidate = true; }"
ABOVE = "(which) => document.querySelector(which).getBoundingClientRect().top"
# A strip scrolls by whole pixels, and its last tab ends within one.
IN_SIGHT = """() => { const at = document.querySelector('.tabs [aria-current]').getBoundingClientRect();
  return at.left >= 0 && at.right <= innerWidth + 1; }"""
COVERED = """() => { const cover = document.getElementById('locked'), fault = document.getElementById('locked-fault');
  cover.showModal(); document.getElementById('locked-other').hidden = fault.hidden = false;
  fault.textContent = cover.dataset.other; }"""


@pytest.fixture(scope="module")
def tablet(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[BrowserContext]:
    """A tablet at the invented bench, with an engineer who is proved."""
    with demonstration(tmp_path_factory.mktemp("states") / "records", free_port()) as address:
        context = signed_in(browser, address, "Mara Tarrow", TABLET)
        page = context.new_page()
        prove(page)
        page.close()
        yield context
        context.close()


@pytest.fixture
def page(tablet: BrowserContext) -> Iterator[Page]:
    page = tablet.new_page()
    yield page
    page.close()


def faults_of(page: Page, state: str) -> list[str]:
    """Give what is wrong with a state, on a tablet and on a phone."""
    faults = [f"{state}: {each}" for each in serious(page)]
    for size in (PHONE, TABLET):
        page.set_viewport_size(size)  # type: ignore[arg-type]
        faults += [f"{state}: wider than {size['width']}"] * (page.evaluate(OVERFLOW) > 0)
    return faults


def test_a_refused_form_holds_together(page: Page) -> None:
    faults = []
    for address, button in REFUSED.items():
        page.goto(address)
        page.evaluate(UNASKED)
        page.get_by_role("button", name=button, exact=True).click()
        expect(page.locator("#faults")).to_be_visible()
        faults += faults_of(page, address)
    assert faults == []


def test_a_cover_a_dialog_and_the_menu_hold_together(page: Page) -> None:
    """The cover says whose page it is; the keys stand in a dialog; a phone's rooms open over the page."""
    page.goto("/recordings/new")
    page.evaluate(COVERED)
    faults = faults_of(page, "cover")
    page.goto("/bench")
    page.keyboard.press("?")
    expect(page.get_by_role("dialog")).to_be_visible()
    faults += faults_of(page, "keys")
    page.goto("/bench")
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    page.get_by_role("button", name="Menu").click()
    faults += [f"menu: {each}" for each in serious(page)]
    assert faults == []


def test_a_page_without_a_connection_holds_together(tablet: BrowserContext, page: Page) -> None:
    page.goto("/job/1/weigh")
    tablet.set_offline(True)
    try:
        page.evaluate("dispatchEvent(new Event('offline'))")
        expect(page.locator("#waiting")).to_contain_text("No connection")
        assert faults_of(page, "without a connection") == []
    finally:
        tablet.set_offline(False)


def test_the_columns_of_a_step_begin_level(page: Page) -> None:
    """A place for an estimate that is not there pushed the arm's first column down by its gap."""
    page.goto("/job/1/arm")
    assert page.evaluate(ABOVE, "#v-points") == page.evaluate(ABOVE, ".sheet > :nth-child(2) .view")


def test_the_tab_that_one_is_on_is_in_sight_on_a_phone(page: Page) -> None:
    """The strip began at its first tab: on twelve of the workshop's pages no tab that was seen was marked."""
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    for address in ("/workshop", "/backups", "/own"):
        page.goto(address)
        assert page.evaluate(IN_SIGHT), address
