"""The step Correct: predicted and never a statement; the file of the page gives the command's numbers; what is fitted
asks for a new weighing.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest

from hingeline.balance.swing import inertia_by_swing
from hingeline.document import to_document
from hingeline_app.cli.main import main
from hingeline_app.files.swing_file import read_swing
from hingeline_app.records.actions.jobs import choose_limits
from hingeline_app.records.actions.limits import enter_limits
from hingeline_app.records.models import BallastProposal, Job, Measurement
from tests.doors.checkouts import ROOT
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.weigh_page import READINGS, begun, entered, read

pytestmark = pytest.mark.django_db

ARM = {"name": "Arm weight", "arm": "180 mm", "side": "forward", "present_mass": "600 g", "largest_mass": "800 g",
       "smallest_step": "5 g"}  # fmt: skip
FILLER = {"name": "Filler", "arm": "238 mm", "side": "aft", "present_mass": "60 g", "largest_mass": "60 g",
          "smallest_step": "5 g"}  # fmt: skip


@pytest.fixture
def weighed(fenholt: Fenholt) -> Fenholt:
    """The elevator half weighed outside 0.00 ... 2.10 N m, with two places where mass may go."""
    printed = {"positive": "tail-heavy", "moment": ["0.00 N m", "2.10 N m"]}
    row = enter_limits(fenholt.mate, fenholt.approved["issue"], "Elevator, left half", "3", printed)
    job = Job.objects.get(number=fenholt.job)
    choose_limits(fenholt.mate, job.pk, row.pk, job.limit_row_id)
    read(fenholt, begun(fenholt), *READINGS)
    for index, place in enumerate((ARM, FILLER)):
        assert entered(fenholt, kind="place", index=str(index), was="null", **place)[0] == 200
    return fenholt


def context(fenholt: Fenholt) -> Any:
    answer = fenholt.client("jon").get(f"/job/{fenholt.job}/correct")
    assert answer.status_code == 200
    return answer.context


def shown(fenholt: Fenholt) -> str:
    return fenholt.client("jon").get(f"/job/{fenholt.job}/correct").content.decode()


@pytest.mark.slow
def test_a_prediction_is_never_called_a_statement(weighed: Fenholt) -> None:
    """The words are: predicted, not weighed."""
    assert "outside" in context(weighed)["weighed_as"].word.lower()
    assert context(weighed)["correction"].word == "Predicted inside, not weighed"


@pytest.mark.slow
def test_without_an_aim_the_plan_is_clear_of_the_limit_by_its_uncertainty(weighed: Fenholt) -> None:
    """Value + U lies below 2.10 N m, and no note says that the plan lies on the edge."""
    found = context(weighed)
    aims = {words: is_on for _value, words, is_on in found["aims"]}
    assert [words.startswith("Clear by U") for words, is_on in aims.items() if is_on] == [True]
    assert found["correction"].edge == ""
    assert entered(weighed, kind="aim", was="null", target="nearest")[0] == 200
    assert "nearer to a limit than U" in context(weighed)["correction"].edge


@pytest.mark.slow
def test_the_file_of_the_page_gives_the_command_the_same_plan(
    weighed: Fenholt, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Predicted moment and changes: the same to the last digit."""
    file = weighed.client("jon").get(f"/job/{weighed.job}/correction/1.toml")
    (tmp_path / "correction.toml").write_bytes(file.content)
    assert main(["ballast", str(tmp_path / "correction.toml"), "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert repr(document["moment_after"]["value"]) == context(weighed)["seen"]


@pytest.mark.slow
def test_more_and_less_move_by_the_steps_of_a_place_and_stop_at_what_it_allows(weighed: Fenholt) -> None:
    """From the library's plan up one step; at the most that is allowed there is no more."""
    before = context(weighed)
    more = before["steps_at"][0]["more"]
    assert entered(weighed, kind="amount-step", of="Arm weight", way="1")[0] == 200
    after = context(weighed)
    assert after["is_own"]
    grams = after["correction"].places[0].amount.removeprefix("+").replace("\u00a0", " ").replace("\u2212", "-")
    assert grams == json.loads(more)[0]
    status, _ = entered(weighed, kind="amounts", was=after["plan_was"], amounts='["200 g", "0 g"]')
    assert status == 200
    assert (context(weighed)["steps_at"][0]["more"], context(weighed)["steps_at"][1]["more"]) == ("", "")


@pytest.mark.slow
def test_amounts_that_a_place_does_not_allow_leave_a_way_back_to_a_plan(weighed: Fenholt) -> None:
    """300 g at a place that may carry 200 g more are refused in words; the aims stay, and one of them plans anew."""
    was = context(weighed)["plan_was"]
    assert entered(weighed, kind="amounts", was=was, amounts='["300 g", "0 g"]')[0] == 200
    refused = context(weighed)
    assert refused["faults"]
    assert 'name="kind" value="aim"' in shown(weighed)
    assert entered(weighed, kind="aim", was=refused["plan_was"], target="nearest")[0] == 200
    assert context(weighed)["correction"].is_any


@pytest.mark.slow
def test_what_was_chosen_by_another_meanwhile_is_not_written_over(weighed: Fenholt) -> None:
    assert entered(weighed, kind="aim", was="null", target="middle")[0] == 200
    assert entered(weighed, kind="aim", was="null", target="nearest")[0] == 409


@pytest.mark.slow
def test_the_mass_after_a_plan_is_compared_with_the_mass_limits_where_there_are_some(weighed: Fenholt) -> None:
    """4.100 kg and the plan's change against a range that ends 50 g above it; without a range the note says to compare.

    U is 2 x 0.5 g / sqrt(3) = 0.58 g for one change (GUM 4.3.7; arithmetic, no other source).
    """
    assert "are not looked at in a plan" in shown(weighed)
    printed = {
        "positive": "tail-heavy",
        "moment": ["0.00 N m", "2.10 N m"],
        "mass": {"lower": "3.9 kg", "upper": "4.15 kg"},
    }
    row = enter_limits(weighed.mate, weighed.approved["issue"], "Elevator, left half", "4", printed)
    job = Job.objects.get(number=weighed.job)
    choose_limits(weighed.mate, job.pk, row.pk, job.limit_row_id)
    page = shown(weighed)
    assert "are not looked at in a plan" not in page
    assert "Mass after it, predicted and not weighed: " in page
    assert context(weighed)["mass_after"].limits.startswith("3.90 … 4.15")


@pytest.mark.slow
def test_fitted_is_kept_once_with_its_batch_and_asks_for_a_new_weighing(weighed: Fenholt) -> None:
    """The same press twice is one correction; the weigh step begins weighing 2; the place carries more now."""
    first = weighed.client("jon").get(f"/job/{weighed.job}/weigh").context["found"].document["static_moment"]["value"]
    stated = {"kind": "statement", "measurement": str(Measurement.objects.get().pk), "seen": repr(first)}
    assert entered(weighed, **stated)[0] == 200
    seen = context(weighed)["seen"]
    for _press in range(2):
        assert entered(weighed, kind="fitted", seen=seen, part_number="T2-34-112", command_key="f1")[0] == 200
    (proposal,) = BallastProposal.objects.all()
    assert proposal.fitted_at_change is not None
    assert Job.objects.get(number=weighed.job).details["correct"]["fitted"] == {"p1": {"part_number": "T2-34-112"}}
    page = weighed.client("jon").get(f"/job/{weighed.job}/weigh").content.decode()
    assert "Weigh again" in page
    assert "Begin weighing 2" in page
    assert context(weighed)["weigh_first"]
    summed = f"{4.1 + sum(each['mass']['value'] for each in json.loads(proposal.document)['changes']):.3f} kg"
    assert "A sum, not weighed: 4.100\u00a0kg before" in page, "a mass from before is not the surface's any more"
    assert f'name="surface.mass" value="{summed}"' in page
    record = weighed.client("jon").get(f"/records/{weighed.job}").content.decode()
    assert "what it is now was not weighed" in record, "the last statement is of what the surface was"
    again = begun(weighed, **{"surface.mass": ""})
    assert again.set_up["surface"]["mass"] is None, "a field that was emptied is nothing known"
    read(weighed, again, "740 g", "735 g", "740 g")
    assert Measurement.objects.count() == 2
    carried = json.loads(proposal.document)["changes"][0]["mass_after"]["value"]
    file = weighed.client("jon").get(f"/job/{weighed.job}/correction/2.toml").content.decode()
    assert f'present_mass = "{carried!r} kg"' in file


@pytest.mark.slow
def test_a_correction_that_changed_since_it_was_seen_is_not_fitted(weighed: Fenholt) -> None:
    seen = context(weighed)["seen"]
    assert entered(weighed, kind="aim", was="null", target="middle")[0] == 200
    status, said = entered(weighed, kind="fitted", seen=seen)
    assert status == 422
    assert seen not in said["faults"][0]["says"], "sixteen digits are no words"
    assert "-heavy" in said["faults"][0]["says"]
    assert BallastProposal.objects.count() == 0


def test_an_aim_that_the_places_do_not_reach_is_said(weighed: Fenholt) -> None:
    """The middle is farther away than all that the places allow; the nearest inside is reached."""
    assert "is not reached" not in shown(weighed)
    assert entered(weighed, kind="aim", was="null", target="middle")[0] == 200
    details = Job.objects.get(number=weighed.job).details["correct"]["place"]
    for index, place in enumerate(details):
        tight = {**place, "largest_mass": "700 g", "arm": "20 mm"}
        assert (
            entered(weighed, kind="place", index=str(index), was=json.dumps(place, sort_keys=True), **tight)[0] == 200
        )
    assert context(weighed)["missed"].startswith("1.05")
    assert "tail-heavy is not reached" in shown(weighed)
    assert "Least mass for this aim" not in shown(weighed)


@pytest.mark.slow
def test_out_of_reach_is_said_with_what_would_mend_it(weighed: Fenholt) -> None:
    """A place that allows next to nothing."""
    details = Job.objects.get(number=weighed.job).details["correct"]["place"]
    for index, place in enumerate(details):
        was = json.dumps(place, sort_keys=True)
        tight = {**place, "present_mass": "", "largest_mass": "5 g", "arm": "20 mm"}
        assert entered(weighed, kind="place", index=str(index), was=was, **tight)[0] == 200
    found = context(weighed)["correction"]
    assert found.reason
    assert found.remedies


def test_before_a_weighing_the_page_says_to_weigh_first(fenholt: Fenholt) -> None:
    assert context(fenholt)["weigh_first"]


@pytest.mark.slow
def test_the_number_of_queries_is_fixed(weighed: Fenholt, django_assert_num_queries: Any) -> None:
    client = weighed.client("jon")
    client.get(f"/job/{weighed.job}/correct")
    with django_assert_num_queries(15):
        client.get(f"/job/{weighed.job}/correct")


@pytest.mark.slow
def test_a_batch_of_no_such_identifier_is_refused(weighed: Fenholt) -> None:
    seen = context(weighed)["seen"]
    assert entered(weighed, kind="fitted", seen=seen, material=str(UUID(int=1)))[0] == 422


PLAN = """format = "hingeline/coating/1"
[[layer]]
name = "topcoat"
area = "0.327 m^2"
arm = "60 mm"
side = "aft"
count = 2.0
mass_per_area = "95 g/m^2"
"""


@pytest.mark.slow
def test_a_planned_paint_stands_beside_the_weighing_as_a_prediction(weighed: Fenholt) -> None:
    """2 faces x 0.327 m² x 95 g/m² = 62.13 g at 60 mm: 0.03656 N m at 9.80665 m/s² (worked by hand)."""
    assert "none handed over" in shown(weighed)
    moment = context(weighed)["seen"]
    assert entered(weighed, kind="coating-plan", file=PLAN, was="null")[0] == 200
    paint = context(weighed)["paint"]
    assert paint.mass.replace("\u00a0", " ").startswith("62.1")
    assert paint.words.replace("\u00a0", " ").startswith("0.03656 N·m tail-heavy"), paint.words
    assert "predicted, not weighed." in shown(weighed)
    assert context(weighed)["seen"] == moment, "the correction rests on the weighing alone"
    status, said = entered(weighed, kind="coating-plan", file="area = 3", was="null")
    assert status == 422
    assert said["faults"]


@pytest.mark.slow
def test_the_coating_plan_is_begun_from_the_job_and_hands_over_to_it(weighed: Fenholt) -> None:
    """The link carries moment, U and limits; the page of the plan leads back and hands its file over."""
    client = weighed.client("jon")
    begun = client.get(context(weighed)["coating_address"]).content.decode()
    assert f'href="/job/{weighed.job}/correct"' in begun
    moment = context(weighed)["weighed_as"].lines[0]
    assert "N·m" in moment
    asked = {"job": str(weighed.job), "layer_1": "topcoat", "area_1": "0.327 m^2", "arm_1": "60 mm", "side_1": "aft",
             "count_1": "2", "mass_per_area_1": "95 g/m^2"}  # fmt: skip
    answer = client.get("/coating", asked)
    assert "Hand it over<" in answer.content.decode()
    fields = {"file": answer.context["text"], "was": answer.context["handed_was"]}
    assert entered(weighed, kind="coating-plan", **fields)[0] == 200
    assert context(weighed)["paint"] is not None
    assert "Hand it over<" not in client.get("/coating", asked | {"job": "999"}).content.decode()


@pytest.mark.slow
def test_the_inertia_by_a_swing_counts_where_none_was_typed(weighed: Fenholt) -> None:
    """The swing's file gives the number of the command; a typed inertia counts in its place."""
    file = (ROOT / "examples" / "14-rudder-swung-with-a-mass.toml").read_bytes().decode()
    inertia = to_document(inertia_by_swing(read_swing(file.encode())))["inertia"]["value"]
    assert entered(weighed, kind="swung", file=file, was="null")[0] == 200
    text = weighed.client("jon").get(f"/job/{weighed.job}/correction/1.toml").content.decode()
    assert f'inertia = "{inertia!r} kg m^2"' in text
    assert entered(weighed, kind="of-surface", name="inertia", value="0.05 kg m^2", was="")[0] == 200
    text = weighed.client("jon").get(f"/job/{weighed.job}/correction/1.toml").content.decode()
    assert 'inertia = "0.05 kg m^2"' in text


@pytest.mark.slow
def test_an_inertia_typed_after_a_correction_was_fitted_counts(weighed: Fenholt) -> None:
    """What stood before is of the surface before, and changes with what was fitted; a new one is of the surface now.

    It was left out without a word, so that one typed ten times too small could not be mended.
    """
    assert entered(weighed, kind="of-surface", name="inertia", value="0.05 kg m^2", was="")[0] == 200
    assert entered(weighed, kind="fitted", seen=context(weighed)["seen"])[0] == 200
    read(weighed, begun(weighed), "740 g", "735 g", "740 g")
    left = json.loads(BallastProposal.objects.get().document)["inertia_after"]["value"]
    address = f"/job/{weighed.job}/correction/2.toml"
    assert f'inertia = "{left!r} kg m^2"' in weighed.client("jon").get(address).content.decode()
    assert left != 0.05
    assert entered(weighed, kind="of-surface", name="inertia", value="0.06 kg m^2", was="0.05 kg m^2")[0] == 200
    assert 'inertia = "0.06 kg m^2"' in weighed.client("jon").get(address).content.decode()
