"""Whatever people do in whatever order: the chain is whole, the ledger rebuilds every table, nobody is two."""

from __future__ import annotations

import json
import random
from collections.abc import Callable
from typing import Any

import pytest

from hingeline.errors import InputRefused
from hingeline_app.records.actions.ballast import fit_ballast, propose_ballast
from hingeline_app.records.actions.correcting import correct_reading, correct_set_up
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.inspecting import ask_for_inspection, look, sign_again, sign_as_second
from hingeline_app.records.actions.jobs import set_detail
from hingeline_app.records.actions.limits import enter_limits, look_again, read_again
from hingeline_app.records.actions.measuring import add_reading, open_measurement, record_result, withdraw_reading
from hingeline_app.records.actions.releasing import release, withdraw_release
from hingeline_app.records.actions.working import Moved
from hingeline_app.records.chain import Link, breaks
from hingeline_app.records.looking.rows_as_noted import kept_tables, row_findings
from hingeline_app.records.looking.signed_texts import faults_of
from hingeline_app.records.models import (
    BallastProposal,
    Entry,
    InspectionItem,
    Job,
    LimitRow,
    Measurement,
    Reading,
    Signature,
)
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.queries.matter import SECOND, WORK
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.rebuilding import row_of
from hingeline_app.records.rows import is_noted_as_set, note_of
from hingeline_app.records.write_door import Actor
from tests.hingeline_app.records.merle import CHECKED, INSIDE, PLAN, PRINTED, Merle, merle, proof
from tests.hingeline_app.records.workshop import Fenholt, no_bench, with_role

REFUSALS = (NotAllowed, InputRefused, Moved, Nowhere)


def one_of(choose: random.Random, table: Any) -> Any:
    rows = list(table.objects.order_by("pk"))
    if not rows:
        raise Nowhere("nothing yet")
    return choose.choice(rows).pk


def acts(job: Merle, actor: Actor, choose: random.Random) -> list[Callable[[], Any]]:
    """Everything that may be tried, by anybody."""
    number, slip = job.job.pk, PRINTED | {"moment": ["0.00 N m", choose.choice(["2.10 N m", "21.0 N m"])]}
    return [
        lambda: open_measurement(actor, number, "weighing", scale=job.scale.pk, set_up={"arm": "255 mm"}),
        lambda: add_reading(actor, one_of(choose, Measurement), choose.choice(["840 g", "845 g", "841 g", "x"])),
        lambda: withdraw_reading(actor, one_of(choose, Reading), "slipped"),
        lambda: correct_reading(actor, one_of(choose, Reading), "850 g", "misread"),
        lambda: correct_set_up(actor, one_of(choose, Measurement), "arm", "250 mm", "measured again"),
        lambda: record_result(actor, number, INSIDE, measurement=one_of(choose, Measurement)),
        lambda: set_detail(actor, number, "dry", choose.choice([None, True]), choose.random() < 0.5),
        lambda: propose_ballast(actor, number, PLAN),
        lambda: fit_ballast(actor, one_of(choose, BallastProposal)),
        lambda: enter_limits(actor, job.row.issue_id, "Rudder", "27-12", slip),
        lambda: read_again(actor, one_of(choose, LimitRow), slip),
        lambda: look_again(actor, one_of(choose, LimitRow), slip),
        lambda: ask_for_inspection(actor, number, [CHECKED]),
        lambda: look(actor, one_of(choose, InspectionItem), "agreed"),
        lambda: [look(actor, item.pk, "agreed") for item in InspectionItem.objects.all()],
        lambda: sign_as_second(actor, job.as_seen, proof(actor)),
        lambda: sign_again(actor, number, job.seen, "nobody else here", proof(actor)),
        lambda: release(actor, job.as_seen, proof(actor), on_own_inspection=choose.random() < 0.3, judge=no_bench),
        lambda: withdraw_release(actor, number, "wrong surface", proof(actor)),
    ]


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(4))
def test_random_acts_keep_the_rules(shop: Fenholt, seed: int) -> None:
    choose, job = random.Random(seed), merle(shop)
    everything = with_role(shop, "Gus Ray", "GR", "certifying", "FH.66.77")
    done = 0
    for _ in range(150):
        actor = choose.choice([shop.anna, shop.bo, shop.cy, everything, shop.dora, shop.ed])
        try:
            choose.choice(acts(job, actor, choose))()
            done += 1
        except REFUSALS:
            continue
    assert done > 15
    assert_the_chain_is_whole(shop)
    assert_the_ledger_rebuilds_every_table(shop)
    assert_nobody_is_two(job)


def test_the_checks_see_what_they_look_for(shop: Fenholt) -> None:
    """A row changed beside the door is seen by the comparison that the random acts rest on."""
    job = merle(shop)
    Job.objects.filter(pk=job.job.pk).update(why_here="something else")
    with pytest.raises(AssertionError):
        assert_the_ledger_rebuilds_every_table(shop)


def entries(shop: Fenholt) -> list[Entry]:
    return list(Entry.objects.filter(workshop=shop.workshop, chain="records").order_by("position"))


def assert_the_chain_is_whole(shop: Fenholt) -> None:
    links = [Link(each.position, each.previous, each.digest, each.body.encode()) for each in entries(shop)]
    assert list(breaks(links)) == []


def assert_the_ledger_rebuilds_every_table(shop: Fenholt) -> None:
    """Replayed in order, the notes give every row of every table, and no other; of a secret, that one was set."""
    noted = [note for entry in entries(shop) for note in json.loads(entry.body)["rows"]]
    last = {(note["table"], note["identifier"]): note for note in noted}
    assert list(row_findings(last, "default")) == []
    for table in kept_tables():
        rows = {str(row.pk): row for row in table._base_manager.all()}
        again = {key[1]: row_of(table, note) for key, note in last.items() if key[0] == table._meta.model_name}
        assert {key: known_of(row) for key, row in rows.items()} == {key: known_of(row) for key, row in again.items()}


def known_of(row: KeptRow) -> dict[str, Any]:
    """Note what the ledger can give again: the secret itself is not in it; its check sum is compared by the look."""
    values = note_of(row)["values"]
    return values | {name: is_noted_as_set(values[name]) for name in row.secret_fields}


def assert_nobody_is_two(job: Merle) -> None:
    for signature in Signature.objects.all():
        assert faults_of(signature) == []
        rows = [row for table in WORK for row in table.objects.filter(job=job.job, change__lt=signature.change)]
        workers = {row.made_by_id for row in rows} | {job.job.opened_by_id}
        assert (signature.purpose == SECOND) <= (signature.made_by_id not in workers)
    for row in LimitRow.objects.all():
        assert row.first_reader_id != row.second_reader_id
        assert (row.agreed is not None) <= (row.second_reader_id is not None)
