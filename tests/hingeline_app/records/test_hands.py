"""Who worked on a job: every kind of entry is work on it or is not, and the hands beside the job count too."""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator, Mapping
from datetime import date, timedelta
from importlib import import_module
from pathlib import Path

import pytest

from hingeline_app.records import actions
from hingeline_app.records.actions.aircraft import add_surface
from hingeline_app.records.actions.attaching import Upload, attach_to_job
from hingeline_app.records.actions.ballast import fit_ballast, propose_ballast
from hingeline_app.records.actions.closing_order import close_order
from hingeline_app.records.actions.correcting import correct_set_up
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.equipment import renew_certificate
from hingeline_app.records.actions.hands import NO_WORK, WORK, is_work
from hingeline_app.records.actions.inspecting import ask_for_inspection, look, sign_as_second
from hingeline_app.records.actions.inspection_photographs import attach_to_item
from hingeline_app.records.actions.jobs import open_job, open_order, set_aside
from hingeline_app.records.actions.limits import enter_limits
from hingeline_app.records.actions.measuring import KINDS, add_reading, open_measurement, record_result
from hingeline_app.records.actions.parts import add_part, fit_part, remove_part
from hingeline_app.records.actions.recordings import About, TakenIn, keep_finding, take_recording_in
from hingeline_app.records.actions.releasing import release, withdraw_release
from hingeline_app.records.actions.series import keep_series
from hingeline_app.records.models import (
    BallastProposal,
    Correction,
    InspectionItem,
    Job,
    Measurement,
    Part,
    Reading,
    Result,
    ShakeRecording,
    Signature,
)
from hingeline_app.records.queries.matter import WORK as WORK_ROWS
from hingeline_app.records.queries.matter import workers
from hingeline_app.records.write_door import Actor
from tests.hingeline_app.records.merle import CHECKED, OUTSIDE, PLAN, PRINTED, Merle, inspected, proof, weighed
from tests.hingeline_app.records.workshop import Fenholt, no_bench

SOURCES = sorted(Path(actions.__file__).parent.glob("*.py"))
# The doors of an entry, and where its kind stands among what they are given.
DOORS = {"write_door": 1, "acting": 2, "working": 2, "looking_at": 2, "_correcting": 2, "_at": 2}
# A door that is given the kind by who calls it: these name it.
HANDED_ON = {"acting", "working", "looking_at", "_correcting", "_at"}
# What a kind is made of where it is no plain text.
MADE_OF = {
    "open_measurement": {f"{kind} opened" for kind in KINDS},
    "attach_all_to_job": {f"{kind} added" for kind in ("photograph", "recording", "page", "model", "inspection")},
}
BY = ("working", "_correcting", "_at", "hand_on", "_hand_on_surface", "opened_job", "_instead")


def written() -> Iterator[tuple[str, set[str], set[str]]]:
    """Give each function that opens the door of the records: its name, its kinds, and all that it calls."""
    for source in SOURCES:
        named = vars(import_module(f"{actions.__name__}.{source.stem}"))
        for function in ast.walk(ast.parse(source.read_text("utf-8"))):
            if isinstance(function, ast.FunctionDef) and function.name not in HANDED_ON:
                calls = [each for each in ast.walk(function) if isinstance(each, ast.Call)]
                names = {each.func.id for each in calls if isinstance(each.func, ast.Name)}
                kinds = {kind for each in calls for kind in _kinds(function.name, each, named)}
                if kinds:
                    yield function.name, kinds, names


def _kinds(name: str, call: ast.Call, named: Mapping[str, object]) -> set[str]:
    door = call.func.id if isinstance(call.func, ast.Name) else ""
    if door not in DOORS or any(each.arg == "chain" for each in call.keywords):
        return set()
    given = call.args[DOORS[door]]
    branches = [given.body, given.orelse] if isinstance(given, ast.IfExp) else [given]
    plain = {str(each.value) for each in branches if isinstance(each, ast.Constant)}
    plain |= {str(named[each.id]) for each in branches if isinstance(each, ast.Name) and each.id in named}
    return plain or MADE_OF[name]


