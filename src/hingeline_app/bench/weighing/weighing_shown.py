"""A weighing as the page shows it: worked out at once from the records, beside what was recorded of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline_app.bench.weighing.statement_shown import StatementShown, no_statement, statement_shown
from hingeline_app.bench.weighing.weighing_of import planned, text_as_it_stands, weighed
from hingeline_app.figures import draw_beam, draw_limit_bar
from hingeline_app.figures.beam.model import BeamPicture
from hingeline_app.figures.wording import format_percent, format_scaled
from hingeline_app.files.weighing_file import read_weighing
from hingeline_app.records.queries.jobs import JobRecord, MeasurementRecord
from hingeline_app.report.blank import not_weighed
from hingeline_app.report.pictures import beam_picture, limit_bar
from hingeline_app.report.words import budget_rows, sum_written_out, term_rows, uncertainty_words, window_words

WIDE, NARROW = 650.0, 348.0
MOST_CAUSES, ALL_CAUSES = 3, 99
# How a note begins that says of something that it is not in the ±.
TOO_SMALL = ("Not stated, so counted as nothing", "One reading", "One pair")
LIVE, RECORDED, STALE, NONE = "live", "recorded", "stale", "none"


@dataclass(frozen=True)
class Picture:
    """A picture drawn for the tablet and for the phone."""

    wide: str
    narrow: str


@dataclass(frozen=True)
class WeighingShown:
    """What a page shows of one weighing."""

    statement: StatementShown
    # live: not recorded yet; recorded: the same as recorded; stale: something changed since; none: no statement.
    state: str
    before: StatementShown | None
    document: Mapping[str, Any] | None
    beam: Picture | None
    bar: Picture | None
    sum_words: str = ""
    uncertainty: str = ""
    window: str = ""
    causes: tuple[tuple[str, str], ...] = ()
    more_causes: int = 0
    too_small: tuple[str, ...] = ()
    budget: tuple[tuple[str, ...], ...] = ()
    terms: tuple[tuple[str, ...], ...] = ()
    shrink: str = ""
    net: str = ""


def weighing_shown(job: JobRecord, weighing: MeasurementRecord) -> WeighingShown:
    """Weigh what the records hold now, and say whether that is what was recorded."""
    text = ""
    recorded = weighing.result.document if weighing.result else None
    try:
        text = text_as_it_stands(job, weighing)
        document = weighed(text)
    except InputRefused as refused:
        before = statement_shown(recorded) if recorded else None
        return _without(text, no_statement(refused.refusals), STALE if recorded else NONE, before)
    state = LIVE if recorded is None else RECORDED if same_document(recorded, document) else STALE
    before = statement_shown(recorded) if recorded and state == STALE else None
    return _with(document, state, before)


def same_document(recorded: Mapping[str, Any], document: Mapping[str, Any]) -> bool:
    """Tell whether two results are the same to the last digit; which program made them does not count."""
    bare = ({name: each for name, each in one.items() if name != "about"} for one in (recorded, document))
    first, second = (_plain(each) for each in bare)
    return bool(first == second)


def _plain(value: Any) -> Any:
    if isinstance(value, Mapping):
        # A typed value tells by what gravity it was converted; version 1.0.0 noted one that changes no number.
        return {key: _plain(each) for key, each in value.items() if key != "local_gravity" or "typed" not in value}
    return [_plain(each) for each in value] if isinstance(value, list | tuple) else value


def _with(document: Mapping[str, Any], state: str, before: StatementShown | None) -> WeighingShown:
    rows = [tuple(row) for row in budget_rows(document, ALL_CAUSES)]
    return WeighingShown(
        statement_shown(document),
        state,
        before,
        document,
        beam=beam_drawn(beam_picture(document)),
        bar=bar_drawn(document),
        sum_words=sum_written_out(document),
        uncertainty=uncertainty_words(document),
        window=window_words(document),
        causes=tuple((row[0].capitalize(), row[2]) for row in rows[:MOST_CAUSES]),
        more_causes=max(0, len(rows) - MOST_CAUSES),
        too_small=too_small(document),
        budget=tuple(rows),
        terms=tuple(tuple(row) for row in term_rows(document)),
        shrink=shrink_words(document),
    )


def too_small(document: Mapping[str, Any]) -> tuple[str, ...]:
    """Say what is not in the ±: the first sentence of each note that tells of it."""
    notes = (str(note) for note in document.get("notes") or ())
    return tuple(f"{note.partition('. ')[0].rstrip('.')}." for note in notes if note.startswith(TOO_SMALL))


def beam_drawn(picture: BeamPicture) -> Picture:
    """Draw the beam at both widths."""
    return Picture(draw_beam(picture, WIDE), draw_beam(picture, NARROW))


def bar_drawn(document: Mapping[str, Any]) -> Picture:
    """Draw the limit bar at both widths."""
    bar = limit_bar(document)
    return Picture(draw_limit_bar(bar, WIDE), draw_limit_bar(bar, NARROW))


def shrink_words(document: Mapping[str, Any]) -> str:
    """Say what would make the ± smaller: what settles a weighing that is too close to tell, else the largest cause."""
    planning = document.get("planning")
    if planning:
        needed = format_scaled(planning["needed_expanded_uncertainty"]["value"], "N m", toward="down")
        return f"To tell, U has to fall below {needed}. {planning['advice']}"
    rows = document.get("budget") or []
    if not rows:
        return ""
    return f"The {rows[0]['source']} make{'' if str(rows[0]['source']).endswith('readings') else 's'} up " \
           f"{format_percent(float(rows[0]['share']))} of it: less there shrinks the ± most."  # fmt: skip


def _without(text: str, statement: StatementShown, state: str, before: StatementShown | None) -> WeighingShown:
    """Show what is known before there is a result: the beam without numbers, the limits, what the scale may show."""
    document = _blank(text)
    if document is None:
        return WeighingShown(statement, state, before, None, None, None)
    return WeighingShown(
        statement,
        state,
        before,
        None,
        beam=beam_drawn(beam_picture(document)),
        bar=bar_drawn(document),
        window=window_words(document),
    )


def _blank(text: str) -> dict[str, Any] | None:
    try:
        weighing = to_document(read_weighing(text.encode()).weighing)
    except InputRefused:
        return None
    try:
        plan = planned(text)
    except InputRefused:
        plan = None
    return not_weighed(plan, weighing)
