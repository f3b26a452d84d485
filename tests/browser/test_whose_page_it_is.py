"""One tablet, two tabs, two persons: a page stays the page of the person who opened it."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from tests.browser.conftest import TABLET, free_port
from tests.browser.demonstration import PINS, demonstration
from tests.browser.test_every_page_is_usable import serious
from tests.browser.test_recordings import GROWING, sends_and_holds_the_second_piece

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Serve the invented workshop, and give its address."""
    with demonstration(tmp_path_factory.mktemp("demo") / "records", free_port()) as address:
        yield address


@pytest.fixture
def page(browser: Browser, demo: str) -> Iterator[Page]:
    """A tablet that Mara Tarrow holds."""
    context = browser.new_context(viewport=TABLET, base_url=demo)
    page = context.new_page()
    page.goto("/demo")
    comes_in(page, "Mara Tarrow")
    yield page
    context.close()


def comes_in(page: Page, name: str) -> None:
    page.get_by_role("link", name=name).click()
    page.locator("input[name=pin]").fill(PINS[name])
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(lambda address: "/sign-in" not in address)


def in_another_tab(page: Page, name: str) -> Page:
    """Let another person take the tablet, in another tab."""
    another = page.context.new_page()
    another.goto("/bench")
    another.get_by_role("button", name="Switch person").first.click()
    another.wait_for_url("**/sign-in")
    comes_in(another, name)
    return another


def test_a_cover_opens_to_the_person_whose_page_it_is_and_to_nobody_else(page: Page) -> None:
    """Another's PIN, who was switched to in another tab, opens nothing and sends nothing of what stands under it."""
    held = sends_and_holds_the_second_piece(page)
    page.evaluate("document.body.dataset.idle = '0.1'")
    cover = page.get_by_role("dialog", name="Locked")
    expect(cover).to_be_visible()
    # Once is enough: else a slow machine locks again while the rest is on its way.
    page.evaluate("document.body.dataset.idle = '600'")
    another = in_another_tab(page, "Jon Ashby")
    answered: list[tuple[str, int]] = []
    sent = ("PATCH", "POST")
    page.on("response", lambda each: answered.append((each.url, each.status)) if each.request.method in sent else None)
    held[0].continue_()

    def types(name: str) -> None:
        page.get_by_label("Your PIN").fill(PINS[name])
        page.get_by_role("button", name="Unlock").click()

    types("Jon Ashby")
    expect(cover).to_contain_text("This page is of Mara Tarrow")
    expect(page.get_by_label("Your PIN")).to_be_focused()
    expect(page.get_by_label("Your PIN")).to_have_value("")
    assert [each for each, status in answered if status < 400] == [], "nothing was taken from Jon Ashby"
    own = page.get_by_role("link", name="Open a page of your own").get_attribute("href")
    another.goto(str(own))
    expect(another.locator("body")).to_have_attribute("data-person-name", "Jon Ashby")
    another.goto("/bench")
    another.get_by_role("button", name="Switch person").first.click()
    comes_in(another, "Mara Tarrow")
    types("Mara Tarrow")
    page.wait_for_url(re.compile(r"/recordings/\d+$"))
    expect(page.locator("body")).to_contain_text("Mara Tarrow")


def test_a_form_that_is_still_turned_away_keeps_what_was_typed(page: Page) -> None:
    """The answer of the server had been written over the page, as data, and the form was gone."""
    page.goto("/recordings/new")
    turned_away = {"status": 401, "json": {"state": "other"}}
    page.route(
        "**/recordings/new",
        lambda route: route.fulfill(**turned_away) if route.request.method == "POST" else route.continue_(),
    )
    page.locator("input[type=file]").set_input_files(GROWING)
    page.locator("#the-form [name=of]").select_option(index=1)
    page.locator("#the-form [name=remark]").fill("on the second stand")
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator("#sending-words")).to_contain_text("This page is of Mara Tarrow")
    expect(page.locator("#the-form [name=remark]")).to_have_value("on the second stand")


def test_a_page_that_was_held_for_another_finds_the_server_again(page: Page) -> None:
    """While it was another's it says so, which it did not; and it asks again for a server that went: it had stopped."""
    page.goto("/bench")
    another = in_another_tab(page, "Jon Ashby")
    strip = page.locator("#waiting")

    def says(event: str) -> None:
        page.evaluate(f"dispatchEvent(new Event('{event}'))")

    says("offline")
    expect(strip).to_contain_text("No connection")
    says("online")
    expect(strip).to_contain_text("Another person signed in here meanwhile. This page stays as it was")
    expect(strip.get_by_role("link", name="Load it again")).to_have_attribute("href", "/bench")
    assert serious(page) == []
    another.get_by_role("button", name="Switch person").first.click()
    comes_in(another, "Mara Tarrow")
    cut: list[Route] = []

    def cut_once(route: Route) -> None:
        route.continue_() if cut else route.abort()
        cut.append(route)

    page.route("**/tablet/now", cut_once)
    says("offline")
    says("online")
    expect(strip).to_contain_text("No connection")
    expect(strip).to_be_hidden(timeout=20_000)
    assert len(cut) > 1
