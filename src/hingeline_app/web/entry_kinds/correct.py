"""Entries of the step Correct."""

from __future__ import annotations

import json
from collections.abc import Callable
from contextlib import suppress
from typing import Any
from uuid import UUID

from hingeline.errors import InputRefused
from hingeline_app.bench.correcting.correction_of import chosen_amounts, correction_text, place_names, worked_out
from hingeline_app.bench.correcting.correction_shown import stepped
from hingeline_app.bench.correcting.handed_over import COATING, SWING, refuse_unreadable
from hingeline_app.bench.typed import as_a_file_takes
from hingeline_app.bench.weighing.weighing_of import weighed, weighing_text
from hingeline_app.records.actions.ballast import fit_ballast, propose_ballast
from hingeline_app.records.actions.jobs import set_detail
from hingeline_app.records.legible import legible
from hingeline_app.records.queries.equipment import material_choices
from hingeline_app.records.queries.jobs import JobRecord, job_of
from hingeline_app.records.write_door import AlreadyDone, Command, repeated
from hingeline_app.web.entry_kinds.rows import moment_seen, was_shown
from hingeline_app.web.entry_kinds.told import Told

QUANTITIES = {
    "arm": "length",
    "spanwise": "length",
    "largest_mass": "mass",
    "smallest_mass": "mass",
    "smallest_step": "mass",
    "fixed_mass": "mass",
    "present_mass": "mass",
}
AIMS = ("nearest", "middle")
OF_THE_SURFACE = {"inertia": "inertia", "product": "inertia"}


def place(told: Told) -> Any:
    """Enter a place where the approved data allows mass, or take one out again."""
    index = told.text("index")
    if not index.isascii() or not index.isdecimal():
        raise InputRefused.of("place", index[:60], "a place of this page's form", "Load the page again.")
    where = f"correct.place.{index}"
    was = was_shown(told)
    if told.text("out"):
        return set_detail(told.actor, told.job, where, was, None, told.command)
    side = told.text("side", "forward")
    if side not in ("forward", "aft"):
        raise InputRefused.of("side", side, "forward or aft", "Choose one of them.")
    given = {name: told.text(name) for name in QUANTITIES if told.text(name).strip()}
    table = {name: as_a_file_takes(text, QUANTITIES[name], field=name) for name, text in given.items()}
    if "arm" not in table:
        raise InputRefused.of("arm", "", "the distance from the hinge line", "Write for example 180 mm.")
    table |= {"name": legible("name", told.text("name"), longest=60), "side": side}
    return set_detail(told.actor, told.job, where, was, table, told.command)


def of_surface(told: Told) -> Any:
    """Set the inertia, or the product of inertia, from a swing."""
    name = told.text("name")
    if name not in OF_THE_SURFACE:
        raise InputRefused.of("name", name, " or ".join(OF_THE_SURFACE), "Load the page again.")
    text = told.text("value")
    value = as_a_file_takes(text, OF_THE_SURFACE[name], field=name) if text.strip() else None
    return set_detail(told.actor, told.job, f"correct.{name}", told.text("was") or None, value, told.command)


def aim(told: Told) -> Any:
    """Choose what the library plans for: the nearest end, the middle, or a moment."""
    target = told.text("target").strip()
    if target not in AIMS:
        target = as_a_file_takes(target, "moment", field="target")
    return _plan(told, {"target": target})


def amounts(told: Told) -> Any:
    """Choose how much is added at each place."""
    names = place_names(_job(told).details)
    try:
        listed = json.loads(told.text("amounts"))
    except (ValueError, RecursionError):
        listed = None
    if not isinstance(listed, list) or len(listed) != len(names):
        raise InputRefused.of("amounts", told.text("amounts")[:60], "one amount a place", "Load the page again.")
    texts = [as_a_file_takes(str(each), "mass", field="amounts") for each in listed]
    return _plan(told, {"amounts": dict(zip(names, texts, strict=True))})


