"""A whole work order on the bench's tablet, by touch: from the label on a surface to the signed worksheet.

Three surfaces of one invented aircraft came in painted. One is outside its limits, is corrected and weighed again;
another person inspects, the certifying person releases. Page, PDF, command and library say the same to the last digit.
"""

from __future__ import annotations

import io
import json
import os
import re
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pypdf
import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from hingeline.balance import weigh
from hingeline.document import to_document
from hingeline_app.files.weighing_file import read_weighing
from tests.browser.conftest import TABLET, free_port
from tests.browser.demonstration import PASSWORD, PINS, demonstration
from tests.doors.checkouts import ROOT

pytestmark = [pytest.mark.browser, pytest.mark.slow]

SURFACES = {
    "Elevator, left half": ("255 mm", "aft", "4.210 kg", ["840 g", "845 g", "840 g", "845 g", "840 g"]),
    "Elevator, right half": ("255 mm", "aft", "4.190 kg", ["740 g", "735 g", "740 g", "740 g", "735 g"]),
    "Rudder": ("330 mm", "forward", "3.350 kg", ["120 g", "125 g", "120 g", "120 g", "125 g"]),
}
AFTER = ["760 g", "755 g", "760 g", "760 g", "755 g"]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("order") / "records"


@pytest.fixture(scope="module")
def demo(folder: Path) -> Iterator[str]:
    with demonstration(folder, free_port()) as address:
        yield address


@pytest.fixture(scope="module")
def tablet(browser: Browser, demo: str) -> Iterator[BrowserContext]:
    """The bench's tablet, held in one hand."""
    context = browser.new_context(viewport=TABLET, base_url=demo, has_touch=True, accept_downloads=True)  # type: ignore[arg-type]
    context.new_page().goto("/demo")
    yield context
    context.close()


def comes(page: Page, name: str) -> None:
    """Let another person take the tablet."""
    page.goto("/bench")
    if page.get_by_role("button", name="Switch person").count():
        page.get_by_role("button", name="Switch person").tap()
    page.get_by_role("link", name=name).tap()
    for digit in PINS[name]:
        page.get_by_role("button", name=digit, exact=True).tap()
    page.get_by_role("button", name="Sign in").tap()
    page.wait_for_url(re.compile(r"^http://[^/]+/bench$"))


def mark_of(folder: Path, registration: str, name: str) -> str:
    """Read the mark of a surface's label as a scanner does; it is opaque."""
    asked = (
        "select surface.identifier from records_surface surface join records_aircraft aircraft"
        " on aircraft.identifier = surface.aircraft_id where registration = ? and name = ?"
    )
    with closing(sqlite3.connect(f"file:{folder / 'records.sqlite3'}?mode=ro", uri=True)) as records:
        return str(records.execute(asked, (registration, name)).fetchone()[0]).replace("-", "")


def numbers_of(page: Page) -> dict[str, int]:
    """Give the jobs of the order that the page shows, by surface."""
    rows = page.locator("ol.of-order > li").all()
    return {
        row.locator("b").first.inner_text(): int(re.search(r"Job (\d+)", row.inner_text()).group(1)) for row in rows
    }  # type: ignore[union-attr]


def arrives(page: Page, number: int) -> None:
    page.goto(f"/job/{number}/arrive")
    for words in ("Drains open", "Dry inside", "No loose matter"):
        page.get_by_label(words).check()
        expect(page.get_by_label(words)).to_be_checked()
    page.get_by_text("Go to limits").tap()
    page.wait_for_url(f"**/job/{number}/limits")
    page.get_by_role("button", name=re.compile("^Choose")).first.tap()
    expect(page.locator("#v-limits")).to_contain_text("Limits, as printed")


def begins(page: Page, number: int, arm: str, side: str, mass: str) -> None:
    page.goto(f"/job/{number}/weigh")
    page.get_by_label("Arm: hinge line to the support or hook").fill(arm)
    page.get_by_label("Side").select_option(side)
    page.get_by_label("Tare: what the scale shows").fill("0 g")
    page.get_by_label("Mass of the surface").fill(mass)
    page.get_by_label("Height of the centre of gravity").fill("-20 mm")
    page.get_by_role("button", name=re.compile("Begin weighing")).tap()
    page.wait_for_url("**/weigh**")


def reads(page: Page, readings: list[str]) -> None:
    """Type each reading on the pad and add it."""
    for count, reading in enumerate(readings, 1):
        for key in reading.split()[0]:
            page.locator(f"[data-number-pad] [data-key='{key}']").tap()
        # Two like readings within 0.4 s are asked about: a wet screen, not a hand.
        page.wait_for_timeout(450)
        page.get_by_role("button", name="Add reading").tap()
        expect(page.locator("#w-strip li")).to_have_count(count)


def goes_on(page: Page, words: str) -> None:
    page.get_by_role("button", name=words).tap()
    page.wait_for_load_state()
    page.wait_for_url(re.compile("/(arm|correct)"))


def refits(page: Page, number: int) -> None:
    """Say that the arm was left alone, and that the rigging is another job of the same visit."""
    page.goto(f"/job/{number}/arm")
    close_without(page, "The weight arm was not disturbed.")
    page.goto(f"/job/{number}/refit")
    close_without(page, "Done under the rigging job of the same visit.")


def close_without(page: Page, reason: str) -> None:
    page.get_by_text("Hold it, or say that it is not needed").tap()
    page.get_by_label("Reason", exact=True).fill(reason)
    page.locator("#v-closing").get_by_role("button", name="Not needed").tap()
    expect(page.locator("#v-closing")).to_contain_text(reason)


