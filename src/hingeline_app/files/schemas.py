"""The JSON Schema of every document (draft 2020-12), made from the code that reads and writes them.

Inputs from the tables of a job file; results from the records' type hints and the
:class:`~hingeline.fields.Unit` marks at their fields, by the same rules as
:mod:`hingeline.document`. Results may gain fields within a version, so a schema
lets more fields pass; ``closed`` makes the strict form that our own tests use.
"""

from __future__ import annotations

import re
import types
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from pydantic import BaseModel

from hingeline.document import format_of, key_of
from hingeline.fields import Unit
from hingeline.uncertainty import Measured

Schema = dict[str, Any]

DRAFT = "https://json-schema.org/draft/2020-12/schema"
SENSES = ["tail-heavy", "nose-heavy", "balanced"]
MOMENTS = {"N m", "kg m"}
NUMBER: Schema = {"type": "number"}
NOTHING: Schema = {"type": "null"}
TEXT: Schema = {"type": "string"}

# How a number with its unit begins: as in hingeline.units.grammar, then anything that is no digit.
_SPACE = r"[ \t\u00a0\u2007\u2009\u200a\u202f]*"
_NUMBER = r"[+\-\u2212]?(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:[eE][+\-\u2212]?[0-9]+)?"
PATTERN = f"^{_SPACE}{_NUMBER}{_SPACE}[^0-9.,_ \\t+\\-]"
_QUANTITY = "a number with its unit"

ABOUT: Schema = {
    "type": "object",
    "description": "Which program computed this, and on what. Not part of the record that must replay.",
    "properties": {name: TEXT for name in ("program", "version", "python", "machine")},
    "required": ["program", "version", "python", "machine"],
}


def name_of(document_format: str) -> str:
    """Name the file that a schema is kept in: ``weighing-result-1.json``."""
    return document_format.removeprefix("hingeline/").replace("/", "-") + ".json"


def headed(document_format: str, body: Schema) -> Schema:
    """Put the heading over a schema."""
    urn = "urn:" + document_format.replace("/", ":")
    return {"$schema": DRAFT, "$id": urn, "title": document_format, **body}


# -------------------------------------------------------------------- inputs


def input_format(model: type[BaseModel]) -> str | None:
    """Give the format that a job file of this model names, or None where it is only a part of one."""
    field = model.model_fields.get("format")
    named = get_args(field.annotation) if field is not None else ()
    return str(named[0]) if named else None


def input_schema(model: type[BaseModel]) -> Schema:
    """Describe a job file, as the dictionary that its TOML stands for (dates as texts)."""
    document_format = input_format(model)
    assert document_format is not None
    body = _without_null(model.model_json_schema())
    body.pop("title", None)
    return headed(document_format, body)


def _without_null(node: Any) -> Any:
    """Tidy what the schema library makes: TOML has no null, and its titles say nothing."""
    if isinstance(node, list):
        return [_without_null(item) for item in node]
    if not isinstance(node, dict):
        return node
    kinds = [kind for kind in node.get("anyOf", ()) if kind != NOTHING]
    if len(kinds) == 1 and len(node["anyOf"]) == 2:
        return _without_null({**{key: node[key] for key in node if key not in ("anyOf", "default")}, **kinds[0]})
    tidy = {key: _properties(key, value) for key, value in node.items() if not _says_nothing(key, value)}
    if str(tidy.get("description", "")).startswith(_QUANTITY) and "ratio" not in tidy["description"]:
        tidy["pattern"] = PATTERN
    return tidy


def _properties(key: str, value: Any) -> Any:
    """Go on; the names of properties and definitions are not keywords."""
    if key in ("properties", "$defs"):
        return {name: _without_null(item) for name, item in value.items()}
    return _without_null(value)


def _says_nothing(key: str, value: Any) -> bool:
    return (key == "title" and isinstance(value, str)) or (key == "default" and value in (None, []))


# -------------------------------------------------------------------- results


def result_schema(record_type: type, extra: Mapping[str, Schema] | None = None, *, closed: bool = False) -> Schema:
    """Describe the document of a record.

    Parameters
    ----------
    record_type : type
        Declared by :func:`hingeline.document.document_format`.
    extra : mapping, optional
        More properties that a command adds beside the record's own, by name.
    closed : bool
        Refuse every field that is not described.
    """
    document_format = format_of(record_type)
    definitions: dict[str, Schema] = {}
    body = _record(record_type, definitions, closed=closed)
    format_itself: Schema = {"const": document_format}
    body["properties"] = {"format": format_itself, **body["properties"], **(extra or {}), "about": ABOUT}
    body["required"] = ["format", *body["required"]]
    return headed(document_format, body | ({"$defs": definitions} if definitions else {}))


def _record(record_type: type, definitions: dict[str, Schema], *, closed: bool) -> Schema:
    hints = get_type_hints(record_type, include_extras=True)
    named = fields(record_type)
    shape: Schema = {
        "type": "object",
        "description": _first_sentence(record_type),
        "properties": {key_of(field): _of(hints[field.name], definitions, closed=closed) for field in named},
        "required": [key_of(field) for field in named],
    }
    return shape | ({"additionalProperties": False} if closed else {})


def _first_sentence(record_type: type) -> str:
    paragraph = (record_type.__doc__ or "").split("\n\n")[0]
    return re.sub(r"\s+", " ", paragraph.replace("``", "")).strip()


