"""How one job of the story is worked: weighed, worked out, corrected, inspected, released; each by the act for it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any, NamedTuple
from uuid import UUID

from hingeline_app.bench.weighing.weighing_of import weighed, weighing_tables, weighing_text
from hingeline_app.demo.cast import Workshop
from hingeline_app.demo.hangar import Hangar
from hingeline_app.records.actions.inspecting import Disturbed, ask_for_inspection, look, sign_as_second
from hingeline_app.records.actions.jobs import choose_limits, open_job, set_detail
from hingeline_app.records.actions.measuring import add_reading, open_measurement, record_result
from hingeline_app.records.actions.releasing import release
from hingeline_app.records.proof import Proof
from hingeline_app.records.queries.jobs import JobRecord, job_of
from hingeline_app.records.queries.signing import seen_by_number
from hingeline_app.records.ways_in import PASSWORD
from hingeline_app.records.write_door import Actor
from hingeline_app.web.steps.release import judged

ARRIVED = ("drains", "dry", "no_loose_matter")
DISTURBED = (
    Disturbed("Hinge pins and their locking", "fitted, locked with new pins"),
    Disturbed("Balance weight screws", "torqued and locked"),
    Disturbed("Push rod to the horn", "connected, locked, moves in the right sense"),
)


# Where the invented data sheet allows mass on an elevator half.
PLACES = (
    {"name": "Arm weight", "arm": "180 mm", "side": "forward", "present_mass": "600 g", "largest_mass": "800 g",
     "smallest_step": "5 g"},
    {"name": "Horn pocket", "arm": "120 mm", "side": "forward", "largest_mass": "80 g", "smallest_step": "10 g"},
    {"name": "Filler", "arm": "238 mm", "side": "aft", "present_mass": "60 g", "largest_mass": "60 g",
     "smallest_step": "5 g"},
)  # fmt: skip


class Surface(NamedTuple):
    """What is weighed in a job: on which aircraft, its mass, the arm of the prop and what the scale showed."""

    registration: str
    name: str
    mass: str
    arm: str
    readings: Sequence[str]
    side: str = "aft"


class Work:
    """One job, worked by somebody."""

    def __init__(self, shop: Workshop, hangar: Hangar, by: Actor, what: Surface, why: str, order: UUID | None = None):
        self.shop, self.hangar, self.by, self.what = shop, hangar, by, what
        self.job = open_job(by, hangar.surfaces[what.registration, what.name], why, work_order=order)

    @property
    def record(self) -> JobRecord:
        """Give the job as it is now."""
        assert self.by.person is not None, "somebody works"
        return job_of(self.by.person, self.job.number)

    def arrives(self) -> Work:
        """Tick what is to be seen to on arrival."""
        for name in ARRIVED:
            set_detail(self.by, self.job.pk, f"arrive.{name}", None, True)
        set_detail(self.by, self.job.pk, "arrive.state", None, "done")
        return self

    def limits(self, row: UUID) -> Work:
        """Choose the row that applies."""
        choose_limits(self.by, self.job.pk, row, None)
        return self

    def weigh(self, readings: Sequence[str] | None = None, *, scale: UUID | None = None, end: bool = True) -> Work:
        """Weigh, and keep what was worked out from it."""
        weighing = open_measurement(
            self.by, self.job.pk, "weighing", scale=scale or self.hangar.scale, stand=self.hangar.stand,
            set_up=self._set_up(),
        )  # fmt: skip
        for typed in self.what.readings if readings is None else readings:
            add_reading(self.by, weighing.pk, typed)
        return self.work_out() if end else self

    def work_out(self) -> Work:
        """Keep the statement of the last weighing."""
        record = self.record
        assert record.weighing is not None, "it was weighed"
        result: dict[str, Any] = weighed(weighing_text(record, record.weighing))
        asked = weighing_tables(record, record.weighing)
        record_result(self.by, self.job.pk, result, measurement=record.weighing.identifier, asked=_plain(asked))
        return self

    def may_be_corrected(self) -> Work:
        """Enter where the data sheet allows mass."""
        for index, place in enumerate(PLACES):
            set_detail(self.by, self.job.pk, f"correct.place.{index}", None, place)
        set_detail(self.by, self.job.pk, "correct.inertia", None, "0.0420 kg m^2")
        return self

    def closes(self, *steps: str, reason: str = "") -> Work:
        """Close steps by hand."""
        for step in steps:
            set_detail(self.by, self.job.pk, f"{step}.state", None, "not needed" if reason else "done")
            if reason:
                set_detail(self.by, self.job.pk, f"{step}.reason", None, reason)
        return self

    def asks(self, disturbed: Sequence[Disturbed] = DISTURBED) -> Work:
        """Ask for the second inspection."""
        self.items = ask_for_inspection(self.by, self.job.pk, disturbed)
        return self

    def inspected(self, by: Actor) -> Work:
        """Let another person look at each item and sign."""
        for item in self.items:
            look(by, item.pk, "agreed")
        sign_as_second(by, {self.job.pk: self.seen(by)}, _proof(by))
        return self

    def released(self, by: Actor) -> Work:
        """Let the certifying person release it."""
        release(by, {self.job.pk: self.seen(by)}, _proof(by), judge=judged)
        return self

    def seen(self, by: Actor) -> str:
        """Give the digest of the job as somebody sees it now."""
        assert by.person is not None, "somebody looks"
        return seen_by_number(by.person, self.job.number)

    def _set_up(self) -> dict[str, Any]:
        weight = {"mass": "0.600 kg", "arm": "180 mm", "side": "forward"}
        return {
            "surface": {"mass": self.what.mass, "vertical_offset": "-20 mm", "balance_weight": [weight]},
            "support": [{"arm": self.what.arm, "side": self.what.side, "tare": "0 g"}],
            "ticks": {"level": True, "tare": True, "tab_neutral": True},
        }


def _proof(actor: Actor) -> Proof:
    assert actor.person is not None, "somebody signs"
    assert actor.account is not None, "and signs in"
    return Proof(actor.person.pk, actor.account.pk, PASSWORD, datetime.now(UTC))


def _plain(tables: Any) -> Any:
    """Leave out what was not stated, which plain data do not hold."""
    if isinstance(tables, dict):
        return {name: _plain(each) for name, each in tables.items() if each is not None}
    return [_plain(each) for each in tables] if isinstance(tables, list) else tables
