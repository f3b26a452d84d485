"""Limits, records and the two sums in a browser: typed twice blind, worked out again, tapped; in every light."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import PHONE, TABLET, free_port
from tests.browser.demonstration import demonstration
from tests.browser.test_demo import signed_in
from tests.browser.test_every_page_is_usable import OVERFLOW, SMALL, serious

pytestmark = [pytest.mark.browser, pytest.mark.slow]

ADDRESSES = ["/limits", "/records", "/workshop/aircraft", "/workshop/stands", "/coating", "/swing"]
TYPED = {"Sense, as printed": "tail heavy", "Lower limit": "0.00 N m", "Upper limit": "1.30 N m"}


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """One demonstration for this file."""
    with demonstration(tmp_path_factory.mktemp("demo") / "records", free_port()) as address:
        yield address


def type_row(page: Page, **other: str) -> None:
    """Type a row as it is printed."""
    for label, text in (TYPED | {name.replace("_", " "): text for name, text in other.items()}).items():
        page.get_by_label(label, exact=True).first.fill(text)


def addresses_of(page: Page) -> list[str]:
    """Give the lists, and one page of each that they lead to."""
    found = list(ADDRESSES)
    for listed, link in (("/limits", ".bars a"), ("/records", ".bars a"), ("/workshop/aircraft", ".rows a")):
        page.goto(listed)
        found.append(page.locator(link).first.get_attribute("href") or "")
    page.goto(found[-1])
    found.append(page.locator("a", has_text="History").first.get_attribute("href") or "")
    return [*found, f"{found[-3]}/again"]


# A contrast is the same at both sizes: the phone's other lights are the campaign's.
@pytest.mark.parametrize(
    ("size", "lights"),
    [
        pytest.param(TABLET, ("day", "night", "sun"), id="tablet"),
        pytest.param(PHONE, ("day",), id="phone"),
        pytest.param(PHONE, ("night", "sun"), id="phone, other lights", marks=pytest.mark.campaign),
    ],
)
def test_every_page_holds_together_in_every_light(
    browser: Browser, demo: str, size: Any, lights: tuple[str, ...]
) -> None:
    """Nothing serious, nothing sideways, no target under 44 px; in day, night and sun."""
    context = signed_in(browser, demo, "Mara Tarrow", size)
    page = context.new_page()
    faults: list[str] = []
    for address in addresses_of(page):
        page.goto(address)
        faults += [f"{address}: too small: {each}" for each in page.evaluate(SMALL)]
        faults += [f"{address}: sideways"] if page.evaluate(OVERFLOW) > 0 else []
        for light in lights:
            context.add_cookies([{"name": "light", "value": light, "url": demo}])
            page.reload()
            faults += [f"{address}, {light}: {each}" for each in serious(page)]
    context.close()
    assert faults == []


def test_a_row_is_typed_by_one_and_again_by_another_who_sees_nothing_of_it(browser: Browser, demo: str) -> None:
    """1.30 against 1.03: no page of the second shows 1.30 before; then one field differs, side by side."""
    first = signed_in(browser, demo, "Mara Tarrow", TABLET)
    page = first.new_page()
    page.goto("/limits")
    page.get_by_role("link", name="New row").first.click()
    page.get_by_label("Surface", exact=True).fill("Trim flap")
    page.get_by_label("Page", exact=True).fill("9")
    type_row(page)
    page.get_by_role("button", name="Keep the row").click()
    expect(page.get_by_text("Read once", exact=True)).to_be_visible()
    row = page.url
    second = signed_in(browser, demo, "Ines Holt", TABLET)
    other = second.new_page()
    other.goto(row)
    assert "1.30" not in other.content()
    other.get_by_role("link", name="Read as second").click()
    assert serious(other) == []
    assert "1.30" not in other.content()
    type_row(other, Upper_limit="1.03 N m")
    other.get_by_role("button", name="Keep what I read").click()
    expect(other.get_by_text("One field differs")).to_be_visible()
    expect(other.locator("tr.differs")).to_contain_text("1.30 N m")
    expect(other.locator("tr.differs")).to_contain_text("1.03 N m")
    for context in (first, second):
        context.close()


def test_a_record_is_worked_out_again_from_its_page(browser: Browser, demo: str) -> None:
    context = signed_in(browser, demo, "Mara Tarrow", TABLET)
    page = context.new_page()
    page.goto("/records")
    page.locator(".bars a", has=page.locator("svg.limit-bar")).first.click()
    page.get_by_role("link", name="Work it out again").click()
    expect(page.get_by_text("Same to the last digit")).to_be_visible()
    context.close()


def test_the_stopwatch_of_a_swing_writes_its_times_into_the_form(browser: Browser, demo: str) -> None:
    """Four taps are three times; one is undone; without a tap the field can be typed into."""
    context = signed_in(browser, demo, "Mara Tarrow", TABLET)
    page = context.new_page()
    page.goto("/swing")
    for _tap in range(4):
        page.get_by_role("button", name="Tap", exact=True).click()
        page.wait_for_timeout(150)
    times = page.get_by_label("Times taken, in seconds").input_value().split()
    assert len(times) == 3
    assert all(re.fullmatch(r"0\.\d\d", each) for each in times), times
    page.get_by_role("button", name="Undo: last time").click()
    assert page.get_by_label("Times taken, in seconds").input_value().split() == times[:2]
    context.close()
