"""An engineer's first weighing in a new, empty workshop, with no manual: the walk of docs/walks/first-weighing.md.

The pictures are taken here: ``HINGELINE_WALKS=docs/walks pytest tests/browser/test_walk_first_weighing.py``.
"""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import PASSWORD, PHONE, PIN, TABLET, answers, served
from tests.browser.hand import PICTURES, Hand
from tests.doors.checkouts import ROOT

pytestmark = [pytest.mark.browser, pytest.mark.slow]

READINGS = ("840", "845", "840", "845", "840")
TOLD = ROOT / "docs" / "walks" / "first-weighing.md"


def test_an_engineer_weighs_for_the_first_time_in_an_empty_workshop(browser: Browser, tmp_path: Path) -> None:
    """From the set-up code to the statement by what the pages say alone; the weighing itself in under three minutes."""
    with served(tmp_path / "records", "--loopback") as server:
        assert answers(server.address)
        context = browser.new_context(viewport=TABLET, base_url=server.address, timezone_id="Europe/Berlin")  # type: ignore[arg-type]
        begins = Hand(context.new_page(), "first-weighing")
        is_set_up(begins, server.code)
        gets_ready(begins)
        weighs = Hand(begins.page, "first-weighing")
        opens_a_job(weighs)
        reads(weighs)
        weighs.page.set_viewport_size(PHONE)  # type: ignore[arg-type]
        weighs.looks("phone")
        goes_on_in(weighs.page, "de", "Außerhalb", "Ablesung hinzufügen")
        goes_on_in(weighs.page, "fr", "À l'extérieur", "Ajouter la lecture")
        context.close()
    assert weighs.seconds < 180
    says(begins, weighs)


def goes_on_in(page: Page, language: str, statement: str, add: str) -> None:
    """Read on in another language: the statement, one reading more by the pad, and no English sentence left."""
    page.context.add_cookies([{"name": "language", "value": language, "url": page.url}])
    page.reload()
    expect(page.locator("html")).to_have_attribute("lang", language)
    expect(page.locator("#w-say strong")).to_have_text(statement)
    before = page.locator("#w-strip li:not(.withdrawn):not(.none)").count()
    for digit in "840":
        page.locator("button", has_text=re.compile(f"^{digit}$")).click()
    page.get_by_role("button", name=add).click()
    expect(page.locator("#w-strip li:not(.withdrawn):not(.none)")).to_have_count(before + 1)
    expect(page.locator("body [lang=en]")).to_have_count(0)


def is_set_up(hand: Hand, code: str) -> None:
    """Mistype the code first; what was typed stays; then the workshop is there, and the person may work."""
    page = hand.page
    page.goto("/")
    hand.types("Set-up code", "WRONG")
    hand.types("Name of the workshop", "Fenholt")
    for label, text in (("First administrator: name", "Mara Tarrow"), ("Initials", "MT"), ("Sign-in name", "mara")):
        hand.types(label, text)
    hand.button("Set up")
    expect(page.get_by_role("alert")).to_contain_text("This is not the code that the server printed")
    expect(page.get_by_label("Name of the workshop")).to_have_value("Fenholt")
    hand.types("Set-up code", code)
    hand.types("Password", PASSWORD)
    hand.types("PIN for work on a tablet", PIN)
    expect(page.get_by_label("I work at the bench too")).to_be_checked()
    expect(page.get_by_label("Zone of the clock")).to_have_value("Europe/Berlin")
    hand.looks("set-up")
    hand.button("Set up", "/bench$")
    expect(page.locator(".first-things li.done")).to_have_count(0)
    hand.looks("bench-before")


