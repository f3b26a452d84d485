"""A job as one row of the bench: what is to be done next, what is in the way, who has it, how old it is."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from hingeline_app.bench.bar_of import bar_of
from hingeline_app.bench.steps import HELD, OPEN_STEP, next_step, statement_of, states_of
from hingeline_app.bench.weighing.scale_against import NOT_CERTIFIED, scale_against
from hingeline_app.bench.who_has_it import who_has_it
from hingeline_app.figures import LimitBar
from hingeline_app.figures.wording import format_measured
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.limits import READ_TWICE, SUPERSEDED
from hingeline_app.records.queries.matter import OPEN

# What is in the way, by its name; the page has the words.
NO_LIMITS, READ_BY_ONE, OUT_OF_DATE = "no limits", "read by one", "superseded"
WEIGH_AGAIN, STALE, WAITS_FOR_ANOTHER, STEP_HELD = "weigh again", "stale", "waits for another", "held"


@dataclass(frozen=True)
class Block:
    """One thing in the way: its name, and what the job says of it."""

    name: str
    step: str = ""
    said: str = ""


@dataclass(frozen=True)
class BenchRow:
    """One row of the bench."""

    job: JobRecord
    next: str
    blocks: tuple[Block, ...]
    who: str
    days: int
    bar: LimitBar | None
    statement: str | None
    moment: str


def bench_row(job: JobRecord, today: date, *, inspects_only: bool = False) -> BenchRow:
    """Gather what a row of the bench says of a job; for who only inspects, what was asked of them comes next."""
    bar, is_used = bar_of(job), scale_against(job.weighing) not in NOT_CERTIFIED
    if bar and not is_used:
        # The value is drawn where it lies; the colour of a statement that is not used would say that it counts.
        bar = replace(bar, statement=None)
    measured = bar is not None and bar.value is not None
    blocks = blocks_of(job) if job.state == OPEN else ()
    is_asked = inspects_only and any(each.name == WAITS_FOR_ANOTHER for each in blocks)
    return BenchRow(
        job,
        "second-inspection" if is_asked else next_step(job),
        blocks,
        who_has_it(job),
        (today - job.opened_on).days,
        bar,
        statement_of(job) if is_used else None,
        format_measured(bar.value, bar.uncertainty, "N m", sense=True) if bar and measured else "",  # type: ignore[arg-type]
    )


def blocks_of(job: JobRecord) -> tuple[Block, ...]:
    """Name what is in the way of the release, the nearest first."""
    states = {each.name: each for each in states_of(job)}
    held = [Block(STEP_HELD, each.name, each.why) for each in states.values() if each.state == HELD]
    return (*held, *_limits(job), *_weighing(job), *_waiting(job, states["second-inspection"].state))


def _limits(job: JobRecord) -> list[Block]:
    row = job.limit_row
    if row is None:
        return [Block(NO_LIMITS)] if next_step(job) != "arrive" else []
    if row.state == SUPERSEDED:
        return [Block(OUT_OF_DATE, said=f"{row.document}, {row.issue}")]
    return [] if row.state == READ_TWICE else [Block(READ_BY_ONE)]


def _weighing(job: JobRecord) -> list[Block]:
    if job.weigh_again:
        return [Block(WEIGH_AGAIN)]
    scale = scale_against(job.weighing)
    said = str((job.weighing.scale or {}).get("name") or "") if job.weighing else ""
    stale = [Block(STALE)] if job.weighing and job.weighing.is_stale else []
    return [Block(scale, said=said), *stale] if scale else stale


def _waiting(job: JobRecord, state: str) -> list[Block]:
    return [Block(WAITS_FOR_ANOTHER)] if job.items and state == OPEN_STEP else []
