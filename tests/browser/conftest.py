"""A real server on an empty folder, a real browser that knows its certificate, and the invented workshop of Fenholt."""

from __future__ import annotations

import base64
import contextlib
import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from playwright.sync_api import Browser, BrowserContext, Page

from hingeline_app.serving.certificate import certificate_in
from tests.browser.ports import answers, free_port
from tests.doors.checkouts import ROOT

TABLET, PHONE = {"width": 1180, "height": 820}, {"width": 390, "height": 844}
STARTED = "Stop with Ctrl-C."
PASSWORD, SECOND_PASSWORD, PIN = "a long walk to the hangar", "another walk in the rain", "730418"


@dataclass(frozen=True)
class Serving:
    """A server that runs."""

    address: str
    data: Path
    said: str
    process: subprocess.Popen[bytes]

    @property
    def code(self) -> str:
        """Give the set-up code that it printed."""
        found = re.search(r"^ +([0-9A-Z]{4}-[0-9A-Z]{4}-[0-9A-Z]{4})$", self.said, re.M)
        assert found, self.said
        return found.group(1)

    @property
    def authority(self) -> Path:
        """Give the certificate of its authority."""
        return self.data / "keys" / "tls" / "authority.crt"


@contextlib.contextmanager
def served(data: Path, *more: str, port: int | None = None, within: float = 60.0) -> Iterator[Serving]:
    """Run ``hingeline serve`` on a folder until the block ends, then stop it as a machine that goes down does."""
    port = port or free_port()
    command = [sys.executable, "-m", "hingeline_app", "serve", "--data", str(data), "--port", str(port), *more]
    surroundings = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONUNBUFFERED": "1"}
    surroundings.pop("DJANGO_SETTINGS_MODULE", None)
    words = data.with_name(f"{data.name}.said")
    with words.open("w") as heard:
        process = subprocess.Popen(command, stderr=heard, env=surroundings)
    try:
        scheme = "http" if "--loopback" in more else "https"
        yield Serving(f"{scheme}://localhost:{port}", data, _once_started(process, words, within), process)
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait(40)


def _once_started(process: subprocess.Popen[bytes], words: Path, seconds: float) -> str:
    until = time.monotonic() + seconds
    while process.poll() is None and time.monotonic() < until:
        said = words.read_text()
        if STARTED in said:
            return said
        time.sleep(0.1)
    raise AssertionError(words.read_text())


@pytest.fixture(scope="session")
def serving(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    """One server for the session, from an empty folder."""
    with served(tmp_path_factory.mktemp("fenholt") / "records") as found:
        assert answers(found.address)
        yield found


@pytest.fixture(scope="session")
def browser_type_launch_args(serving: Serving) -> dict[str, Any]:
    """Use the system's browser, and let it know this workshop's key as a tablet does that took the certificate in."""
    return {
        "executable_path": shutil.which("chromium"),
        "args": [
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync",
            f"--ignore-certificate-errors-spki-list={_key_digest(serving.data)}",
        ],
    }


def _key_digest(data: Path) -> str:
    certificate = x509.load_pem_x509_certificate(certificate_in(data).certificate.read_bytes())
    key = certificate.public_key().public_bytes(
        serialization.Encoding.DER, serialization.PublicFormat.SubjectPublicKeyInfo
    )
    digest = hashes.Hash(hashes.SHA256())
    digest.update(key)
    return base64.b64encode(digest.finalize()).decode()


@dataclass(frozen=True)
class Fenholt:
    """The workshop as the browser set it up, and the cookies of its tablet."""

    serving: Serving
    tablet: list[dict[str, Any]]

    @property
    def address(self) -> str:
        """Give the server's address."""
        return self.serving.address


@pytest.fixture(scope="session")
def fenholt(serving: Serving, browser: Browser) -> Fenholt:
    """Set Fenholt up in the browser: two administrators, local gravity with a comma, a tablet."""
    context = browser.new_context(viewport=TABLET, base_url=serving.address)
    page = context.new_page()
    page.goto("/")
    page.get_by_label("Set-up code").fill(serving.code.lower())
    page.get_by_label("Name of the workshop").fill("Fenholt")
    page.get_by_label("Authority", exact=False).first.fill("National authority")
    page.get_by_label("Local gravity").fill("9,8124 m/s^2")
    page.get_by_label("First administrator: name").fill("Mara Tarrow")
    page.get_by_label("Initials", exact=True).fill("MT")
    page.get_by_label("Sign-in name", exact=True).fill("mara")
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_label("PIN for work").fill(PIN)
    page.get_by_label("Second administrator: name").fill("Jon Ashby")
    page.get_by_label("Their initials").fill("JA")
    page.get_by_label("Their sign-in name").fill("jon")
    page.get_by_label("Their first password").fill(SECOND_PASSWORD)
    page.get_by_label("Name of this tablet").fill("Hangar 1")
    page.get_by_role("button", name="Set up", exact=True).click()
    page.wait_for_url("**/bench")
    tablet = [each for each in context.cookies() if each["name"].endswith("tablet")]
    context.close()
    return Fenholt(serving, tablet)  # type: ignore[arg-type]


@pytest.fixture
def tablet(browser: Browser, fenholt: Fenholt) -> Iterator[Page]:
    """A page on the enrolled tablet; nobody is signed in."""
    context = _context(browser, fenholt, TABLET)
    context.add_cookies(fenholt.tablet)  # type: ignore[arg-type]
    yield context.new_page()
    context.close()


@pytest.fixture
def office(browser: Browser, fenholt: Fenholt) -> Iterator[Page]:
    """A page on a machine that is no enrolled tablet."""
    context = _context(browser, fenholt, TABLET)
    yield context.new_page()
    context.close()


def _context(browser: Browser, fenholt: Fenholt, size: dict[str, int]) -> BrowserContext:
    return browser.new_context(viewport=size, base_url=fenholt.address)  # type: ignore[arg-type]


def sign_in_by_pin(page: Page) -> None:
    """Tap one's name, type the PIN on the pad."""
    page.goto("/sign-in")
    page.get_by_role("link", name="Mara Tarrow").click()
    for digit in PIN:
        page.get_by_role("button", name=digit, exact=True).click()
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url("**/bench")


def sign_in_by_password(page: Page, name: str = "mara", password: str = PASSWORD) -> None:
    """Type name and password."""
    page.goto("/sign-in/password")
    page.get_by_label("Sign-in name").fill(name)
    page.get_by_label("Password", exact=True).fill(password)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url("**/bench")
