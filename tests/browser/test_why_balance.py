"""Why balance in a real browser: a knob moves, the answer follows, the address keeps it, and no script is needed."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from hingeline_app.why_balance.presets import PRESETS
from tests.browser.conftest import PHONE, TABLET, Fenholt, sign_in_by_password
from tests.browser.test_every_page_is_usable import _faults
from tests.hingeline_app.why_balance.test_why_balance import COMFORT

pytestmark = [pytest.mark.browser, pytest.mark.slow]


@pytest.fixture
def page(office: Page) -> Page:
    sign_in_by_password(office)
    return office


def test_a_knob_moves_the_answer_and_the_address(page: Page) -> None:
    """One step of a knob: statement, picture and address follow, and reloading the address shows the same."""
    page.goto("/why-balance?surface=tailplane&weight=0")
    expect(page.locator(".finding strong")).to_have_text("Growth starts at 103\u00a0kn")
    page.get_by_role("link", name="more: balance weight").click()
    expect(page).to_have_url(re.compile(r"weight=0\.1"))
    expect(page.locator(".finding strong")).to_have_text("Growth starts at 102\u00a0kn")
    said = page.locator(".finding").inner_text()
    page.reload()
    expect(page.locator(".finding strong")).to_have_text("Growth starts at 102\u00a0kn")
    assert said.splitlines()[0] in page.locator(".finding").inner_text()


def test_the_finding_stands_beside_a_knob_that_is_moved(page: Page) -> None:
    """On a tablet finding and pictures lay above the screen of the knobs: who moved one saw no answer.

    It stands there as it stands above, with what it does not prove, and is struck through while it is of other knobs.
    """
    page.goto("/why-balance?surface=tailplane")
    echo = page.locator("#echo")
    expect(echo).to_be_hidden()
    page.locator("input[name=weight]").press("Home")
    expect(echo).to_contain_text("Growth starts at 103\u00a0kn")
    expect(echo).to_contain_text("it clears no speed")
    expect(echo).to_be_in_viewport()
    assert echo.inner_text() == page.locator(".finding").inner_text()
    page.context.set_offline(True)
    page.locator("input[name=weight]").press("End")
    expect(echo).to_have_class(re.compile("old"))
    assert "line-through" in echo.locator("strong").evaluate("each => getComputedStyle(each).textDecoration")


def test_a_finding_of_other_knobs_is_struck_through(page: Page) -> None:
    """The server does not answer: what stands there is said to be of before the change, until it is worked out."""
    page.goto("/why-balance?surface=tailplane&weight=0")
    expect(page.locator(".finding strong")).to_have_text("Growth starts at 103\u00a0kn")
    page.context.set_offline(True)
    page.get_by_role("link", name="more: balance weight").click()
    expect(page.locator("#late")).to_contain_text("The server does not answer")
    expect(page.locator(".finding strong")).to_have_css("text-decoration-line", "line-through")
    page.context.set_offline(False)
    expect(page.locator(".finding strong")).to_have_text("Growth starts at 102\u00a0kn")
    expect(page.locator(".finding strong")).not_to_have_css("text-decoration-line", "line-through")
    expect(page.locator("#late")).to_have_text("")


def test_the_band_comes_after_and_nothing_jumps(page: Page) -> None:
    """The band is drawn a little later; the picture keeps its place and its size while it is worked out."""
    page.goto("/why-balance?surface=bench")
    before = page.locator(".onset svg:visible").bounding_box()
    expect(page.locator(".onset h2 span")).to_contain_text("band", timeout=60_000)
    assert page.locator(".onset svg:visible").bounding_box() == before


def test_keyboard_alone(page: Page) -> None:
    """An arrow key on a knob moves it, and its value is said."""
    page.goto("/why-balance?surface=bench")
    slider = page.get_by_label("mass added", exact=True)
    slider.focus()
    page.keyboard.press("ArrowRight")
    expect(page.locator("output[for=knob-weight]")).to_have_text("2 g")
    expect(page).to_have_url(re.compile("weight=2"))


def test_reduced_motion_stands_still_and_steps(browser: Browser, fenholt: Fenholt) -> None:
    """Who wants no movement gets none until a step is asked for."""
    context = browser.new_context(viewport=TABLET, base_url=fenholt.address, reduced_motion="reduce")  # type: ignore[arg-type]
    page = context.new_page()
    sign_in_by_password(page)
    page.goto("/why-balance?surface=tailplane&weight=0")
    now = "() => document.querySelector('.moving-picture svg').getCurrentTime()"
    first = page.evaluate(now)
    page.wait_for_timeout(400)
    assert page.evaluate(now) == first
    page.get_by_role("button", name="Step").click()
    assert page.evaluate(now) > first
    context.close()


def test_it_works_without_any_script(browser: Browser, fenholt: Fenholt) -> None:
    """Every knob has addresses of one step less and more; the sentences are there."""
    context = browser.new_context(viewport=TABLET, base_url=fenholt.address, java_script_enabled=False)  # type: ignore[arg-type]
    page = context.new_page()
    sign_in_by_password(page)
    page.goto("/why-balance?surface=bench")
    page.get_by_role("link", name="more: mass added").click()
    assert "weight=2" in page.url
    assert "Static moment" in page.locator(".side").inner_text()
    context.close()


def test_no_sentence_of_any_preset_comforts(page: Page) -> None:
    """Every word of every preset's page, read as it stands there."""
    for preset in PRESETS:
        page.goto(f"/why-balance?{preset.state.query}")
        said = page.locator("main").inner_text()
        assert preset.title in said
        assert COMFORT.findall(said) == []


