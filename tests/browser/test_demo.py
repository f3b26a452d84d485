"""The invented workshop in a browser: every page that a link leads to answers, holds together and reads well.

The pictures of the README are taken here: ``HINGELINE_PICTURES=docs/images pytest tests/browser/test_demo.py``.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.browser.conftest import PHONE, TABLET, free_port
from tests.browser.demonstration import PASSWORD, PINS, demonstration
from tests.browser.pages_looked_at import BY_HAND, CRAWLED, name_of
from tests.browser.test_every_page_is_usable import OVERFLOW, serious
from tests.doors.checkouts import ROOT

pytestmark = [pytest.mark.browser, pytest.mark.slow]

NOT_FOLLOWED = re.compile(
    r"/(sign-out|lock|switch|set-up|trust|sign-in)|\.(pdf|toml|ics|crt|json|csv|zip|xlsx)\b|^/static|mailto:"
)
PICTURES = {"bench": "/bench", "weigh": "/job/1/weigh", "hangar": "/fleet"}
LINKS = "() => [...document.querySelectorAll('a[href]')].map((each) => each.getAttribute('href'))"


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """One demonstration for this file."""
    with demonstration(tmp_path_factory.mktemp("demo") / "records", free_port()) as address:
        yield address


def signed_in(browser: Browser, address: str, name: str, size: Any) -> BrowserContext:
    """Give a browser that counts as the bench's tablet, with somebody signed in."""
    context = browser.new_context(viewport=size, base_url=address)
    page = context.new_page()
    page.goto("/demo")
    page.get_by_role("link", name=name).click()
    page.locator("input[name=pin]").fill(PINS[name])
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(re.compile(r"/(bench|records)"))
    page.close()
    return context


def kind_of(address: str) -> str:
    """Give an address without its identifiers: one page of each kind is looked at."""
    return re.sub(r"[0-9a-f]{8}-[0-9a-f-]{27}|\d+", "…", address.partition("?")[0].partition("#")[0])


@pytest.mark.parametrize(
    "name", ["Mara Tarrow", "Ines Holt", "Dora Lind", pytest.param("Ruth Fenholt", marks=pytest.mark.campaign)]
)
def test_every_link_leads_to_a_page_that_holds_together(browser: Browser, demo: str, name: str) -> None:
    """From the first page on: no link of a person's pages is broken, nothing overflows, nothing serious is found."""
    context = signed_in(browser, demo, name, TABLET)
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda fault: faults.append(f"{page.url}: {fault}"))
    full = name == "Mara Tarrow"
    if full:
        prove(page)
    waiting, seen = ["/"], {}
    while waiting:
        address = waiting.pop()
        if kind_of(address) in seen:
            continue
        seen[kind_of(address)] = name_of(address)
        faults += looked_at(page, address, full=full)
        waiting += [each for each in page.evaluate(LINKS) if each.startswith("/") and not NOT_FOLLOWED.search(each)]
    context.close()
    assert faults == []
    assert len(seen) > (8 if name == "Dora Lind" else 20), seen
    assert not full or set(seen.values()) == CRAWLED


def prove(page: Page) -> None:
    """Prove by the password, so that the pages of administration stand behind no proof."""
    page.goto("/prove?next=/bench")
    page.get_by_label("Your password").fill(PASSWORD)
    page.get_by_role("button", name="Go on").click()
    page.wait_for_url("**/bench")


def test_pages_that_no_link_leads_to_hold_together(browser: Browser, demo: str) -> None:
    """The doors, a loaded model, its study: nothing overflows, nothing serious is found."""
    context = browser.new_context(viewport=TABLET, base_url=demo)  # type: ignore[arg-type]
    page = context.new_page()
    faults, seen = [], set()
    for address in pages_by_hand(page):
        faults += looked_at(page, address, full=True)
        seen.add(name_of(page.url.removeprefix(demo)))
    context.close()
    assert faults == []
    assert seen == BY_HAND


def pages_by_hand(page: Page) -> Iterator[str]:
    """Give the address of each, from nobody at the tablet to a locked page; each is looked at before the next."""
    page.goto("/demo")
    pin = page.get_by_role("link", name="Mara Tarrow").get_attribute("href") or ""
    yield from ("/sign-in", "/sign-in/password", "/trust", "/without-connection", pin)
    page.locator("input[name=pin]").fill(PINS["Mara Tarrow"])
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url("**/bench")
    yield "/prove"
    page.goto("/why-balance/own")
    page.get_by_label("The model's file").set_input_files(ROOT / "examples" / "flutter" / "01-elevator-strip.toml")
    page.get_by_role("button", name="Load").click()
    model = page.get_by_role("link", name="Open").get_attribute("href") or ""
    yield from (model, f"{model}/scatter")
    page.get_by_label("Models to draw").fill("100")
    page.get_by_role("button", name="Start").click()
    page.wait_for_url("**/scatter/100/0")
    yield f"{model}/scatter/100/0"
    page.get_by_role("button", name="Lock").click()
    yield "/lock"