def gets_ready(hand: Hand) -> None:
    """Follow the bench's own list: an aircraft, its surface, the scale, the limits."""
    hand.link("Add an aircraft", "/add$")
    for label, text in (("Aircraft type", "Merle T2"), ("Registration", "T2-07"), ("Serial number", "07")):
        hand.types(label, text)
    hand.button("Add", "/workshop/aircraft/[0-9a-f-]{36}$")
    hand.types("Surface", "Elevator, left half")
    hand.button("Add the surface")
    expect(hand.page.locator("main")).to_contain_text("Elevator, left half")
    hand.link("Bench", "/bench$")
    expect(hand.page.locator(".first-things li.done")).to_have_count(1)
    hand.link("Add a scale", "/scales/add$")
    for label, text in (("Name of the scale", "Bench scale"), ("Step of the display", "5 g"), ("Largest mass", "6 kg")):
        hand.types(label, text)
    hand.types("Last day on which it holds", "2099-06-30")
    hand.types("Expanded uncertainty on the certificate", "10 g")
    hand.button("Add", "/scales$")
    hand.link("Bench", "/bench$")
    hand.link("Enter limits", "/limits$")
    enters_limits(hand)
    hand.link("Bench", "/bench$")
    expect(hand.page.locator(".first-things li.done")).to_have_count(3)
    hand.looks("bench-ready")


def enters_limits(hand: Hand) -> None:
    """One document, its issue, one row as it is printed."""
    hand.link("Add a document", "/add$")
    for label, text in (("Aircraft type", "Merle T2"), ("Number of the document", "Data sheet 7"),
                        ("Title", "Balance of movable surfaces")):  # fmt: skip
        hand.types(label, text)
    hand.button("Add", "/issue$")
    hand.types("Issue", "C")
    hand.types("Issued on", "2025-03-01")
    hand.button("Enter the issue", "/documents/")
    hand.link("New row", "/row$")
    for label, text in (("Surface", "Elevator, left half"), ("Page", "3"), ("Sense, as printed", "tail heavy"),
                        ("Lower limit", "0.00 N m"), ("Upper limit", "2.10 N m")):  # fmt: skip
        hand.types(label, text)
    hand.button("Keep the row", "/limits/[0-9a-f-]{36}$")


def opens_a_job(hand: Hand) -> None:
    """From the bench to the first reading: what came in, how it hangs."""
    page = hand.page
    hand.link("New job", "/job/new$")
    hand.ticks("Elevator, left half")
    hand.ticks("Painted")
    hand.looks("new-job")
    hand.button("Open", "/job/1/arrive$")
    for words in ("Drains open", "Dry inside", "No loose matter"):
        hand.ticks(words)
    hand.tap(page.get_by_text("Go to limits"), "/limits$")
    hand.tap(page.get_by_role("button", name=re.compile("^Choose")).first)
    expect(page.locator("#v-limits")).to_contain_text("Limits, as printed")
    hand.link("Weigh", "/weigh$")
    hand.types("Arm: hinge line to the support or hook", "255 mm")
    hand.types("Tare: what the scale shows without the surface", "0 g")
    hand.looks("begin")
    hand.button("Begin weighing 1", "/weigh")


def reads(hand: Hand) -> None:
    """Five readings by the pad, then the statement."""
    page = hand.page
    for count, reading in enumerate(READINGS, 1):
        for key in reading:
            hand.keys += 1
            page.locator(f"[data-number-pad] [data-key='{key}']").click()
        page.wait_for_timeout(450)
        hand.button("Add reading")
        expect(page.locator("#w-strip li")).to_have_count(count)
    expect(page.locator("#w-say")).to_contain_text("2.106")
    hand.looks("statement")


def says(begins: Hand, weighs: Hand) -> None:
    """The page of the walk gives the counts of this walk, and shows each of its pictures; asked for, it is written."""
    rows = [
        f"| {what} | {hand.taps} | {hand.keys} | {hand.seconds:.0f} s |"
        for what, hand in (("the workshop, an aircraft, a scale, the limits: once", begins), ("the weighing", weighs))
    ]
    told = TOLD.read_text(encoding="utf-8")
    if os.environ.get(PICTURES):
        print("\n".join(rows), f"waited {begins.waited:.1f} s and {weighs.waited:.1f} s")
        return
    assert [row for row in rows if row not in told] == []
    assert [name for name in begins.shown + weighs.shown if f"first-weighing-{name}.png" not in told] == []
