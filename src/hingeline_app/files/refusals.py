"""What the schema library reports, in our own sentences.

Its own sentences, and its links, are never shown. A kind of fault without a
sentence here fails a test.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from difflib import get_close_matches
from typing import Any

from pydantic import BaseModel, ValidationError

from hingeline.errors import InputRefused, Refusal

Place = Sequence[int | str]

# What was expected, and how to mend it, by the kind of fault.
SENTENCES: dict[str, tuple[str, str]] = {
    "missing": ("this field", "Add it."),
    "extra_forbidden": ("a field of this table", "It is not known here."),
    "string_type": ("text, in quotes", "Put it in quotes."),
    "literal_error": ("{expected}", "Write one of these words."),
    "list_type": ("a list, in square brackets", "Put it in square brackets."),
    "model_type": ("a table of fields", "Give it as a table of its own."),
    "model_attributes_type": ("a table of fields", "Give it as a table of its own."),
    "dict_type": ("a table of fields", "Give it as a table of its own."),
    "float_type": ("a bare number", "Write a plain number, without quotes and without a unit."),
    "int_type": ("a whole number", "Write a whole number, without quotes."),
    "bool_type": ("true or false", "Write true or false, without quotes."),
    "too_long": ("at most {max_length} items", "Leave some out."),
    "too_short": ("at least {min_length} items", "Add what is missing."),
    "finite_number": ("a finite number", "Check the number."),
    "value_error": ("another value", "Check it."),
}


def refused(fault: ValidationError, model: type[BaseModel]) -> InputRefused:
    """Turn a report of the schema library into refusals."""
    return InputRefused(refusal for error in fault.errors(include_url=False) for refusal in _refusals(error, model))


def _refusals(error: Mapping[str, Any], model: type[BaseModel]) -> Iterator[Refusal]:
    place, cause = path(error["loc"]), error.get("ctx", {}).get("error")
    if isinstance(cause, InputRefused):
        yield from cause.at(place).refusals
        return
    expected, remedy = SENTENCES[error["type"]]
    if error["type"] == "extra_forbidden":
        remedy = _nearest(error["loc"], model)
    shown = "missing" if error["type"] == "missing" else _shown(error.get("input"))
    words = {key: value for key, value in error.get("ctx", {}).items() if key != "error"}
    yield Refusal(place, shown, expected.format_map(words), remedy)


def path(location: Place) -> str:
    """Write a place as ``support[0].readings[2]``."""
    written = ""
    for step in location:
        written += f"[{step}]" if isinstance(step, int) else f".{step}"
    return written.lstrip(".")


def _nearest(location: Place, model: type[BaseModel]) -> str:
    table = _table_at(location[:-1], model)
    known = list(table.model_fields) if table else []
    near = get_close_matches(str(location[-1]), known, n=1)
    guess = f' Did you mean "{near[0]}"?' if near else ""
    return f"It is not known here.{guess} Known: {', '.join(known)}."


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


def _shown(value: Any) -> str:
    text = repr(value) if isinstance(value, dict | list | bool) else str(value)
    return text if len(text) <= 120 else text[:119] + "…"
