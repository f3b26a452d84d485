"""Entries of the step Weigh."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from uuid import UUID

from hingeline.errors import InputRefused, Refusal
from hingeline.units import read
from hingeline_app.bench.on_paper.balance_line_of import FARTHEST, HINGE_FROM_DATUM
from hingeline_app.bench.typed import as_a_file_takes, ask_which, with_unit_typed
from hingeline_app.bench.weighing.after_correction import fitted_since, with_fitted
from hingeline_app.bench.weighing.beginning import WAYS, set_up_by
from hingeline_app.bench.weighing.own_uncertainty import stated_as
from hingeline_app.bench.weighing.statement_shown import in_page_words
from hingeline_app.bench.weighing.weighing_of import weighed, weighing_tables, weighing_text
from hingeline_app.bench.weighing.weighing_shown import same_document
from hingeline_app.records.actions.correcting import correct_reading, correct_set_up
from hingeline_app.records.actions.jobs import set_detail
from hingeline_app.records.actions.measuring import (
    add_reading,
    change_set_up,
    open_measurement,
    record_result,
    withdraw_reading,
)
from hingeline_app.records.legible import legible
from hingeline_app.records.plain_places import value_at, with_value
from hingeline_app.records.queries.jobs import JobRecord, MeasurementRecord, job_of
from hingeline_app.records.queries.last_weighing import last_weighing
from hingeline_app.records.write_door import repeated
from hingeline_app.web.entry_kinds.rows import moment_seen, was_shown
from hingeline_app.web.entry_kinds.set_by_place import refuse_no_set_up
from hingeline_app.web.entry_kinds.told import Told

# What a field of a set-up holds, by its last word: a quantity, or one of some words.
DIMENSIONS = {
    "arm": ("length",),
    "mass": ("mass",),
    "tare": ("mass", "force"),
    "vertical_offset": ("length",),
    "hinge_to_trailing_edge": ("length",),
}
WORDS = {"side": ("aft", "forward"), "pushes": ("up", "down"), "state": ("not fitted", "fitted, not counted")}
BEGUN_WITH = ("support.0.arm", "support.0.side", "support.0.tare", "surface.mass", "surface.vertical_offset")
TICKS = ("level", "tare", "tab_neutral")
TARE = "support.0.tare"


def begin(told: Told) -> Any:
    """Begin a weighing; what the last one of this surface says is taken over where the page does not ask for it."""
    repeated(told.actor, told.command)
    viewer: Any = told.actor.person
    way = told.text("way", "push")
    if way not in WAYS:
        raise InputRefused.of("way", way, " or ".join(WAYS), "Choose one of them.")
    job = job_of(viewer, told.number)
    last = last_weighing(viewer, job)
    set_up = set_up_by(way, with_fitted(last.set_up, fitted_since(job)) if last else {})
    for place, typed in _as_begun(told).items():
        # A field that was emptied is nothing known: what it showed before would be a number that nobody sees.
        if typed or (place in told.fields and value_at(set_up, place)):
            set_up = with_value(set_up, place, typed)
    if way == "hung mass" and "support.0.arm" in told.fields and not value_at(set_up, "support.0.arm"):
        # A known mass levels it alone: a scale at no arm would ask for one.
        set_up["support"] = []
    if TARE in told.fields and value_at(set_up, "support.0") is not None:
        _refuse_no_tare(TARE, value_at(set_up, TARE))
    return open_measurement(
        told.actor, told.job, "weighing", scale=_chosen(told, "scale"), stand=_chosen(told, "stand"),
        set_up=set_up, command=told.command,
    )  # fmt: skip


def _as_begun(told: Told) -> dict[str, str | None]:
    """Read every field of the form before any is refused: a form is mended in one go."""
    typed: dict[str, str | None] = {}
    refused: list[Refusal] = []
    for place in BEGUN_WITH:
        try:
            typed[place] = in_words(place, told.text(place))
        except InputRefused as one:
            refused += one.refusals
    if refused:
        raise InputRefused(refused)
    return typed


def _refuse_no_tare(place: str, value: str | None) -> None:
    """Refuse a tare that was emptied: 0 would be counted, and nobody would have said so."""
    if place.endswith(".tare") and not value:
        remedy = "Enter 0 g where the scale was set to zero without the surface."
        raise InputRefused.of("tare", "", "what the scale shows without the surface", remedy)


def _chosen(told: Told, name: str) -> UUID | None:
    return told.identifier(name) if told.text(name) else None


def in_words(place: str, typed: str) -> str | None:
    """Give a value of a set-up as a weighing file takes it; nothing typed is nothing.

    Raises
    ------
    InputRefused
        It is none for this place.
    """
    name = place.rpartition(".")[2]
    if not typed.strip():
        return None
    if name in WORDS and typed not in WORDS[name]:
        raise InputRefused.of(name, typed, " or ".join(WORDS[name]), "Choose one of them.")
    if name not in DIMENSIONS:
        return legible(in_page_words(name), typed)
    return as_a_file_takes(typed, *DIMENSIONS[name], field=in_page_words(name))


def set_up(told: Told) -> Any:
    """Set one value of the set-up; ``was`` is what the page showed."""
    place = told.text("place")
    refuse_no_set_up(place)
    value = in_words(place, told.text("value"))
    _refuse_no_tare(place, value)
    return change_set_up(
        told.actor, told.identifier("measurement"), place, told.text("was") or None, value, told.command
    )  # fmt: skip


def set_up_tick(told: Told) -> Any:
    """Tick what is seen to before the readings."""
    name = told.text("name")
    if name not in TICKS:
        raise InputRefused.of("tick", name, " or ".join(TICKS), "Load the page again.")
    was, now = (True if told.text(each) == "on" else None for each in ("was", "value"))
    return change_set_up(told.actor, told.identifier("measurement"), f"ticks.{name}", was, now, told.command)


def own_uncertainty(told: Told) -> Any:
    """State what this weighing adds to the ± by one cause; after a statement it is corrected, with the reason."""
    name, was = told.text("name"), was_shown(told)
    value = stated_as(name, told.text("meant"), told.text("value"))
    measurement, place = told.identifier("measurement"), f"uncertainty.{name}"
    if value == was and value == value_at(_weighing(told).set_up, place):
        return None
    if not told.text("reason"):
        return change_set_up(told.actor, measurement, place, was, value, told.command)
    repeated(told.actor, told.command)
    changed = value_at(with_value(_weighing(told).set_up, place, value), "uncertainty")
    return correct_set_up(told.actor, measurement, "uncertainty", changed, told.text("reason"), command=told.command)


def datum_arm(told: Told) -> Any:
    """Set where the hinge line lies from the aircraft's datum, for the line of its weight-and-balance record."""
    text = told.text("value").strip()
    value = as_a_file_takes(text, "length", field="hinge line from the datum") if text else None
    if value is not None and abs(read(value, "length")) > FARTHEST:
        remedy = "Give it with its unit: 4.32 m."
        raise InputRefused.of("hinge line from the datum", text, f"at most {FARTHEST:.0f} m from the datum", remedy)
    return set_detail(told.actor, told.job, HINGE_FROM_DATUM, told.text("was") or None, value, told.command)


