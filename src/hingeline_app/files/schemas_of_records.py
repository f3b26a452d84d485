"""The JSON Schema of what the commands on a workshop's records answer: ledger, backup, restore, move, tables.

The answers are made where the commands are, from a database that this room does not know. Tests that run such a command
hold its answer against these.
"""

from __future__ import annotations

from hingeline_app.files.schemas import ABOUT, TEXT, Schema, shaped

WHOLE: Schema = {"type": "integer", "minimum": 0}
YES_OR_NO: Schema = {"type": "boolean"}
DIGEST: Schema = {"type": "string", "pattern": "^([0-9a-f]{64})?$"}
COUNTS: Schema = {"type": "object", "additionalProperties": WHOLE}
LOOKED_AT = "hingeline/ledger-verify/1"


def _table(properties: dict[str, Schema]) -> Schema:
    return {"type": "object", "properties": properties, "required": list(properties)}


def _rows(properties: dict[str, Schema]) -> Schema:
    return {"type": "array", "items": _table(properties)}


# How far one chain of a workshop goes, since when it is whole, and up to where a head that was given away proves it.
CHAINS = _rows({
    **dict.fromkeys(("workshop", "name", "first_at", "last_at", "whole_since"), TEXT),
    **dict.fromkeys(("entries", "whole_since_position", "proved_by_head_up_to"), WHOLE),
    "chain": {"enum": ["records", "security"]},
    "head": DIGEST,
    "is_whole": YES_OR_NO,
})  # fmt: skip
FINDINGS = _rows({
    **dict.fromkeys(("where", "says", "remedy"), TEXT),
    "what": {"enum": [
        "setting", "program", "schema", "trigger", "chain", "other chain", "row", "signature", "journal", "attachment",
        "head", "clock", "limits",
    ]},
    "stops": {"enum": ["start", "signing", "nothing"]},
})  # fmt: skip
LOOK: dict[str, Schema] = {
    "at": TEXT,
    **dict.fromkeys(("whole", "may_start", "may_sign"), YES_OR_NO),
    "database": {"type": "object", "additionalProperties": TEXT},
    "chains": CHAINS,
    "findings": FINDINGS,
}
LOOK_INSIDE = _table({"format": {"const": LOOKED_AT}, **LOOK})
HEADS = _rows({
    **dict.fromkeys(("workshop", "at", "key", "short_code", "full_code"), TEXT), "digest": DIGEST, "entries": WHOLE,
})  # fmt: skip

ANSWERS: dict[str, tuple[str, dict[str, Schema]]] = {
    LOOKED_AT: (
        "Whether a workshop's records are whole, since when, and what is not as it should be",
        {**LOOK, "heads_from_outside": WHOLE},
    ),
    "hingeline/ledger-heads/1": (
        "Where each ledger stands now, signed, for somebody outside to keep",
        {"heads": HEADS},
    ),
    "hingeline/ledger-exported/1": (
        "A workshop that was written to one file: entries by chain, attached files",
        {"file": TEXT, "workshop": TEXT, "entries": COUNTS, "attachments": WHOLE},
    ),
    "hingeline/aircraft-carried/1": (
        "An aircraft that was written out with all its records, or taken in",
        {"way": {"enum": ["out", "in"]}, "file": TEXT, "aircraft": TEXT},
    ),
    "hingeline/ledger-rebuilt/1": (
        "Records that were made again from their entries; secrets are not in them",
        {"folder": TEXT, **dict.fromkeys(("entries", "rows", "secrets_lost"), WHOLE), "look": LOOK_INSIDE},
    ),
    "hingeline/backup-made/1": (
        "A backup that was made, opened and restored as a trial, and older ones that were taken away",
        {"folder": TEXT, "entries": WHOLE, "taken_away": {"type": "array", "items": TEXT}, "look": LOOK_INSIDE},
    ),
    "hingeline/restored/1": (
        "A backup that was restored into a new folder",
        {"folder": TEXT, "look": LOOK_INSIDE},
    ),
    "hingeline/moved/1": (
        "Records that were moved to another kind of database, and how to start from now on",
        {"to": TEXT, "next": TEXT, "look": LOOK_INSIDE},
    ),
    "hingeline/onboarded/1": (
        "Tables that were looked at, or taken in: how many rows of each kind",
        {"file": TEXT, "taken_in": YES_OR_NO, "rows": COUNTS, "receipt": {"type": ["string", "null"]}},
    ),
}


def schemas_of_records(*, closed: bool = False) -> dict[str, Schema]:
    """Describe every answer, by its format; ``closed`` refuses every field that is not described."""
    every = {name: shaped(name, says, {**properties, "about": ABOUT}) for name, (says, properties) in ANSWERS.items()}
    return {name: _closed(schema) for name, schema in every.items()} if closed else every


def _closed(schema: Schema) -> Schema:
    """Close a table, and those in it; "about" may hold more than is described."""
    if "items" in schema:
        return {**schema, "items": _closed(schema["items"])}
    if "properties" not in schema:
        return schema
    inside = {name: part if name == "about" else _closed(part) for name, part in schema["properties"].items()}
    return {**schema, "properties": inside, "additionalProperties": False}
