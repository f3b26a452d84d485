"""The step Weigh: live from the records, recorded when the engineer goes on, the same number as the command to the
last digit; what is wrong withdraws the statement at once.
"""

from __future__ import annotations

import html
import json
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from hingeline.balance import weigh
from hingeline_app.cli.main import main
from hingeline_app.files.weighing_file import read_weighing
from hingeline_app.records.actions.equipment import add_scale, add_stand
from hingeline_app.records.actions.jobs import choose_limits
from hingeline_app.records.actions.limits import enter_limits
from hingeline_app.records.models import Entry, Job, Measurement, Reading, Result, Surface
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.printed import words
from tests.hingeline_app.web.weigh_page import READINGS, begun, context, entered, page, read

pytestmark = pytest.mark.django_db


@pytest.mark.slow
def test_an_emptied_tare_is_refused_and_one_that_was_never_entered_is_told(fenholt: Fenholt) -> None:
    """Nobody said 0: at the beginning, while it is set; what is kept without one says what counts."""
    expected = "what the scale shows without the surface"
    status, said = entered(
        fenholt, kind="begin-weighing", way="push", **{"support.0.arm": "255 mm", "support.0.tare": " "}
    )
    assert status == 422
    assert expected in said["faults"][0]["says"]
    weighing = begun(fenholt, **{"support.0.tare": "0 g"})
    place = {"measurement": str(weighing.pk), "place": "support.0.tare", "was": "0 g", "value": ""}
    assert entered(fenholt, kind="set-up", **place)[0] == 422
    read(fenholt, weighing, *READINGS)
    assert "no tare is entered: 0 counts" not in page(fenholt)
    Measurement.objects.filter(pk=weighing.pk).update(set_up=weighing.set_up | {"support": [
        {name: each for name, each in weighing.set_up["support"][0].items() if name != "tare"}]})  # fmt: skip
    assert "no tare is entered: 0 counts" in page(fenholt)
    hung = entered(fenholt, kind="begin-weighing", way="hung mass", **{"support.0.arm": "", "support.0.tare": ""})
    assert hung[0] == 200, "where a known mass levels it there is no scale to have a tare"


