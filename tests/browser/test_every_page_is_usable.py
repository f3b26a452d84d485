"""Every page on a tablet and on a phone, in every light: nothing serious by the accessibility rules, nothing cut."""

from __future__ import annotations

from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from tests.browser.conftest import PHONE, TABLET, Fenholt, sign_in_by_password

pytestmark = [pytest.mark.browser, pytest.mark.slow]

OPEN = ["/sign-in/password", "/trust", "/nowhere"]
INSIDE = [
    "/records", "/workshop", "/workshop/change", "/workshop/people", "/workshop/people/add", "/workshop/tablets",
    "/workshop/tablets/enrol", "/workshop/this-tablet", "/workshop/scales",
    "/workshop/labels", "/workshop/release-wording",
    "/own", "/own/pin", "/own/password", "/own/passkey", "/ledger", "/backups", "/onboarding",
]  # fmt: skip
SERIOUS = {"serious", "critical"}
# Things a finger has to hit are 44 px or more (WCAG 2.2, success criterion 2.5.5, in our own frame's rule).
SMALL = """() => [...document.querySelectorAll('a, button, input, select, summary')]
  .filter((each) => each.offsetParent && !each.closest('p, li:not(.people li), .skip, label') && !each.matches('.skip'))
  .map((each) => [each.outerHTML.slice(0, 90), each.getBoundingClientRect()])
  .filter(([, box]) => box.height < 44 || box.width < 24).map(([text]) => text)"""
OVERFLOW = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"


def serious(page: Page) -> list[str]:
    """Give what the accessibility rules find serious (axe-core, WCAG 2.2 A and AA)."""
    found: Any = Axe().run(page).response["violations"]
    return [f"{each['id']}: {each['nodes'][0]['html'][:120]}" for each in found if each["impact"] in SERIOUS]


@pytest.mark.parametrize("size", [TABLET, PHONE], ids=["tablet", "phone"])
def test_nothing_serious_nothing_cut_nothing_too_small(browser: Browser, fenholt: Fenholt, size: Any) -> None:
    """No serious finding, no sideways scrolling, no target under 44 px."""
    context = browser.new_context(viewport=size, base_url=fenholt.address)
    context.add_cookies(fenholt.tablet)  # type: ignore[arg-type]
    page = context.new_page()
    faults = {address: found for address in [*OPEN, "/sign-in"] if (found := _faults(page, address))}
    sign_in_by_password(page)
    faults |= {address: found for address in INSIDE if (found := _faults(page, address))}
    context.close()
    assert faults == {}


@pytest.mark.parametrize("light", ["day", "night", "sun"])
def test_every_light_is_legible(browser: Browser, fenholt: Fenholt, light: str) -> None:
    """Contrast holds in each light, on pages with tables, forms, faults and cautions."""
    context = browser.new_context(viewport=TABLET, base_url=fenholt.address)
    context.add_cookies([{"name": "light", "value": light, "url": fenholt.address}])
    page = context.new_page()
    sign_in_by_password(page)
    found = {}
    for address in ("/workshop/people", "/backups", "/ledger", "/own", "/workshop/labels"):
        page.goto(address)
        found[address] = serious(page)
    page.goto("/workshop/people/add")
    page.get_by_role("button", name="Add").click()
    found["faults"] = serious(page)
    context.close()
    assert {address: faults for address, faults in found.items() if faults} == {}


def test_a_dark_system_gets_the_night_light_until_a_hand_chooses(browser: Browser, fenholt: Fenholt) -> None:
    context = browser.new_context(viewport=TABLET, base_url=fenholt.address, color_scheme="dark")
    page = context.new_page()
    page.goto("/sign-in/password")
    ground = "() => getComputedStyle(document.body).backgroundColor"
    assert page.evaluate(ground) == "rgb(11, 22, 32)"
    page.get_by_role("button", name="Light").click()
    page.wait_for_function("document.documentElement.dataset.light === 'sun'")
    assert page.evaluate(ground) == "rgb(255, 255, 255)"
    context.close()


def _faults(page: Page, address: str) -> list[str]:
    page.goto(address)
    found = serious(page)
    found += [f"too small: {each}" for each in page.evaluate(SMALL)]
    return found + (["scrolls sideways"] if page.evaluate(OVERFLOW) > 0 else [])
