"""A colleague takes over a work order halfway; an auditor asks for the proof of a release two years ago.

The walks of docs/walks/taking-over.md and docs/walks/proof-of-a-release.md, on one server. The pictures are taken here:
``HINGELINE_WALKS=docs/walks pytest tests/browser/test_walks_of_colleague_and_auditor.py``.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.conftest import PHONE, TABLET, free_port
from tests.browser.demonstration import running
from tests.browser.hand import PICTURES, Hand
from tests.browser.test_a_whole_order import comes, hingeline, looks_at_all, reads, refits, signs
from tests.doors.checkouts import ROOT
from tests.hingeline_app.records.own_folder import run

pytestmark = [pytest.mark.browser, pytest.mark.slow]

TELL = Path(__file__).with_name("tell_of_two_years.py")
OLD, TAKEN = 1, 2
NOTE = "Weighed, outside. Lead for the arm weight lies on the bench; not fitted yet."
AFTER = ["740 g", "735 g", "740 g", "740 g", "735 g"]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("two-years") / "records"


@pytest.fixture(scope="module")
def address(folder: Path) -> Iterator[str]:
    """Serve the workshop that released a surface two years ago."""
    token, port = run(TELL, folder, folder=folder).stdout.strip(), free_port()
    command = ["serve", "--loopback", "--data", str(folder), "--port", str(port)]
    with running(command, folder.with_name("said"), HINGELINE_DEMO_TABLET=token):
        yield f"http://localhost:{port}"


@pytest.fixture
def page(browser: Browser, address: str) -> Iterator[Page]:
    """The bench's tablet."""
    context = browser.new_context(viewport=TABLET, base_url=address, has_touch=True, accept_downloads=True)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto("/demo")
    yield page
    context.close()


def test_a_colleague_takes_over_a_work_order_halfway(page: Page) -> None:
    """What is done, what is next and what is in the way stand on the order; the one who takes it over finishes it."""
    hand = Hand(page, "taking-over")
    comes(page, "Mara Tarrow")
    hands_over(hand)
    comes(page, "Jon Ashby")
    row = finds_it(hand)
    expect(row).to_contain_text("Done: Arrive, Limits, Weigh")
    expect(row).to_contain_text(f"Handed over by MT to Jon Ashby, {page.evaluate(TODAY)}: {NOTE}")
    expect(row).to_contain_text("outside")
    hand.tap(row.get_by_role("link", name=re.compile("^Work out the correction")), f"/job/{TAKEN}/correct$")
    expect(page.locator("#c-say")).to_contain_text("not weighed")
    hand.looks("next")
    hand.button("Fitted: weigh again", "/weigh")
    hand.tap(page.get_by_role("button", name=re.compile("Begin weighing 2")), "/weigh")
    reads(page, AFTER)
    expect(page.locator("#w-say")).to_contain_text("Inside")
    hand.looks("weighed-again")
    page.get_by_role("button", name="Go to the arm").tap()
    page.wait_for_url("**/arm")
    finishes(page)
    page.goto("/order/1")
    expect(page.locator("ol.of-order > li").first).to_contain_text("released")
    hand.looks("finished")
    says("taking-over", hand)


TODAY = "() => new Intl.DateTimeFormat('sv-SE', {timeZone: 'Europe/Berlin'}).format(new Date())"


def hands_over(hand: Hand) -> None:
    """From the order, where one stands when the day ends."""
    page = hand.page
    page.goto("/order/1")
    hand.tap(page.get_by_role("link", name=re.compile("^Hand it over")).first, f"/job/{TAKEN}/release")
    page.get_by_label("To", exact=True).select_option("Jon Ashby")
    page.get_by_label("How it stands").fill(NOTE)
    hand.looks("handing-over")
    hand.tap(page.locator("#v-hand-over").get_by_role("button", name="Hand it over"))
    expect(page.locator("#v-hand-over")).to_contain_text(NOTE)


def finds_it(hand: Hand) -> Locator:
    """From the bench: the job stands under one's own name, and its order tells the rest."""
    page = hand.page
    hand.link("Mine", "show=mine")
    expect(page.locator(".jobs")).to_contain_text("Elevator, left half")
    hand.tap(page.get_by_role("link", name="work order 1").first, "/order/1$")
    hand.looks("found")
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    hand.looks("found-phone")
    page.set_viewport_size(TABLET)  # type: ignore[arg-type]
    return page.locator("ol.of-order > li").first


