"""Numbers come in by the pad, by keys, or from a scale's line; a left hand, a comma; keys that lead through pages."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.bench import PINS, Bench, bench_in, detail, enter, sign_in
from tests.browser.conftest import PHONE
from tests.browser.test_every_page_is_usable import OVERFLOW, serious

pytestmark = [pytest.mark.browser, pytest.mark.slow]
# A serial port that says what a test tells it to.
SCALE = """(() => {
  const port = { open: async (how) => { globalThis.opened = how; },
    readable: new ReadableStream({ start(control) {
      globalThis.scaleSays = (text) => control.enqueue(new TextEncoder().encode(text)); } }) };
  const serial = { getPorts: async () => [port], requestPort: async () => port };
  Object.defineProperty(navigator, 'serial', { value: serial });
})()"""
PAD_SMALL = """() => [...document.querySelectorAll('[data-number-pad] button')].filter((each) => each.offsetParent)
  .map((each) => each.getBoundingClientRect()).filter((box) => box.height < 54 || box.width < 48).length"""


@pytest.fixture(scope="module")
def bench(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    with bench_in(tmp_path_factory.mktemp("pad"), browser) as found, found.serving():
        yield found


@pytest.fixture
def weigh(bench: Bench) -> Iterator[Page]:
    context = bench.context(has_touch=True)
    context.add_init_script(SCALE)
    page = context.new_page()
    sign_in(page)
    page.goto(f"/job/{bench.weighing[0]}/weigh")
    yield page
    context.close()


def press(page: Page, keys: str) -> None:
    for key in keys:
        page.locator(f"[data-number-pad] [data-key='{key}']").click()


def test_digits_of_a_keyboard_go_into_the_field_of_the_pad_where_nothing_has_the_focus(bench: Bench) -> None:
    """A PIN that was typed as soon as its page stood there went nowhere; a reading was 25 tabs away."""
    context = bench.context()
    page = context.new_page()
    page.goto("/sign-in")
    page.get_by_role("link", name="Jon Ashby").click()
    page.wait_for_url(re.compile("/sign-in/[0-9a-f-]{36}"))
    page.keyboard.type(PINS["jon"])
    page.keyboard.press("Enter")
    page.wait_for_url("**/bench")
    page.goto(f"/job/{bench.weighing[0]}/weigh")
    page.keyboard.type("205")
    expect(page.locator("#typed")).to_have_value("205")
    for typed in ("-5", ".84", ",84"):
        page.locator("#typed").fill("")
        page.evaluate("document.activeElement.blur()")
        page.keyboard.type(typed)
        expect(page.locator("#typed")).to_have_value(typed)
    context.close()


def test_the_pad_types_a_reading_and_the_systems_keyboard_stays_away(weigh: Page, bench: Bench) -> None:
    """Digits, rubbing out, one decimal sign only; keys 54 px high or more; the pad adds what it typed."""
    before = bench.readings()
    assert weigh.get_by_role("textbox", name="Reading").get_attribute("inputmode") == "none"
    assert weigh.evaluate(PAD_SMALL) == 0
    press(weigh, "2057")
    weigh.locator("[data-number-pad] [data-key=back]").click()
    weigh.locator("[data-number-pad] [data-key=decimal]").click()
    weigh.locator("[data-number-pad] [data-key=decimal]").click()
    expect(weigh.locator("#typed")).to_have_value("205.")
    weigh.locator("[data-number-pad] [data-key=back]").click()
    weigh.get_by_role("button", name="Add reading").click()
    assert bench.come_to([*before, "205 g"])


def test_a_left_hand_and_a_comma_are_set_for_the_tablet(weigh: Page, bench: Bench) -> None:
    """The comma is on the pad and is read; the act moves to the other side."""
    right = weigh.locator(".act .undo").bounding_box()
    weigh.goto("/workshop/this-tablet")
    weigh.get_by_label("left: buttons and entries at the left").check()
    weigh.get_by_label("comma: 0,840").check()
    weigh.get_by_role("button", name="Set it so").click()
    expect(weigh.get_by_label("comma: 0,840")).to_be_checked()
    weigh.goto(f"/job/{bench.weighing[0]}/weigh")
    left = weigh.locator(".act .undo").bounding_box()
    assert right is not None
    assert left is not None
    assert left["x"] > right["x"] + 300
    before = bench.readings()
    weigh.locator("#unit").select_option("kg")
    weigh.locator("[data-number-pad] [data-key='0']").click()
    weigh.locator("[data-number-pad] [data-key=decimal]").click()
    press(weigh, "21")
    digits = [weigh.locator(f"[data-number-pad] [data-key='{key}']").bounding_box() for key in "789"]
    assert digits[0]["x"] < digits[1]["x"] < digits[2]["x"]  # type: ignore[index]
    expect(weigh.locator("#typed")).to_have_value("0,21")
    weigh.get_by_role("button", name="Add reading").click()
    assert bench.come_to([*before, "0,21 kg"])


def test_a_steady_line_of_the_scale_goes_into_the_field_and_no_other(weigh: Page, bench: Bench) -> None:
    """Moving and garbled lines are said; three alike fill the field; the same weight is not taken twice unlifted."""
    before = bench.readings()
    says, typed = weigh.locator("[data-scale-says]"), weigh.locator("#typed")
    expect(says).to_contain_text("Nothing came yet")
    assert weigh.evaluate("opened.baudRate") == 9600
    weigh.evaluate("scaleSays('US,GS,+  0.198 kg\\r\\n')")
    expect(says).to_contain_text("Not steady")
    weigh.evaluate("scaleSays('#@!\\r\\n')")
    expect(says).to_contain_text("Not understood")
    expect(typed).to_have_value("")
    weigh.evaluate("scaleSays('+  205 g\\r\\n+  205 g\\r\\n+  2')")
    weigh.evaluate("scaleSays('05 g\\r\\n')")
    expect(typed).to_have_value("205")
    expect(weigh.locator("#unit")).to_have_value("g")
    weigh.keyboard.press("Escape")
    weigh.get_by_role("button", name="Add reading").click()
    assert bench.come_to([*before, "205 g"])
    weigh.evaluate("scaleSays('205 g\\n'.repeat(4))")
    expect(typed).to_have_value("")
    weigh.evaluate("scaleSays('0 g\\n')")
    typed.fill("19")
    weigh.evaluate("scaleSays('210 g\\n'.repeat(4))")
    expect(says).to_contain_text("210 g")
    expect(typed).to_have_value("19")
    assert bench.readings() == [*before, "205 g"]


def test_a_scale_that_types_like_a_keyboard_adds_a_reading_by_enter(weigh: Page, bench: Bench) -> None:
    before = bench.readings()
    weigh.locator("#typed").focus()
    weigh.keyboard.type("205")
    weigh.keyboard.press("Enter")
    assert bench.come_to([*before, "205 g"])


def test_keys_lead_through_steps_and_rooms_but_not_while_typing(weigh: Page, bench: Bench) -> None:
    number = bench.weighing[0]
    weigh.locator("#typed").focus()
    weigh.keyboard.type("]")
    assert weigh.url.endswith(f"/job/{number}/weigh")
    weigh.locator("#typed").fill("")
    weigh.locator("#sheet").focus()
    weigh.keyboard.press("]")
    weigh.wait_for_url(f"**/job/{number}/correct")
    weigh.keyboard.press("[")
    weigh.wait_for_url(f"**/job/{number}/weigh")
    weigh.keyboard.press("?")
    expect(weigh.get_by_role("dialog", name="Keys")).to_be_visible()
    assert serious(weigh) == []
    weigh.keyboard.press("Escape")
    weigh.keyboard.press("g")
    weigh.keyboard.press("w")
    weigh.wait_for_url("**/why-balance*")
    weigh.keyboard.press("g")
    weigh.keyboard.press("b")
    weigh.wait_for_url("**/bench")
    weigh.keyboard.press("g")
    weigh.keyboard.press("e")
    weigh.wait_for_url("**/records")
    weigh.goto("/bench?show=mine")
    weigh.get_by_role("button", name="Light").focus()
    weigh.keyboard.press("Enter")
    expect(weigh.locator("html")).to_have_attribute("data-light", "night")
    expect(weigh.get_by_role("button", name="Light")).to_be_focused()
    assert weigh.url.endswith("?show=mine"), "the page is the one that was looked at"


def test_what_waits_is_usable_on_a_phone_in_every_light(bench: Bench) -> None:
    """The strip with a conflict's choice and a refused entry: nothing serious, nothing cut, in three lights."""
    number, measurement = bench.weighing
    for light in ("day", "night", "sun"):
        context = bench.context(PHONE)
        context.add_cookies([{"name": "light", "value": light, "url": bench.address}])
        page = context.new_page()
        sign_in(page)
        page.goto(f"/job/{number}/arrive")
        detail(page, number, "arrive.remarks", "x", light)
        enter(page, number, kind="reading", measurement=measurement, typed="8x g")
        expect(page.locator("#waiting .refused")).to_be_visible()
        expect(page.locator("#waiting .moved")).to_be_visible()
        assert serious(page) == []
        assert page.evaluate(OVERFLOW) <= 0
        context.close()