def test_a_pilot_asks_why_the_weight_matters(page: Page) -> None:
    """The walk of docs/walks/why-balance.md: five looks, few enough words for two minutes, one side to take home."""
    page.goto("/why-balance")
    read = [page.locator(".told").inner_text()]
    assert "Flutter is a motion that takes its energy from the air" in read[0]
    expect(page.get_by_role("link", name="1 Weight on")).to_have_attribute("aria-current", "true")
    expect(page.locator(".moving-picture:visible svg")).to_contain_text("balance weight")
    page.get_by_role("link", name="2 Weight lost").click()
    expect(page.locator(".finding strong")).to_have_text("Growth starts at 103\u00a0kn")
    expect(page.locator(".moving-picture:visible svg")).not_to_contain_text("balance weight")
    expect(page.locator(".side .view")).to_contain_text("feeds it")
    read += [page.locator(".told p").last.inner_text(), page.locator(".finding").inner_text()]
    for name in ("3 Weight put on in steps", "6 Overpainted"):
        page.get_by_role("link", name=name).click()
        expect(page.get_by_role("link", name=name)).to_have_attribute("aria-current", "true")
        read.append(page.locator(".told p").last.inner_text())
    # Two minutes, read aloud at 150 words a minute (common practice, no source).
    assert len(" ".join(read).split()) < 2 * 150
    side = page.get_by_role("link", name="Print for an owner").get_attribute("href")
    assert page.evaluate("async (side) => (await (await fetch(side)).text()).slice(0, 4)", side) == "%PDF"


def test_a_screen_reader_hears_the_finding(page: Page) -> None:
    """Both pictures are named by what they show, in words with their numbers; the statement is a polite region."""
    page.goto("/why-balance?surface=tailplane&weight=0")
    names = [
        svg.get_attribute("aria-label") or svg.text_content() or "" for svg in page.locator("#answer svg:visible").all()
    ]
    assert any("Growth starts at 103" in name for name in names)
    assert any("grows: it doubles every" in name for name in names)
    assert page.locator(".finding").get_attribute("aria-live") == "polite"


def test_paper_keeps_pictures_and_sentences_and_leaves_the_knobs(page: Page) -> None:
    """Printed from the browser: the finding, the picture, the reasons; no sliders, no buttons."""
    page.goto("/why-balance?surface=tailplane&weight=0")
    page.emulate_media(media="print")
    expect(page.locator(".finding strong")).to_be_visible()
    expect(page.locator(".onset svg:visible")).to_have_count(1)
    expect(page.locator("input[type=range]:visible")).to_have_count(0)
    page.emulate_media(media="screen")


def test_a_bad_address_leads_back(page: Page) -> None:
    """An address with a number out of range is refused in words, with a way to the start."""
    answer = page.goto("/why-balance?weight=900")
    assert answer is not None
    assert answer.status == 422
    page.get_by_role("link", name="Begin at the start").click()
    expect(page.locator(".finding")).to_be_visible()


@pytest.mark.parametrize("size", [TABLET, PHONE], ids=["tablet", "phone"])
def test_nothing_serious_nothing_cut(browser: Browser, fenholt: Fenholt, size: Any) -> None:
    """No serious finding, no sideways scrolling, no target under 44 px, on the page and beside it."""
    context = browser.new_context(viewport=size, base_url=fenholt.address)
    page = context.new_page()
    sign_in_by_password(page)
    addresses = ["/why-balance?surface=tailplane&weight=0", "/why-balance?surface=aileron", "/why-balance/bench"]
    faults = {address: found for address in addresses if (found := _faults(page, address))}
    context.close()
    assert faults == {}
