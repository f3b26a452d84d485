"""The hangar in a real browser, in the invented workshop: a check signed off, hours typed, a calendar fetched."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from hingeline_app.demo.cast import PASSWORD
from tests.browser.conftest import PHONE, TABLET, free_port
from tests.browser.demonstration import demonstration
from tests.browser.test_every_page_is_usable import _faults
from tests.hingeline_app.files.test_due_calendar import entries

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Serve the invented workshop, and give its address."""
    with demonstration(tmp_path_factory.mktemp("demo") / "records", free_port()) as address:
        yield address


@contextlib.contextmanager
def page_of(browser: Browser, demo: str, size: Any, light: str = "day", who: str = "jon") -> Iterator[Page]:
    """Sign somebody of the invented workshop in."""
    context = browser.new_context(viewport=size, base_url=demo)
    context.add_cookies([{"name": "light", "value": light, "url": demo}])
    page = context.new_page()
    page.goto("/sign-in/password")
    page.get_by_label("Sign-in name").fill(who)
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_load_state()
    yield page
    context.close()


def test_a_check_is_signed_off_and_found_again(browser: Browser, demo: str) -> None:
    """The next date and its reason on the page, the entry in the ledger, the day in the private calendar."""
    with page_of(browser, demo, TABLET) as page:
        page.goto("/fleet?q=T2-15+rudder")
        page.get_by_role("link", name=re.compile("Rudder: hinge play")).click()
        page.get_by_role("link", name="Sign off").click()
        today = page.evaluate("new Date(Date.now() - 864e5).toISOString().slice(0, 10)")
        page.get_by_label("Day of the release on paper").fill(today)
        page.get_by_label("Paper it stands on, with its number").fill("CRS 26-118")
        page.get_by_label("Who signed it").fill("P. Orme")
        page.get_by_role("button", name="Enter as done").click()
        expect(page.locator(".in-full")).to_contain_text("It comes every 12 months")
        expect(page.locator(".in-full")).to_contain_text("when it was done")
        expect(page.locator(".in-full .done")).to_contain_text("CRS 26-118, P. Orme")
        due = page.locator(".in-full .facts dd").first.inner_text()
        page.get_by_role("link", name="History").click()
        expect(page.locator("tbody tr").first).to_contain_text("check signed off")
        expect(page.locator("tbody tr").first).to_contain_text("Jon Ashby")
        page.goto("/fleet/calendar")
        page.get_by_role("button", name=re.compile("Make a")).click()
        address = page.locator(".code").inner_text()
    with page_of(browser, demo, TABLET, who="dora") as other:
        fetched = other.request.get(address)
        assert fetched.headers["content-type"].startswith("text/calendar")
        (entry,) = [
            each for each in entries(fetched.body()) if "Rudder: hinge play and friction, T2-15" in each["SUMMARY"]
        ]
    year, day = re.search(r"(\d{4})", due).group(1), re.match(r"\d+", due).group(0)  # type: ignore[union-attr]
    when = entry["DTSTART;VALUE=DATE"]
    assert (when[:4], int(when[6:])) == (year, int(day))


def test_hours_are_typed_on_the_pad_and_their_meaning_follows(browser: Browser, demo: str) -> None:
    """The line changes while it is typed; what is out of the usual is asked about before it is kept."""
    with page_of(browser, demo, PHONE) as page:
        page.goto("/fleet/hours")
        page.get_by_role("link", name="Enter hours: T2-11").click()
        pad = page.get_by_role("group", name="Number pad")
        for key in "1703.0":
            pad.get_by_role("button", name=key, exact=True).click()
        expect(page.locator("#plausible")).to_contain_text("0.7 h in 1 day")
        for _time in range(6):
            pad.get_by_role("button", name="Rub out").click()
        for key in "1999":
            pad.get_by_role("button", name=key, exact=True).click()
        expect(page.locator("#plausible")).to_contain_text("more than 24 h a day")
        page.get_by_role("button", name="Enter", exact=True).click()
        expect(page.get_by_role("alert")).to_contain_text("Look again")
        expect(page.get_by_label("The hour meter shows")).to_have_value("1999")


def test_the_hangar_without_scripts(browser: Browser, demo: str) -> None:
    """Find, select and enter hours by forms and links alone."""
    context = browser.new_context(viewport=TABLET, base_url=demo, java_script_enabled=False)
    page = context.new_page()
    page.goto("/sign-in/password")
    page.get_by_label("Sign-in name").fill("jon")
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.goto("/fleet")
    page.get_by_label("Find checks by words").fill("crack T2-07")
    page.get_by_role("button", name="Find").click()
    expect(page.locator(".checks li")).to_have_count(1)
    page.goto("/fleet/hours")
    page.get_by_role("link", name="Enter hours: T2-07").click()
    page.get_by_label("The hour meter shows").fill("2436,9")
    page.get_by_label("Landings, in all").fill("5179")
    page.get_by_role("button", name="Enter", exact=True).click()
    expect(page.get_by_role("status").first).to_contain_text("Kept. 0.7 h in 1 day")
    context.close()


# A contrast is the same at both sizes: the phone's other lights are the campaign's.
@pytest.mark.parametrize(
    ("size", "light"),
    [
        *(pytest.param(TABLET, light, id=f"tablet-{light}") for light in ("day", "night", "sun")),
        pytest.param(PHONE, "day", id="phone-day"),
        *(pytest.param(PHONE, light, id=f"phone-{light}", marks=pytest.mark.campaign) for light in ("night", "sun")),
    ],
)
def test_every_page_is_usable_in_every_light(browser: Browser, demo: str, size: Any, light: str) -> None:
    """Nothing serious by the accessibility rules, no sideways scrolling, no target under 44 px."""
    with page_of(browser, demo, size, light) as page:
        page.goto("/fleet?q=crack")
        links = page.get_by_role("link", name=re.compile("^(Sign off|Put off|Correct it|History)$"))
        addresses = ["/fleet", "/fleet?q=crack", "/fleet?print", "/fleet/hours", "/fleet/calendar", "/fleet/take-in",
                     "/fleet/task/add", *[each.get_attribute("href") or "" for each in links.all()]]  # fmt: skip
        page.goto("/fleet/hours")
        hours = page.get_by_role("link", name="Enter hours: T2-03").get_attribute("href") or ""
        faults = {at: found for at in [*addresses, hours, f"{hours}/meter"] if (found := _faults(page, at))}
    assert faults == {}
