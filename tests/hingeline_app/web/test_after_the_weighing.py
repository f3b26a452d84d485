"""Arm, refit, second inspection, release: as forms send them, by two persons, blind, and refused in words."""

from __future__ import annotations

import re
from typing import Any

import pytest

from hingeline_app.records.actions.people import add_person, correct_person
from hingeline_app.records.actions.rights import give_right
from hingeline_app.records.models import Job
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.records.roles import OWNER, SECOND_INSPECTOR
from hingeline_app.web.pages.bench.order import _done
from tests.hingeline_app.web.after_the_weighing import closed, entry, field_of, look_at_all, page, shop, signs, somebody
from tests.hingeline_app.web.conftest import PASSWORD, Fenholt

__all__ = ["shop"]

pytestmark = pytest.mark.django_db


@pytest.mark.slow
def test_two_persons_inspect_and_release_and_a_third_reading_of_it_stays(shop: Fenholt) -> None:
    """Worker lists, inspector looks and signs, certifying person releases; then the release is withdrawn."""
    closed(shop)
    second, release = shop.client("ines"), shop.client("ruth")
    assert "There is no second inspection that holds." in page(release, shop, "release")
    look_at_all(second, shop)
    assert signs(second, f"/job/{shop.job}/sign/second").status_code == 302
    assert "Signed as second" in page(second, shop, "second-inspection")
    assert "Nothing is open, not released" in page(release, shop, "release")
    assert signs(release, f"/job/{shop.job}/sign/release").status_code == 302
    assert Job.objects.get(number=shop.job).state == "released"
    refused = signs(release, f"/job/{shop.job}/sign/withdraw")
    assert refused.status_code == 422
    assert signs(release, f"/job/{shop.job}/sign/withdraw", reason="wrong serial number").status_code == 302
    assert Job.objects.get(number=shop.job).state == "open"


def test_what_is_said_beside_the_way_on_is_taken_anew_after_an_entry_on_every_step(shop: Fenholt) -> None:
    """It said "9 are not entered yet" below "8 not entered", on Arm and Refit, until the page was loaded again."""
    for step in ("arrive", "limits", "weigh", "correct", "arm", "refit", "second-inspection", "release"):
        shown = page(shop.client("jon"), shop, step)
        assert re.search(r'<span class="why"><span id="[a-z]-[a-z]+" data-live>', shown), step


def test_a_value_without_a_limit_is_marked_on_refit_as_what_speaks_against(shop: Fenholt) -> None:
    """The step did not close for it, and its row stood there as one that was in order."""
    client = shop.client("jon")
    value = {"value": "1.2 mm", "uncertainty": "0.1 mm", "instrument": "gauge 7", "was": "null"}
    assert entry(client, shop, "refit-value", check="free_play", **value)[0] == 200
    shown = page(client, shop, "refit")
    assert re.search(r'<li class="against"><details[^>]*><summary>.*?Free play at the trailing edge', shown)


def test_an_answers_reference_that_is_too_long_is_refused_and_not_cut(shop: Fenholt) -> None:
    long = {"asked": "May the tube be blended?", "was": "null", "reference": "x" * 121}
    status, said = entry(shop.client("jon"), shop, "query", **long)
    assert (status, said["faults"][0]["field"]) == (422, "reference")


def test_who_signs_reads_the_statement_and_not_a_moment_alone(shop: Fenholt) -> None:
    """Whether it lies inside its limits stood on another page than the signature."""
    closed(shop)
    shown = page(shop.client("ines"), shop, "sign/second")
    assert re.search(r"N·m tail-heavy<br><b>inside</b></td>", shown.replace("\xa0", " ").replace("\u202f", " "))


def test_a_step_that_was_not_needed_is_not_called_done(shop: Fenholt) -> None:
    """Who takes an order over reads what somebody did: "Correct" stood among it, of a surface inside its limits."""
    closed(shop)
    behind = _done(job_of(shop.mate.person, shop.job))  # type: ignore[arg-type]
    assert behind == "Arrive, Limits, Weigh, Correct (not needed), Arm (not needed), Refit (not needed)"


