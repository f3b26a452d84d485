"""A weighing from the records becomes a file, and weighs to the same digits as that file does from the command line."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from hingeline.errors import InputRefused
from hingeline_app.bench.bar_of import bar_of_row
from hingeline_app.bench.correcting.correction_of import correction_tables
from hingeline_app.bench.limits.limits_of import limits_table
from hingeline_app.bench.on_paper.incomplete_of import incomplete_of
from hingeline_app.bench.on_paper.record_of import DIFFERS, text_and_result
from hingeline_app.bench.releasing.in_the_way import rests_on_other_limits
from hingeline_app.bench.weighing.weighing_of import weighed, weighing_tables, weighing_text
from hingeline_app.bench.weighing.weighing_shown import weighing_shown
from hingeline_app.records.actions.jobs import set_detail
from hingeline_app.records.actions.measuring import (
    add_reading,
    change_set_up,
    open_measurement,
    record_result,
    withdraw_reading,
)
from hingeline_app.records.models import Surface
from hingeline_app.records.queries.jobs import ResultRecord, job_of
from hingeline_app.records.queries.limits import RowRecord
from hingeline_app.records.queries.two_readings import Difference
from tests.hingeline_app.records.merle import Merle, merle
from tests.hingeline_app.records.workshop import Fenholt, fenholt

pytestmark = pytest.mark.django_db


@pytest.fixture
def shop(db: None, tmp_path: Path, settings: Any) -> Fenholt:
    settings.JOURNAL_FOLDER = tmp_path / "journal"
    return fenholt()


@pytest.fixture
def job(shop: Fenholt) -> Merle:
    """A weighing with a withdrawn reading, and its arm set after it was begun."""
    job = merle(shop)
    anna = shop.anna
    weighing = open_measurement(anna, job.job.pk, "weighing", scale=job.scale.pk, set_up={"support": [{"side": "aft"}]})
    change_set_up(anna, weighing.pk, "support.0.arm", None, "255 mm")
    readings = [add_reading(anna, weighing.pk, typed) for typed in ("840 g", "845 g", "4.84 kg", "840 g")]
    withdraw_reading(anna, readings[2].pk, "hand on the stand")
    return job


def test_a_depth_that_a_table_gave_with_a_comma_is_weighed_with(job: Merle) -> None:
    """Files want a point: nobody could weigh the surface, and the same depth typed again is kept as it stood."""
    Surface.objects.filter(pk=job.surface.pk).update(hinge_to_trailing_edge="307,0mm")
    record = job_of(job.shop.anna.person, job.job.number)
    assert record.weighing is not None
    found = weighed(weighing_text(record, record.weighing))
    assert found["surface"]["hinge_to_trailing_edge"]["value"] == pytest.approx(0.307, rel=1e-12)
    tables = correction_tables(record, record.weighing, found)
    assert tables["surface"]["hinge_to_trailing_edge"] == "307.0 mm"


@pytest.mark.slow
def test_the_file_of_a_weighing_weighs_as_the_command_does(job: Merle, tmp_path: Path) -> None:
    """Every number is the same to the last digit; the withdrawn reading does not count."""
    record = job_of(job.shop.anna.person, job.job.number)
    text = weighing_text(record, record.weighing)
    file = tmp_path / "weighing.toml"
    file.write_text(text)
    command = [sys.executable, "-m", "hingeline_app", "weigh", str(file), "--json"]
    told = json.loads(subprocess.run(command, capture_output=True, check=True).stdout)
    told.pop("about")
    assert told == json.loads(json.dumps(weighed(text)))
    mean = (0.840 + 0.845 + 0.840) / 3
    assert told["static_moment"]["value"] == pytest.approx(mean * 9.80665 * 0.255, abs=1e-12)


def test_work_stopped_without_limits_is_not_said_to_be_of_before_a_change(job: Merle) -> None:
    """A moment without limits has no statement: on the paper of incomplete work nothing is said to have changed."""
    anna = job.shop.anna
    assert anna.person is not None
    record = job_of(anna.person, job.job.number)
    assert record.weighing is not None
    bare = weighed(weighing_text(replace(record, limit_row=None), record.weighing))
    record_result(anna, job.job.pk, bare, measurement=record.weighing.identifier)
    set_detail(anna, job.job.pk, "incomplete", None, {"reason": "limits on order"})
    last = incomplete_of(job_of(anna.person, job.job.number), ()).left[1]
    assert "tail-heavy" in last
    assert last.endswith(", no statement.")


def row(**printed: Any) -> RowRecord:
    return RowRecord(None, "MM", "4", "Rudder", "27-12", "read twice", "A", "B", printed, (), ())  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("printed", "expected"),
    [
        ({"positive": "tail heavy", "moment": ["0.00 N m", "2.10 N m"]}, {"lower": "0.00 N m", "upper": "2.10 N m"}),
        ({"positive": "nose heavy", "moment": ["0.00 N m", "2.10 N m"]}, {"lower": "-2.10 N m", "upper": "0.00 N m"}),
        ({"positive": "nose heavy", "moment": ["−1.5 N m", "none"]}, {"upper": "1.5 N m"}),
        ({"moment": {"lower": None, "upper": "1.5 kg cm"}}, {"upper": "1.5 kg cm"}),
    ],
)
def test_a_row_s_limits_are_turned_to_tail_heavy_digit_for_digit(printed: Any, expected: dict[str, str]) -> None:
    """Whatever the document calls plus; an open end is left out."""
    table = limits_table(row(**printed))
    assert {name: table[name] for name in ("lower", "upper") if name in table} == expected


def test_a_row_that_two_persons_read_differently_carries_no_statement(job: Merle) -> None:
    """The first one's limits were taken, also where a second person had just found them on the wrong side."""
    anna = job.shop.anna
    assert anna.person is not None
    differs = (Difference("moment", ["0.00 N m", "2.10 N m"], ["0.00 N m", "1.10 N m"]),)
    kept = replace(row(positive="tail-heavy", moment=["0.00 N m", "2.10 N m"]), state="read once", differences=differs)
    assert (limits_table(kept), bar_of_row(kept)) == ({}, None)
    record = replace(job_of(anna.person, job.job.number), limit_row=kept)
    assert record.weighing is not None
    assert weighed(weighing_text(record, record.weighing)).get("statement") is None
    result = ResultRecord(job.job.pk, {}, {"limits": {"lower": "0.00 N m", "upper": "2.10 N m"}}, 1, "")
    assert rests_on_other_limits(replace(record, measurements=(replace(record.weighing, result=result),)))
    assert limits_table(replace(kept, state="superseded")), "a row that was in force stays readable as it was"


