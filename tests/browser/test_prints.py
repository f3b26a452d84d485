"""Labels are chosen by touch and printed; the wording of a release is set with the keyboard alone."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pypdf
import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import PHONE, Fenholt, free_port, sign_in_by_password
from tests.browser.demonstration import PASSWORD, demonstration
from tests.browser.test_every_page_is_usable import serious

pytestmark = [pytest.mark.browser, pytest.mark.slow]
INKS = "() => { const look = getComputedStyle(document.body); return [look.color, look.backgroundColor]; }"
CHOSEN = (
    "() => { const form = document.getElementById('the-form');"
    " return form.action + '?' + new URLSearchParams(new FormData(form)).toString(); }"
)


def test_a_label_is_ticked_and_a_released_job_is_printed_in_a_workshop_in_full_swing(
    browser: Browser, tmp_path: Path
) -> None:
    """The sheet of labels holds the one that was ticked; the worksheet of a job has two sides and its data inside."""
    with demonstration(tmp_path / "demo", free_port()) as address:
        context = browser.new_context(viewport=PHONE, base_url=address)
        page = context.new_page()
        sign_in_by_password(page, "mara", PASSWORD)
        page.goto("/workshop/labels")
        assert serious(page) == []
        page.get_by_label(re.compile("HL-3")).check()
        page.get_by_label("Letter").check()
        labels = printed(page, page.evaluate(CHOSEN))
        assert labels.pages[0].mediabox[2] == 612
        assert "HL-3" in labels.pages[0].extract_text()
        assert "Rudder" not in labels.pages[0].extract_text()
        worksheet = printed(page, f"{address}/job/4/worksheet.pdf")
        assert len(worksheet.pages) == 2
        assert {"weighing.toml", "result.json", "job.json"} == set(worksheet.attachments)
        assert "Released" in worksheet.pages[0].extract_text()
        assert "Not released" not in worksheet.pages[0].extract_text()
        a_page_on_paper(page, address)
        context.close()


def a_page_on_paper(page: Page, address: str) -> None:
    """Read by night, printed black on white, whole, with the words of the next step but nothing to press."""
    page.context.add_cookies([{"name": "light", "value": "night", "url": address}])
    page.goto("/bench")
    assert page.evaluate(INKS) == ["rgb(237, 242, 243)", "rgb(11, 22, 32)"]
    page.emulate_media(media="print")
    assert page.evaluate(INKS) == ["rgb(0, 0, 0)", "rgb(255, 255, 255)"]
    for pressed in (".rail", ".act", ".title form", ".seek", "form .button"):
        assert page.locator(f"{pressed}:visible").count() == 0, pressed
    words = " ".join(each.extract_text() for each in pypdf.PdfReader(io.BytesIO(page.pdf(format="A4"))).pages)
    assert {"Job 0001", "Job 0009"} == {each for each in ("Job 0001", "Job 0009") if each in words}
    assert re.search(r"As of \d{4}-\d\d-\d\d \d\d:\d\d CES?T\.", words), "'today' on paper says nothing without its day"
    assert "Not a release." in words
    assert "Demonstration: workshop, aircraft and numbers are invented." in words
    for address_of in ("/records/4", "/job/4/weigh"):
        page.goto(address_of)
        words = " ".join(each.extract_text() for each in pypdf.PdfReader(io.BytesIO(page.pdf(format="A4"))).pages)
        assert "A surface inside its static limits can still flutter" in " ".join(words.split()), address_of
        assert "Papers" not in words, "an empty frame where the buttons were"
    assert page.locator(".on-paper:visible").count()
    page.emulate_media(media="screen")
    assert not page.locator(".on-paper:visible").count()
    page.emulate_media(media="print")
    page.goto("/recordings/1")
    words = " ".join(on_sheets(page))
    assert "Never try to make it happen again in flight" in words, "a caution where the page ends"
    what_is_folded_away_on_a_screen(page)
    page.emulate_media(media="screen")


def what_is_folded_away_on_a_screen(page: Page) -> None:
    """What changed in a record and every place of the arm are printed; each sheet says that all of it is invented."""
    page.goto("/records/4")
    sheets = on_sheets(page)
    assert "proved by password" in " ".join(sheets)
    assert [number for number, words in enumerate(sheets) if "numbers are invented" not in words] == []
    assert re.search(r"As of \d{4}", sheets[0])
    page.goto("/job/3/arm")
    words = " ".join(on_sheets(page))
    assert words.count("not looked at") == 4
    assert "Treatment" not in words, "a frame in which nothing was entered"


def on_sheets(page: Page) -> list[str]:
    """Give the words of each sheet."""
    return [" ".join(each.extract_text().split()) for each in pypdf.PdfReader(io.BytesIO(page.pdf(format="A4"))).pages]


def printed(page: Page, address: str) -> pypdf.PdfReader:
    """Fetch what this person's browser would print."""
    answer = page.request.get(address)
    assert answer.status == 200, answer.text()[:400]
    return pypdf.PdfReader(io.BytesIO(answer.body()))


def test_the_wording_is_kept_by_keyboard_and_a_wrong_place_is_named(office: Page, fenholt: Fenholt) -> None:
    """Nothing typed is lost where it is refused."""
    sign_in_by_password(office)
    office.goto("/workshop/release-wording")
    office.get_by_label(re.compile("^Wording")).fill("Done: {wrok}")
    keep = office.get_by_role("button", name="Keep")
    keep.focus()
    keep.press("Enter")
    expect(office.get_by_text("{wrok}").first).to_be_visible()
    expect(office.get_by_label(re.compile("^Wording"))).to_have_value("Done: {wrok}")
    office.get_by_label(re.compile("^Wording")).fill("Done: {work}")
    keep = office.get_by_role("button", name="Keep")
    keep.focus()
    keep.press("Enter")
    expect(office.get_by_text("The workshop's own wording")).to_be_visible()
