"""What of this version other people may hang on: formats with their fields, commands with their options, public names.

    python -m tests.formats.kept

writes ``kept/VERSION.json`` for the version as it is. Done once at a release; never for one that is out.
"""

from __future__ import annotations

import inspect
import json
from importlib import import_module
from pathlib import Path
from typing import Any

import click

import hingeline
from hingeline_app.cli.main import COMMANDS, EARLIER, hingeline_command
from hingeline_app.files.formats import COMMANDS as COMMANDS_OF_FILES
from tools import schemas

FOLDER = Path(__file__).with_name("kept")
Names = dict[str, list[str]]


def now() -> dict[str, Names]:
    """Gather all of it."""
    every = schemas.schemas()
    files = {name for name in every if name.rpartition("/")[0] in COMMANDS_OF_FILES}
    return {
        "fields": {name: sorted(fields(every[name], every[name])) for name in sorted(every)},
        "required": {name: sorted(required(every[name], every[name])) for name in sorted(files)},
        "options": {name: options(command(name)) for name in (*COMMANDS, *EARLIER)},
        "library": {room: sorted(public_names(room)) for room in ("hingeline", *hingeline_rooms())},
    }


def fields(schema: dict[str, Any], whole: dict[str, Any], place: str = "", depth: int = 0) -> set[str]:
    """Name every field of a document by its place, tables inside lists included."""
    if depth > 12:
        return set()
    found: set[str] = set()
    for part in parts(schema, whole):
        properties = part.get("properties", {})
        if place and {"value", "unit"} <= properties.keys():
            continue  # a quantity: what it is made of is the same everywhere
        for name, inside in properties.items():
            here = f"{place}.{name}".lstrip(".")
            found |= {here} | fields(inside, whole, here, depth + 1)
        if isinstance(part.get("items"), dict):
            found |= fields(part["items"], whole, place, depth + 1)
    return found


def required(schema: dict[str, Any], whole: dict[str, Any], place: str = "", depth: int = 0) -> set[str]:
    """Name every field that a file has to have, by its place."""
    if depth > 12:
        return set()
    found: set[str] = set()
    for part in parts(schema, whole):
        found |= {f"{place}.{name}".lstrip(".") for name in part.get("required", [])}
        for name, inside in part.get("properties", {}).items():
            found |= required(inside, whole, f"{place}.{name}", depth + 1)
        if isinstance(part.get("items"), dict):
            found |= required(part["items"], whole, place, depth + 1)
    return found


def parts(schema: dict[str, Any], whole: dict[str, Any]) -> list[dict[str, Any]]:
    """Give a schema and its alternatives, what they refer to looked up."""
    if "$ref" in schema:
        name = schema["$ref"].rpartition("/")[2]
        return parts(whole["$defs"][name], whole)
    return [schema, *(part for kind in ("anyOf", "oneOf", "allOf") for each in schema.get(kind, [])
                      for part in parts(each, whole))]  # fmt: skip


def command(name: str) -> click.Command:
    """Load a command."""
    found = hingeline_command.get_command(click.Context(hingeline_command), name)
    assert found is not None
    return found


def options(of: click.Command, before: str = "") -> list[str]:
    """Name the options and arguments of a command, and of the commands under it."""
    own = {f"{before}{option}" for each in of.params if not getattr(each, "hidden", False) for option in each.opts}
    below = of.commands if isinstance(of, click.Group) else {}
    return sorted(own.union(*(options(each, f"{before}{name} ") for name, each in below.items())))


def hingeline_rooms() -> list[str]:
    """Name the library's rooms."""
    return [f"hingeline.{room}" for room in hingeline.ROOMS]


def public_names(room: str) -> set[str]:
    """Name what a room gives out; a function and a record with its parameters, in order."""
    module = import_module(room)
    found = set(getattr(module, "__all__", getattr(module, "ROOMS", ())))
    for name in set(found):
        thing = getattr(module, name)
        if inspect.isfunction(thing) or (inspect.isclass(thing) and hasattr(thing, "__dataclass_fields__")):
            found |= {f"{name}({each})" for each in inspect.signature(thing).parameters}
    return found


def main() -> None:
    """Write them down for this version."""
    FOLDER.mkdir(exist_ok=True)
    path = FOLDER / f"{hingeline.__version__}.json"
    path.write_text(json.dumps(now(), indent=1, ensure_ascii=True) + "\n", "utf-8")


if __name__ == "__main__":
    main()
