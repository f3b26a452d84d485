"""One job from the label on its surface to the signed worksheet, on PostgreSQL: by touch on a phone, by keys alone.

The invented workshop is moved into a database server of the tests' own by the command for it, and served from there.
Each walk is outside its limits first, corrected and weighed again, inspected by another and released by a third.
"""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import psycopg
import pypdf
import pytest
from playwright.sync_api import Browser, Error, Locator, Page, expect

from tests.browser.conftest import PHONE, TABLET, free_port
from tests.browser.demonstration import PASSWORD, PINS, copied, running
from tests.browser.test_a_whole_order import AFTER, SURFACES, says_the_same
from tests.browser.test_two_signatures import come_in, reach
from tests.doors.checkouts import ROOT
from tests.private_postgresql import Server

pytestmark = [pytest.mark.browser, pytest.mark.slow]

ARM, SIDE, MASS, OUTSIDE = SURFACES["Elevator, left half"]
PLACE = {"Name of the place": "Arm weight", "Arm from the hinge line": "180 mm", "Side": "forward",
         "Mass there now": "0.600 kg", "Most in all": "0.800 kg", "Least, if any": "0.500 kg",
         "Step": "5 g"}  # fmt: skip
BEGUN = {"Arm: hinge line to the support or hook": ARM, "Side": SIDE, "Tare: what the scale shows": "0 g",
         "Mass of the surface": MASS, "Height of the centre of gravity": "-20 mm"}  # fmt: skip
DRY = ("Drains open", "Dry inside", "No loose matter")
PINS_ITEM = "Hinge pins and their locking | fitted, locked with new pins"
AT_THE_BENCH = re.compile(r"^http://[^/]+/bench$")


@dataclass(frozen=True)
class Hangar:
    """The served workshop, and its records on their server."""

    address: str
    records: str

    def mark(self, registration: str, name: str) -> str:
        """Read the mark under a label's code; it is opaque."""
        asked = (
            "SELECT surface.identifier FROM records_surface surface JOIN records_aircraft aircraft"
            " ON aircraft.identifier = surface.aircraft_id WHERE registration = %s AND name = %s"
        )
        with psycopg.connect(self.records) as records:
            found = records.execute(asked, (registration, name)).fetchone()
        assert found is not None
        return str(found[0]).replace("-", "")