def signs(page: Page, button: str) -> None:
    """Prove who signs, and sign."""
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name=button).tap()


def test_a_whole_order_from_the_label_to_the_signed_worksheet(
    tablet: BrowserContext, folder: Path, tmp_path: Path
) -> None:
    """Three surfaces by touch, one corrected, signed by two others; page, PDF, command and library agree."""
    page = tablet.new_page()
    comes(page, "Mara Tarrow")
    page.goto(f"/at/{mark_of(folder, 'T2-03', 'Elevator, left half')}")
    for name in ("Elevator, right half", "Rudder"):
        page.get_by_label(name).check()
    page.get_by_label("Painted").check()
    page.get_by_role("button", name="Open", exact=True).tap()
    page.wait_for_url("**/order/*")
    order = int(page.url.rpartition("/")[2])
    jobs = numbers_of(page)
    assert set(jobs) == set(SURFACES)

    for name, (arm, side, mass, readings) in SURFACES.items():
        arrives(page, jobs[name])
        begins(page, jobs[name], arm, side, mass)
        reads(page, readings)
        goes_on(page, "Work out the correction" if name == "Elevator, left half" else "Go to the arm")

    corrected = jobs["Elevator, left half"]
    page.goto(f"/job/{corrected}/correct")
    adds_a_place(page)
    expect(page.locator("#c-say")).to_contain_text("not weighed")
    page.get_by_role("button", name="Fitted: weigh again").tap()
    page.wait_for_url("**/weigh**")
    page.get_by_role("button", name=re.compile("Begin weighing 2")).tap()
    reads(page, AFTER)
    goes_on(page, "Go to the arm")

    for number in jobs.values():
        refits(page, number)
        page.goto(f"/job/{number}/second-inspection")
        listed = page.get_by_label("One item a line")
        listed.fill(f"{listed.input_value()}\nHinge pins and their locking | fitted, locked with new pins".strip())
        page.get_by_role("button", name="Ask for second inspection").tap()
        expect(page.locator("#v-items li").first).to_be_visible()

    comes(page, "Ines Holt")
    for number in jobs.values():
        page.goto(f"/job/{number}/second-inspection")
        looks_at_all(page)
    page.goto(f"/order/{order}/second-inspection")
    signs(page, "Sign as second")
    page.wait_for_url(f"**/order/{order}")

    comes(page, "Ruth Fenholt")
    page.goto(f"/order/{order}/release")
    signs(page, "Release")
    page.wait_for_url(f"**/order/{order}")
    expect(page.locator("ol.of-order")).to_contain_text("released")
    says_the_same(page, corrected, tmp_path)


def adds_a_place(page: Page) -> None:
    """Enter the one place that the approved data allows: the weight on its arm."""
    typed = {"Name of the place": "Arm weight", "Arm from the hinge line": "180 mm", "Mass there now": "0.600 kg",
             "Most in all": "0.800 kg", "Least, if any": "0.500 kg", "Step": "5 g"}  # fmt: skip
    for words, value in typed.items():
        page.get_by_label(words, exact=True).fill(value)
    page.get_by_label("Side", exact=True).select_option("forward")
    page.get_by_role("button", name="Add this place").tap()
    expect(page.locator("#c-places")).to_be_visible()


def looks_at_all(page: Page) -> None:
    """Look at one item after the other, each before the first person's word is seen."""
    while page.locator("#v-items").get_by_role("button", name=re.compile("^Right")).count():
        left = page.locator("#v-items").get_by_role("button", name=re.compile("^Right")).count()
        page.locator("#v-items").get_by_role("button", name=re.compile("^Right")).first.tap()
        expect(page.locator("#v-items").get_by_role("button", name=re.compile("^Right"))).to_have_count(left - 1)


def says_the_same(page: Page, number: int, folder: Path) -> None:
    """Compare the page, the file, the command, the library and the PDF of one job."""
    file, pdf = folder / "weighing.toml", folder / "worksheet.pdf"
    file.write_bytes(page.request.get(f"/job/{number}/weighing/2.toml").body())
    pdf.write_bytes(page.request.get(f"/job/{number}/worksheet.pdf").body())
    by_library = json.loads(json.dumps(to_document(weigh(read_weighing(file.read_bytes()).weighing))))
    by_command = json.loads(hingeline("weigh", str(file), "--json").stdout)
    by_command.pop("about")
    assert by_command == by_library
    moment = by_library["static_moment"]
    shown = f"{moment['value']:.3f} ± {moment['expanded_uncertainty']:.3f}"
    page.goto(f"/job/{number}/release")
    assert shown in page.locator("#v-statement").inner_text().replace("\u00a0", " ").replace("\u202f", " ")
    reader = pypdf.PdfReader(io.BytesIO(pdf.read_bytes()))
    inside = {name: parts[0] for name, parts in reader.attachments.items()}
    results = [json.loads(data) for name, data in inside.items() if name.endswith(".json")]
    assert any(each.get("static_moment") == moment for each in results), list(inside)
    assert shown in "".join(each.extract_text() for each in reader.pages).replace("\u00a0", " ").replace("\u202f", " ")
    again = hingeline("replay", str(pdf))
    assert again.returncode == 0, again.stdout + again.stderr
    assert "Same to the last digit" in again.stdout


def hingeline(*words: str) -> Any:
    """Run a command as its user does."""
    kept = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    kept.pop("DJANGO_SETTINGS_MODULE", None)
    return subprocess.run(
        [sys.executable, "-m", "hingeline_app", *words], capture_output=True, text=True, env=kept, check=False
    )