@pytest.mark.slow
def test_what_was_not_right_says_so_beside_the_first_persons_words(shop: Fenholt) -> None:
    """Pressed without a word beside it, it stood there as "looked at"."""
    closed(shop)
    second = shop.client("ines")
    for item in re.findall(r'name="item" value="([0-9a-f-]+)"', page(second, shop, "second-inspection")):
        assert entry(second, shop, "look", item=item, finding="differs", note="")[0] == 200
    shown = page(second, shop, "second-inspection")
    assert shown.count('<span class="mine"><small>yours</small>not right</span>') == 2
    assert "looked at</span>" not in shown


@pytest.mark.slow
def test_the_first_persons_words_are_not_on_the_inspectors_page_before_the_look(shop: Fenholt) -> None:
    """Neither shown nor hidden in its source; afterwards they stand beside the second person's own."""
    closed(shop)
    second = shop.client("ines")
    assert "torqued to 2.5 N m" not in page(second, shop, "second-inspection")
    look_at_all(second, shop)
    assert "torqued to 2.5 N m" in page(second, shop, "second-inspection")


@pytest.mark.slow
def test_the_worker_is_refused_in_words_and_signs_nothing(shop: Fenholt) -> None:
    """Also with the role of an inspector; only "inspected again", with a reason and never as a second inspection."""
    mate = shop.mate.person
    assert mate is not None
    correct_person(
        shop.administrator,
        mate.pk,
        "licence",
        name=mate.name,
        initials="JA",
        licence_number="FH.66.7",
        licence_expires=None,
    )
    give_right(shop.administrator, mate.pk, SECOND_INSPECTOR)
    worker = closed(shop)
    assert "a second inspection is by another person" in page(worker, shop, "second-inspection")
    look_at_all(worker, shop)
    refused = signs(worker, f"/job/{shop.job}/sign/second")
    assert refused.status_code == 422
    assert "whichever account is used" in refused.content.decode()
    assert signs(worker, f"/job/{shop.job}/sign/again", reason="the inspector fell ill on the road").status_code == 302
    again = page(worker, shop, "second-inspection")
    assert "Inspected again by the same person" in again
    assert "Signed as second" not in again


@pytest.mark.slow
def test_the_bench_leads_who_inspects_to_what_was_asked_and_who_works_to_what_is_open(shop: Fenholt) -> None:
    """The arm is still open: an inspector was sent there, to work that is not theirs."""
    asked = entry(shop.client("jon"), shop, "ask-for-inspection", items="Weight screws | torqued to 2.5 N m")
    assert asked[0] == 200
    leads = {name: shop.client(name).get("/bench").content.decode() for name in ("jon", "ines")}
    assert f'href="/job/{shop.job}/arm"' in leads["jon"]
    assert f'href="/job/{shop.job}/second-inspection"' in leads["ines"]
    assert f'href="/job/{shop.job}/arm"' not in leads["ines"]


@pytest.mark.slow
def test_who_takes_a_job_over_has_a_button_that_says_so(shop: Fenholt) -> None:
    """Both ways had "Hand it over" on the button; who takes it over is not asked to whom."""
    has, takes = (page(shop.client(name), shop, "release") for name in ("jon", "ruth"))
    assert "<summary>Take it over" not in has
    assert re.search(r'name="to" value="[0-9a-f-]{36}".*?<button class="button small">Take it over<', takes)
    chosen = re.search(r'<select id="over-to".*?</select>', takes, re.DOTALL)
    assert chosen
    assert "Ruth Fenholt" not in chosen.group()
    assert "Ruth Fenholt" in has
    # What is typed into a form waits under its id or kind: under one name it came up in the other form too.
    forms = re.findall(r"<form[^>]* data-entry>.*?</form>", takes, re.DOTALL)
    over = [re.search(r'<form[^>]* id="([^"]*)"', each) for each in forms if 'value="hand-over"' in each]
    assert [each and each[1] for each in over] == ["take-over-form", None]


@pytest.mark.slow
def test_what_differs_or_was_not_looked_at_keeps_the_signature_waiting(shop: Fenholt) -> None:
    """It says for which items it waits."""
    closed(shop)
    second = shop.client("ines")
    assert "To sign: look at 1, 2." in page(second, shop, "second-inspection")
    look_at_all(second, shop, "differs")
    assert "To sign: settle 1, 2." in page(second, shop, "second-inspection")
    assert signs(second, f"/job/{shop.job}/sign/second").status_code == 422