COVERED = """() => {
  const has = document.activeElement, box = has.getBoundingClientRect();
  const at = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
  const own = [has, ...(has.labels ?? [])].some((each) => each.contains(at) || at?.contains(each));
  return own || has.matches("main, body") ? "" : `${has.tagName} ${has.id} ${has.textContent.trim()}`; }"""


def test_what_has_the_keyboard_is_never_covered_on_a_phone(weigh: Page) -> None:
    """Title block and action bar stay on a phone: forty presses of Tab, and what has the keyboard is always seen."""
    weigh.set_viewport_size(PHONE)  # type: ignore[arg-type]
    covered = []
    for _ in range(40):
        weigh.keyboard.press("Tab")
        covered.append(weigh.evaluate(COVERED))
    assert [each for each in covered if each] == []


def test_the_keyboard_stays_after_a_save(weigh: Page, bench: Bench) -> None:
    """A control that is drawn anew has it again; where it is gone its part has it, and no neighbour that acts."""
    weigh.goto(f"/job/{bench.weighing[0]}/refit")
    weigh.get_by_role("button", name="Not needed").first.focus()
    part = weigh.evaluate("document.activeElement.closest('[data-live][id]').id")
    weigh.evaluate("document.activeElement.remove(); document.dispatchEvent(new CustomEvent('entries:fresh'))")
    assert weigh.evaluate("document.activeElement.id") == part
    field = weigh.locator("input[name=value]:visible").first
    field.focus()
    weigh.evaluate("""() => { const has = document.activeElement.closest('[data-live]');
      has.replaceWith(has.cloneNode(true)); document.dispatchEvent(new CustomEvent('entries:fresh')); }""")
    expect(field).to_be_focused()


