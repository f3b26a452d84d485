"""Entries that wait on a tablet and meet: another person's, each other, a refusal. None is lost, none wins unseen."""

from __future__ import annotations

import io
from uuid import UUID

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from tests.browser.bench import ENTER, Bench, detail, enter, sign_in
from tests.browser.conftest import PHONE
from tests.browser.tablet_in_the_hangar import FORM, all_kept, bench, open_bench, reading, strip, tablet

__all__ = ["bench", "open_bench", "tablet"]

pytestmark = [pytest.mark.browser, pytest.mark.slow]


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
