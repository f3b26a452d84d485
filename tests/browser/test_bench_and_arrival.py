"""A visit from the bench to the row of limits, by touch: tap surfaces, open the order, tick, photograph, choose."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, expect

from hingeline_app.demo.cast import PASSWORD
from tests.browser.conftest import PHONE, TABLET, free_port
from tests.browser.demonstration import demonstration
from tests.browser.test_every_page_is_usable import OVERFLOW, SMALL, serious

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.fixture(scope="module")
def invented(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """One invented workshop for this file."""
    with demonstration(tmp_path_factory.mktemp("bench") / "records", free_port()) as address:
        yield address


def at_the_bench(browser: Browser, address: str, size: Any, light: str = "day") -> Page:
    """Give a page on the bench, by touch, with the engineer signed in."""
    context = browser.new_context(viewport=size, base_url=address, has_touch=True)
    context.add_cookies([{"name": "light", "value": light, "url": address}])
    page = context.new_page()
    page.goto("/sign-in/password")
    page.get_by_label("Sign-in name").fill("mara")
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_role("button", name="Sign in").tap()
    page.wait_for_url("**/bench")
    return page


@pytest.mark.parametrize(
    ("size", "aircraft", "surfaces"),
    [
        (TABLET, "T2-15", ("Elevator, right half", "Aileron, left")),
        (PHONE, "T2-03", ("Elevator, right half", "Rudder")),
    ],
    ids=["tablet", "phone"],
)
def test_two_surfaces_are_opened_ticked_and_given_their_limits(
    browser: Browser, invented: str, size: Any, aircraft: str, surfaces: tuple[str, str]
) -> None:
    """Everything is reached by touch; each page is usable where it is; what was entered is there after a reload."""
    page = at_the_bench(browser, invented, size)
    look(page)
    page.get_by_role("link", name="New job").tap()
    page.wait_for_url("**/job/new")
    page.get_by_role("link", name=aircraft).tap()
    page.wait_for_url("**/job/new?aircraft=*")
    look(page)
    page.locator(f'.plan a[data-name="{surfaces[0]}"] .balloon').tap()
    expect(page.get_by_label(re.compile(surfaces[0]))).to_be_checked()
    page.get_by_label(re.compile(surfaces[1])).check()
    expect(page.locator(".plan a.chosen")).to_have_count(2)
    page.get_by_label("Painted").check()
    page.get_by_role("button", name="Open").tap()
    page.wait_for_url("**/order/*")
    look(page)
    page.get_by_role("link", name=re.compile("^Arrive")).first.tap()
    page.wait_for_url("**/arrive")
    look(page)
    arrives(page)
    page.get_by_role("button", name="Go to limits").tap()
    page.wait_for_url("**/limits")
    look(page)
    page.context.close()


def test_a_row_is_chosen_and_drawn_without_loading_the_page_again(browser: Browser, invented: str) -> None:
    """Job 2 of the story has no limits yet: one tap, and its bar stands there; the rejected rows say why."""
    page = at_the_bench(browser, invented, TABLET)
    page.goto("/job/2/limits")
    page.get_by_text("rows rejected, and why").tap()
    expect(page.get_by_text("of an issue that is superseded")).to_be_visible()
    page.get_by_role("button", name=re.compile("^Choose")).tap()
    expect(page.locator("#v-limits svg.limit-bar").first).to_be_visible()
    expect(page.locator("#v-limits")).to_contain_text("0.00 … 2.10 N·m tail-heavy")
    look(page)
    page.context.close()


def look(page: Page) -> None:
    """Find nothing serious, nothing cut, nothing too small to hit."""
    found = (serious(page), page.evaluate(OVERFLOW), page.evaluate(SMALL))
    assert found == ([], 0, []), page.url


def arrives(page: Page) -> None:
    """Tick, say what is fitted, add a photograph; then load the page again and find it."""
    for words in ("Drains open", "Dry inside", "No loose matter"):
        page.get_by_label(words).tap()
        expect(page.locator("#w-arrive")).not_to_contain_text(words + ("," if words != "No loose matter" else "."))
    page.get_by_role("group", name="Pushrod").get_by_label("off").check()
    picture = io.BytesIO()
    Image.new("RGB", (80, 60), "grey").save(picture, "JPEG")
    page.get_by_label("Photographs", exact=True).set_input_files(
        {"name": "drain.jpg", "mimeType": "image/jpeg", "buffer": picture.getvalue()}
    )
    page.get_by_label("What it shows").fill("drain, left")
    page.get_by_role("button", name="Add").tap()
    expect(page.get_by_alt_text("drain, left")).to_be_visible()
    page.reload()
    expect(page.get_by_label("Drains open")).to_be_checked()
    expect(page.get_by_role("group", name="Pushrod").get_by_label("off")).to_be_checked()
    page.get_by_alt_text("drain, left").tap()
    page.wait_for_url("**/marks")
    look(page)
    page.go_back()
