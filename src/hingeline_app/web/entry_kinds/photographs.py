"""Entries of photographs: added, one or several at once; their places marked, or a mark taken away."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any
from uuid import UUID

from hingeline.errors import InputRefused
from hingeline_app.bench.on_paper.photo_marks import MOST, mark_row, next_number, place_of
from hingeline_app.records.actions.attaching import PHOTOGRAPH, attach_all_to_job
from hingeline_app.records.actions.inspection_photographs import INSPECTION, attach_to_item
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.records.queries.photographs import photographs_of
from hingeline_app.records.write_door import repeated
from hingeline_app.web.entry_kinds.rows import set_row, short, was_shown
from hingeline_app.web.entry_kinds.told import Told
from hingeline_app.web.entry_kinds.who_looks import who_looks
from hingeline_app.web.photographs import upload_of

MOST_AT_ONCE = 12


def photo(told: Told) -> Any:
    """Add the photographs that were chosen, all with what they show: all of them or none."""
    uploads = [upload_of(each, PHOTOGRAPH, told.text("remark")) for each in _sent(told)]
    return attach_all_to_job(told.actor, told.job, uploads, told.command)


def item_photo(told: Told) -> Any:
    """Add what the second person photographed at an item: to look is no work, and neither is its photograph."""
    uploads = [upload_of(each, INSPECTION) for each in _sent(told)]
    return attach_to_item(who_looks(told), told.identifier("item"), uploads, told.command)


def mark(told: Told) -> Any:
    """Mark a place, or change what a mark says; the photograph stays as it came.

    A new mark is numbered here: two that waited on tablets were shown one number, and are two places.
    """
    repeated(told.actor, told.command)
    row, place = mark_row(told.text("x"), told.text("y"), short(told, "words", 200)), _place(told)
    return set_row(told, _next_place(told) if was_shown(told) is None else place, row)


def _next_place(told: Told) -> str:
    viewer, photograph = told.actor.person, told.identifier("photograph")
    return _place_of(photograph, str(next_number(job_of(viewer, told.number), photograph)))  # type: ignore[arg-type]


def mark_away(told: Told) -> Any:
    """Take a mark away: its number stays empty."""
    return set_row(told, _place(told), None)


def _place(told: Told) -> str:
    _refuse_elsewhere(told, told.identifier("photograph"))
    return _place_of(told.identifier("photograph"), told.text("number"))


def _place_of(photograph: UUID, number: str) -> str:
    if not number.isascii() or not number.isdecimal() or len(number) > 4 or not 1 <= int(number) <= MOST:
        raise InputRefused.of("number", number, f"a mark from 1 to {MOST}", "Take another photograph for more.")
    return place_of(photograph, int(number))


def _refuse_elsewhere(told: Told, photograph: UUID) -> None:
    viewer: Any = told.actor.person
    if photograph not in {each.identifier for each in photographs_of(viewer, told.job)}:
        raise InputRefused.of("photograph", photograph, "a photograph of this job", "Load the page again.")


def _sent(told: Told) -> Sequence[Any]:
    sent = told.all_files("photograph")
    if not sent:
        raise InputRefused.of("photograph", "none", "a picture", "Choose or take one.")
    if len(sent) > MOST_AT_ONCE:
        raise InputRefused.of("photograph", len(sent), f"at most {MOST_AT_ONCE} at once", "Send them in two turns.")
    return sent


KINDS = {"photo": photo, "item-photo": item_photo, "photo-mark": mark, "photo-mark-away": mark_away}