def amount_step(told: Told) -> Any:
    """Add or take off one step at a place, from what stands there now: two presses are two steps."""
    repeated(told.actor, told.command)
    job, way = _job(told), 1 if told.text("way") == "1" else -1
    names = place_names(job.details)
    if told.text("of") not in names:
        raise InputRefused.of("place", told.text("of"), " or ".join(names) or "a place", "Load the page again.")
    after = stepped(document_of(job), names.index(told.text("of")), way)
    if after is None:
        raise InputRefused.of(told.text("of"), "another step", "what this place allows", "It stands at its end.")
    was = job.details["correct"].get("plan")
    plan = {"amounts": dict(zip(names, after, strict=True))}
    return set_detail(told.actor, told.job, "correct.plan", was, plan, told.command)


def _plan(told: Told, plan: Any) -> Any:
    was = was_shown(told)
    return set_detail(told.actor, told.job, "correct.plan", was, plan, told.command)


def fitted(told: Told) -> Any:
    """Keep the correction as proposed, note what it was made of, and say that it is fitted: weigh again.

    Three entries; sent again after a broken one, those that were kept are not kept twice.
    """
    repeated(told.actor, told.command)
    job = _job(told)
    document = document_of(job)
    if repr(document["moment_after"]["value"]) != told.text("seen"):
        raise InputRefused.of(
            "correction", moment_seen(told), "the one that stands now", "An entry came between: look at it again."
        )
    if not document["changes"]:
        raise InputRefused.of("correction", "no change", "a change at a place", "Choose what is fitted.")
    _once(lambda: propose_ballast(told.actor, told.job, document, _part(told, "proposed")))
    note = _note(told)
    proposal = [each for each in _job(told).proposals if each.fitted_at_change is None][-1]
    if note:
        where = f"correct.fitted.p{len(_job(told).proposals)}"
        _once(lambda: set_detail(told.actor, told.job, where, None, note, _part(told, "noted")))
    return fit_ballast(told.actor, proposal.identifier, told.command)


def document_of(job: JobRecord) -> dict[str, Any]:
    """Work out the correction that the page shows.

    Raises
    ------
    InputRefused
        There is no weighing, or nothing follows from it.
    """
    if job.weighing is None or job.weigh_again:
        raise InputRefused.of("weighing", "none", "a weighing of the surface as it is", "Weigh first.")
    found = weighed(weighing_text(job, job.weighing))
    return worked_out(correction_text(job, job.weighing, found), chosen_amounts(job.details))


def coating_plan(told: Told) -> Any:
    """Take a planned paint over from the coating plan, or out again: a prediction beside the weighing."""
    return _handed_over(told, COATING)


def swung(told: Told) -> Any:
    """Take the inertia by a swing over, or out again."""
    return _handed_over(told, SWING)


def _handed_over(told: Told, place: str) -> Any:
    text = told.text("file").replace("\r\n", "\n")
    if text.strip():
        refuse_unreadable(place, text)
    was = was_shown(told)
    return set_detail(told.actor, told.job, place, was, {"file": text} if text.strip() else None, told.command)


def _note(told: Told) -> dict[str, str]:
    """Say what was fitted: the batch of material, the part number."""
    viewer: Any = told.actor.person
    note = {}
    if told.text("material"):
        wanted: UUID = told.identifier("material")
        note["material"] = next((each.words for each in material_choices(viewer) if each.identifier == wanted), "")
        if not note["material"]:
            raise InputRefused.of("material", "this batch", "a batch that may be used today", "Choose another.")
    if told.text("part_number").strip():
        note["part_number"] = legible("part number", told.text("part_number"), longest=60)
    return note


def _part(told: Told, name: str) -> Command | None:
    return Command(f"{told.command.key}-{name}", told.command.body) if told.command else None


def _once(act: Callable[[], Any]) -> None:
    with suppress(AlreadyDone):
        act()


def _job(told: Told) -> JobRecord:
    viewer: Any = told.actor.person
    return job_of(viewer, told.number)


KINDS: dict[str, Callable[[Told], Any]] = {
    "place": place,
    "of-surface": of_surface,
    "aim": aim,
    "amounts": amounts,
    "amount-step": amount_step,
    "fitted": fitted,
    "coating-plan": coating_plan,
    "swung": swung,
}