def test_a_kept_row_whose_sense_is_not_understood_is_told_and_turned_neither_way(job: Merle) -> None:
    """No bar, no statement, the words as they were kept; and a result that rests on it is in the way of a release."""
    anna = job.shop.anna
    assert anna.person is not None
    kept = replace(row(positive="tail-heavy (-)", moment=["0.00 N m", "2.10 N m"]), surface="Elevator, left half")
    with pytest.raises(InputRefused, match=r"limits\.positive.*tail-heavy \(-\)"):
        limits_table(kept)
    assert bar_of_row(kept) is None
    record = replace(job_of(anna.person, job.job.number), limit_row=kept)
    assert record.weighing is not None
    found = weighing_shown(record, record.weighing)
    assert (found.document, found.bar) == (None, None)
    assert found.statement.word == "No statement: sense of the limits cannot be tail-heavy (-)"
    result = ResultRecord(job.job.pk, {}, {"limits": {"lower": "0.00 N m", "upper": "2.10 N m"}}, 1, "")
    assert rests_on_other_limits(replace(record, measurements=(replace(record.weighing, result=result),)))


def test_a_last_digit_and_a_sentence_of_before_are_no_result_that_differs(job: Merle) -> None:
    """What is printed says that the recorded result differs where a number does, and then only."""
    anna, number = job.shop.anna, job.job.number
    assert anna.person is not None
    record = job_of(anna.person, number)
    assert record.weighing is not None
    kept = json.loads(json.dumps(weighed(weighing_text(record, record.weighing))))
    value = kept["static_moment"]["value"]
    for was, differs in ((math.nextafter(value, 9.0), False), (value * 1.001, True)):
        kept["static_moment"]["value"], kept["notes"] = was, ["Said otherwise by a version of before."]
        record_result(anna, job.job.pk, kept, measurement=record.weighing.identifier)
        after = job_of(anna.person, number)
        assert after.weighing is not None
        _text, shown, remarks = text_and_result(after, after.weighing)
        assert shown["static_moment"]["value"] == was, "the recorded one is printed"
        assert (DIFFERS in remarks) is differs


@pytest.mark.parametrize(("gravity", "is_same"), [(9.80665, True), (9.81, False)])
def test_a_limit_in_a_unit_of_force_kept_before_differs_where_its_number_does(
    job: Merle, gravity: float, is_same: bool
) -> None:
    """Version 1.0.0 converted it by the local gravity, and noted that beside it.

    By standard gravity the number is the same, and nothing differs: not on the page, not on paper, not for a release.
    By another one a release waits until the statement is recorded anew.
    """
    anna, number = job.shop.anna, job.job.number
    assert anna.person is not None
    in_force = replace(
        row(positive="tail-heavy", moment=["0.00 N m", "30 kgf cm"]), surface="Elevator, left half", state="read twice"
    )
    record = replace(job_of(anna.person, number), limit_row=in_force, local_gravity=f"{gravity!r} m/s^2")
    assert record.weighing is not None
    asked = json.loads(json.dumps(weighing_tables(record, record.weighing)))
    kept = json.loads(json.dumps(weighed(weighing_text(record, record.weighing))))
    kept["limits"]["upper"]["value"] *= gravity / 9.80665
    kept["limits"]["upper"]["local_gravity"] = gravity
    record_result(anna, job.job.pk, kept, measurement=record.weighing.identifier, asked=asked)
    after = replace(job_of(anna.person, number), limit_row=in_force, local_gravity=record.local_gravity)
    assert after.weighing is not None
    _text, _shown, remarks = text_and_result(after, after.weighing)
    assert (DIFFERS not in remarks) is is_same
    assert (weighing_shown(after, after.weighing).state == "recorded") is is_same
    assert rests_on_other_limits(after) is not is_same
