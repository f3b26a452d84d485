"""A workshop starts: from an empty folder, over TLS, in a browser; people come in, pages lock, a tablet is enrolled."""

from __future__ import annotations

import re
import ssl
import urllib.request
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import (
    PASSWORD,
    SECOND_PASSWORD,
    Fenholt,
    answers,
    served,
    sign_in_by_password,
    sign_in_by_pin,
)
from tests.browser.test_every_page_is_usable import serious
from tests.browser.with_a_passkey import with_a_passkey

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def test_a_stranger_without_the_code_sets_nothing_up(browser: Browser, tmp_path: Path) -> None:
    """The set-up page refuses a wrong code, keeps what was typed, and names the field; the code opens it once."""
    with served(tmp_path / "records", "--loopback") as server:
        assert answers(server.address)
        page = browser.new_page(base_url=server.address)
        page.goto("/")
        page.get_by_label("Set-up code").fill("WRONG")
        page.get_by_label("Name of the workshop").fill("Fenholt")
        page.get_by_role("button", name="Set up", exact=True).click()
        expect(page.get_by_role("alert")).to_contain_text("This is not the code that the server printed")
        expect(page.get_by_label("Name of the workshop")).to_have_value("Fenholt")
        assert serious(page) == []
        page.close()


def test_the_workshop_is_as_it_was_typed(tablet: Page) -> None:
    """After set-up the workshop's page shows the gravity as typed, with a point, and two administrators."""
    sign_in_by_password(tablet)
    tablet.goto("/workshop")
    expect(tablet.locator("main")).to_contain_text("9.8124 m/s²")
    tablet.goto("/workshop/people")
    expect(tablet.get_by_role("row", name=re.compile("Mara Tarrow"))).to_contain_text("administrator")
    expect(tablet.get_by_role("row", name=re.compile("Jon Ashby"))).to_contain_text("administrator")


def test_the_certificate_holds_for_whoever_took_the_authority_in(fenholt: Fenholt) -> None:
    """A client that trusts the workshop's authority alone gets the pages, and its certificate at /trust."""
    trusting = ssl.create_default_context(cafile=str(fenholt.serving.authority))
    with urllib.request.urlopen(f"{fenholt.address}/trust/workshop-authority.crt", context=trusting) as answer:
        assert answer.headers["Content-Type"] == "application/x-x509-ca-cert"
        assert ssl.DER_cert_to_PEM_cert(answer.read()).strip() == fenholt.serving.authority.read_text().strip()


def test_the_fingerprint_on_the_page_is_the_one_on_the_console(office: Page, fenholt: Fenholt) -> None:
    """Whoever compares the two compares the same thing."""
    office.goto("/trust")
    shown = office.locator(".fingerprint").inner_text().strip()
    assert shown in fenholt.serving.said


def test_a_pin_opens_work_and_no_administration(tablet: Page) -> None:
    """A PIN on the enrolled tablet signs in; adding a person asks for a password first, then goes on there."""
    sign_in_by_pin(tablet)
    tablet.goto("/workshop/people/add")
    expect(tablet).to_have_url(re.compile("/prove"))
    tablet.get_by_label("Your password").fill(PASSWORD)
    tablet.get_by_role("button", name="Go on").click()
    expect(tablet).to_have_url(re.compile("/workshop/people/add$"))


def test_another_device_offers_no_pin(office: Page) -> None:
    """A device that nobody enrolled shows no names."""
    office.goto("/sign-in")
    expect(office).to_have_url(re.compile("/sign-in/password"))
    expect(office.locator("body")).not_to_contain_text("Mara Tarrow")


def test_switching_the_person_ends_the_session(tablet: Page) -> None:
    """Switch person goes back to the names; Back shows nothing of the one before."""
    sign_in_by_pin(tablet)
    tablet.get_by_role("button", name="Switch person").click()
    expect(tablet.get_by_role("link", name="Jon Ashby")).to_be_visible()
    tablet.go_back()
    tablet.goto("/records")
    expect(tablet).to_have_url(re.compile("/sign-in"))


@pytest.mark.fault("F17")
def test_an_idle_page_locks_and_gives_its_draft_to_the_same_person_only(tablet: Page) -> None:
    """Six idle minutes lock; the draft waits for its person, another sees an empty form."""
    tablet.clock.install()
    sign_in_by_password(tablet)
    tablet.goto("/workshop/people/add")
    tablet.get_by_label("Name", exact=True).fill("Ida Quill")
    tablet.clock.fast_forward("06:00")
    tablet.wait_for_url("**/lock?*")
    expect(tablet.locator("body")).not_to_contain_text("Ida Quill")
    tablet.get_by_label("Your password").fill(PASSWORD)
    tablet.get_by_role("button", name="Unlock with the password").click()
    tablet.wait_for_url("**/workshop/people/add")
    expect(tablet.get_by_label("Name", exact=True)).to_have_value("Ida Quill")
    expect(tablet.locator("main")).to_contain_text("They are not kept yet")
    tablet.get_by_role("button", name="Switch person").click()
    sign_in_by_password(tablet, "jon", SECOND_PASSWORD)
    tablet.goto("/workshop/people/add")
    expect(tablet.get_by_label("Name", exact=True)).to_have_value("")


def test_a_passkey_is_added_signs_in_and_proves(office: Page) -> None:
    """A passkey of the browser's virtual authenticator is registered, signs in, and opens the administration."""
    sign_in_by_password(office)
    with_a_passkey(office, "Mara's phone", PASSWORD)
    expect(office.locator("main")).to_contain_text("Mara's phone")
    office.get_by_role("button", name="Switch person").click()
    office.get_by_role("button", name="Use a passkey").click()
    office.wait_for_url("**/bench")
    office.goto("/own")
    expect(office.locator("header")).to_contain_text("passkey")


def test_a_tablet_is_enrolled_by_an_administrator_who_holds_it(office: Page) -> None:
    """The device that was enrolled offers names and a PIN from then on; withdrawn, it does not."""
    sign_in_by_password(office)
    office.goto("/workshop/tablets")
    office.get_by_role("link", name="Enrol this device").click()
    office.get_by_label("Name of this device").fill("Paint shop")
    office.get_by_role("button", name="Enrol").click()
    office.wait_for_url("**/workshop/tablets")
    office.get_by_role("button", name="Switch person").click()
    expect(office.get_by_role("link", name="Mara Tarrow")).to_be_visible()
    sign_in_by_password(office)
    office.goto("/workshop/tablets")
    row = office.get_by_role("row", name=re.compile("Paint shop"))
    row.get_by_label("Reason").fill("Test over")
    row.get_by_role("button", name="Withdraw").click()
    office.get_by_role("button", name="Switch person").click()
    expect(office).to_have_url(re.compile("/sign-in/password"))


@pytest.mark.fault("F41")
def test_five_wrong_tries_lock_one_person_out_here_and_nobody_else(tablet: Page) -> None:
    """The fifth wrong try is answered 429, the sixth too; another person signs in on the same tablet."""
    statuses = []
    for _ in range(6):
        tablet.goto("/sign-in/password")
        tablet.get_by_label("Sign-in name").fill("who")
        tablet.get_by_label("Password", exact=True).fill("wrong wrong wrong")
        with tablet.expect_navigation() as gone:
            tablet.get_by_role("button", name="Sign in").click()
        assert gone.value is not None
        statuses.append(gone.value.status)
    assert statuses == [422, 422, 422, 422, 429, 429]
    sign_in_by_password(tablet, "jon", SECOND_PASSWORD)
