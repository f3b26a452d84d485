"""The server is killed in the middle of a weighing and comes back: entries wait, then each is kept once, in order."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.bench import bench_in, enter, sign_in

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.mark.fault("F01")
def test_the_server_is_killed_and_comes_back(browser: Browser, tmp_path: Path) -> None:
    with bench_in(tmp_path, browser) as bench:
        number, measurement = bench.weighing
        before = bench.readings()
        said = {"kind": "reading", "measurement": measurement, "place": "support 1"}
        with bench.serving() as server:
            page = bench.context().new_page()
            sign_in(page)
            page.goto(f"/job/{number}/weigh")
            enter(page, number, typed="205 g", **said)
            bench.killed(server)
            for typed in ("210 g", "215 g", "220 g"):
                enter(page, number, typed=typed, **said)
            expect(page.locator("#waiting")).to_contain_text("entries wait here, not yet kept.")
        with bench.serving():
            expect(page.locator("#waiting")).to_be_hidden(timeout=60000)
            assert bench.readings() == [*before, "205 g", "210 g", "215 g", "220 g"]
            page.context.close()