@pytest.mark.slow
def test_a_change_after_the_second_inspection_ends_it_and_is_named(shop: Fenholt) -> None:
    """A detail set afterwards: the page says what, and the release waits again."""
    worker = closed(shop)
    second = shop.client("ines")
    look_at_all(second, shop)
    assert signs(second, f"/job/{shop.job}/sign/second").status_code == 302
    assert entry(worker, shop, "detail", place="arrive.remarks", was="", value="one more screw")[0] == 200
    shown = page(second, shop, "second-inspection")
    assert "Changed after the second inspection: look again" in shown
    assert "job detail set: arrive.remarks" in shown
    assert "There is no second inspection that holds." in page(shop.client("ruth"), shop, "release")


@pytest.mark.slow
@pytest.mark.fault("F38")
def test_what_changed_while_the_page_was_open_is_not_signed(shop: Fenholt) -> None:
    """The form carries what was seen; another person's entry in between is told, nothing is signed."""
    worker = closed(shop)
    second = shop.client("ines")
    look_at_all(second, shop)
    address = f"/job/{shop.job}/sign/second"
    shown = second.get(address).content.decode()
    entry(worker, shop, "detail", place="arrive.remarks", was="", value="a bolt was changed")
    sent = {name: field_of(shown, name) for name in ("seen", "proof_over", "command_key")}
    answer = second.post(address, {**sent, "proof_password": PASSWORD})
    assert answer.status_code == 422
    assert "changed since this page was shown" in answer.content.decode()


@pytest.mark.slow
def test_a_wrong_password_signs_nothing(shop: Fenholt) -> None:
    """And says so."""
    closed(shop)
    second = shop.client("ines")
    look_at_all(second, shop)
    answer = signs(second, f"/job/{shop.job}/sign/second", proof_password="guessed")
    assert answer.status_code == 422
    assert "not the password or passkey of Ines Holt" in answer.content.decode()