@pytest.fixture(scope="module")
def hangar(postgresql: Server, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Hangar]:
    """Move the invented workshop to PostgreSQL, and serve it from there."""
    folder, port = tmp_path_factory.mktemp("moved") / "records", free_port()
    token, records = copied(folder), postgresql.create("walked")
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("DJANGO_", "HINGELINE_"))}
    move = [sys.executable, "-m", "hingeline_app", "move", "--data", str(folder), "--to", records]
    done = subprocess.run(move, env=kept | {"PYTHONPATH": str(ROOT / "src")}, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    assert not (folder / "records.sqlite3").exists()
    serve = ["serve", "--loopback", "--data", str(folder), "--port", str(port)]
    said = folder.with_name("records.said")
    with running(serve, said, HINGELINE_DATABASE=records, HINGELINE_DEMO_TABLET=token):
        yield Hangar(f"http://localhost:{port}", records)


# ------------------------------------------------------------------ by touch, on a phone


@pytest.fixture
def phone(browser: Browser, hangar: Hangar) -> Iterator[Page]:
    context = browser.new_context(viewport=PHONE, base_url=hangar.address, has_touch=True)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto("/demo")
    yield page
    context.close()


def fits(page: Page, step: str) -> None:
    """Nothing of the step's page lies beside the screen, and the act stands at its foot within the thumb's reach."""
    page.wait_for_url(re.compile(f"/{step}"))
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"], page.url
    foot = page.locator(".act").bounding_box()
    assert foot is not None
    assert foot["y"] + foot["height"] <= PHONE["height"] + 1, page.url
    assert foot["height"] <= 150, page.url


def taps(page: Page, *words: str | re.Pattern[str]) -> None:
    """Tap buttons or links by what they say."""
    for each in words:
        page.get_by_role("button", name=each, exact=True).or_(
            page.get_by_role("link", name=each, exact=True)
        ).first.tap()


def types(page: Page, words: str, value: str) -> None:
    """Tap a field and type on the system's keyboard, or choose in a list."""
    field = page.get_by_label(words, exact=words in PLACE).first
    if field.evaluate("each => each.tagName") == "SELECT":
        field.select_option(value)
    else:
        field.tap()
        field.fill(value)


def takes_over(page: Page, name: str) -> None:
    """Hand the phone to another person: by its menu, a name, a PIN on the pad."""
    if page.get_by_role("button", name="Menu").count():
        taps(page, "Menu", "Switch person")
        page.wait_for_url("**/sign-in")
    page.get_by_role("link", name=name).tap()
    for digit in PINS[name]:
        page.get_by_role("button", name=digit, exact=True).tap()
    page.get_by_role("button", name="Sign in").tap()
    page.wait_for_url(AT_THE_BENCH)


def reads(page: Page, readings: list[str]) -> None:
    for count, reading in enumerate(readings, 1):
        for key in reading.split()[0]:
            page.locator(f"[data-number-pad] [data-key='{key}']").tap()
        # Two like readings within 0.4 s are asked about: a wet screen, not a hand.
        page.wait_for_timeout(450)
        taps(page, "Add reading")
        expect(page.locator("#w-strip li")).to_have_count(count)


def test_a_whole_job_by_touch_on_a_phone(phone: Page, hangar: Hangar, tmp_path: Path) -> None:
    """Every step at 390 x 844; page, PDF, command and library say the same of what PostgreSQL keeps."""
    page = phone
    takes_over(page, "Mara Tarrow")
    page.goto(f"/at/{hangar.mark('T2-03', 'Elevator, right half')}")
    page.get_by_text("Painted", exact=True).tap()
    taps(page, "Open")
    number = number_of(page)
    for each in DRY:
        page.get_by_text(each, exact=True).tap()
        expect(page.get_by_label(each)).to_be_checked()
    page.get_by_role("group", name="Pushrod").get_by_text("off").tap()
    expect(page.get_by_role("group", name="Pushrod").get_by_label("off")).to_be_checked()
    fits(page, "arrive")
    taps(page, "Go to limits", re.compile("^Choose"))
    expect(page.locator("#v-limits")).to_contain_text("Limits, as printed")
    fits(page, "limits")
    taps(page, re.compile("^Weigh$"))
    for words, value in BEGUN.items():
        types(page, words, value)
    fits(page, "weigh")
    taps(page, "Begin weighing 1")
    reads(page, OUTSIDE)
    expect(page.locator("#w-say strong")).to_have_text("Outside")
    fits(page, "weigh")
    taps(page, "Work out the correction")
    for words, value in PLACE.items():
        types(page, words, value)
    taps(page, "Add this place")
    expect(page.locator("#c-say")).to_contain_text("not weighed")
    fits(page, "correct")
    taps(page, "Fitted: weigh again", "Begin weighing 2")
    reads(page, AFTER)
    expect(page.locator("#w-say strong")).to_have_text("Inside")
    taps(page, "Go to the arm")
    needs_no(page, "The weight arm was not disturbed.")
    fits(page, "arm")
    taps(page, "Next step")
    needs_no(page, "Done under the rigging job of the same visit.")
    fits(page, "refit")
    taps(page, "Next step")
    listed = page.get_by_label("One item a line")
    listed.fill(f"{listed.input_value()}\n{PINS_ITEM}".strip())
    fits(page, "second-inspection")
    taps(page, "Ask for second inspection")
    expect(page.locator("#v-items li").first).to_be_visible()
    takes_over(page, "Ines Holt")
    taps(page, re.compile(f"Job {number:04d}"))
    looks_at_each(page, lambda right: right.tap())
    fits(page, "second-inspection")
    taps(page, "Sign as second")
    signs(page, "Sign as second")
    takes_over(page, "Ruth Fenholt")
    taps(page, re.compile(f"Job {number:04d}"))
    fits(page, "release")
    taps(page, "Release")
    signs(page, "Release")
    expect(page.locator("#v-head")).to_contain_text("Ruth Fenholt")
    fits(page, "release")
    says_the_same(page, number, tmp_path)


def number_of(page: Page) -> int:
    page.wait_for_url(re.compile(r"/job/\d+"))
    return int(page.url.split("/job/")[1].split("/")[0])


def needs_no(page: Page, reason: str) -> None:
    """Close a step that this visit does not need, with the reason."""
    page.get_by_text("Hold it, or say that it is not needed").tap()
    page.get_by_label("Reason", exact=True).fill(reason)
    page.locator("#v-closing").get_by_role("button", name="Not needed").tap()
    expect(page.locator("#v-closing")).to_contain_text(reason)


def looks_at_each(page: Page, press: Callable[[Locator], object]) -> None:
    """Look at one item after the other, each before the first person's word is seen."""
    right = page.locator("#v-items").get_by_role("button", name=re.compile("^Right"))
    expect(right.first).to_be_visible()
    for left in range(right.count() - 1, -1, -1):
        press(right.first)
        expect(right).to_have_count(left)


def signs(page: Page, button: str) -> None:
    page.wait_for_url("**/sign/**")
    page.get_by_label("Your password").fill(PASSWORD)
    page.get_by_role("button", name=button).tap()
    page.wait_for_url(lambda address: "/sign/" not in address)


# ------------------------------------------------------------------ by keys alone, on a tablet with a keyboard


@pytest.fixture
def keys(browser: Browser, hangar: Hangar) -> Iterator[Page]:
    """A page that no pointer touches: whatever is clicked or tapped there fails the test."""
    context = browser.new_context(viewport=TABLET, base_url=hangar.address)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto("/demo")
    yield page
    context.close()


def goes_to(page: Page, name: str) -> None:
    """Go to what is named so by Tab; a page that still comes while the keys are pressed begins at its top again."""
    try:
        reach(page, name)
    except Error:
        page.wait_for_load_state()
        reach(page, name)


def presses(page: Page, name: str, key: str = "Enter") -> None:
    """Go to what is named so by Tab, and press a key on it."""
    goes_to(page, name)
    page.keyboard.press(key)


def writes(page: Page, name: str, words: str) -> None:
    """Go to a field by Tab and type into it; in a list the first letter chooses."""
    goes_to(page, name)
    if page.evaluate("document.activeElement.tagName") == "SELECT":
        page.keyboard.press(words[0])
        assert page.evaluate("document.activeElement.value") == words
        return
    page.keyboard.press("Control+A")
    page.keyboard.type(words)


def to_the_bench(page: Page) -> None:
    page.keyboard.press("g")
    page.keyboard.press("b")
    page.wait_for_url(AT_THE_BENCH)


def adds(page: Page, readings: list[str]) -> None:
    """Type one reading after the other in the same place, Enter after each."""
    goes_to(page, "Reading 1")
    for count, reading in enumerate(readings, 1):
        page.keyboard.type(reading.split()[0])
        page.wait_for_timeout(450)
        page.keyboard.press("Enter")
        expect(page.locator("#w-strip li")).to_have_count(count)
    expect(page.locator("#t-kept")).to_contain_text("kept")


def closes(page: Page, reason: str) -> None:
    presses(page, "Hold it, or say that it is not needed")
    writes(page, "Reason", reason)
    presses(page, "Not needed")
    expect(page.locator("#v-closing")).to_contain_text(reason)
    page.keyboard.press("]")


def proves(page: Page, button: str) -> None:
    presses(page, button)
    page.wait_for_url("**/sign/**")
    writes(page, "Your password", PASSWORD)
    page.keyboard.press("Enter")
    page.wait_for_url(lambda address: "/sign/" not in address)


def changes(page: Page, name: str) -> None:
    """Let another person take the tablet, by keys."""
    to_the_bench(page)
    presses(page, "Switch person")
    page.wait_for_url("**/sign-in")
    come_in(page, name)


def test_a_whole_job_by_keys_alone(keys: Page, hangar: Hangar) -> None:
    """Every step and both signatures at 1180 x 820 by Tab, Enter, space, letters and the keys of the pages."""
    page = keys
    come_in(page, "Mara Tarrow")
    presses(page, "Find by label")
    page.wait_for_url("**/at")
    writes(page, "What stands under the code", hangar.mark("T2-11", "Elevator, left half"))
    page.keyboard.press("Enter")
    page.wait_for_url("**/job/new**")
    presses(page, "Painted", "Space")
    presses(page, "Open")
    number = number_of(page)
    for each in DRY:
        presses(page, each, "Space")
        expect(page.get_by_label(each)).to_be_checked()
        expect(page.locator("#w-arrive")).not_to_contain_text(re.compile(f"{each}[,.]"))
    presses(page, "Go to limits")
    page.wait_for_url("**/limits")
    presses(page, "Choose")
    expect(page.locator("#v-limits")).to_contain_text("Limits, as printed")
    page.keyboard.press("]")
    page.wait_for_url("**/weigh")
    for words, value in BEGUN.items():
        writes(page, words, value)
    presses(page, "Begin weighing 1")
    adds(page, OUTSIDE)
    expect(page.locator("#w-say strong")).to_have_text("Outside")
    presses(page, "Work out the correction")
    page.wait_for_url("**/correct")
    for words, value in PLACE.items():
        writes(page, words, value)
    presses(page, "Add this place")
    expect(page.locator("#c-say")).to_contain_text("not weighed")
    presses(page, "Fitted: weigh again")
    page.wait_for_url("**/weigh**")
    presses(page, "Begin weighing 2")
    adds(page, AFTER)
    expect(page.locator("#w-say strong")).to_have_text("Inside")
    presses(page, "Go to the arm")
    page.wait_for_url("**/arm")
    closes(page, "The weight arm was not disturbed.")
    page.wait_for_url("**/refit")
    closes(page, "Done under the rigging job of the same visit.")
    page.wait_for_url("**/second-inspection")
    goes_to(page, "One item a line")
    page.keyboard.press("Control+End")
    page.keyboard.type(f"\n{PINS_ITEM}")
    presses(page, "Ask for second inspection")
    expect(page.locator("#v-items li").first).to_be_visible()
    changes(page, "Ines Holt")
    presses(page, f"Second inspection, Job {number:04d}")
    page.wait_for_url("**/second-inspection")
    looks_at_each(page, lambda _right: presses(page, "Right"))
    proves(page, "Sign as second")
    changes(page, "Ruth Fenholt")
    presses(page, f"Release, Job {number:04d}")
    page.wait_for_url("**/release")
    proves(page, "Release")
    expect(page.locator("#v-head")).to_contain_text("Ruth Fenholt")
    goes_to(page, "Worksheet")
    sheet = page.request.get(page.evaluate("document.activeElement.href")).body()
    text = "".join(each.extract_text() for each in pypdf.PdfReader(io.BytesIO(sheet)).pages)
    assert all(each in text for each in ("Mara Tarrow", "Ines Holt", "Ruth Fenholt"))
