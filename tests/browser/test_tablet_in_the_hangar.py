"""A tablet whose connection, session and person come and go: nothing is lost, nothing is sent twice or as another."""

from __future__ import annotations

import contextlib
import io
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Error, Page, expect

from tests.browser.bench import NAMES, Bench, keeps_pages, sign_in, until
from tests.browser.conftest import TABLET
from tests.browser.tablet_in_the_hangar import FORM, PATIENT, all_kept, bench, open_bench, reading, strip, tablet

__all__ = ["bench", "open_bench", "tablet"]

pytestmark = [pytest.mark.browser, pytest.mark.slow]
WORKS = "navigator.serviceWorker.controller.scriptURL"
NO_STORE = "Object.defineProperty(globalThis, 'indexedDB', {value: {open() { throw new Error('none'); }}})"


@pytest.mark.fault("F12")
def test_the_network_is_cut_in_the_middle_of_a_weighing(tablet: Page, open_bench: Bench) -> None:
    """Readings wait on the tablet through a reload and Back, no statement stands, then each is kept once, in order."""
    before = open_bench.readings()
    reading(tablet, open_bench, "210 g")
    expect(tablet.locator("#t-kept")).to_contain_text(re.compile(r"kept \d\d:\d\d"))
    keeps_pages(tablet)
    tablet.context.set_offline(True)
    for typed in ("205 g", "215 g"):
        reading(tablet, open_bench, typed)
    strip(tablet).to_contain_text("No connection. 2 entries wait here, not yet kept.")
    expect(tablet.locator("#t-kept")).to_contain_text("on this tablet")
    expect(tablet.locator("#w-say strong")).to_be_hidden()
    expect(tablet.locator("#w-say")).to_contain_text("No statement until the server has the readings.")
    tablet.reload()
    expect(tablet.locator("#t-kept")).to_contain_text("on this tablet")
    reading(tablet, open_bench, "220 g")
    strip(tablet).to_contain_text("3 entries wait here")
    tablet.goto("/records")
    expect(tablet.locator("main")).to_contain_text("This page is not on the tablet")
    tablet.go_back()
    strip(tablet).to_contain_text("3 entries wait here")
    entered = [*before, "210 g", "205 g", "215 g", "220 g"]
    # A reload under a cut that the browser only plays may let a request out and lose its answer: it waits all the same.
    there = open_bench.readings()
    assert there == entered[: len(there)]
    tablet.context.set_offline(False)
    all_kept(tablet)
    assert open_bench.readings() == entered


@pytest.mark.fault("F13")
def test_an_answer_that_is_lost_on_its_way_makes_no_second_reading(open_bench: Bench) -> None:
    """The server kept it, the tablet never heard: sent again, it is the same one."""
    context = open_bench.context(service_workers="block")
    page = context.new_page()
    sign_in(page)
    page.goto(f"/job/{open_bench.weighing[0]}/weigh")
    before, lost = open_bench.readings(), []

    def lose_the_first(route: Any) -> None:
        if not lost:
            lost.append(200)
            assert route.fetch().status == lost[0]
            route.abort()
        else:
            route.continue_()

    page.route(re.compile(r"/entry$"), lose_the_first)
    reading(page, open_bench, "225 g")
    all_kept(page)
    assert lost == [200]
    assert open_bench.readings() == [*before, "225 g"]
    context.close()


@pytest.mark.fault("F17")
def test_a_session_that_ended_keeps_entries_for_their_own_person(tablet: Page, open_bench: Bench) -> None:
    """Signed out meanwhile: they wait; another person sends none of them; the same person's sign-in sends them."""
    number, before = open_bench.weighing[0], open_bench.readings()
    tablet.context.clear_cookies(name="session")
    reading(tablet, open_bench, "230 g")
    strip(tablet).to_contain_text("You were signed out meanwhile. 1 entry waits here")
    sign_in(tablet, "mara")
    tablet.goto(f"/job/{number}/weigh")
    strip(tablet).to_contain_text(f"1 entry of {NAMES['jon']} waits on this tablet until {NAMES['jon']} signs in.")
    assert open_bench.readings() == before
    tablet.get_by_role("button", name="Switch person").click()
    sign_in(tablet)
    tablet.goto(f"/job/{number}/weigh")
    all_kept(tablet)
    assert open_bench.readings() == [*before, "230 g"]
    by = open_bench.asked("SELECT person.name FROM records_reading reading JOIN records_person person"
                          " ON person.identifier = reading.made_by_id WHERE typed = '230 g'")  # fmt: skip
    assert by == [(NAMES["jon"],)]


