"""A backup of a workshop that was set up in the browser, restored into another folder, opens with the same people."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import Fenholt, answers, served, sign_in_by_password
from tests.doors.checkouts import ROOT

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def hingeline(*words: str) -> str:
    """Run a command and give its answer."""
    surroundings = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    surroundings.pop("DJANGO_SETTINGS_MODULE", None)
    command = [sys.executable, "-m", "hingeline_app", *words]
    done = subprocess.run(command, capture_output=True, text=True, env=surroundings, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_the_ledger_is_whole_and_a_restored_backup_lets_the_same_people_in(
    tablet: Page, fenholt: Fenholt, browser: Browser, tmp_path: Path
) -> None:
    """Verify on the page, give a signed head, back up on the page, restore by command, serve the copy, sign in."""
    sign_in_by_password(tablet)
    tablet.goto("/ledger")
    tablet.get_by_role("button", name="Verify now").click()
    expect(tablet.locator("main .say")).to_contain_text("Whole")
    tablet.get_by_role("button", name="Give a signed head").click()
    head = tablet.locator(".code").inner_text().strip()
    expect(tablet.locator(".qr svg")).to_be_visible()
    tablet.goto("/backups")
    tablet.get_by_role("button", name="Back up now").click()
    expect(tablet.get_by_role("status").first).to_contain_text("restored as a trial")
    made = max((fenholt.serving.data / "backups").iterdir())
    copy = tmp_path / "copy"
    hingeline("restore", str(made), "--to", str(copy))
    verified = json.loads(hingeline("ledger", "verify", "--data", str(copy), "--head", head, "--json"))
    assert verified["whole"] is True
    with served(copy, "--loopback") as other:
        assert answers(other.address)
        page = browser.new_page(base_url=other.address)
        sign_in_by_password(page)
        page.goto("/workshop/people")
        expect(page.locator("main")).to_contain_text("Jon Ashby")
        page.close()