@pytest.mark.slow
def test_page_command_and_python_give_the_same_number(
    fenholt: Fenholt, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The file of the page, weighed by the command and from Python: the same to the last digit."""
    read(fenholt, begun(fenholt), *READINGS)
    file = fenholt.client("jon").get(f"/job/{fenholt.job}/weighing/1.toml")
    (tmp_path / "weighing.toml").write_bytes(file.content)
    assert main(["weigh", str(tmp_path / "weighing.toml"), "--json"]) == 0
    by_command = json.loads(capsys.readouterr().out)["static_moment"]
    by_python = weigh(read_weighing(file.content).weighing).static_moment
    on_page = context(fenholt)["found"].document["static_moment"]
    assert on_page["value"] == by_command["value"] == by_python.value
    assert on_page["expanded_uncertainty"] == by_command["expanded_uncertainty"] == by_python.expanded_uncertainty
    # 0.842 kg x 9.80665 m/s^2 x 0.255 m (arithmetic, no source)
    assert by_python.value == pytest.approx(0.842 * 9.80665 * 0.255, rel=1e-12)


@pytest.mark.slow
def test_what_is_missing_withdraws_the_statement_and_says_what(fenholt: Fenholt) -> None:
    weighing = begun(fenholt, **{"support.0.arm": ""})
    read(fenholt, weighing, *READINGS)
    assert "No statement: arm is missing" in page(fenholt)
    fields = {"kind": "set-up", "measurement": str(weighing.pk), "place": "support.0.arm", "was": ""}
    assert entered(fenholt, value="255,0 mm", **fields)[0] == 200
    weighing.refresh_from_db()
    assert weighing.set_up["support"][0]["arm"] == "255.0 mm"
    assert "No statement: limits are missing" in page(fenholt)


def test_what_the_level_of_the_stand_asks_for_is_said_before_and_named_as_its_field_with_the_way_to_it(
    fenholt: Fenholt,
) -> None:
    """A person who read "vertical offset is missing" found no field of that name on the page."""
    stand = add_stand(fenholt.mate, "Knife edge 7", masses=[], uncertainty={"level": {"limit": "0.5 deg"}})
    label = "Height of the centre of gravity over the hinge line; below is minus"
    before = html.unescape(page(fenholt))
    assert "A statement on Knife edge 7 needs it, and the mass: its level has a ±." in before
    read(fenholt, begun(fenholt, stand=str(stand.pk)), *READINGS)
    said = html.unescape(page(fenholt))
    assert "No statement: height of the centre of gravity is missing" in said
    assert '<a class="tall" href="#set-surface.vertical_offset">height of the centre of gravity: ' in said
    assert f'<label for="set-surface.vertical_offset">{label}</label>' in said
    assert label in before


def test_what_is_for_paper_alone_is_taken_anew_with_every_entry(fenholt: Fenholt) -> None:
    """A page that stood open while it was weighed printed no caution, and the hour at which it was opened."""
    caution = "A surface inside its static limits can still flutter"
    weighing = begun(fenholt)
    before = page(fenholt)
    assert '<div class="on-paper across" id="w-cautions" data-live>' in before
    assert caution not in before
    read(fenholt, weighing, *READINGS)
    shown = page(fenholt)
    assert caution in shown.partition('id="w-cautions" data-live>')[2].partition("</div>")[0]
    assert '<p class="on-paper" id="as-of" data-live>As of ' in shown


def test_a_form_that_begins_a_weighing_is_mended_in_one_go(fenholt: Fenholt) -> None:
    """Three numbers without a unit were told one after the other, each on a page of its own."""
    typed = {"support.0.arm": "255", "surface.mass": "4.1", "surface.vertical_offset": "-20"}
    status, said = entered(fenholt, kind="begin-weighing", way="push", scale=str(fenholt.scale), **typed)
    names = [each["field"] for each in said["faults"]]
    assert (status, names) == (422, ["arm", "mass", "height of the centre of gravity"])


def test_a_reading_that_can_be_read_in_two_ways_is_asked_about_and_not_kept(fenholt: Fenholt) -> None:
    weighing = begun(fenholt)
    status, said = entered(fenholt, kind="reading", measurement=str(weighing.pk), typed="1,255", unit="kg")
    assert (status, Reading.objects.count()) == (422, 0)
    assert "either 1.255 or 1255" in said["faults"][0]["says"]


@pytest.mark.slow
def test_a_withdrawn_reading_stays_struck_through_and_no_longer_counts(fenholt: Fenholt) -> None:
    weighing = begun(fenholt)
    read(fenholt, weighing, *READINGS, "0.990 kg")
    shown = page(fenholt)
    assert "Reading 6 (0.990\u00a0kg) lies far from the others" in shown
    odd = Reading.objects.get(typed="0.990 kg")
    assert f"?reading={odd.pk}#asked" in shown
    assert 'name="reason"' in page(fenholt, f"?reading={odd.pk}")
    wrong = entered(fenholt, kind="withdraw-reading", reading=str(odd.pk), reason="misread", typed="840", unit="oz oz")
    assert wrong[0] == 422
    right = {"reading": str(odd.pk), "reason": "misread", "typed": "0,835", "unit": "kg"}
    status, said = entered(fenholt, kind="withdraw-reading", **right)
    assert status == 200, said
    put_right = Reading.objects.order_by("-pk").exclude(pk=odd.pk).filter(typed="0,835 kg", withdrawn_because="")
    assert put_right.count() == 1, "what was typed wrong is put right in one act"
    assert Entry.objects.filter(kind="reading corrected").count() == 1
    assert entered(fenholt, kind="withdraw-reading", reading=str(put_right[0].pk), reason="read twice")[0] == 200
    after = page(fenholt)
    assert "<s>0.990</s>" in after
    assert "misread" in after
    assert "lies far" not in after
    assert context(fenholt)["found"].document["static_moment"]["value"] == pytest.approx(2.1055, abs=5e-4)


@pytest.mark.slow
def test_going_on_records_the_statement_once_and_a_later_reading_makes_it_stale(fenholt: Fenholt) -> None:
    weighing = begun(fenholt)
    read(fenholt, weighing, *READINGS)
    seen = context(fenholt)["seen"]
    assert context(fenholt)["found"].state == "live"
    fields = {"kind": "statement", "measurement": str(weighing.pk), "seen": seen}
    assert entered(fenholt, **fields)[0] == entered(fenholt, **fields)[0] == 200
    assert Result.objects.count() == 1
    assert context(fenholt)["found"].state == "recorded"
    read(fenholt, weighing, "850 g")
    assert context(fenholt)["found"].state == "stale"
    assert "before the change" in page(fenholt)
    # What another's entry changed meanwhile is not recorded unseen.
    assert entered(fenholt, **fields)[0] == 422


@pytest.mark.slow
def test_after_a_statement_the_set_up_is_corrected_with_a_reason(fenholt: Fenholt) -> None:
    weighing = begun(fenholt)
    read(fenholt, weighing, *READINGS)
    entered(fenholt, kind="statement", measurement=str(weighing.pk), seen=context(fenholt)["seen"])
    fields = {"measurement": str(weighing.pk), "place": "support.0.arm", "value": "256 mm"}
    assert entered(fenholt, kind="set-up", was="255 mm", **fields)[0] == 422
    assert entered(fenholt, kind="correct-set-up", reason="", **fields)[0] == 422
    assert entered(fenholt, kind="correct-set-up", reason="measured again", **fields)[0] == 200
    assert context(fenholt)["found"].state == "stale"


@pytest.mark.slow
def test_a_second_weighing_begins_from_the_first_and_the_first_stays_readable(fenholt: Fenholt) -> None:
    read(fenholt, begun(fenholt), *READINGS)
    shown = page(fenholt, "?new=1")
    assert 'value="255 mm"' in shown
    assert "filled in from weighing 1" in shown
    begun(fenholt)
    assert "Weighing 1" in page(fenholt)
    assert "0.840" in page(fenholt, "?weighing=1")


@pytest.mark.parametrize("way", ["pull", "hung mass", "several supports"])
def test_each_way_of_weighing_is_begun_and_says_what_it_needs(fenholt: Fenholt, way: str) -> None:
    weighing = begun(fenholt, way=way)
    assert weighing.set_up["way"] == way
    assert "No statement" in page(fenholt)
    assert {"pull": "pulls down", "hung mass": "Hung mass 1", "several supports": "Support 2"}[way] in page(fenholt)


@pytest.mark.slow
def test_a_part_that_is_off_counts_in_the_sum(fenholt: Fenholt) -> None:
    """A tab of 300 g at 250 mm aft that was off adds 0.3 kg x 9.80665 m/s^2 x 0.25 m (arithmetic, no source)."""
    weighing = begun(fenholt)
    read(fenholt, weighing, *READINGS)
    before = context(fenholt)["found"].document["static_moment"]["value"]
    tab = {"name": "Tab", "state": "not fitted", "mass": "300 g", "arm": "250 mm", "side": "aft"}
    assert entered(fenholt, kind="part", measurement=str(weighing.pk), index="0", **tab)[0] == 200
    after = context(fenholt)["found"].document["static_moment"]["value"]
    assert after - before == pytest.approx(0.3 * 9.80665 * 0.25, rel=1e-9)
    assert entered(fenholt, kind="part", measurement=str(weighing.pk), index="1", **{**tab, "mass": ""})[0] == 422


@pytest.mark.parametrize("name", ["x" * 121, "tab\u202eknob"], ids=["too long", "a mark that turns the text"])
def test_a_name_of_a_part_is_refused_where_it_cannot_be_kept_as_it_was_typed(fenholt: Fenholt, name: str) -> None:
    """It was cut without a word, or kept and then in the way of every statement."""
    weighing = begun(fenholt)
    part = {"name": name, "state": "not fitted", "mass": "300 g", "arm": "250 mm", "side": "aft"}
    status, said = entered(fenholt, kind="part", measurement=str(weighing.pk), index="0", **part)
    assert (status, [each["field"] for each in said["faults"]]) == (422, ["name"])
    weighing.refresh_from_db()
    assert "part" not in weighing.set_up


@pytest.mark.slow
def test_the_number_of_queries_does_not_grow_with_the_readings(
    fenholt: Fenholt, django_assert_num_queries: Any
) -> None:
    weighing, client = begun(fenholt), fenholt.client("jon")
    read(fenholt, weighing, *READINGS)
    client.get(f"/job/{fenholt.job}/weigh")
    with django_assert_num_queries(QUERIES):
        client.get(f"/job/{fenholt.job}/weigh")
    read(fenholt, weighing, "840 g", "845 g")
    with django_assert_num_queries(QUERIES):
        client.get(f"/job/{fenholt.job}/weigh")


QUERIES = 15


@pytest.mark.slow
def test_a_scale_whose_certificate_ended_is_said_where_it_is_chosen_and_on_every_row(fenholt: Fenholt) -> None:
    """Nobody begins by it unasked; what is weighed on it is computed, and the page, the bench and the steps say no."""
    ended = date.today() - timedelta(days=12)
    printed = {"positive": "tail-heavy", "moment": ["0.00 N m", "2.20 N m"]}
    row = enter_limits(fenholt.mate, fenholt.approved["issue"], "Elevator, left half", "3", printed)
    job = Job.objects.get(number=fenholt.job)
    choose_limits(fenholt.mate, job.pk, row.pk, job.limit_row_id)
    scale = add_scale(fenholt.mate, "HL-5", step="1 g", largest="6 kg", certificate="K 1874", certificate_expires=ended)
    first = page(fenholt)
    assert f"HL-5: its certificate ended on {ended.day} {ended:%B %Y}. A statement from it cannot be used." in first
    assert first.index("HL-3, 5\u00a0g") < first.index("HL-5 · certificate ended"), "the scales that hold come first"
    read(fenholt, begun(fenholt, scale=str(scale.pk)), *READINGS)
    said = f"This statement cannot be used: the certificate of HL-5 ended on {ended.day} {ended:%B %Y}."
    assert said in page(fenholt)
    assert '<section class="say statement none w-say"' in page(fenholt), "nor its colour, nor its sign"
    assert "<strong>Inside: not used</strong>" in page(fenholt)
    weighing = Measurement.objects.get()
    seen = repr(context(fenholt)["found"].document["static_moment"]["value"])
    assert entered(fenholt, kind="statement", measurement=str(weighing.pk), seen=seen)[0] == 200
    bench = fenholt.client("jon").get("/bench").content.decode()
    assert "The certificate of HL-5 had ended when it was weighed" in bench
    assert '<b class="statement">' not in bench, "no word of a statement that cannot be used"
    assert 'class="point none"' in bench, "nor its colour"
    assert "not used<" in fenholt.client("jon").get("/records").content.decode()
    record = fenholt.client("jon").get(f"/records/{fenholt.job}").content.decode()
    assert said in record, "nor where somebody looks it up years later"
    assert f"HL-5, certificate K 1874 until {ended} · weighed on {date.today()}" in record
    client, surface = fenholt.client("jon"), Surface.objects.get()
    for address in (f"/records/surface/{surface.pk}", f"/job/{fenholt.job}/release"):
        assert ": not used<" in client.get(address).content.decode().replace(" ·", "<"), address
    owners = words(client.get(f"/job/{fenholt.job}/owner.pdf").content)
    assert "Weighed: the statement is not used" in owners
    assert said in owners
    assert "its approved limits" not in owners
    assert ": not used" in words(client.get(f"/job/{fenholt.job}/worksheet.pdf").content)
    german = words(client.get(f"/job/{fenholt.job}/owner.pdf?language=de").content)
    assert "Gewogen: Die Aussage wird nicht verwendet" in german
    assert f"endete am {ended.day:02d}. " in german, "a day in the reader's words"
    assert "Weigh again" in page(fenholt)
    steps = {each["step"].name: each["state"] for each in context(fenholt)["steps"]}
    assert steps["weigh"] == "open"
    anew = page(fenholt, "?new=1")
    assert f'value="{scale.pk}" selected' not in anew, "the next weighing does not begin by it"
    assert ": not used</b>" in anew, "nor does the list of earlier ones beside it use it"


@pytest.mark.slow
def test_a_certificate_holds_on_its_last_day_and_one_without_a_date_is_named(fenholt: Fenholt) -> None:
    """The last day counts; a scale without a date keeps a release, and the page says where the date is entered."""
    today = add_scale(
        fenholt.mate, "HL-6", step="5 g", largest="6 kg", certificate="K 1", certificate_expires=date.today()
    )
    read(fenholt, begun(fenholt, scale=str(today.pk)), *READINGS)
    assert context(fenholt)["not_used"] == ""
    read(fenholt, begun(fenholt), *READINGS)
    assert "nobody entered until when the certificate of HL-3 holds" in page(fenholt)


def test_where_the_hinge_line_lies_is_kept_for_the_balance_record(fenholt: Fenholt) -> None:
    """The line of the aircraft's record takes the arm that was entered here; no aircraft is 2 km long."""
    begun(fenholt)
    assert entered(fenholt, kind="datum-arm", value="4,32 m", was="")[0] == 200
    assert Job.objects.get(number=fenholt.job).details["balance_line"] == {"hinge_from_datum": "4.32 m"}
    assert 'value="4.32 m"' in page(fenholt)
    status, said = entered(fenholt, kind="datum-arm", value="2000 m", was="4.32 m")
    assert status == 422
    assert "at most 100 m" in str(said["faults"])


def test_what_was_typed_to_begin_with_stays_where_it_is_refused(fenholt: Fenholt) -> None:
    """A number without its unit: told without the words of a file, and every field stands as it was typed."""
    typed = {"way": "pull", "support.0.arm": "255", "support.0.side": "forward", "surface.mass": "4.1 kg"}
    sent = {"kind": "begin-weighing", "step": "weigh", "scale": "", "stand": "", **typed}
    answer = fenholt.client("jon").post(f"/job/{fenholt.job}/entry", sent, follow=True)
    said, shown = html.unescape(answer.content.decode()), answer.context
    assert "The number has no unit" in said
    assert "in quotes" not in said
    assert [shown[name] for name in ("arm", "side", "mass", "scale")] == ["255", "forward", "4.1 kg", ""]
    assert [way for way, *_words, is_on in shown["ways"] if is_on] == ["pull"]
    assert not Measurement.objects.filter(kind="weighing").exists()


def test_a_number_that_is_too_small_says_so_beside_its_makeup(fenholt: Fenholt) -> None:
    """One reading, nothing stated of friction: what is not in the ± stands under its makeup, not folded away."""
    weighing = begun(fenholt)
    read(fenholt, weighing, "840 g")
    makeup = html.unescape(page(fenholt).partition('id="w-makeup"')[2].partition("</div>")[0])
    assert "One reading: its repeatability is not known and not counted." in makeup
    assert "Not stated, so counted as nothing" in makeup
    assert "friction in the bearings" in makeup


def test_a_statement_that_an_entry_overtook_is_told_on_weigh_and_not_on_the_step_after_it(fenholt: Fenholt) -> None:
    read(fenholt, begun(fenholt), *READINGS)
    weighing = Measurement.objects.get()
    asked = {"kind": "statement", "step": "arm", "measurement": str(weighing.pk), "seen": "1.2188319152085327"}
    answer = fenholt.client("jon").post(f"/job/{fenholt.job}/entry", asked, follow=True)
    assert answer.redirect_chain[-1][0].endswith("/weigh")
    assert "An entry came between: look at it again." in answer.content.decode()
    assert "1.2188319" not in answer.content.decode()
    assert "1.219\u00a0N·m\u00a0tail-heavy" in answer.content.decode()
    # Nearly balanced: its first six characters would read as more than one newton metre.
    _status, said = entered(fenholt, **asked | {"seen": "-1.2188319152085327e-05"})
    assert "0.00001219\u00a0N·m\u00a0nose-heavy" in said["faults"][0]["says"]
