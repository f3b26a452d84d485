"""Recordings in a real browser: a video comes in, marks are tapped, stopped once, gone on with, read, and kept."""

from __future__ import annotations

import fcntl
import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from hingeline_app.evidence import runs
from hingeline_app.longwork.folder import TURN
from tests.browser.bench import until
from tests.browser.conftest import PASSWORD, PHONE, TABLET, Fenholt, sign_in_by_password
from tests.browser.test_every_page_is_usable import _faults, serious
from tests.browser.with_a_passkey import with_a_passkey
from tests.doors.checkouts import ROOT
from tests.hingeline_app.cli.test_motion_video import SCENE
from tests.hingeline_app.recordings.marked import marks_of
from tests.hingeline_app.recordings.rendered import rendered

pytestmark = [pytest.mark.browser, pytest.mark.slow]
GROWING = ROOT / "examples" / "motion" / "04-growing.csv"
TABLES = {
    "aircraft": "type,registration,serial number\nMerle T2,T2-03,T2-03\n",
    "surfaces": "registration,surface\nT2-03,elevator left half\n",
}


@pytest.fixture(scope="module")
def workplace(browser: Browser, fenholt: Fenholt, tmp_path_factory: pytest.TempPathFactory) -> Fenholt:
    """Fenholt with an aircraft, and its administrator an engineer too."""
    context = browser.new_context(viewport=TABLET, base_url=fenholt.address)  # type: ignore[arg-type]
    page = context.new_page()
    sign_in_by_password(page)
    for kind, text in TABLES.items():
        path = tmp_path_factory.mktemp("tables") / f"{kind}.csv"
        path.write_text(text)
        page.goto("/onboarding")
        page.locator("input[type=file]").set_input_files(path)
        page.get_by_role("button", name="Look at it").click()
        page.get_by_role("button", name="Take it in").click()
    page.goto("/workshop/people")
    page.get_by_role("link", name="Open Mara Tarrow").click()
    page.get_by_text("Give a role").click()
    page.get_by_label("engineer", exact=True).check()
    page.get_by_role("button", name="Give the role").click()
    page.wait_for_load_state()
    context.close()
    return fenholt


@pytest.fixture
def page(workplace: Fenholt, office: Page) -> Page:
    sign_in_by_password(office)
    return office


def say_what_it_is_of(page: Page) -> None:
    """Choose the first of what is offered: nothing is chosen beforehand."""
    page.get_by_label("Which aircraft, surface or job").select_option(index=1)


def take_in(page: Page, path: Path, piece: int = 0) -> None:
    """Send a file; in pieces of so many bytes."""
    page.goto("/recordings/new")
    say_what_it_is_of(page)
    page.locator("input[type=file]").set_input_files(path)
    if piece:
        page.evaluate(f"document.getElementById('the-form').dataset.piece = {piece}")
    page.get_by_role("button", name="Take it in").click()
    page.wait_for_url(re.compile(r"/recordings/\d+$"))