def test_a_page_that_was_locked_gives_back_what_was_typed_and_what_waits(tablet: Page, open_bench: Bench) -> None:
    """In mid-form: a number that is typed and not added, and one that waits, are both there after the PIN."""
    number, measurement = open_bench.weighing
    before = open_bench.readings()
    tablet.evaluate(FORM, [f"/job/{number}/entry", measurement])
    tablet.get_by_label("Reading", exact=True).fill("23")
    tablet.get_by_role("button", name="Lock").click()
    tablet.wait_for_url("**/lock*")
    tablet.get_by_label("PIN", exact=True).fill("518290")
    tablet.get_by_role("button", name="Unlock", exact=True).click()
    tablet.wait_for_url(f"**/job/{number}/weigh")
    tablet.evaluate(FORM, [f"/job/{number}/entry", measurement])
    assert "23" in tablet.evaluate("() => Object.values(sessionStorage)")
    tablet.evaluate("() => fetch('/lock/now', {method: 'POST', headers: {'X-CSRFToken':"
                    " document.querySelector('input[name=csrfmiddlewaretoken]').value}})")  # fmt: skip
    reading(tablet, open_bench, "240 g")
    strip(tablet).to_contain_text("This page was locked meanwhile. 1 entry waits here")
    tablet.get_by_role("link", name="Unlock").click()
    tablet.get_by_label("PIN", exact=True).fill("518290")
    tablet.get_by_role("button", name="Unlock", exact=True).click()
    tablet.wait_for_url(f"**/job/{number}/weigh")
    all_kept(tablet)
    assert open_bench.readings() == [*before, "240 g"]


@pytest.mark.fault("F17")
def test_a_tablet_whose_battery_dies_has_what_waited(
    open_bench: Bench, browser_type_launch_args: dict[str, Any], tmp_path: Path
) -> None:
    """Every process of the browser is killed while readings wait: started again they are there, and are kept once."""
    before = open_bench.readings()
    with own_browser(open_bench, browser_type_launch_args, tmp_path) as page:
        page.context.set_offline(True)
        for typed in ("250 g", "255 g"):
            reading(page, open_bench, typed)
        strip(page).to_contain_text("2 entries wait here, not yet kept.")
        subprocess.run(["pkill", "-KILL", "-f", f"user-data-dir={tmp_path}"], check=True)
    assert open_bench.readings() == before
    with own_browser(open_bench, browser_type_launch_args, tmp_path) as page:
        all_kept(page)
        assert open_bench.readings() == [*before, "250 g", "255 g"]


@contextlib.contextmanager
def own_browser(bench: Bench, arguments: dict[str, Any], folder: Path) -> Iterator[Page]:
    """Give a browser that keeps its own folder, as a tablet's does, on the weighing; it may be dead at the end."""
    context = bench.browser.browser_type.launch_persistent_context(
        folder, **arguments, viewport=TABLET, base_url=bench.address
    )
    context.add_cookies([{"name": "tablet", "value": bench.tablet, "url": bench.address}])
    page = context.new_page()
    sign_in(page)
    page.goto(f"/job/{bench.weighing[0]}/weigh")
    yield page
    with contextlib.suppress(Error):
        context.close()


def test_a_photograph_taken_without_a_connection_is_kept_and_sent_once(tablet: Page, open_bench: Bench) -> None:
    """It waits on the tablet through a reload, with what it shows, and the record has it once."""
    tablet.goto(f"/job/{open_bench.weighing[0]}/arrive")
    keeps_pages(tablet)
    count = "SELECT count(*) FROM records_attachment WHERE kind = 'photograph'"
    before = open_bench.asked(count)[0][0]
    tablet.context.set_offline(True)
    picture = io.BytesIO()
    Image.new("RGB", (120, 90), "grey").save(picture, "JPEG")
    taken = {"name": "drain.jpg", "mimeType": "image/jpeg", "buffer": picture.getvalue()}
    tablet.get_by_label("Photographs", exact=True).set_input_files(taken)  # type: ignore[arg-type]
    tablet.get_by_label("What it shows").fill("drain, taken without wifi")
    tablet.get_by_role("button", name="Add", exact=True).click()
    strip(tablet).to_contain_text("1 entry waits here, not yet kept.")
    tablet.reload()
    strip(tablet).to_contain_text("drain.jpg")
    assert open_bench.asked(count)[0][0] == before
    tablet.context.set_offline(False)
    all_kept(tablet)
    expect(tablet.get_by_alt_text("drain, taken without wifi")).to_be_visible()
    assert open_bench.asked(count)[0][0] == before + 1


