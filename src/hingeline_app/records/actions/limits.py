"""Rows of limits: one person types what is printed, another types it again without seeing it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any
from uuid import UUID

from django.utils.translation import gettext_lazy as _

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import NotAllowed, acting, require, signed_in
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible, mark
from hingeline_app.records.models import ApprovedDocument, Issue, LimitRow, Person, RowReading
from hingeline_app.records.permission import Matter
from hingeline_app.records.plain_data import plain_data
from hingeline_app.records.queries.limits import (
    DRAFT,
    READ_ONCE,
    READ_TWICE,
    SUPERSEDED,
    last_reading,
    record_of,
)
from hingeline_app.records.queries.standing import standing_of
from hingeline_app.records.queries.two_readings import differences, right_to_look_again, still_reading, who_looks_again
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command, OpenEntry, write_door

Contradictions = Sequence[Mapping[str, Any]]


def add_document(
    actor: Actor, title: str, number: str, type_name: str, command: Command | None = None
) -> ApprovedDocument:
    """Enter a document whose data are approved."""
    with acting(actor, Act.ENTER_LIMITS, "approved document added", command=command) as entry:
        document = ApprovedDocument(
            workshop=actor.workshop,
            title=legible("title", title, longest=200),
            number=mark("number", number),
            type_name=legible("type", type_name, longest=60),
        )
        if ApprovedDocument.objects.filter(workshop=actor.workshop, number=document.number).exists():
            raise InputRefused.of("number", document.number, "a new document", "It is here: add an issue to it.")
        entry.keep(document)
    return document


def add_issue(actor: Actor, document: UUID, issue: str, issued_on: date, command: Command | None = None) -> Issue:
    """Enter an issue; rows of the issue before are superseded, and what used them can be listed.

    Raises
    ------
    InputRefused
        It is not later than the last one.
    """
    with acting(actor, Act.ENTER_LIMITS, "issue added", {"issue": issue}, command=command) as entry:
        kept = found(signed_in(actor), ApprovedDocument, document)
        before = kept.issues.filter(superseded_by__isnull=True).first()
        new = Issue(document=kept, issue=legible("issue", issue, longest=60), issued_on=issued_on)
        _refuse_earlier(new, before)
        entry.keep(new)
        if before is not None:
            _supersede(entry, before, new)
    return new


def enter_limits(
    actor: Actor,
    issue: UUID,
    surface: str,
    page: str,
    printed: Mapping[str, Any],
    *,
    contradictions: Contradictions = (),
    is_draft: bool = False,
    command: Command | None = None,
) -> LimitRow:
    """Type a row as printed, as the first reader.

    Raises
    ------
    NotAllowed
        The table of roles has no yes; the issue is superseded.
    InputRefused
        The row states no limit.
    """
    with acting(actor, Act.ENTER_LIMITS, "limits entered", command=command) as entry:
        person = signed_in(actor)
        kept = found(person, Issue, issue)
        if kept.superseded_by_id is not None:
            raise NotAllowed(_("There is a newer issue of this document: enter its rows."))
        row = LimitRow(
            issue=kept,
            surface=legible("surface", surface),
            page=legible("page", page, longest=60),
            state=DRAFT if is_draft else READ_ONCE,
            first_reader=person,
        )
        entry.keep(row)
        entry.keep(_reading(row, person, 1, printed, contradictions))
    return row


def finish_draft(actor: Actor, row: UUID, printed: Mapping[str, Any], contradictions: Contradictions = ()) -> LimitRow:
    """Finish a draft of one's own: from now on another person may read it."""
    with acting(actor, Act.ENTER_LIMITS, "limits entered") as entry:
        person = signed_in(actor)
        kept = found(person, LimitRow, row)
        if kept.state != DRAFT or kept.first_reader_id != person.pk:
            raise NotAllowed(_("This is no draft of yours."))
        kept.state = READ_ONCE
        entry.keep(kept)
        entry.keep(_reading(kept, person, _next_turn(kept), printed, contradictions))
    return kept


def read_again(
    actor: Actor,
    row: UUID,
    printed: Mapping[str, Any],
    contradictions: Contradictions = (),
    command: Command | None = None,
) -> LimitRow:
    """Type a row again, blind, as the second reader; where both read the same, it is read twice.

    Where one of two who read it differently has left, or may not read limits by now, another takes that one's place.

    Raises
    ------
    NotAllowed
        The actor entered it (under whichever account), may not confirm, or another person is its second reader.
    """
    with write_door(actor, "limits read again", command=command) as entry:
        person = signed_in(actor)
        kept = found(person, LimitRow, row)
        require(actor, Act.CONFIRM_LIMITS, _matter(kept))
        _refuse_state(kept)
        if kept.second_reader_id not in (None, person.pk):
            _take_the_place_of_who_is_gone(kept, person)
        if kept.first_reader_id == person.pk:
            _begin_anew(entry, kept, person, printed, contradictions)
        else:
            kept.second_reader = person
            _read_and_settle(entry, kept, person, printed, contradictions)
    return kept


def look_again(actor: Actor, row: UUID, printed: Mapping[str, Any], contradictions: Contradictions = ()) -> LimitRow:
    """Type one's own reading of a row anew, after the two readings differed; neither is preferred.

    It is settled once both have looked again since they differed last, and read the same: one alone settles nothing.

    Raises
    ------
    NotAllowed
        The actor is not one of its two readers, or the readings do not differ.
    """
    with write_door(actor, "limits looked at again") as entry:
        person = signed_in(actor)
        kept = found(person, LimitRow, row)
        require(actor, right_to_look_again(person, is_first=person.pk == kept.first_reader_id))
        _refuse_state(kept)
        if kept.second_reader_id is None or person.pk not in (kept.first_reader_id, kept.second_reader_id):
            raise NotAllowed(_("Only the two who read this row look at it again, once their readings differ."))
        _read_and_settle(entry, kept, person, printed, contradictions)
    return kept


