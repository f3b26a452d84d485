"""What the schema library reports, in our own sentences.

Its own sentences, and its links, are never shown. A kind of fault without a
sentence here fails a test.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from hingeline.errors import InputRefused, Refusal
from hingeline_app.files.shown import Place, guess, path, shown

MOST_TOLD = 1000

# What was expected, and how to mend it, by the kind of fault.
SENTENCES: dict[str, tuple[str, str]] = {
    "missing": ("a value for this field", "Add it{example}."),
    "extra_forbidden": ("a field of this table", "It is not known here."),
    "literal_error": ("{expected}", "Write one of these words, in quotes."),
    "list_type": ("a list, in square brackets", "Put it in square brackets{example}."),
    "model_type": ("a table of fields", "Give it as a table: {header}, and its fields on the lines below."),
    "bool_type": ("true or false", "Write true or false, without quotes."),
    "int_type": ("a whole number", "Write a whole number, without quotes, without a point and without a unit."),
    "float_type": ("a bare number", "Write a plain number, without quotes and without a unit."),
    "too_long": ("at most {max_length} items", "Leave some out."),
    "greater_than_equal": ("{ge:g} or more", "Check the number."),
    "less_than_equal": ("{le:g} or less", "Check the number."),
    "too_short": ("at least {min_length} items", "Add what is missing{example}."),
}

# How a field that must be given, or must be a list, is written.
EXAMPLES = {
    "surface": '[surface] with name = "Elevator, left half"',
    "name": 'name = "Elevator, left half"',
    "arm": 'arm = "255 mm"',
    "side": 'side = "aft"',
    "mass": 'mass = "0.95 kg"',
    "state": 'state = "not fitted"',
    "readings": 'readings = ["840 g", "845 g"]',
    "rising": 'rising = ["8.4 N"]',
    "falling": 'falling = ["8.1 N"]',
    "row": "[[row]] with surface, positive and moment",
    "row.surface": 'surface = "Elevator, left half"',
    "row.positive": 'positive = "tail-heavy"',
    "row.moment": 'moment = ["0.00 N m", "2.10 N m"]',
    "limits.band.mass": 'mass = ["0.75 kg", "0.92 kg"]',
    "air": 'air = {density = "1.225 kg/m^3"}',
    "speeds": 'speeds = ["0.5 m/s", "40 m/s"]',
    "freedoms": 'freedoms = ["plunge", "pitch", "surface"]',
    "semichord": 'semichord = "0.127 m"',
    "section.mass": 'mass = "1.558 kg/m"',
    "wing.mass": 'mass = "33 kg/m"',
    "modes.strip.plunge": "plunge = [0.89, 0.02]",
    "modes.strip.pitch": "pitch = [0.34, 0.0]",
    "nose": 'nose = "left"',
    "mark": "[[mark]] with name, kind, on and at",
    "mark.kind": 'kind = "dot"',
    "mark.on": 'on = "section"',
    "mark.at": "at = [412, 300]",
    "scale.length": 'length = "160 mm"',
    "scale.between": 'between = ["forward", "aft"]',
    "scatter": '[scatter] with "section.surface_inertia" = 0.05',
}


def refused(fault: ValidationError, model: type[BaseModel]) -> InputRefused:
    """Turn a report of the schema library into refusals; of a file that is something else, the first thousand."""
    errors = fault.errors(include_url=False)
    told = [refusal for error in errors[:MOST_TOLD] for refusal in _refusals(error, model)]
    if len(errors) > MOST_TOLD:
        more = f"{len(errors) - MOST_TOLD} more faults"
        told.append(Refusal("file", more, "a job file", "Mend those above first: the others are told then."))
    return InputRefused(told)


def _refusals(error: Mapping[str, Any], model: type[BaseModel]) -> Iterator[Refusal]:
    place, cause = path(error["loc"]), error.get("ctx", {}).get("error")
    if isinstance(cause, InputRefused):
        for refusal in cause.at(place).refusals:
            yield _as_typed(refusal, place, error["input"])
        return
    expected, remedy = SENTENCES[error["type"]]
    if error["type"] == "extra_forbidden":
        remedy = _nearest(error["loc"], model)
    words = {key: value for key, value in error.get("ctx", {}).items() if key != "error"}
    words |= {"example": _example(error, model), "header": _header(error["loc"], model)}
    value = "missing" if error["type"] == "missing" else shown(error["input"])
    yield Refusal(place, value, expected.format_map(words).replace("'", '"'), remedy.format_map(words))


def _as_typed(refusal: Refusal, place: str, given: Any) -> Refusal:
    """Show what is not a text as it stands in the file: true, not True."""
    inner = refusal.field.removeprefix(place).removeprefix(".")
    value = given.get(inner) if isinstance(given, Mapping) and inner else given
    python = isinstance(value, bool | list | dict) and refusal.value == str(value)
    return replace(refusal, value=shown(value)) if python else refusal


def _example(error: Mapping[str, Any], model: type[BaseModel]) -> str:
    """Give a line that shows how the field is written; nothing where none is known."""
    names = [step for step in error["loc"] if isinstance(step, str)]
    if names == ["format"]:
        return f': format = "{get_args(model.model_fields["format"].annotation)[0]}"'
    if error["type"] == "list_type" and isinstance(error["input"], Mapping):
        return f": write [[{'.'.join(names)}]], with two brackets on each side"
    line = EXAMPLES.get(".".join(names)) or EXAMPLES.get(names[-1] if names else "")
    return f", for example {line}" if line else ""


def _header(location: Place, model: type[BaseModel]) -> str:
    """Write the line that begins a table."""
    names, table, listed = [], model, False
    for step in location:
        listed = isinstance(step, int)
        if isinstance(step, str):
            names.append(step)
            table = _table_at([step], table) or table
    return f"[[{'.'.join(names)}]]" if listed else f"[{'.'.join(names)}]"


def _nearest(location: Place, model: type[BaseModel]) -> str:
    table = _table_at(location[:-1], model)
    known = [field.alias or name for name, field in table.model_fields.items()] if table else []
    name = str(location[-1])
    return f"It is not known here.{guess(name, known) or _elsewhere(name, model)} Known: {', '.join(known)}."


def _elsewhere(name: str, model: type[BaseModel]) -> str:
    """Say where a field belongs that is known, but not here: a file's order decides on it."""
    places = [place or "the top of the file" for place, table in _tables("", model) if name in table.model_fields]
    return f" It belongs to {' or '.join(places[:4])}." if places else ""


def _tables(place: str, model: type[BaseModel]) -> Iterator[tuple[str, type[BaseModel]]]:
    yield place, model
    for name, field in model.model_fields.items():
        table = _inner(field.annotation)
        if table is not None:
            yield from _tables(f"{place}.{name}".lstrip("."), table)


def _table_at(location: Place, model: type[BaseModel]) -> type[BaseModel] | None:
    table: type[BaseModel] | None = model
    for step in location:
        if isinstance(step, str) and table is not None:
            table = _inner(table.model_fields[step].annotation) if step in table.model_fields else None
    return table


def _inner(annotation: Any) -> type[BaseModel] | None:
    """Find the table within ``list[Table]`` or ``Table | None``."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    inner = (_inner(part) for part in getattr(annotation, "__args__", ()))
    return next((table for table in inner if table is not None), None)