def test_newer_pages_wait_for_a_hand_and_lose_nothing_that_waits(tablet: Page, open_bench: Bench) -> None:
    """Another worker's script is there: a strip says so, the old one stays until it is tapped, entries wait through."""
    before = open_bench.readings()
    keeps_pages(tablet)
    tablet.evaluate("navigator.serviceWorker.register('/worker.js?newer', { scope: '/' }).then(() => true)")
    newer = tablet.locator("#newer")
    # Its words are in the page from the start: what counts is that they are shown, once the whole of it is there.
    expect(newer).to_be_visible(timeout=PATIENT)
    expect(newer).to_contain_text("A newer version of these pages is ready.")
    assert not tablet.evaluate(WORKS).endswith("newer")
    begun = tablet.evaluate("performance.timeOrigin")
    tablet.context.set_offline(True)
    reading(tablet, open_bench, "275 g")
    newer.get_by_role("button", name="Load it").click()
    until(tablet, f"() => performance.timeOrigin !== {begun} && document.readyState === 'complete'")
    assert tablet.evaluate(WORKS).endswith("newer")
    strip(tablet).to_contain_text("1 entry waits here")
    tablet.context.set_offline(False)
    all_kept(tablet)
    assert open_bench.readings() == [*before, "275 g"]


PRESETS_KEPT = """async () => {
  const pages = await caches.open('hingeline-pages');
  const kept = await Promise.all([...document.querySelectorAll('.presets a')].map((each) => pages.match(each.href)));
  const texts = await Promise.all(kept.map((each) => each?.text() ?? ''));
  return texts.every((each) => each.includes('data-banded')); }"""


def test_why_balance_is_there_without_a_connection(tablet: Page) -> None:
    """Each numbered state opens as it was kept, with its band; what is not on the tablet says so before a tap."""
    tablet.goto("/why-balance")
    until(tablet, PRESETS_KEPT, 60.0)
    # A tap while there is a connection brings the page at once, without its band: what is kept has it again.
    tablet.get_by_role("link", name="2 Weight lost").click()
    tablet.wait_for_url("**/why-balance?**")
    until(tablet, PRESETS_KEPT, 60.0)
    expect(tablet.locator("#away")).to_be_hidden()
    tablet.context.set_offline(True)
    expect(tablet.locator("#away")).to_contain_text("what is dashed is not on this tablet")
    expect(tablet.locator(".presets a[aria-disabled]")).to_have_count(0)
    for name, found in (("2 Weight lost", "Growth starts at 103\u00a0kn"), ("1 Weight on", "Model finds no growth")):
        tablet.get_by_role("link", name=name).click()
        expect(tablet.locator(".finding strong")).to_contain_text(found)
        expect(tablet.locator(".onset h2 span")).to_contain_text("band: 95 % of 60 varied cases")
        strip(tablet).to_contain_text(re.compile(r"This page is as it was at \d\d:\d\d\."))
    before = tablet.url
    tablet.locator(".axis-link[aria-disabled=true]").first.click(force=True)
    assert tablet.url == before
    tablet.context.set_offline(False)
    expect(tablet.locator("#away")).to_be_hidden()


def test_pages_leave_the_tablet_with_their_person(tablet: Page, open_bench: Bench) -> None:
    """After Switch person nothing of the jobs can be read without a connection."""
    keeps_pages(tablet)
    tablet.get_by_role("button", name="Switch person").click()
    tablet.wait_for_url("**/sign-in")
    until(tablet, "async () => !(await caches.has('hingeline-pages'))")
    tablet.context.set_offline(True)
    tablet.goto(f"/job/{open_bench.weighing[0]}/weigh")
    expect(tablet.locator("main")).to_contain_text("This page is not on the tablet")
    expect(tablet.locator("body")).not_to_contain_text("Aileron")


def test_a_browser_that_keeps_nothing_sends_at_once_and_says_so(open_bench: Bench) -> None:
    context = open_bench.context()
    page = context.new_page()
    page.add_init_script(NO_STORE)
    sign_in(page)
    page.goto(f"/job/{open_bench.weighing[0]}/weigh")
    before = open_bench.readings()
    reading(page, open_bench, "265 g")
    strip(page).to_contain_text("This browser keeps nothing on the tablet")
    assert open_bench.readings() == [*before, "265 g"]
    context.close()
