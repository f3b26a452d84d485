"""Every page of a job on tablet and phone, in day, night and sun: nothing serious, nothing cut, nothing too small."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.conftest import PHONE, TABLET, free_port
from tests.browser.demonstration import PASSWORD, demonstration
from tests.browser.test_every_page_is_usable import OVERFLOW, SMALL, serious

pytestmark = [pytest.mark.browser, pytest.mark.slow]

UPRIGHT = {"width": 820, "height": 1180}
NARROW = {"width": 320, "height": 640}
STEPS = ("arrive", "limits", "weigh", "correct", "arm", "refit", "second-inspection", "release")
OF_A_WORKER = [
    "/bench", "/bench?show=done", "/job/new", "/at", "/order/1", "/job/1/instead",
    *(f"/job/1/{step}" for step in STEPS),
    "/job/1/weigh?new=1", "/job/2/limits", "/job/3/weigh", "/job/3/correct", "/job/3/arm", "/job/3/refit",
    "/job/7/weigh", "/job/8/arrive", "/job/5/second-inspection", "/job/4/release", "/records/4", "/limits",
]  # fmt: skip
OF_WHO_SIGNS = [
    "/job/6/second-inspection", "/job/6/release", "/job/6/sign/second", "/job/6/sign/release",
    "/order/1/second-inspection", "/order/1/release",
]  # fmt: skip
SET_LIGHT = "light => { document.documentElement.dataset.light = light; }"
OPEN_ALL = "() => { for (const each of document.querySelectorAll('details')) each.open = true; }"
# Type under 14 px, and words that their own box cuts, are found by measuring: what is there for readers alone is not.
CUT = """() => [...document.querySelectorAll('.app *')]
  .filter((each) => each.offsetParent && each.childElementCount === 0 && each.textContent.trim())
  .filter((each) => !each.closest('.hidden-words, select, svg'))
  .filter((each) => each.scrollWidth > each.clientWidth + 1 && getComputedStyle(each).overflow !== 'visible'
    || parseFloat(getComputedStyle(each).fontSize) < 13.9)
  .map((each) => each.outerHTML.slice(0, 100))"""
OVERLAP = """() => {
  const boxes = [...document.querySelectorAll('.title > *, .act > *')].filter((each) => each.offsetParent)
    .map((each) => [each, each.getBoundingClientRect()]).filter(([, box]) => box.width > 1);
  const meet = (a, b) => a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1;
  return boxes.flatMap(([one, a], index) => boxes.slice(index + 1).filter(([, b]) => meet(a, b))
    .map(() => one.outerHTML.slice(0, 90))); }"""


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Serve the invented workshop, and give its address."""
    with demonstration(tmp_path_factory.mktemp("pages") / "records", free_port()) as address:
        yield address


def signed_in(browser: Browser, address: str, who: str) -> BrowserContext:
    context = browser.new_context(viewport=TABLET, base_url=address, has_touch=True)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto("/sign-in/password")
    page.get_by_label("Sign-in name").fill(who)
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(re.compile("/(bench|records)"))
    page.close()
    return context


def contrast(page: Page) -> list[str]:
    """Give what cannot be read in the light that is on: the other rules do not depend on it."""
    only: Any = {"runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}}
    found: Any = Axe().run(page, options=only).response["violations"]
    return [f"{each['id']}: {each['nodes'][0]['html'][:120]}" for each in found]


def measured(page: Page) -> list[str]:
    """Give what does not fit the size that is on."""
    found = [f"too small: {each}" for each in page.evaluate(SMALL)]
    found += [f"cut or under 14 px: {each}" for each in page.evaluate(CUT)]
    found += [f"overlaps: {each}" for each in page.evaluate(OVERLAP)]
    return found + ["scrolls sideways"] * (page.evaluate(OVERFLOW) > 0)


def faults_of(page: Page, address: str) -> list[str]:
    """Look at one page, with all that can be unfolded, at every size and in every light."""
    answer = page.goto(address)
    found = [] if answer and answer.status == 200 else [f"{answer and answer.status}"]
    page.evaluate(OPEN_ALL)
    for name, size in (("upright", UPRIGHT), ("narrow", NARROW), ("phone", PHONE), ("tablet", TABLET)):
        page.set_viewport_size(size)  # type: ignore[arg-type]
        found += [f"{name}: {each}" for each in measured(page)]
        if size in (PHONE, TABLET):
            found += [f"{name}: {each}" for each in serious(page)]
            found += [f"{name}, {light}: {each}" for light in ("night", "sun") for each in lit(page, light)]
    return found


def lit(page: Page, light: str) -> list[str]:
    page.evaluate(SET_LIGHT, light)
    found = contrast(page)
    page.evaluate(SET_LIGHT, "day")
    return found


@pytest.mark.parametrize(("who", "addresses"), [("mara", OF_A_WORKER), ("ruth", OF_WHO_SIGNS)], ids=["works", "signs"])
def test_every_page_of_a_job_is_usable(browser: Browser, demo: str, who: str, addresses: list[str]) -> None:
    """By the accessibility rules in three lights; measured at 1180 x 820, 820 x 1180, 390 x 844 and 320 wide."""
    context = signed_in(browser, demo, who)
    page = context.new_page()
    found = {address: faults for address in addresses if (faults := faults_of(page, address))}
    context.close()
    assert found == {}


def test_the_rooms_of_a_phone_open_by_touch_and_by_keys(browser: Browser, demo: str) -> None:
    """The whole name of the aircraft stands beside the button; Escape closes it; it reads in every light."""
    context = signed_in(browser, demo, "mara")
    page = context.new_page()
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    page.goto("/job/1/weigh")
    name = page.locator(".title b").first
    expect(name).to_have_text("Merle T2 · T2-07")
    assert name.evaluate("each => each.scrollWidth <= each.clientWidth && each.scrollHeight <= each.clientHeight")
    rooms = page.get_by_role("navigation", name="Rooms")
    expect(rooms).to_be_hidden()
    page.get_by_role("button", name="Menu").tap()
    expect(rooms).to_be_visible()
    assert [fault for light in ("day", "night", "sun") for fault in lit(page, light)] == []
    page.keyboard.press("Escape")
    expect(rooms).to_be_hidden()
    page.get_by_role("button", name="Menu").press("Enter")
    page.get_by_role("link", name="Hangar").press("Enter")
    page.wait_for_url("**/fleet")
    context.close()