def looked_at(page: Page, address: str, *, full: bool) -> list[str]:
    """Give what is wrong with one page."""
    answer = page.goto(address)
    status = answer.status if answer else 0
    faults = [] if status == 200 else [f"{address}: {status}"]
    if status == 200:
        faults += [f"{address}: wider than the screen"] * (page.evaluate(OVERFLOW) > 0)
        faults += [f"{address}: {each}" for each in serious(page)] if full else []
        page.set_viewport_size(PHONE)  # type: ignore[arg-type]
        faults += [f"{address}: wider than a phone"] * (page.evaluate(OVERFLOW) > 0)
        page.set_viewport_size(TABLET)  # type: ignore[arg-type]
    return faults


@pytest.mark.parametrize("language", ["de", "fr"])
def test_longer_labels_fit_a_phone(browser: Browser, demo: str, language: str) -> None:
    """The bench section's table went over the edge under German and French labels."""
    context = signed_in(browser, demo, "Mara Tarrow", PHONE)
    context.add_cookies([{"name": "language", "value": language, "url": demo}])
    page = context.new_page()
    page.goto("/why-balance/bench")
    assert page.locator(".rows.stack tbody tr").count() > 3
    assert page.evaluate(OVERFLOW) == 0
    context.close()


# Which choices that are shown are higher than their fields leave room for, each as a browser sets it in the same width.
CUT = """() => [...document.querySelectorAll("select")].filter((each) => {
    const is = getComputedStyle(each), probe = document.body.appendChild(document.createElement("div"));
    const room = each.clientWidth - parseFloat(is.paddingLeft) - parseFloat(is.paddingRight);
    probe.style.cssText = `font:${is.font};width:${room}px;white-space:${is.whiteSpace}`;
    probe.textContent = each.selectedOptions[0]?.text ?? "";
    const fits = probe.scrollHeight <= each.clientHeight && probe.scrollWidth <= probe.clientWidth;
    probe.remove();
    return each.checkVisibility() && !fits;
}).map((each) => each.name)"""
OPENED = "() => document.querySelectorAll('details').forEach((each) => (each.open = true))"


@pytest.mark.parametrize("language", ["de", "fr"])
def test_a_long_choice_is_read_to_its_end(browser: Browser, demo: str, language: str) -> None:
    """On Arm, on a task and on the bench section a choice in German or French was cut at the edge of its field."""
    context = signed_in(browser, demo, "Mara Tarrow", PHONE)
    context.add_cookies([{"name": "language", "value": language, "url": demo}])
    page = context.new_page()
    page.goto("/fleet")
    task = page.locator("a[href$='/change']").first.get_attribute("href") or ""
    cut = {}
    for address in ("/job/3/arm", task, "/why-balance/bench"):
        page.goto(address)
        page.evaluate(OPENED)
        assert page.locator("select:visible").count() > 0, address
        cut |= {address: page.evaluate(CUT)} if page.evaluate(CUT) else {}
    context.close()
    assert cut == {}


BESIDE = """() => [...document.querySelectorAll(".facts")].filter((each) => each.checkVisibility()).flatMap((each) =>
    [...each.querySelectorAll("dd")].filter((said) => said.clientWidth < 0.4 * each.clientWidth)
    .map((said) => said.textContent.slice(0, 40)))"""


@pytest.mark.parametrize("language", ["de", "fr"])
def test_what_is_said_has_room_beside_its_name(browser: Browser, demo: str, language: str) -> None:
    """A long name took the row of a series in French: its checksum stood letter below letter."""
    context = signed_in(browser, demo, "Mara Tarrow", TABLET)
    context.add_cookies([{"name": "language", "value": language, "url": demo}])
    page = context.new_page()
    for address in ("/recordings/series/1", "/recordings/11", "/job/9/limits", "/records/4"):
        page.goto(address)
        assert page.locator(".facts dd").count() > 0, address
        assert page.evaluate(BESIDE) == [], address
    context.close()


@pytest.mark.parametrize("name", PICTURES)
def test_the_pictures_of_the_readme_show_what_is_there(browser: Browser, demo: str, name: str) -> None:
    """Each page of the pictures is there and fits a tablet; where it is asked for, the picture is kept."""
    context = signed_in(browser, demo, "Mara Tarrow", TABLET)
    page = context.new_page()
    page.goto(PICTURES[name])
    page.wait_for_load_state("networkidle")
    assert page.evaluate(OVERFLOW) == 0
    folder = os.environ.get("HINGELINE_PICTURES")
    if folder:
        page.screenshot(path=Path(folder) / f"{name}.png")
    context.close()