def _of(hint: Any, definitions: dict[str, Schema], *, closed: bool) -> Schema:
    """Describe one field by its type hint."""
    origin, kinds = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        return {"anyOf": [_of(kind, definitions, closed=closed) for kind in kinds]}
    if origin is Annotated:
        return _annotated(hint, definitions, closed=closed)
    if origin is Literal:
        return {"enum": list(kinds)}
    if origin is tuple:
        return {"type": "array", "items": _of(kinds[0], definitions, closed=closed)}
    if is_dataclass(hint) and isinstance(hint, type):
        return _reference(hint, definitions, closed=closed)
    return dict(_PLAIN[hint])


_PLAIN: dict[Any, Schema] = {
    str: TEXT,
    bool: {"type": "boolean"},
    int: {"type": "integer"},
    float: NUMBER,
    Decimal: NUMBER,
    date: {"type": "string", "format": "date"},
    type(None): NOTHING,
}


def _annotated(hint: Any, definitions: dict[str, Schema], *, closed: bool) -> Schema:
    kind, *marks = get_args(hint)
    unit = next((mark for mark in marks if isinstance(mark, Unit)), None)
    return _of(kind, definitions, closed=closed) if unit is None else quantity(unit, kind is Measured, closed=closed)


def _reference(record_type: type, definitions: dict[str, Schema], *, closed: bool) -> Schema:
    name = record_type.__name__
    if name not in definitions:
        definitions[name] = {}  # so that a record that holds its own kind ends
        definitions[name] = _record(record_type, definitions, closed=closed)
    return {"$ref": f"#/$defs/{name}"}


def quantity(unit: Unit, measured: bool = False, *, closed: bool = False) -> Schema:
    """Describe a number with its unit, its sense where it is a moment, its uncertainty where it is measured."""
    symbol: Schema = {"const": unit.symbol} if unit.symbol else TEXT
    parts: dict[str, Schema] = {"value": NUMBER, "unit": symbol}
    required = ["value", "unit"]
    if measured:
        number_or_nothing: Schema = {"type": ["number", "null"]}
        uncertain = [field.name for field in fields(Measured) if field.name != "value"]
        parts |= dict.fromkeys(uncertain, number_or_nothing)
        required += uncertain
    if unit.moment:
        parts["sense"] = {"enum": SENSES}
        required += ["sense"] if unit.symbol in MOMENTS else []
    # What was typed stands beside the value, with the gravity that it was converted by.
    parts |= {"typed": TEXT, "local_gravity": NUMBER}
    shape: Schema = {"type": "object", "properties": parts, "required": required}
    return shape | ({"additionalProperties": False} if closed else {})


# -------------------------------------------------------------------- documents that are no records


def shaped(document_format: str, description: str, properties: Mapping[str, Schema], *optional: str) -> Schema:
    """Describe a document that is made by hand; all of its fields are there, but for the optional ones."""
    body: Schema = {
        "type": "object",
        "description": description,
        "properties": {"format": {"const": document_format}, **properties},
        "required": ["format", *(name for name in properties if name not in optional)],
    }
    return headed(document_format, body)


def other_schemas() -> dict[str, Schema]:
    """Describe the documents that are made by hand: errors, kept faults, explanations, replays, what was written."""
    maybe: Schema = {"type": ["string", "null"]}
    refusal = {"field": maybe, "value": maybe, "expected": maybe, "remedy": TEXT}
    error: Schema = {"type": "object", "properties": refusal, "required": list(refusal), "additionalProperties": False}
    texts: Schema = {"type": "array", "items": TEXT}
    difference: Schema = {"type": "object", "properties": dict.fromkeys(("field", "kept", "again"), TEXT)}
    return {
        "hingeline/error/1": shaped(
            "hingeline/error/1",
            "Why nothing was computed: one entry a fault. A fault of our own has no field.",
            {"errors": {"type": "array", "minItems": 1, "items": error}},
        ),
        "hingeline/fault/1": shaped(
            "hingeline/fault/1",
            "What is kept where the program itself was at fault; inputs in base64.",
            {"at": TEXT, "arguments": texts, "inputs": {"type": "object", "additionalProperties": TEXT},
             "details": TEXT, "about": ABOUT},
        ),
        "hingeline/explanation/1": shaped(
            "hingeline/explanation/1", "An explanation in Markdown.", {"topic": maybe, "text": TEXT}
        ),
        "hingeline/replay/1": shaped(
            "hingeline/replay/1",
            "What differs where the input inside a worksheet is worked out again.",
            {"same": {"type": "boolean"}, "differences": {"type": "array", "items": difference},
             "worded_otherwise": {"type": "array", "items": difference},
             "check_sum": TEXT, "check_sum_printed": maybe, "check_sum_holds": {"type": "boolean"},
             "made_by_version": maybe, "version": TEXT, "surface": TEXT, "statement": maybe,
             "static_moment": quantity(Unit("N m", moment=True), measured=True),
             "predicted_statement": maybe, "predicted_moment": quantity(Unit("N m", moment=True), measured=True),
             "cautions": texts, "about": ABOUT},
            "predicted_statement", "predicted_moment", "worded_otherwise",
        ),
        "hingeline/written/1": shaped(
            "hingeline/written/1",
            "What was written where nothing is computed: a blank worksheet, a sheet of marks.",
            {"written": TEXT, "about": ABOUT},
        ),
        "hingeline/replays/1": shaped(
            "hingeline/replays/1",
            "The sheets of a work order, each worked out again as hingeline/replay/1.",
            {"same": {"type": "boolean"}, "sheets": {"type": "array", "items": {"type": "object"}}, "about": ABOUT},
        ),
    }  # fmt: skip
