"""What was entered at the steps beside values and readings, line by line, so that a sheet leaves nothing out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from hingeline_app.bench.arm.arm_estimate import ASKED, OF_A_CRACK
from hingeline_app.bench.arm.arm_points import POINTS, point_of
from hingeline_app.bench.refit_checks import row_of, told_in
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord

ARRIVED = {"drains": "Drains open", "dry": "Dry inside", "no_loose_matter": "No loose matter"}
OF_A_WALL = {"nominal": "nominal wall", "walls": "wall readings", "uncertainty": "± of the gauge",
             "limit": "smallest wall", "source": "walls from"}  # fmt: skip
FORWARD, AFT = "Arm from the hinge line {}, forward", "Arm from the hinge line {}, aft"
OF_A_PLACE = {"present_mass": "Mass there now", "largest_mass": "Most in all", "smallest_mass": "Least, if any",
              "smallest_step": "Smallest step", "fixed_mass": "Bracket and screws",
              "spanwise": "From the roll axis, along the span"}  # fmt: skip
# Words of the page's own list; any other aim is a moment that was typed.
AIMS = {"nearest": "nearest inside", "middle": "middle"}


class Line(NamedTuple):
    """One line: at which step, what, what was entered, by whom."""

    step: str
    what: str
    said: str
    by: str = ""


def steps_told(job: JobRecord) -> list[Line]:
    """Give the lines in the order of the steps."""
    parts = (_arrive, _correct, _arm, _refit, _between)
    return [line for part in parts for line in part(job) if line.said]


def _arrive(job: JobRecord) -> Iterator[Line]:
    ticked = [words for name, words in ARRIVED.items() if value_at(job.details, f"arrive.{name}") is True]
    yield Line("Arrive", "ticked", ", ".join(ticked))
    yield Line("Arrive", "as it came", _pairs(value_at(job.details, "arrive.fitted")))
    yield Line("Arrive", "remarks", _text(job, "arrive.remarks"))
    yield from _closed(job, "arrive", "Arrive")


def _correct(job: JobRecord) -> Iterator[Line]:
    places = value_at(job.details, "correct.place")
    for row in places if isinstance(places, list) else []:
        if isinstance(row, Mapping):
            yield Line("Correct", "place", str(row.get("name") or ""))
            yield Line("Correct", "at this place", _of_a_place(row))
    aim = _text(job, "correct.plan.target")
    yield Line("Correct", "chosen aim" if aim in AIMS else "aim", AIMS.get(aim, aim))
    yield Line("Correct", "inertia", _text(job, "correct.inertia"))
    yield Line("Correct", "product of inertia", _text(job, "correct.product"))


def _of_a_place(row: Mapping[str, Any]) -> str:
    """Give each number with its name: of two masses nobody could tell which is there and which is the most."""
    arm = AFT if row.get("side") == "aft" else FORWARD
    given = [f"{words} {row[name]}" for name, words in OF_A_PLACE.items() if row.get(name)]
    return "; ".join([arm.format(row["arm"]), *given] if row.get("arm") else given)


def _arm(job: JobRecord) -> Iterator[Line]:
    for each in POINTS:
        row = point_of(job, each.name) or {}
        by = str(row.get("by") or "")
        yield Line("Arm", each.words, str(row.get("note") or ""), by)
        walls = [f"{words} {row[name]}" for name, words in OF_A_WALL.items() if row.get(name)]
        yield Line("Arm", "wall", "; ".join(walls), by)
    treated = value_at(job.details, "arm.treatment")
    if isinstance(treated, Mapping):
        yield Line("Arm", "treatment", _row(treated, ("what", "mass", "where")), str(treated.get("by") or ""))
    yield Line("Arm", "metals that touch", _pairs(value_at(job.details, "arm.pair")))
    model = [(each.words, _text(job, f"arm.model.{each.name}")) for each in (*ASKED, *OF_A_CRACK)]
    yield Line("Arm", "for the estimate", "; ".join(f"{words} {said}" for words, said in model if said))
    yield from _closed(job, "arm", "Arm")


def _refit(job: JobRecord) -> Iterator[Line]:
    for each in told_in(job):
        row = row_of(job, each.name) or {}
        by = str(row.get("by") or "")
        yield Line("Refit", each.words, _row(row, ("source", "reason")), by)
    yield from _closed(job, "refit", "Refit")


def _between(job: JobRecord) -> Iterator[Line]:
    """Give what interrupted the job."""
    for name, words, fields in (
        ("hand_over", "handed over", ("on", "to_name", "note")),
        ("query", "query to the design holder", ("on", "of", "asked", "answer", "reference")),
        ("incomplete", "incomplete work", ("on", "reason")),
    ):
        row = job.details.get(name)
        if isinstance(row, Mapping):
            yield Line("Between", words, _row(row, fields), str(row.get("by") or ""))


def _closed(job: JobRecord, name: str, step: str) -> Iterator[Line]:
    state = _text(job, f"{name}.state")
    if state != "open":
        yield Line(step, "this step", state)
        yield Line(step, "because", _text(job, f"{name}.reason"))


def _text(job: JobRecord, place: str) -> str:
    return str(value_at(job.details, place) or "")


def _row(row: Mapping[str, Any], names: tuple[str, ...]) -> str:
    return "; ".join(str(row[name]) for name in names if row.get(name))


def _pairs(told: Any) -> str:
    rows = told.items() if isinstance(told, Mapping) else []
    return "; ".join(f"{name.replace('_', ' ')}: {said}" for name, said in rows if said)
