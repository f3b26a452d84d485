"""Second inspection and release by two persons at one tablet, by keys."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import TABLET, free_port
from tests.browser.demonstration import PASSWORD, PINS, demonstration
from tests.browser.with_a_passkey import with_a_passkey

pytestmark = [pytest.mark.browser, pytest.mark.slow]

# In the invented workshop the elevator half of T2-15 is weighed and refitted, and waits for another person.
WAITING = "/job/5"
MOST_KEYS = 80


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Serve the invented workshop, and give its address."""
    with demonstration(tmp_path_factory.mktemp("demo") / "records", free_port()) as address:
        yield address


def reach(page: Page, name: str, key: str = "Tab") -> None:
    """Go by the key until what has the focus is named so, as somebody without a pointer does."""
    for _press in range(MOST_KEYS):
        page.keyboard.press(key)
        said: str = page.evaluate(
            """() => { const at = document.activeElement; const own = at.labels?.[0]?.textContent ?? at.textContent;
                 return own.replace(/\\s+/g, ' ').trim(); }"""
        )
        if said.startswith(name):
            return
    raise AssertionError(f"{name} was not reached by {MOST_KEYS} keys")


def come_in(page: Page, name: str) -> None:
    """Choose one's name and type the PIN, by keys."""
    page.evaluate("document.activeElement.blur()")
    reach(page, "".join(part[0] for part in name.split()))
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile(r"/sign-in/[0-9a-f]"))
    page.locator("input[name=pin]").focus()
    page.keyboard.type(PINS[name])
    page.keyboard.press("Enter")
    page.wait_for_url("**/bench")


def sign(page: Page, word: str) -> None:
    """Go to the signature, type the password, send it."""
    reach(page, word)
    page.keyboard.press("Enter")
    page.wait_for_url("**/sign/*")
    reach(page, "Your password")
    page.keyboard.type(PASSWORD)
    page.keyboard.press("Enter")
    page.wait_for_url(lambda address: "/sign/" not in address)


def by_password(page: Page) -> None:
    page.get_by_label("Your password").fill(PASSWORD)
    page.locator("#sign-form").evaluate("form => form.requestSubmit()")


def by_passkey(page: Page) -> None:
    page.get_by_role("button", name="Use a passkey").click()


def not_signed_while_an_entry_waits(page: Page, proves: Callable[[Page], None] = by_password) -> None:
    """An entry of hers that the server has not got yet holds her signature back, and says so."""
    page.route("**/entry", lambda route: route.abort())
    reach(page, "Right")
    page.keyboard.press("Enter")
    expect(page.get_by_text("not yet kept")).to_be_visible()
    page.goto(page.url.replace("second-inspection", "sign/second"))
    proves(page)
    expect(page.get_by_text("Nothing is signed until the server has every entry")).to_be_visible()
    assert "/sign/" in page.url
    page.unroute("**/entry")
    page.goto(f"{WAITING}/second-inspection")
    expect(page.locator(".items .not-looked-at")).to_have_count(0)


def looks_at_all_but_one(page: Page) -> None:
    """Say of two of the three items that they are right."""
    for left in (2, 1):
        reach(page, "Right")
        page.keyboard.press("Enter")
        expect(page.locator(".items .not-looked-at")).to_have_count(left)
        page.goto(f"{WAITING}/second-inspection")


def test_a_passkey_signs_and_is_held_back_as_a_password_is(browser: Browser, tmp_path: Path) -> None:
    """Not while an entry waits on the tablet; then its signature stands under the person's name."""
    with demonstration(tmp_path / "records", free_port()) as address:
        context = browser.new_context(viewport=TABLET, base_url=address, service_workers="block")
        page = context.new_page()
        page.goto("/demo")
        come_in(page, "Ines Holt")
        with_a_passkey(page, "Ines's phone", PASSWORD)
        page.goto(f"{WAITING}/second-inspection")
        looks_at_all_but_one(page)
        not_signed_while_an_entry_waits(page, by_passkey)
        page.goto(f"{WAITING}/sign/second")
        by_passkey(page)
        page.wait_for_url(lambda address: "/sign/" not in address)
        expect(page.get_by_text("Signed as second")).to_be_visible()
        context.close()


def test_two_persons_sign_at_one_tablet_by_keys_alone(browser: Browser, demo: str) -> None:
    """The inspector looks at each item without the first person's words, signs; the certifying person releases."""
    context = browser.new_context(viewport=TABLET, base_url=demo, service_workers="block")
    page = context.new_page()
    page.goto("/demo")
    come_in(page, "Ines Holt")
    page.goto(f"{WAITING}/second-inspection")
    expect(page.get_by_text("torqued and locked")).to_have_count(0)
    reach(page, "What you found")
    page.keyboard.type("wire whole")
    looks_at_all_but_one(page)
    not_signed_while_an_entry_waits(page)
    expect(page.get_by_text("wire whole").first).to_be_visible()
    expect(page.get_by_text("torqued and locked")).to_be_visible()
    sign(page, "Sign as second")
    expect(page.get_by_text("Signed as second")).to_be_visible()
    page.goto(f"{WAITING}/release")
    expect(page.get_by_text("None of your roles covers this.")).to_be_visible()
    reach(page, "Switch person")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile(r"/sign-in"))
    come_in(page, "Ruth Fenholt")
    page.goto(f"{WAITING}/release")
    expect(page.get_by_text("Nothing is open, not released")).to_be_visible()
    sign(page, "Release")
    expect(page.locator("#v-head")).to_contain_text("Ruth Fenholt")
    context.close()
