"""A job as the records hold it becomes the plain record that its worksheet is printed from."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

import hingeline
from hingeline.errors import InputRefused
from hingeline.units import sense_word
from hingeline_app.bench.on_paper.steps_told import steps_told
from hingeline_app.bench.weighing.scale_against import is_not_used, why_not_used
from hingeline_app.bench.weighing.weighing_of import weighed, weighing_text
from hingeline_app.figures.correction.words import mass_of
from hingeline_app.figures.wording import format_measured, format_quantity
from hingeline_app.files.again import differing, is_rounding, is_wording
from hingeline_app.files.toml_text import toml_text
from hingeline_app.files.weighing_file import read_weighing
from hingeline_app.records.heads import SignedHead
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.job_record import PrintedPart, SignedRecord
from hingeline_app.records.queries.jobs import JobRecord as KeptJob
from hingeline_app.records.queries.jobs import MeasurementRecord
from hingeline_app.report.job_record import (
    ArmPoint,
    ChangeMade,
    GivenHead,
    JobRecord,
    LookedAt,
    OtherWeighing,
    RefitValue,
    Signed,
    ToldLine,
    WithdrawnReading,
)
from hingeline_app.report.quantities import arm_text, expanded_of, value_of
from hingeline_app.report.sheet import SheetDetails

NOT_RECORDED = "No statement was recorded: this was worked out when it was printed."
OLDER = "The recorded statement is older than what was measured: this was worked out anew when it was printed."
DIFFERS = "Worked out again by this version, the recorded result differs: the recorded one is printed."
WEIGH_AGAIN = "The surface was changed after this weighing: it is to be weighed again."


def record_of(
    job: KeptJob, part: PrintedPart, head: SignedHead | None = None, again: str = "", weighing: int | None = None
) -> JobRecord:
    """Compose what is printed of a job.

    Parameters
    ----------
    job : JobRecord
        As the queries give it.
    part : PrintedPart
    head : SignedHead, optional
        The ledger's head, given with this print.
    again : str
        What the code "work it out again" holds: the job's address.
    weighing : int, optional
        Which weighing; the last one without it.

    Raises
    ------
    InputRefused
        There is no such weighing, or it cannot be worked out yet.
    """
    chosen = the_weighing(job, weighing)
    text, result, remarks = text_and_result(job, chosen)
    sheet = SheetDetails(**{**read_weighing(text.encode()).sheet, "workshop": part.workshop})
    return JobRecord(
        sheet=sheet,
        weighing_text=text,
        result=result,
        state=job.state,
        in_the_way=part.in_the_way,
        weighed_by="; ".join(part.weighed_by.get(chosen.identifier, ())),
        weighed_on=chosen.begun_on.isoformat(),
        withdrawn=tuple(_withdrawn(chosen, part)),
        changes=tuple(changes_of(job)),
        arm=tuple(_arm(job.details.get("arm"))),
        refit=tuple(_refit(job.details.get("refit"))),
        items=tuple(LookedAt(each.name, each.finding, each.note, each.by, each.first) for each in part.items),
        signatures=tuple(_signed(each, part.zone) for each in part.signatures),
        told=tuple(ToldLine(*each) for each in steps_told(job)),
        weighings=tuple(_other(each) for each in job.of_kind("weighing")),
        remarks=tuple(remarks),
        not_used=_not_used(chosen) or _of_before(job, chosen),
        head=given_head(head),
        again=again,
    )


def given_head(head: SignedHead | None) -> GivenHead | None:
    """Give a signed head as it is printed."""
    if head is None:
        return None
    at = datetime.fromisoformat(head.head.at)
    return GivenHead(head.head.short, head.code, f"{at:%Y-%m-%d %H:%M} UTC")


def order_records(
    jobs: Sequence[tuple[KeptJob, PrintedPart]], head: SignedHead | None, again: Callable[[int], str]
) -> list[JobRecord]:
    """Compose the records of a work order; which of its jobs are not among them is said on each.

    Raises
    ------
    InputRefused
        None of them was weighed.
    """
    records, left = list[JobRecord](), list[str]()
    for job, part in jobs:
        if job.weighing is None:
            left.append(f"{job.number:04d}, {job.surface_name}")
        else:
            records.append(record_of(job, part, head, again(job.number)))
    if not records:
        raise InputRefused.of("order", "no weighing", "at least one weighed surface", "Weigh one first.")
    said = f"Of the same order, not weighed when this was printed: {'; '.join(left)}."
    return [replace(each, remarks=(*each.remarks, said)) for each in records] if left else records


def the_weighing(job: KeptJob, number: int | None = None) -> MeasurementRecord:
    """Choose a weighing of a job.

    Raises
    ------
    InputRefused
        There is none, or none of that number.
    """
    weighings = job.of_kind("weighing")
    chosen = [each for each in weighings if number in (None, each.number)]
    if not chosen:
        there = ", ".join(str(each.number) for each in weighings) or "none yet"
        raise InputRefused.of("weighing", number or "none", f"a weighing of this job ({there})", "Weigh it first.")
    return chosen[-1]


def text_and_result(job: KeptJob, weighing: MeasurementRecord) -> tuple[str, dict[str, Any], list[str]]:
    """Give the weighing file and its result, the recorded ones where they still stand, and what is to be said."""
    remarks = [each for each in (_of_before(job, weighing), _not_used(weighing)) if each]
    kept = weighing.result
    if kept is None or weighing.is_stale:
        text = weighing_text(job, weighing)
        return text, _about(weighed(text), hingeline.__version__), [*remarks, NOT_RECORDED if kept is None else OLDER]
    text = toml_text(kept.asked) if kept.asked else weighing_text(job, weighing)
    again = weighed(text)
    # The ledger's one spelling writes 0.0 as 0: where the numbers are the same, the library's own are printed.
    if again == dict(kept.document):
        return text, _about(again, hingeline.__version__), remarks
    # A sentence said otherwise and a last digit are another version's, and make no number another one.
    found = (each for each in differing("", dict(kept.document), again) if not is_wording(each))
    return text, dict(kept.document), remarks if all(map(is_rounding, found)) else [*remarks, DIFFERS]


def _not_used(weighing: MeasurementRecord) -> str:
    return why_not_used(weighing) if is_not_used(weighing) else ""


def _of_before(job: KeptJob, weighing: MeasurementRecord) -> str:
    return WEIGH_AGAIN if job.weigh_again and weighing is job.weighing else ""


def _about(result: Mapping[str, Any], version: str) -> dict[str, Any]:
    return {**result, "about": {"program": "Hingeline", "version": version}}


def _withdrawn(weighing: MeasurementRecord, part: PrintedPart) -> Iterator[WithdrawnReading]:
    for each in weighing.readings:
        if each.withdrawn_because:
            by = part.withdrawn_by.get(each.identifier, "")
            yield WithdrawnReading(each.typed, each.place, each.withdrawn_because, by)


def changes_of(job: KeptJob) -> Iterator[ChangeMade]:
    """Give what was fitted or taken off, from the corrections that were fitted."""
    for number, proposal in enumerate(job.proposals, 1):
        if proposal.fitted_at_change is not None:
            noted = value_at(job.details, f"correct.fitted.p{number}")
            for each in proposal.document.get("changes") or []:
                yield _change({**each, **(noted if isinstance(noted, Mapping) else {})})


def _change(each: Mapping[str, Any]) -> ChangeMade:
    mass, moment = mass_of(each), value_of(each.get("moment"))
    grams = format_quantity(abs(mass) * 1e3, "g", digits=5)
    return ChangeMade(
        place=str(each.get("place") or ""),
        arm=f"{arm_text(each)} {each.get('side', '')}",
        mass=f"{'−' if mass < 0 else '+'}{grams}",
        moment="" if moment is None else f"{format_quantity(abs(moment), 'N m', digits=3)} {sense_word(moment)}",
        part_number=", ".join(str(each[name]) for name in ("part_number", "batch", "material") if each.get(name)),
    )


def _signed(each: SignedRecord, zone: str) -> Signed:
    at = each.signed_at.astimezone(ZoneInfo(zone))
    return Signed(
        each.purpose,
        each.signer,
        each.licence_number,
        f"{at:%Y-%m-%d, %H:%M} {at.tzname()}",
        each.proved_by,
        each.reason,
        each.notes,
        each.holds,
        f"withdrawn: {each.withdrawn_because}" if each.withdrawn_because else "",
    )


def _other(weighing: MeasurementRecord) -> OtherWeighing:
    document = weighing.result.document if weighing.result else {}
    moment = document.get("static_moment")
    value = value_of(moment)
    words = "—" if value is None else format_measured(value, expanded_of(moment), "N m", sense=True)
    statement = str(document.get("statement") or "no statement")
    used = f"{statement}: not used" if document.get("statement") and is_not_used(weighing) else statement
    said = f"{used}, before the change" if weighing.is_stale else used
    return OtherWeighing(str(weighing.number), weighing.begun_on.isoformat(), words, said)


def _tables(told: Any, *names: str) -> Iterator[Mapping[str, Any]]:
    """Give the rows of a step's details, a list or a table by name; anything else is left out."""
    held: Any = next((told[name] for name in names if isinstance(told, Mapping) and told.get(name)), [])
    rows = held.items() if isinstance(held, Mapping) else enumerate(held if isinstance(held, list) else [])
    for name, row in rows:
        if isinstance(row, Mapping):
            yield {"name": name, **row} if isinstance(name, str) else row


def _words(row: Mapping[str, Any], *names: str) -> str:
    return next((str(row[name]) for name in names if row.get(name) not in (None, "")), "")


def _arm(told: Any) -> Iterator[ArmPoint]:
    for row in _tables(told, "points", "point"):
        seen = _words(row, "seen", "finding")
        measured, method = _words(row, "measured", "wall", "value"), _words(row, "method")
        yield ArmPoint(_words(row, "name", "point"), seen, measured, method, _words(row, "by", "person"))


def _refit(told: Any) -> Iterator[RefitValue]:
    for row in _tables(told, "values", "checks", "rows"):
        measured, limit = _words(row, "measured", "value"), _words(row, "limit", "limits")
        yield RefitValue(
            _words(row, "what", "name"), measured, limit, _words(row, "finding", "statement"),
            _words(row, "instrument"), _words(row, "by", "person"),
        )  # fmt: skip


def without_readings(weighing: MeasurementRecord) -> MeasurementRecord:
    """Give a weighing as it was before anything was read."""
    return replace(weighing, readings=(), result=None, is_stale=False)