def finishes(page: Page) -> None:
    """Refitted, inspected by another, released by a third."""
    refits(page, TAKEN)
    page.goto(f"/job/{TAKEN}/second-inspection")
    page.get_by_label("One item a line").fill("Balance weight screws | torqued and locked")
    page.get_by_role("button", name="Ask for second inspection").tap()
    expect(page.locator("#v-items li").first).to_be_visible()
    for who, what, button in (("Ines Holt", "second", "Sign as second"), ("Ruth Fenholt", "release", "Release")):
        comes(page, who)
        if what == "second":
            page.goto(f"/job/{TAKEN}/second-inspection")
            looks_at_all(page)
        page.goto(f"/job/{TAKEN}/sign/{what}")
        signs(page, button)
        page.wait_for_url(re.compile(f"/job/{TAKEN}/(?!sign)"))


def test_an_auditor_asks_for_the_proof_of_a_release_two_years_ago(page: Page, folder: Path, tmp_path: Path) -> None:
    """Found by aircraft; who signed what, on which limits of that day; worked out again; the ledger is whole."""
    hand = Hand(page, "proof-of-a-release")
    comes(page, "Ruth Fenholt")
    hand.link("Records", "/records$")
    hand.types("Aircraft", "T2-03")
    hand.button("Search", "aircraft=")
    hand.looks("found")
    hand.tap(page.get_by_role("link", name=re.compile("T2-03 · Elevator, left half")), f"/records/{OLD}$")
    record = page.locator("main").inner_text()
    year = str(int(page.evaluate(TODAY)[:4]) - 2)
    for words in (f"Ruth Fenholt, FH.66.001, {year}-", "Second inspection: Ines Holt", "740 g",
                  "1.846 ± 0.043 N·m tail-heavy",
                  "DS 7, issue C, page 3", "in force then; superseded since", "0.00 … 2.10 N·m"):  # fmt: skip
        assert words in record.replace("\u00a0", " ").replace("\u202f", " "), words
    hand.looks("record")
    page.set_viewport_size(PHONE)  # type: ignore[arg-type]
    hand.looks("record-phone")
    page.set_viewport_size(TABLET)  # type: ignore[arg-type]
    limits_of_that_day(hand)
    hand.link("Work it out again", "/again$")
    expect(page.get_by_role("status")).to_contain_text("Same to the last digit")
    hand.looks("again")
    hand.link("Is the ledger whole?", "/ledger$")
    hand.button("Verify now")
    expect(page.locator(".say strong")).to_have_text("Whole")
    hand.looks("ledger")
    goes_home_with_it(page, folder, tmp_path)
    says("proof-of-a-release", hand)


def limits_of_that_day(hand: Hand) -> None:
    """The row as it was printed then, and what took its place."""
    hand.tap(hand.page.get_by_role("link", name=re.compile("^DS 7, issue C")), "/limits/")
    expect(hand.page.locator("main")).to_contain_text("Issue D of DS 7, dated 2026-05-04, took its place")
    expect(hand.page.locator("main")).to_contain_text("2.10 N m")
    hand.looks("limits-then")
    hand.page.go_back()


def goes_home_with_it(page: Page, folder: Path, home: Path) -> None:
    """The worksheet replays on any machine; the workshop's file can be read elsewhere; the command finds it whole."""
    sheet, taken = home / "worksheet.pdf", home / "fenholt.zip"
    sheet.write_bytes(page.request.get(f"/job/{OLD}/worksheet.pdf").body())
    again = hingeline("replay", str(sheet))
    assert again.returncode == 0, again.stdout + again.stderr
    assert "Same to the last digit" in again.stdout
    run("-m", "hingeline_app", "ledger", "verify", "--data", folder, folder=folder)
    run("-m", "hingeline_app", "ledger", "export", taken, "--data", folder, folder=folder)
    assert taken.stat().st_size > 10_000


def says(walk: str, hand: Hand) -> None:
    """The page of the walk shows each of its pictures, where it is not just being made."""
    if os.environ.get(PICTURES):
        sys.stderr.write(f"{walk}: {hand.taps} taps, {hand.keys} keys, {hand.seconds:.0f} s, {hand.shown}\n")
        return
    told = (ROOT / "docs" / "walks" / f"{walk}.md").read_text(encoding="utf-8")
    assert [name for name in hand.shown if f"{walk}-{name}.png" not in told] == []
