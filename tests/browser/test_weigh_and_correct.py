"""Weigh and Correct in a real browser, in the invented workshop: by touch, by phone, by keys."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.conftest import PHONE, TABLET, free_port
from tests.browser.demonstration import PINS, demonstration
from tests.browser.test_every_page_is_usable import OVERFLOW

pytestmark = [pytest.mark.browser, pytest.mark.slow]

BOTTOMS = """() => { const end = document.querySelector('.act').getBoundingClientRect().top;
  return ['w-say', 'w-beam', 'w-bar', 'w-makeup', 'c-places', 'c-bars', 'c-in'].map((id) => document.getElementById(id))
    .filter((each) => each && each.getBoundingClientRect().bottom > end + 1).map((each) => each.id); }"""


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """One demonstration for this file."""
    with demonstration(tmp_path_factory.mktemp("demo") / "records", free_port()) as address:
        yield address


def page_on(browser: Browser, demo: str, size: Any, light: str = "day", name: str = "Mara Tarrow") -> Page:
    """Sign somebody in on the bench's tablet; a screen that is touched."""
    context = browser.new_context(viewport=size, base_url=demo, has_touch=True)
    context.add_cookies([{"name": "light", "value": light, "url": demo}])
    page = context.new_page()
    page.goto("/demo")
    page.get_by_role("link", name=name).click()
    page.locator("input[name=pin]").fill(PINS[name])
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(re.compile(r"/(bench|records)"))
    return page


def counting(page: Page) -> Locator:
    return page.locator("#w-strip li:not(.withdrawn):not(.none)")


def tap_reading(page: Page, digits: str) -> None:
    """Type a reading on the page's own pad, and add it."""
    before = counting(page).count()
    pad = page.get_by_role("group", name="Number pad")
    for digit in digits:
        pad.get_by_role("button", name=digit, exact=True).tap()
    pad.get_by_role("button", name="Add reading").tap()
    expect(counting(page)).to_have_count(before + 1)


def test_a_surface_is_weighed_corrected_and_weighed_again_by_touch(browser: Browser, demo: str) -> None:
    """Outside, a plan, one step more, fitted, weighing 2 with a reading withdrawn, inside; weighing 1 beside it."""
    page = page_on(browser, demo, TABLET)
    page.goto("/job/1/weigh")
    expect(page.locator("#w-say strong")).to_have_text("Outside")
    page.get_by_role("button", name="Work out the correction").tap()
    page.wait_for_url("**/job/1/correct")
    expect(page.locator("#c-say strong")).to_have_text("Predicted inside, not weighed")
    before = page.locator("#at-A").inner_text()
    page.get_by_role("button", name="More at Arm weight").tap()
    expect(page.locator("#at-A")).not_to_have_text(before)
    expect(page.locator("#undo")).to_contain_text("plan")
    page.get_by_label("Part number").fill("T2-34-112")
    page.get_by_role("button", name="Fitted: weigh again").tap()
    page.wait_for_url("**/job/1/weigh")
    expect(page.get_by_label("Arm: hinge line")).to_have_value("255 mm")
    page.get_by_role("button", name="Begin weighing 2").tap()
    for digits in ("815", "820", "815", "915", "820", "815"):
        tap_reading(page, digits)
    expect(page.locator("#w-strip")).to_contain_text("lies far from the others")
    page.get_by_role("link", name="Reading 4, 915").tap()
    page.get_by_label("Withdraw reading 4").fill("misread")
    page.get_by_role("button", name="Withdraw it").tap()
    expect(page.locator("#w-strip .withdrawn")).to_contain_text("915")
    expect(counting(page)).to_have_count(5)
    expect(page.locator("#w-say strong")).to_have_text("Inside")
    expect(page.locator("#w-bar")).to_contain_text("Weighing 1: Outside")
    expect(page.locator("#w-beside svg").first).to_contain_text("Weighing 1")
    page.context.close()


def test_everything_of_weigh_and_correct_stands_on_a_tablet_without_scrolling(browser: Browser, demo: str) -> None:
    """Statement, beam, limits, pad and makeup end above the action bar at 1180 x 820."""
    page = page_on(browser, demo, TABLET)
    for address in ("/job/3/weigh", "/job/6/weigh"):
        page.goto(address)
        assert page.evaluate(BOTTOMS) == [], address
    page.context.close()


def test_readings_are_added_on_a_phone(browser: Browser, demo: str) -> None:
    """At 390 x 844: nothing sideways, the pad adds, the picture is the one for a phone."""
    page = page_on(browser, demo, PHONE, name="Jon Ashby")
    page.goto("/job/9/weigh")
    assert page.evaluate(OVERFLOW) <= 0
    expect(page.locator("#w-beam .narrow")).to_be_visible()
    expect(page.locator("#w-beam .wide")).to_be_hidden()
    tap_reading(page, "210")
    page.context.close()


def test_a_reading_is_added_and_undone_by_keys_alone(browser: Browser, demo: str) -> None:
    """Typed, Enter, the next one in the same place; Undo by Tab and Enter."""
    page = page_on(browser, demo, TABLET, name="Jon Ashby")
    page.goto("/job/6/weigh")
    start = counting(page).count()
    page.locator("#typed").focus()
    for digits in ("220", "225"):
        page.keyboard.type(digits)
        page.keyboard.press("Enter")
        start += 1
        expect(counting(page)).to_have_count(start)
    expect(page.locator("#typed")).to_be_focused()
    expect(page.locator("#w-say")).to_contain_text("before the change")
    page.locator("#undo button").focus()
    page.keyboard.press("Enter")
    expect(counting(page)).to_have_count(start - 1)
    page.context.close()
