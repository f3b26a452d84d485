"""A tablet whose connection, session and person come and go: nothing is lost, nothing is sent twice or as another."""

from __future__ import annotations

import contextlib
import io
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from PIL import Image
from playwright.sync_api import Browser, Error, Page, expect

from tests.browser.bench import ENTER, NAMES, Bench, bench_in, detail, enter, keeps_pages, sign_in, until
from tests.browser.conftest import PHONE, TABLET

pytestmark = [pytest.mark.browser, pytest.mark.slow]
PATIENT = 20000
WORKS = "navigator.serviceWorker.controller.scriptURL"
NO_STORE = "Object.defineProperty(globalThis, 'indexedDB', {value: {open() { throw new Error('none'); }}})"
FORM = """([address, measurement]) => {
  const form = document.createElement('form');
  form.method = 'post'; form.action = address; form.dataset.entry = ''; form.id = 'reading-form';
  form.innerHTML = `<input type="hidden" name="kind" value="reading">
    <input type="hidden" name="measurement" value="${measurement}">
    <label for="typed">Reading</label><input id="typed" name="typed" required data-number><button>Add reading</button>`;
  document.querySelector('main').prepend(form); }"""


@pytest.fixture(scope="module")
def bench(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    with bench_in(tmp_path_factory.mktemp("bench"), browser) as found:
        yield found


@pytest.fixture(scope="module")
def open_bench(bench: Bench) -> Iterator[Bench]:
    with bench.serving():
        yield bench


@pytest.fixture
def tablet(open_bench: Bench) -> Iterator[Page]:
    """Jon at the bench's tablet, on the weighing that is under way."""
    context = open_bench.context(has_touch=True)
    page = context.new_page()
    sign_in(page)
    page.goto(f"/job/{open_bench.weighing[0]}/weigh")
    yield page
    context.close()


def strip(page: Page) -> Any:
    return expect(page.locator("#waiting"), "the strip")


def reading(page: Page, bench: Bench, typed: str) -> None:
    number, measurement = bench.weighing
    enter(page, number, kind="reading", measurement=measurement, place="support 1", typed=typed)


def all_kept(page: Page) -> None:
    until(page, "async () => (await (await import('/static/web/entries_store.js')).all()).length === 0")
    expect(page.locator("#waiting")).to_be_hidden(timeout=PATIENT)


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


def test_two_taps_in_a_hurry_are_asked_about(tablet: Page, open_bench: Bench) -> None:
    """The same reading within 0.4 s is kept once and asked about; two people of one mind may add it."""
    number, measurement = open_bench.weighing
    before = open_bench.readings()
    tablet.evaluate(FORM, [f"/job/{number}/entry", measurement])
    twice = """() => { const form = document.getElementById('reading-form');
      for (let turn = 0; turn < 2; turn += 1) { form.elements.typed.value = '245 g'; form.requestSubmit(); } }"""
    tablet.evaluate(twice)
    strip(tablet).to_contain_text("The same reading came twice within half a second: 245 g.")
    tablet.get_by_role("button", name="It was one").click()
    all_kept(tablet)
    assert open_bench.come_to([*before, "245 g"])


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


@pytest.mark.fault("F09")
def test_of_two_rows_that_are_written_whole_either_may_hold(tablet: Page, open_bench: Bench) -> None:
    """A row is shown by what it says, and the one that was chosen is taken: never "[object Object]"."""
    number = open_bench.weighing[0]
    other = open_bench.context(PHONE)
    second = other.new_page()
    sign_in(second, "mara")
    second.goto(f"/job/{number}/arrive")
    for check, choice in (("sense", "Yours holds"), ("stops", "Theirs holds")):
        enter(tablet, number, kind="refit-seen", check=check, finding="right", was="null")
        all_kept(tablet)
        enter(second, number, kind="refit-seen", check=check, finding="not right", was="null")
        strip(second).to_contain_text("finding: not right")
        second.get_by_role("button", name=choice).click()
        all_kept(second)
    said = [each for each in open_bench.said("job detail set") if each["place"] == "refit.values.sense"]
    assert [each["now"]["finding"] for each in said] == ["right", "not right"]
    assert '"finding":"not right"' in open_bench.said("value set aside")[-1]["set aside"]
    other.close()


@pytest.mark.fault("F09")
def test_two_tablets_set_the_same_detail_and_a_person_picks(tablet: Page, open_bench: Bench) -> None:
    """Both values are shown; whichever holds, both stay in the ledger."""
    number = open_bench.weighing[0]
    other = open_bench.context(PHONE)
    second = other.new_page()
    sign_in(second, "mara")
    second.goto(f"/job/{number}/arrive")
    for place in ("arrive.remarks", "limits.version"):
        detail(tablet, number, place, "", "two screws new")
        all_kept(tablet)
        detail(second, number, place, "", "three screws new")
        strip(second).to_contain_text("Another person changed this too")
        strip(second).to_contain_text("two screws new")
        second.get_by_role("button", name="Yours holds" if place.endswith("remarks") else "Theirs holds").click()
        all_kept(second)
    said = [each for each in open_bench.said("job detail set") if each["place"] == "arrive.remarks"]
    assert [(each["was"], each["now"]) for each in said] == [(None, "two screws new"),
                                                            ("two screws new", "three screws new")]  # fmt: skip
    aside = open_bench.said("value set aside")[-1]
    assert (aside["place"], aside["set aside"], aside["stands"]) == ("limits.version", "three screws new",
                                                                    "two screws new")  # fmt: skip
    other.close()


def test_readings_of_two_tablets_add_up(tablet: Page, open_bench: Bench) -> None:
    """Two persons read the same scale, one of them without a connection for a while: every reading counts once."""
    before = open_bench.readings()
    other = open_bench.context(PHONE)
    second = other.new_page()
    sign_in(second, "mara")
    second.goto(f"/job/{open_bench.weighing[0]}/weigh")
    second.context.set_offline(True)
    reading(second, open_bench, "190 g")
    reading(tablet, open_bench, "195 g")
    all_kept(tablet)
    second.context.set_offline(False)
    reading(second, open_bench, "200 g")
    all_kept(second)
    assert open_bench.readings() == [*before, "195 g", "190 g", "200 g"]
    tablet.reload()
    assert tablet.locator("#w-strip li:not(.withdrawn)").count() == len(before) + 3
    other.close()


def test_what_is_refused_is_shown_as_it_was_typed_and_mended(tablet: Page, open_bench: Bench) -> None:
    """While its field holds another number it stands in the strip, through a reload, until it is mended."""
    before = open_bench.readings()
    tablet.locator("#typed").fill("25")
    reading(tablet, open_bench, "84x g")
    strip(tablet).to_contain_text("Not kept: 84x g")
    tablet.reload()
    strip(tablet).to_contain_text("Not kept: 84x g")
    assert open_bench.readings() == before
    tablet.get_by_label("What was entered: mend it here").fill("250 g")
    tablet.get_by_role("button", name="Enter it so").click()
    all_kept(tablet)
    assert open_bench.come_to([*before, "250 g"])


def test_a_refused_form_of_several_fields_is_mended_field_by_field(tablet: Page, open_bench: Bench) -> None:
    """Without their units: the form was emptied, and only the first of six numbers could be mended in the strip."""
    tablet.goto(f"/job/{open_bench.weighing[0]}/refit")
    form = tablet.locator("form:has(input[value=travel_up])").first
    numbers = {"Measured": "24.6", "± of the instrument": "0.5", "Lower limit": "24", "Upper limit": "26"}
    for label, typed in {**numbers, "Instrument": "Inclinometer 2", "Document, issue, page": "DS 7, C, 5"}.items():
        form.get_by_label(label, exact=True).fill(typed)
    form.get_by_role("button", name="Compare").click()
    refused = tablet.locator("#waiting .refused")
    expect(refused.locator("p")).to_have_count(4)
    for label in numbers:
        refused.get_by_label(label, exact=True).fill(f"{numbers[label]} deg")
    expect(refused.get_by_label("Instrument", exact=True)).to_have_value("Inclinometer 2")
    refused.get_by_role("button", name="Enter it so").click()
    expect(tablet.locator("#v-refit")).to_contain_text("24.6 deg ± 0.5 deg")
    all_kept(tablet)


def test_refused_wall_readings_stay_a_line_each(tablet: Page, open_bench: Bench) -> None:
    """Mended in a field of one line they ran together: of two walls the thinner one was gone, and nothing was said."""
    tablet.goto(f"/job/{open_bench.weighing[0]}/arm")
    form = tablet.locator("form:has(input[value=wall])").first
    tablet.evaluate("document.querySelectorAll('#v-points details').forEach((each) => (each.open = true))")
    form.get_by_label("Seen", exact=True).select_option("none seen")
    form.get_by_label("Looked for by", exact=True).select_option("ultrasonic gauge")
    form.get_by_label("Wall readings, one place a line").fill("root: 1.02 mm\nmiddle: 1.29 mm")
    form.get_by_role("button", name="Keep it").click()
    refused = tablet.locator("#waiting .refused")
    expect(refused.get_by_label("Wall readings, one place a line")).to_have_value("root: 1.02 mm\nmiddle: 1.29 mm")
    refused.get_by_label("± of the gauge (k = 2)").fill("0.04 mm")
    refused.get_by_role("button", name="Enter it so").click()
    expect(tablet.locator("#v-points")).to_contain_text("smallest of 2: 1.020 ± 0.040 mm")
    all_kept(tablet)


def test_undo_takes_back_the_last_reading_and_what_waits_here(tablet: Page, open_bench: Bench) -> None:
    """Kept: it is withdrawn and stays; waiting: it leaves the tablet; double press: one is undone."""
    for typed in ("250 g", "255 g"):
        reading(tablet, open_bench, typed)
    all_kept(tablet)
    before = open_bench.readings()
    assert before[-1] == "255 g"
    expect(tablet.locator("#undo")).to_contain_text(f"Undo: reading {len(before)}")
    tablet.locator("#undo button").dblclick()
    expect(tablet.locator("#undo")).to_contain_text(f"Undo: reading {len(before) - 1}")
    assert open_bench.come_to(before[:-1])
    tablet.context.set_offline(True)
    reading(tablet, open_bench, "260 g")
    expect(tablet.locator("#undo")).to_contain_text("Undo: 260 g")
    tablet.locator("#undo button").click()
    strip(tablet).not_to_contain_text("1 entry waits")
    tablet.context.set_offline(False)
    all_kept(tablet)
    assert open_bench.readings() == before[:-1]


def test_a_change_of_what_waits_follows_on_it(tablet: Page, open_bench: Bench) -> None:
    """A detail changed twice without a connection meets no conflict with itself."""
    number = open_bench.weighing[0]
    tablet.context.set_offline(True)
    detail(tablet, number, "limits.option", "", "two")
    detail(tablet, number, "limits.option", "", "three")
    tablet.context.set_offline(False)
    all_kept(tablet)
    told = open_bench.said("job detail set")
    said = [(each["was"], each["now"]) for each in told if each["place"] == "limits.option"]
    assert said == [(None, "two"), ("two", "three")]


def test_a_row_that_is_written_whole_and_changed_twice_follows_on_itself(tablet: Page, open_bench: Bench) -> None:
    """Without a connection, by two kinds of entry: each row is the last one entered, and none is asked about."""
    number = open_bench.weighing[0]
    tablet.context.set_offline(True)
    for finding in ("right", "not right", "right"):
        enter(tablet, number, kind="refit-seen", check="locking", finding=finding, was="null")
    tablet.context.set_offline(False)
    all_kept(tablet)
    said = [each for each in open_bench.said("job detail set") if each["place"] == "refit.values.locking"]
    assert [each["now"]["finding"] for each in said] == ["right", "not right", "right"]


def test_a_choice_and_a_step_that_waited_and_changed_follow_on_themselves(tablet: Page, open_bench: Bench) -> None:
    """Limits chosen twice, a step held and then not needed, without a connection: the last of each stands."""
    number = open_bench.weighing[0]
    (first,) = open_bench.asked("SELECT limit_row_id FROM records_job WHERE number = ?", number)[0]
    others = "SELECT identifier FROM records_limitrow WHERE state != 'superseded' AND identifier != ? LIMIT 2"
    rows = [str(UUID(each)) for (each,) in open_bench.asked(others, first)]
    tablet.context.set_offline(True)
    for row in rows:
        enter(tablet, number, kind="choose-limits", row=row, was=str(UUID(first)))
    for state in ("held", "not needed"):
        enter(tablet, number, kind="step-state", about="refit", state=state, was="", reason=f"{state}: cable on order")
    tablet.context.set_offline(False)
    all_kept(tablet)
    assert [str(UUID(each["now"])) for each in open_bench.said("limits chosen")[-2:]] == rows
    said = [each["now"] for each in open_bench.said("job detail set") if each["place"].startswith("refit.")]
    assert said[-4:] == ["held: cable on order", "held", "not needed: cable on order", "not needed"]


def test_an_aim_and_amounts_that_waited_are_one_plan(tablet: Page, open_bench: Bench) -> None:
    """Two kinds of entry write it: without a connection the second follows on the first."""
    number = open_bench.weighing[0]
    tablet.context.set_offline(True)
    enter(tablet, number, kind="aim", target="middle", was="null")
    enter(tablet, number, kind="amounts", amounts="[]", was="null")
    tablet.context.set_offline(False)
    all_kept(tablet)
    said = [each["now"] for each in open_bench.said("job detail set") if each["place"] == "correct.plan"]
    assert said[-2:] == [{"target": "middle"}, {"amounts": {}}]


def test_new_marks_of_a_photograph_that_waited_are_as_many_places(tablet: Page, open_bench: Bench) -> None:
    """Each is shown its own number while it waits; one under a number that is taken is numbered anew; none is asked."""
    number = open_bench.weighing[0]
    tablet.goto(f"/job/{number}/arrive")
    picture = io.BytesIO()
    Image.new("RGB", (120, 90), "brown").save(picture, "JPEG")
    taken = {"name": "lug.jpg", "mimeType": "image/jpeg", "buffer": picture.getvalue()}
    tablet.get_by_label("Photographs", exact=True).set_input_files(taken)  # type: ignore[arg-type]
    tablet.get_by_label("What it shows").fill("lug, to be marked")
    tablet.get_by_role("button", name="Add", exact=True).click()
    tablet.get_by_alt_text("lug, to be marked").click()
    tablet.wait_for_url("**/marks")
    tablet.context.set_offline(True)
    both = ("1 pit at the root", "a scratch beside it")
    for words in both:
        tablet.locator("#mark-words").fill(words)
        tablet.get_by_role("button", name="Mark it").click()
    strip(tablet).to_contain_text("2 entries wait here")
    expect(tablet.get_by_role("heading", name="Mark 3")).to_be_visible()
    photograph = tablet.locator("#new-mark input[name=photograph]").get_attribute("value") or ""
    taken_too = {"kind": "photo-mark", "photograph": photograph, "number": "1", "x": "9", "y": "9", "was": "null"}
    assert tablet.evaluate(ENTER, [f"/job/{number}/entry", {**taken_too, "words": "a dent"}])
    tablet.context.set_offline(False)
    all_kept(tablet)
    told = [each["now"] for each in open_bench.said("job detail set") if each["place"].startswith("photograph_mark.")]
    assert [each["words"] for each in told if each] == [*both, "a dent"]
    expect(tablet.get_by_role("heading", name="Mark 4")).to_be_visible()


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
    page.add_init_script(
        "Object.defineProperty(globalThis, 'indexedDB', {value: {open() { throw new Error('none'); }}})"
    )
    sign_in(page)
    page.goto(f"/job/{open_bench.weighing[0]}/weigh")
    before = open_bench.readings()
    reading(page, open_bench, "265 g")
    strip(page).to_contain_text("This browser keeps nothing on the tablet")
    assert open_bench.readings() == [*before, "265 g"]
    context.close()