@pytest.mark.slow
@pytest.mark.fault("F27", "F29")
def test_nothing_is_signed_while_the_records_do_not_agree(shop: Fenholt, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the look at start found is asked before each signature."""
    closed(shop)
    second = shop.client("ines")
    look_at_all(second, shop)
    monkeypatch.setattr("hingeline_app.web.pages.job.job_sign.signing_is_held", lambda: True)
    answer = signs(second, f"/job/{shop.job}/sign/second")
    assert answer.status_code == 422
    assert "nothing is signed until that is settled" in answer.content.decode()


@pytest.mark.slow
def test_a_guest_signs_with_a_witness(shop: Fenholt, monkeypatch: pytest.MonkeyPatch) -> None:
    """The guest looks on the witness's page under the licence number; an unknown number is nobody.

    A witness's passkey is asked over what the page shows, and is judged over the same: else it would prove nothing.
    """
    closed(shop)
    add_person(shop.administrator, "Gil Aster", "GA", licence_number="XX.66.9", is_guest=True)
    witness = shop.client("jon")
    shown = witness.get(f"/job/{shop.job}/second-inspection?guest=XX.66.9").content.decode()
    items = re.findall(r'name="item" value="([0-9a-f-]+)"', shown)
    assert entry(witness, shop, "look", item=items[0], finding="agreed", guest="XX.1")[0] == 422
    for item in items:
        assert entry(witness, shop, "look", item=item, finding="agreed", guest="XX.66.9")[0] == 200
    address = f"/job/{shop.job}/sign/second?guest=XX.66.9"
    shown = witness.get(address).content.decode()
    assert "the signature covers it" in shown
    assert shown.count("agreed") >= len({*items}), "the guest sees what was entered for them before it is signed"
    assert signs(witness, address).status_code == 422
    judged = list[str]()
    with monkeypatch.context() as patched:
        patched.setattr("hingeline_app.web.proof.answer_in", lambda _request, over: judged.append(over))
        assert signs(witness, address, witnessed="on", proof_assertion="{}", proof_password="").status_code == 422
    assert judged == [field_of(shown, "proof_over")] != [""]
    assert signs(witness, address, witnessed="on").status_code == 302
    assert "Gil Aster" in page(witness, shop, "second-inspection")


@pytest.mark.slow
def test_a_refit_value_outside_keeps_the_release_and_refit_is_not_done_half_measured(shop: Fenholt) -> None:
    """Each value stands with its limit, its ± and its person; a limit without its source is refused."""
    worker = shop.client("jon")
    told = {
        "check": "free_play",
        "value": "2,4 mm",
        "uncertainty": "0.1 mm",
        "upper": "2.0 mm",
        "instrument": "dial gauge",
    }
    assert entry(worker, shop, "refit-value", **told)[0] == 422
    assert entry(worker, shop, "refit-value", **told, source="MM-T2, C, 27-13")[0] == 200
    shown = page(worker, shop, "refit")
    assert "2,4 mm ± 0.1 mm" in shown
    assert "at most 2.0 mm · dial gauge · J" in shown
    assert "Free play at the trailing edge: outside" in page(worker, shop, "release")
    status, said = entry(worker, shop, "step-state", about="refit", state="done")
    assert status == 422
    assert "Travel, trailing edge up" in said["faults"][0]["says"]


@pytest.mark.fault("F09")
def test_two_tablets_never_write_over_each_others_value(shop: Fenholt) -> None:
    """The second is told what stands there now."""
    worker = shop.client("jon")
    told = {"check": "friction", "uncertainty": "0.2 N", "instrument": "spring scale", "was": "null"}
    assert entry(worker, shop, "refit-value", **told, value="4.0 N")[0] == 200
    status, said = entry(worker, shop, "refit-value", **told, value="5.0 N")
    assert (status, said["state"]) == (409, "moved")


@pytest.mark.slow
def test_a_treatment_with_a_mass_asks_for_weighing_again(shop: Fenholt) -> None:
    """On the arm's page and before the release; a crack keeps the release too."""
    worker = shop.client("jon")
    assert entry(worker, shop, "arm-treatment", what="primer, two coats", mass="12 g")[0] == 200
    assert "Weigh again first" in page(worker, shop, "arm")
    assert entry(worker, shop, "arm-point", point="root", seen="crack", method="dye penetrant", note="4 mm")[0] == 200
    shown = page(worker, shop, "release")
    assert "the treatment has a mass: weigh again" in shown
    assert "Root: crack check, all round: crack" in shown


@pytest.mark.slow
@pytest.mark.parametrize("step", ["arm", "refit", "second-inspection", "release"])
def test_the_number_of_queries_of_a_step_is_fixed(shop: Fenholt, step: str, django_assert_max_num_queries: Any) -> None:
    """More items and more measured values do not make it larger."""
    closed(shop)
    second = shop.client("ines")
    second.get(f"/job/{shop.job}/{step}")
    with django_assert_max_num_queries(QUERIES[step]) as before:
        second.get(f"/job/{shop.job}/{step}")
    assert len(before) == QUERIES[step]
    entry(shop.client("jon"), shop, "ask-for-inspection", items="\n".join(f"Bolt {at}" for at in range(20)))
    with django_assert_max_num_queries(QUERIES[step]):
        second.get(f"/job/{shop.job}/{step}")


QUERIES = {"arm": 15, "refit": 15, "second-inspection": 29, "release": 38}


@pytest.mark.slow
def test_a_job_is_handed_to_nobody_who_only_owns_an_aircraft_or_comes_as_a_guest(shop: Fenholt) -> None:
    """They are not offered, and refused where they are sent."""
    owner = somebody(shop, "Dora Lind", "dora", "", OWNER).person
    guest = add_person(shop.administrator, "Gil Aster", "GA", licence_number="XX.66.9", is_guest=True)
    worker = shop.client("jon")
    offered = page(worker, shop, "release")
    for each in (owner, guest):
        assert each is not None
        assert f'<option value="{each.pk}">' not in offered
        assert entry(worker, shop, "hand-over", to=str(each.pk), note="half refitted", was="null")[0] == 422


def test_a_stale_page_takes_no_reason_away_from_a_step_that_another_person_holds(shop: Fenholt) -> None:
    worker = shop.client("jon")
    assert entry(worker, shop, "step-state", about="refit", state="held", reason="bolt on order")[0] == 200
    status, said = entry(worker, shop, "step-state", about="refit", state="not needed", reason="was not touched")
    assert (status, said["state"]) == (409, "moved")
    assert "Refit is held: bolt on order" in page(worker, shop, "release")
