"""Entries beside the release: a hand-over, a query to the design holder with its answer, work left incomplete."""

from __future__ import annotations

from contextlib import suppress
from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.records.actions.attaching import Upload, attach_to_job
from hingeline_app.records.dates import today
from hingeline_app.records.legible import remark
from hingeline_app.records.queries.people import who_may_take_over
from hingeline_app.records.write_door import AlreadyDone, Command, repeated
from hingeline_app.web.entry_kinds.rows import set_row, short
from hingeline_app.web.entry_kinds.told import Told
from hingeline_app.web.photographs import upload_of


def hand_over(told: Told) -> Any:
    """Hand the job to another person, with a note of how it stands."""
    to = told.identifier("to")
    names = {each.identifier: each.name for each in who_may_take_over(told.actor.person)}  # type: ignore[arg-type]
    if to not in names:
        raise InputRefused.of("to", told.text("to"), "a person who works here", "Choose one from the list.")
    row = {"to": str(to), "to_name": names[to], "note": remark("note", told.text("note"), needed=True), **_on(told)}
    return set_row(told, "hand_over", row)


def query(told: Told) -> Any:
    """Ask the design holder, or enter what was answered; the answer's page is attached."""
    repeated(told.actor, told.command)
    answer, sent = remark("answer", told.text("answer")), told.files.get("page")
    asked = remark("query", told.text("asked"), needed=True)
    if sent is not None:
        _attach_once(told, upload_of(sent, "page", "answer of the design holder"))
    row = {"asked": asked, "of": short(told, "of"), "answer": answer, "reference": short(told, "reference", 120)}
    return set_row(told, "query", {**row, **_on(told)})


def incomplete(told: Told) -> Any:
    """State that the work stops here incomplete, and why; an empty reason takes it back."""
    reason = remark("reason", told.text("reason"))
    return set_row(told, "incomplete", {"reason": reason, **_on(told)} if reason else None)


def _attach_once(told: Told, page: Upload) -> None:
    """Attach the page; sent again after a broken entry, it is not attached twice."""
    command = Command(f"{told.command.key}-page", told.command.body) if told.command else None
    with suppress(AlreadyDone):
        attach_to_job(told.actor, told.job, page, command)


def _on(told: Told) -> dict[str, str]:
    return {"on": today(told.actor.workshop).isoformat()}


KINDS = {"hand-over": hand_over, "query": query, "incomplete": incomplete}