def test_a_video_from_the_camera_to_the_record(page: Page, workplace: Fenholt, tmp_path: Path) -> None:
    """Upload cut off once, a tap for each mark, stop once, start again, the statement, and the same numbers again."""
    cut: list[str] = []

    def cut_once(route: Route) -> None:
        if route.request.method == "PATCH" and not cut:
            cut.append(route.request.headers["upload-offset"])
            route.abort()
        else:
            route.continue_()

    page.route("**/recordings/arriving/*", cut_once)
    path = rendered(tmp_path / "swing.mp4", SCENE)
    take_in(page, path, piece=path.stat().st_size // 3)
    assert cut == ["0"]
    page.unroute("**/recordings/arriving/*")
    page.get_by_role("link", name="Place marks").click()
    # Before the picture is there, its place has another height.
    expect(page.locator("#placing img")).to_have_js_property("complete", True)
    box = page.locator("#placing").bounding_box()
    assert box is not None
    for number, mark in enumerate(marks_of(SCENE, off=0.0).marks, 1):
        assert mark.at is not None
        page.get_by_role("button", name=str(number), exact=True).click()
        page.mouse.move(box["x"] + mark.at[0] * box["width"] / SCENE.width, box["y"] + 8)
        page.mouse.click(
            box["x"] + (mark.at[0] + 0.5) * box["width"] / SCENE.width,
            box["y"] + (mark.at[1] + 0.5) * box["height"] / SCENE.height,
        )
    before = float(page.locator("[name=x_4]").input_value())
    page.locator("#placing").press("ArrowRight")
    page.get_by_role("button", name="Finer").click()
    page.get_by_role("button", name="left", exact=True).click()
    assert float(page.locator("[name=x_4]").input_value()) == pytest.approx(before + 0.75, abs=0.011)
    page.get_by_label("Known length").fill("160 mm")
    page.get_by_label("I know how many").check()
    page.get_by_label("Taken per second").fill("60")
    turn = workplace.serving.data / runs.FOLDER / TURN
    turn.parent.mkdir(exist_ok=True)
    with turn.open("w") as held:
        # Somebody else's video has the turn: this one waits, and is stopped there.
        fcntl.flock(held, fcntl.LOCK_EX)
        page.get_by_role("button", name="Follow the marks").click()
        page.get_by_role("button", name="Stop").click()
        expect(page.get_by_role("button", name="Start again")).to_be_visible(timeout=20_000)
    page.get_by_role("button", name="Start again").click()
    expect(page.locator(".shows strong")).to_have_text("Dying out", timeout=60_000)
    expect(page.locator(".five .is")).to_have_text("dying out")
    page.get_by_role("button", name="Work it out again").click()
    expect(page.locator("main")).to_contain_text("Same to the last digit")
    page.get_by_role("link", name="Replay, slowed").click()
    page.get_by_role("button", name="Step").click()
    expect(page.get_by_role("button", name="Pause")).to_have_attribute("aria-pressed", "true")
    until(page, "async () => (await fetch(document.querySelector('.film image').href.baseVal)).ok")
    page.goto("/recordings")
    expect(page.locator("tbody tr").first).to_contain_text("dying out")
    journal = "".join(each.read_text() for each in (workplace.serving.data / "journal").rglob("*") if each.is_file())
    assert "recording judged" in journal


def a_series(page: Page) -> str:
    """Make a series of the first recording offered, and give its address."""
    page.goto("/recordings/series/new")
    page.get_by_label("the weight fitted").check()
    page.locator("td.typed input").first.fill("120 g")
    page.get_by_role("button", name="Work it out").click()
    expect(page.locator(".shows strong")).to_contain_text("No weight is found at which it stops")
    return page.url


def test_a_table_is_read_without_any_script(browser: Browser, workplace: Fenholt) -> None:
    """Sent, worked out and shown by plain forms."""
    context = browser.new_context(viewport=TABLET, base_url=workplace.address, java_script_enabled=False)  # type: ignore[arg-type]
    page = context.new_page()
    sign_in_by_password(page)
    take_in(page, GROWING)
    page.get_by_role("button", name="Work it out").click()
    expect(page.locator(".shows strong")).to_have_text("Growing")
    context.close()


def test_a_page_that_locks_itself_while_it_sends_waits_for_its_person_and_goes_on(page: Page) -> None:
    """Covered where it stands; nothing is sent meanwhile; a wrong proof opens nothing, the right one goes on."""
    held = sends_and_holds_the_second_piece(page)
    page.evaluate("document.body.dataset.idle = '0.1'")
    cover = page.get_by_role("dialog", name="Locked")
    expect(cover).to_contain_text("The sending waits.")
    expect(cover).to_contain_text("% sent")
    page.evaluate("document.body.dataset.idle = '300'")
    held[0].continue_()
    page.keyboard.press("Escape")
    for typed in ("not the password", PASSWORD):
        page.get_by_label("Your password").fill(typed)
        page.get_by_role("button", name="Unlock").click()
        if typed != PASSWORD:
            expect(cover).to_contain_text("Not unlocked")
            assert page.evaluate("fetch('/bench').then((answer) => answer.redirected)"), "the server is locked too"
    page.wait_for_url(re.compile(r"/recordings/\d+$"))


def sends_and_holds_the_second_piece(page: Page) -> list[Route]:
    """Begin to send a file in three pieces, and hold the second back; give it."""
    held: list[Route] = []

    def hold_the_second(route: Route) -> None:
        is_second = route.request.method == "PATCH" and route.request.headers["upload-offset"] != "0" and not held
        held.append(route) if is_second else route.continue_()

    page.route("**/recordings/arriving/*", hold_the_second)
    page.goto("/recordings/new")
    say_what_it_is_of(page)
    page.locator("input[type=file]").set_input_files(GROWING)
    page.evaluate(f"document.getElementById('the-form').dataset.piece = {GROWING.stat().st_size // 3}")
    with page.expect_request(lambda request: request.method == "PATCH" and request.headers["upload-offset"] != "0"):
        page.get_by_role("button", name="Take it in").click()
    return held


def test_a_cover_opens_only_by_proof_and_a_piece_still_on_its_way_signs_nobody_out(page: Page) -> None:
    """A lock that did not reach the server opens by nothing typed; a piece of before the unlocking is sent anew.

    Too many wrong tries are told as a wait, with its length; a session that is over opens nothing either.
    """
    sends_and_holds_the_second_piece(page)
    page.route("**/lock/now", lambda route: route.abort())
    page.evaluate("document.body.dataset.idle = '0.1'")
    cover = page.get_by_role("dialog", name="Locked")
    expect(cover).to_be_visible()
    page.evaluate("document.body.dataset.idle = '300'")
    page.unroute("**/lock/now")

    def told(words: str) -> None:
        page.get_by_label("Your password").fill(PASSWORD)
        page.get_by_role("button", name="Unlock").click()
        expect(cover).to_contain_text(words)

    page.route("**/lock", lambda route: route.fulfill(status=429, headers={"Retry-After": "541"}))
    told("For 10 min more, until ")
    page.unroute("**/lock")
    signed_in = page.context.cookies()
    page.context.clear_cookies(name=re.compile("session"))
    told("You are signed out")
    page.context.add_cookies(signed_in)  # type: ignore[arg-type]
    for typed in ("anything", PASSWORD):
        page.get_by_label("Your password").fill(typed)
        page.get_by_role("button", name="Unlock").click()
        if typed != PASSWORD:
            expect(cover).to_contain_text("Not unlocked")
    page.wait_for_url(re.compile(r"/recordings/\d+$"))


def test_a_page_that_sends_is_covered_where_another_page_locked(page: Page) -> None:
    """The piece is turned to the door: the page asks for the proof where it stands, a passkey too, and goes on."""
    with_a_passkey(page, "Mara's tablet", PASSWORD)
    held = sends_and_holds_the_second_piece(page)
    another = page.context.new_page()
    another.goto("/bench")
    another.locator("form[action='/lock/now'] button").last.evaluate("button => button.click()")
    another.wait_for_url("**/lock?*")
    held[0].continue_()
    expect(page.get_by_role("dialog", name="Locked")).to_be_visible()
    page.get_by_role("button", name="Use a passkey").click()
    page.wait_for_url(re.compile(r"/recordings/\d+$"))
    another.close()


def test_a_refused_file_is_told_in_words(page: Page, tmp_path: Path) -> None:
    """A file of another kind: the reason stands on the page, and what was chosen beside it is still chosen."""
    path = tmp_path / "sheet.pdf"
    path.write_bytes(b"%PDF-1.7\n\x00")
    page.goto("/recordings/new")
    say_what_it_is_of(page)
    page.get_by_label("Remark").fill("idle, on the ground")
    page.locator("input[type=file]").set_input_files(path)
    page.get_by_role("button", name="Take it in").click()
    expect(page.locator("#faults")).to_contain_text("a video, a sound or a table")
    expect(page.get_by_label("Remark")).to_have_value("idle, on the ground")


def test_the_devices_own_sensor_becomes_a_table(page: Page) -> None:
    """Events of the motion sensor, given by the test: a table with its rate comes in, and can be worked out."""
    page.goto("/recordings/sensors")
    page.get_by_role("button", name="Start").click()
    expect(page.get_by_role("button", name="Stop")).to_be_visible()
    page.evaluate(FELT)
    page.get_by_role("button", name="Stop").click()
    expect(page.locator("#sensor-words")).to_contain_text("rows at 60.0 a second")
    say_what_it_is_of(page)
    page.get_by_role("button", name="Take it in").click()
    page.wait_for_url(re.compile(r"/recordings/\d+$"))
    page.get_by_role("button", name="Work it out").click()
    expect(page.locator(".shows strong")).to_have_text("Dying out")
    expect(page.locator(".shows .meaning")).to_contain_text("6.0")


# A tap at 6 Hz that dies out, as the browser would report it: events with their own times.
FELT = """() => { for (let index = 0; index < 360; index++) {
  const time = index / 60, felt = index < 60 ? 0 : Math.exp(-1.2 * (time - 1)) * Math.sin(12 * Math.PI * (time - 1));
  const event = new Event("devicemotion");
  Object.defineProperty(event, "timeStamp", { value: 1000 * time + 5000 });
  Object.defineProperty(event, "accelerationIncludingGravity",
    { value: { x: 0.02 * Math.sin(37 * index), y: 0.01 * Math.cos(11 * index),
      z: 9.81 + 3 * felt + 0.02 * Math.sin(7.7 * index) } });
  dispatchEvent(event); } }"""


@pytest.mark.parametrize("size", [TABLET, PHONE], ids=["tablet", "phone"])
def test_nothing_serious_nothing_cut(browser: Browser, workplace: Fenholt, size: Any, tmp_path: Path) -> None:
    """No serious finding in any light, no sideways scrolling, no target under 44 px: list, forms, marks, statement."""
    context = browser.new_context(viewport=size, base_url=workplace.address)
    page = context.new_page()
    sign_in_by_password(page)
    take_in(page, GROWING)
    page.get_by_role("button", name="Work it out").click()
    shown = page.url
    take_in(page, rendered(tmp_path / "swing.mp4", SCENE))
    addresses = ["/recordings", "/recordings/new", "/recordings/sensors", shown, page.url, f"{page.url}/marks"]
    addresses += [f"{shown}/replay", f"{shown}/tap", "/recordings/series/new", a_series(page)]
    faults = {address: found for address in addresses if (found := _faults(page, address))}
    for light in ("day", "night", "sun"):
        context.add_cookies([{"name": "light", "value": light, "url": workplace.address}])
        page.goto(shown)
        faults |= {f"{shown} {light}": found for _ in "1" if (found := serious(page))}
    context.close()
    assert faults == {}
