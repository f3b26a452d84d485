"""A passkey of the browser's own virtual authenticator, for tests that prove by one."""

from __future__ import annotations

from playwright.sync_api import Page


def with_a_passkey(page: Page, device_name: str, password: str) -> None:
    """Register one for who is signed in; where a password was not just given, it comes first."""
    talk = page.context.new_cdp_session(page)
    talk.send("WebAuthn.enable")
    device = {"protocol": "ctap2", "transport": "internal", "hasResidentKey": True, "hasUserVerification": True}
    talk.send("WebAuthn.addVirtualAuthenticator", {"options": {**device, "isUserVerified": True}})
    page.goto("/own/passkey")
    if "/prove" in page.url:
        page.get_by_label("Your password").fill(password)
        page.get_by_role("button", name="Go on").click()
        page.wait_for_url("**/own/passkey")
    page.get_by_label("Name of the device").fill(device_name)
    page.get_by_role("button", name="Ask the device").click()
    page.wait_for_url("**/own")