def test_every_kind_of_entry_is_work_on_a_job_or_is_not() -> None:
    """A new act is in neither list: this fails until somebody has decided it."""
    kinds = {kind for _name, told, _calls in written() for kind in told}
    assert kinds == WORK | NO_WORK
    assert not WORK & set(NO_WORK)
    assert is_work("something nobody has thought of")


def test_every_act_that_is_work_goes_by_a_way_that_remembers_who_did_it() -> None:
    assert [name for name, kinds, calls in written() if kinds & WORK and not calls.intersection(BY)] == []
    assert [name for name, kinds, calls in written() if kinds & NO_WORK and "hand_on" in calls] == []


def _judge(job: Merle, actor: Actor) -> None:
    keep_finding(actor, ShakeRecording.objects.get().pk, {"format": "hingeline/motion-result/1"}, {})


def _put_together(job: Merle, actor: Actor) -> None:
    number = ShakeRecording.objects.get().number
    document = {"format": "hingeline/motion-onset-result/1", "against": "weight"}
    keep_series(actor, job.aircraft.pk, None, document, {"members": [{"recording": number}]})


def _fit(job: Merle, actor: Actor) -> None:
    part = add_part(actor, "Tab", "T-2")
    fit_part(actor, part.pk, job.aircraft.pk, date.today(), surface=job.surface.pk)


def _fit_long_ago(job: Merle, actor: Actor) -> None:
    """The day is what somebody types; whoever fits a part now can type an old one (decision 0206)."""
    part = add_part(actor, "Tab", "T-3")
    fit_part(actor, part.pk, job.aircraft.pk, date.today() - timedelta(days=400), surface=job.surface.pk)


def _remove(job: Merle, actor: Actor) -> None:
    remove_part(actor, Part.objects.get(name="Balance weight").pk, date.today(), "worn")


def _set_aside(job: Merle, actor: Actor) -> None:
    set_aside(actor, job.job.pk, "arrive.remarks", "dry", "wet")


@pytest.fixture
def ready(job: Merle) -> Merle:
    """Work by Anna with a recording and a fitted part, inspected by Bo."""
    anna = job.shop.anna
    take_recording_in(anna, About(job=job.job.pk), TakenIn("table", [b"1,2"], 3, "text/csv", "a.csv"))
    part = add_part(anna, "Balance weight", "W-1")
    fit_part(anna, part.pk, job.aircraft.pk, date.today(), surface=job.surface.pk)
    weighed(job)
    inspected(job)
    return job


@pytest.mark.fault("F36")
@pytest.mark.parametrize("act", [_judge, _put_together, _fit, _fit_long_ago, _remove, _set_aside])
def test_a_hand_beside_the_job_ends_an_inspection_and_is_no_second(
    ready: Merle, act: Callable[[Merle, Actor], None]
) -> None:
    """Who judged its recording, fitted or took off its part, or let another's value stand, worked on it."""
    cy = ready.shop.cy
    act(ready, cy)
    assert cy.person.pk in workers(ready.now)
    with pytest.raises(NotAllowed):
        release(cy, ready.as_seen, proof(cy), judge=no_bench)
    (item,) = ask_for_inspection(ready.shop.anna, ready.job.pk, [CHECKED])
    look(cy, item.pk, "agreed")
    with pytest.raises(NotAllowed, match="yourself"):
        sign_as_second(cy, ready.as_seen, proof(cy))


def test_a_released_job_keeps_its_hands(ready: Merle) -> None:
    """What is done beside a closed job is none of its work, and its signatures hold."""
    cy = ready.shop.cy
    release(cy, ready.as_seen, proof(cy), judge=no_bench)
    before = ready.seen
    for act in (_judge, _put_together, _fit, _remove, _set_aside):
        act(ready, ready.shop.anna)
    assert ready.seen == before


def _weigh(job: Merle, actor: Actor) -> None:
    open_measurement(actor, job.job.pk, "weighing", scale=job.scale.pk, set_up={"arm": "255 mm"})


def _read(job: Merle, actor: Actor) -> None:
    add_reading(actor, Measurement.objects.get().pk, "840 g")


def _work_out(job: Merle, actor: Actor) -> None:
    record_result(actor, job.job.pk, OUTSIDE, measurement=Measurement.objects.get().pk)


def _correct(job: Merle, actor: Actor) -> None:
    correct_set_up(actor, Measurement.objects.get().pk, "arm", "254 mm", "read again")