def test_a_choice_has_the_edge_that_fields_have_in_every_light(weigh: Page) -> None:
    """The browser's own edge is one thin grey, in the sun too: who stands in it saw no box to tick."""
    for light in ("day", "night", "sun"):
        weigh.context.add_cookies([{"name": "light", "value": light, "url": weigh.url}])
        weigh.goto("/workshop/this-tablet")
        edge = weigh.evaluate(EDGES)
        assert edge["ring"] == edge["field"], light
        assert edge["width"] >= 2


def test_a_refused_field_loses_its_mark_once_it_is_changed_and_has_it_again_as_it_was_sent(weigh: Page) -> None:
    """The mark stayed while the field was filled, as if what was typed were wrong too."""
    weigh.goto("/workshop/scales/add")
    weigh.get_by_label("Name of the scale").fill("HL-9")
    weigh.locator("#sheet form, form#the-form").first.evaluate("(form) => { form.noValidate = true; }")
    weigh.get_by_role("button", name="Add", exact=True).click()
    field = weigh.locator(".field.wrong").first
    identifier = field.locator("input").get_attribute("id")
    expect(field.locator(".fault")).to_be_visible()
    kept = weigh.locator(f".field:has(#{identifier})")
    kept.locator("input").fill("5 g")
    expect(kept).not_to_have_class("field wrong")
    expect(kept.locator(".fault")).to_be_visible()
    kept.locator("input").fill("")
    expect(kept).to_have_class("field wrong")


EDGES = """() => {
  const ring = getComputedStyle(document.querySelector("input[type=radio]:not(:checked)"));
  const probe = document.body.appendChild(Object.assign(document.createElement("i"), {}));
  probe.style.color = "var(--edge)";
  return {ring: ring.borderTopColor, field: getComputedStyle(probe).color, width: parseFloat(ring.borderTopWidth)};
}"""