def compare_again(
    actor: Actor,
    row: UUID,
    printed: Mapping[str, Any],
    contradictions: Contradictions = (),
    command: Command | None = None,
) -> LimitRow:
    """Compare a row that may have been turned with its document, by typing it once more.

    Where it says what the row says, the doubt is over. Where it differs, nothing is turned: the row is read by this
    person and by its first reader, who looks again, as when any two readings differ; where that one has left, this
    person is the first, and another reads it again. A superseded row stays one.

    Raises
    ------
    NotAllowed
        The actor entered it, or may not confirm; nothing of it can have been turned, or a first reading waits.
    """
    with write_door(actor, "limits compared with the document", command=command) as entry:
        person = signed_in(actor)
        kept = found(person, LimitRow, row)
        require(actor, Act.CONFIRM_LIMITS, _matter(kept))
        _refuse_to_compare(kept)
        if kept.state == READ_TWICE:
            kept.state, kept.agreed = READ_ONCE, None
        if kept.state == READ_ONCE and _cannot_be_settled(kept, printed):
            _begin_anew(entry, kept, person, printed, contradictions)
        else:
            kept.second_reader = person
            _read_and_settle(entry, kept, person, printed, contradictions)
    return kept


def _cannot_be_settled(row: LimitRow, printed: Mapping[str, Any]) -> bool:
    """Whether a reading differs from the first reader's, who has left and looks at no page again."""
    first, reader = last_reading(row, row.first_reader_id), row.first_reader
    differs = first is not None and bool(differences(first.printed, plain_data("row", printed)))
    return differs and _has_left(reader)


def _has_left(person: Person) -> bool:
    return standing_of(person, today(person.workshop)).has_left


def _take_the_place_of_who_is_gone(row: LimitRow, person: Person) -> None:
    """Make a person the second reader beside the one who still reads, or the first where both are gone."""
    there = still_reading(row)
    if len(there) == 2:
        raise NotAllowed(_("Another person is the second reader of this row."))
    row.first_reader, row.second_reader = there[0] if there else person, None


def _begin_anew(
    entry: OpenEntry, row: LimitRow, person: Person, printed: Mapping[str, Any], contradictions: Contradictions
) -> None:
    """Keep a reading as the first one, which another person reads again, blind."""
    row.first_reader, row.second_reader = person, None
    entry.keep(_reading(row, person, _next_turn(row), printed, contradictions))
    entry.keep(row)


def _read_and_settle(
    entry: OpenEntry, row: LimitRow, person: Person, printed: Mapping[str, Any], contradictions: Contradictions
) -> None:
    entry.keep(_reading(row, person, _next_turn(row), printed, contradictions))
    first, second = last_reading(row, row.first_reader_id), last_reading(row, row.second_reader_id)
    assert first is not None, "a row begins with its first reading"
    assert second is not None, "the second reader has just read it, or had before"
    waits = who_looks_again(row, list(row.readings.order_by("turn")))
    if row.state != SUPERSEDED and not waits and not differences(first.printed, second.printed):
        row.state, row.agreed = READ_TWICE, second.printed
    entry.says["differs"] = [name for name, _first, _second in differences(first.printed, second.printed)]
    entry.keep(row)


def _reading(
    row: LimitRow, person: Person, turn: int, printed: Mapping[str, Any], contradictions: Contradictions
) -> RowReading:
    if not any(printed.get(name) for name in ("moment", "mass", "reading", "bands")):
        remedy = "Type the limits as they are printed, with unit and sign word."
        raise InputRefused.of("moment", "", "at least one limit", remedy)
    kept = plain_data("row", printed)
    found = plain_data("contradictions", {"found": list(contradictions)})["found"]
    # The pages refuse a word for the sense beside a number of a nose-heavy row before it comes here.
    return RowReading(row=row, turn=turn, read_by=person, printed=kept, contradictions=found, numbers_are_bare=True)


def _next_turn(row: LimitRow) -> int:
    return row.readings.count() + 1


def _matter(row: LimitRow) -> Matter:
    return Matter(workshop=row.issue.document.workshop_id, workers=frozenset({row.first_reader_id}))


def _refuse_state(row: LimitRow) -> None:
    if row.state != READ_ONCE:
        raise NotAllowed(_("This row is not waiting for a second reader: it is a draft, read twice or superseded."))


def _refuse_to_compare(row: LimitRow) -> None:
    if row.state not in (READ_TWICE, SUPERSEDED) or not record_of(row, list(row.readings.all())).may_be_turned:
        raise NotAllowed(_("Nothing of this row waits to be compared with its document."))


def _refuse_earlier(new: Issue, before: Issue | None) -> None:
    if before is not None and new.issued_on <= before.issued_on:
        remedy = f"Issue {before.issue} is of {before.issued_on}: enter issues in their order."
        raise InputRefused.of("issued on", new.issued_on, f"a day after {before.issued_on}", remedy)


def _supersede(entry: OpenEntry, before: Issue, new: Issue) -> None:
    before.superseded_by = new
    entry.keep(before)
    for row in before.rows.exclude(state=SUPERSEDED):
        row.state = SUPERSEDED
        entry.keep(row)