def _plan(job: Merle, actor: Actor) -> None:
    propose_ballast(actor, job.job.pk, PLAN)


def _fit_the_plan(job: Merle, actor: Actor) -> None:
    fit_ballast(actor, propose_ballast(job.shop.anna, job.job.pk, PLAN).pk)


def _photograph(job: Merle, actor: Actor) -> None:
    attach_to_job(actor, job.job.pk, Upload("photograph", b"arm", "image/jpeg"))


def _list(job: Merle, actor: Actor) -> None:
    ask_for_inspection(actor, job.job.pk, [CHECKED])


OF_BEFORE = [_weigh, _read, _work_out, _correct, _plan, _fit_the_plan, _photograph, _list, _judge]


@pytest.mark.parametrize("act", OF_BEFORE)
def test_a_job_of_before_knows_its_hands_by_the_rows_that_they_made(
    job: Merle, act: Callable[[Merle, Actor], None]
) -> None:
    """Before jobs remembered each hand, what a person made told of them: each kind of row does so still."""
    if act is not _weigh:
        weighed(job)
    if act is _judge:
        take_recording_in(job.shop.anna, About(job=job.job.pk), TakenIn("table", [b"1,2"], 3, "text/csv", "a.csv"))
    act(job, job.shop.cy)
    Job.objects.update(worked_on_by=[])
    assert workers(job.now) == {job.shop.anna.person.pk, job.shop.cy.person.pk}


def test_every_row_that_tells_who_worked_is_in_a_job_of_before() -> None:
    """One more table of what is made in a job is one more act above."""
    made = {"_weigh": Measurement, "_read": Reading, "_work_out": Result, "_correct": Correction,
            "_plan": BallastProposal, "_list": InspectionItem}  # fmt: skip
    assert set(made.values()) == set(WORK_ROWS)
    assert set(made) <= {act.__name__ for act in OF_BEFORE}


def test_who_only_opened_a_job_of_before_worked_on_it(shop: Fenholt, job: Merle) -> None:
    other = open_job(shop.cy, add_surface(shop.anna, job.aircraft.pk, "Rudder").pk, "painted")
    Job.objects.update(worked_on_by=[])
    assert workers(Job.objects.get(pk=other.pk)) == {shop.cy.person.pk}


def test_an_inspectors_photograph_makes_no_worker_of_a_job_of_before(job: Merle) -> None:
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    attach_to_item(job.shop.bo, item.pk, [Upload("inspection", b"seen", "image/jpeg")])
    Job.objects.update(worked_on_by=[])
    assert workers(job.now) == {job.shop.anna.person.pk}


def _withdraw(job: Merle, actor: Actor) -> None:
    release(actor, job.as_seen, proof(actor), judge=no_bench)
    withdraw_release(actor, job.job.pk, "the wrong sheet", proof(actor))


def _close(job: Merle, actor: Actor) -> None:
    close_order(actor, open_order(actor, job.aircraft.pk, "Annual").pk)


def _certificate(job: Merle, actor: Actor) -> None:
    renew_certificate(actor, job.scale.pk, "C 18", date.today(), date.today() + timedelta(days=300), {})


def _limits(job: Merle, actor: Actor) -> None:
    enter_limits(actor, job.row.issue_id, "Rudder", "27-12", PRINTED)


def _part_of_the_aircraft(job: Merle, actor: Actor) -> None:
    fit_part(actor, add_part(actor, "Propeller", "P-1").pk, job.aircraft.pk, date.today())


@pytest.mark.parametrize("act", [_withdraw, _close, _certificate, _limits, _part_of_the_aircraft])
def test_an_administrative_act_refuses_no_right_inspector(ready: Merle, act: Callable[[Merle, Actor], None]) -> None:
    shop: Fenholt = ready.shop
    act(ready, shop.cy)
    assert shop.cy.person.pk not in workers(ready.now)
    (item,) = ask_for_inspection(shop.anna, ready.job.pk, [CHECKED])
    for each in (item.pk, *ready.now.inspectionitems.exclude(pk=item.pk).values_list("pk", flat=True)):
        look(shop.cy, each, "agreed")
    sign_as_second(shop.cy, ready.as_seen, proof(shop.cy))
    assert Signature.objects.filter(made_by=shop.cy.person).exists()
