"""A job on a Merle T2, step by step through the acts, for the tests to stand on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any
from uuid import UUID

import pytest

from hingeline_app.records.actions.aircraft import add_aircraft, add_surface
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.equipment import add_scale
from hingeline_app.records.actions.inspecting import Disturbed, ask_for_inspection, look, sign_as_second
from hingeline_app.records.actions.jobs import choose_limits, open_job
from hingeline_app.records.actions.limits import add_document, add_issue, enter_limits, read_again
from hingeline_app.records.actions.measuring import add_reading, open_measurement, record_result
from hingeline_app.records.actions.releasing import release
from hingeline_app.records.dates import now
from hingeline_app.records.models import Aircraft, Job, LimitRow, Measurement, Scale, Surface
from hingeline_app.records.proof import Proof
from hingeline_app.records.queries.picture import seen_of
from hingeline_app.records.ways_in import PASSWORD
from hingeline_app.records.write_door import Actor
from tests.hingeline_app.records.workshop import Fenholt, no_bench

PRINTED = {
    "surface": "Elevator, left half",
    "positive": "tail-heavy",
    "moment": ["0.00 N m", "2.10 N m"],
    "page": "27-11",
}
INSIDE = {
    "format": "hingeline/weighing-result/1",
    "statement": "inside",
    "static_moment": {"value": 1.85, "unit": "N m"},
}
OUTSIDE = INSIDE | {"statement": "outside"}
PLAN = {"format": "hingeline/ballast-result/1", "feasible": True}
CHECKED = Disturbed("balance weight screws", "torqued and locked")


@dataclass
class Merle:
    """An aircraft with a surface, a scale, a row of limits read twice, and a job."""

    shop: Fenholt
    aircraft: Aircraft
    surface: Surface
    scale: Scale
    row: LimitRow
    job: Job

    @property
    def seen(self) -> str:
        """Give the digest of the job as it is now."""
        return seen_of(Job.objects.get(pk=self.job.pk))

    @property
    def as_seen(self) -> dict[UUID, str]:
        return {self.job.pk: self.seen}

    @property
    def now(self) -> Job:
        return Job.objects.get(pk=self.job.pk)


def merle(shop: Fenholt, owner: Actor | None = None, serial: str = "T2-03") -> Merle:
    """Open a job on a Merle T2."""
    aircraft = add_aircraft(
        shop.anna,
        "Merle T2",
        f"D-E{serial[-2:]}M",
        serial,
        built_on=date(2011, 5, 2),
        owner=(owner or shop.dora).person.pk,
    )
    surface = add_surface(shop.anna, aircraft.pk, "Elevator, left half", hinge_to_trailing_edge="270 mm")
    scale = add_scale(
        shop.anna,
        f"HL-{serial}",
        step="5 g",
        largest="6 kg",
        certificate="C 17",
        certificate_expires=date.today() + timedelta(days=100),
        check_weight="1 kg",
        check_tolerance="5 g",
    )
    row = limits(shop, serial)
    job = open_job(shop.anna, surface.pk, "painted", details={"dry": True})
    choose_limits(shop.anna, job.pk, row.pk, None)
    return Merle(shop, aircraft, surface, scale, row, job)


def limits(shop: Fenholt, serial: str = "T2-03") -> LimitRow:
    """Enter a row that two persons read the same."""
    document = add_document(shop.anna, "Maintenance manual", f"MM-{serial}", "Merle T2")
    issue = add_issue(shop.anna, document.pk, "4", date(2024, 3, 1))
    row = enter_limits(shop.anna, issue.pk, "Elevator, left half", "27-11", PRINTED)
    return read_again(shop.bo, row.pk, PRINTED)


def weighed(job: Merle, by: Actor | None = None, result: dict[str, Any] = INSIDE) -> Measurement:
    """Weigh and work it out."""
    actor = by or job.shop.anna
    weighing = open_measurement(actor, job.job.pk, "weighing", scale=job.scale.pk, set_up={"arm": "255 mm"})
    for reading in ("840 g", "845 g", "840 g"):
        add_reading(actor, weighing.pk, reading)
    record_result(actor, job.job.pk, result, measurement=weighing.pk)
    return weighing


def proof(actor: Actor, method: str = PASSWORD, age: float = 0.0, over: str = "") -> Proof:
    """Prove who acts, some seconds ago."""
    return Proof(actor.person.pk, None, method, now() - timedelta(seconds=age), over)


def inspected(job: Merle, by: Actor | None = None) -> None:
    """Ask for the second inspection, look and sign."""
    actor = by or job.shop.bo
    for item in ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED]):
        look(actor, item.pk, "agreed")
    sign_as_second(actor, job.as_seen, proof(actor))


def released(job: Merle) -> None:
    """Weigh, inspect and release."""
    weighed(job)
    inspected(job)
    release(job.shop.cy, job.as_seen, proof(job.shop.cy), judge=no_bench)


def refused_release(job: Merle, words: str) -> None:
    """Ask that nobody releases, for this reason."""
    with pytest.raises(NotAllowed, match=words):
        release(job.shop.cy, job.as_seen, proof(job.shop.cy), judge=no_bench)
    assert job.now.state == "open"