def part(told: Told) -> Any:
    """Enter a part that was off, or was on and must not count."""
    if not told.text("index").isascii() or not told.text("index").isdecimal():
        raise InputRefused.of("part", told.text("index"), "the next part", "Load the page again.")
    table = {name: in_words(name, told.text(name)) for name in ("name", "state", "mass", "arm", "side")}
    for name, value in table.items():
        if value is None:
            raise InputRefused.of(name, "", f"the {name} of the part", "Enter it.")
    return change_set_up(
        told.actor, told.identifier("measurement"), f"part.{told.text('index')}", None, table, told.command
    )


def corrected_set_up(told: Told) -> Any:
    """Correct one value of the set-up after a statement, with the reason."""
    repeated(told.actor, told.command)
    weighing = _weighing(told)
    place = told.text("place")
    refuse_no_set_up(place)
    value = in_words(place, told.text("value"))
    _refuse_no_tare(place, value)
    name = place.partition(".")[0]
    changed = value_at(with_value(weighing.set_up, place, value), name)
    if changed == value_at(weighing.set_up, name):
        raise InputRefused.of(name, told.text("value"), "another value", "It stands there already.")
    return correct_set_up(
        told.actor, weighing.identifier, name, changed, told.text("reason"), command=told.command
    )  # fmt: skip


def reading(told: Told) -> Any:
    """Add a reading to a weighing."""
    place = told.text("place", "support 1")
    typed = with_unit_typed(told.text("typed"), told.text("unit"))
    ask_which(typed, "reading")
    return add_reading(told.actor, told.identifier("measurement"), typed, place=place, command=told.command)


def withdrawn(told: Told) -> Any:
    """Withdraw a reading with its reason; where it was typed wrong, with the right one in its place. Both stay."""
    wrong, typed = told.identifier("reading"), told.text("typed").strip()
    if not typed:
        return withdraw_reading(told.actor, wrong, told.text("reason"), command=told.command)
    right = with_unit_typed(typed, told.text("unit"))
    ask_which(right, "reading")
    return correct_reading(told.actor, wrong, right, told.text("reason"), command=told.command)


def statement(told: Told) -> Any:
    """Record the statement that the page showed; the same one is recorded once."""
    repeated(told.actor, told.command)
    job, weighing = _job(told), _weighing(told)
    document = weighed(weighing_text(job, weighing))
    if repr(document["static_moment"]["value"]) != told.text("seen"):
        raise InputRefused.of(
            "statement", moment_seen(told), "the moment that stands now", "An entry came between: look at it again."
        )
    if weighing.result and not weighing.is_stale and same_document(weighing.result.document, document):
        return None
    asked = weighing_tables(job, weighing)
    return record_result(
        told.actor, told.job, document, measurement=weighing.identifier, asked=asked, command=told.command
    )  # fmt: skip


def _job(told: Told) -> JobRecord:
    viewer: Any = told.actor.person
    return job_of(viewer, told.number)


def _weighing(told: Told) -> MeasurementRecord:
    wanted = told.identifier("measurement")
    for each in _job(told).of_kind("weighing"):
        if each.identifier == wanted:
            return each
    raise InputRefused.of("weighing", str(wanted), "a weighing of this job", "Load the page again.")


KINDS: dict[str, Callable[[Told], Any]] = {
    "begin-weighing": begin,
    "set-up": set_up,
    "own-uncertainty": own_uncertainty,
    "datum-arm": datum_arm,
    "part": part,
    "set-up-tick": set_up_tick,
    "correct-set-up": corrected_set_up,
    "reading": reading,
    "withdraw-reading": withdrawn,
    "statement": statement,
}
