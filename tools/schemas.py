"""Write docs/reference/schemas/: the JSON Schema of every document that goes in or comes out.

    tools/schemas.py

Run it with the environment that ``./check`` makes, after a field was added. A test fails while a
schema is stale. Every job file and every record with a format is found by itself.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from dataclasses import is_dataclass
from importlib import import_module
from pathlib import Path
from pkgutil import walk_packages
from types import ModuleType

ROOT = Path(__file__).resolve().parent.parent
FOLDER = ROOT / "docs" / "reference" / "schemas"

if __name__ == "__main__":
    sys.path.insert(0, str(ROOT / "src"))

from hingeline.balance.simulate import Simulation  # noqa: E402
from hingeline.document import format_of  # noqa: E402
from hingeline_app.files.quantities import Table  # noqa: E402
from hingeline_app.files.schemas import (  # noqa: E402
    NOTHING,
    Schema,
    input_format,
    input_schema,
    name_of,
    other_schemas,
    result_schema,
)
from hingeline_app.files.schemas_of_records import schemas_of_records  # noqa: E402

# Where records and job files are described; pages, settings and what starts a program hold none.
PACKAGES = ("hingeline", "hingeline_app.cli", "hingeline_app.files", "hingeline_app.report", "hingeline_app.selftest")


def main() -> int:
    """Write every schema, and take away those of documents that are no more."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    written = pages()
    for name, text in written.items():
        (FOLDER / name).write_text(text, encoding="utf-8")
    for path in FOLDER.glob("*.json"):
        if path.name not in written:
            path.unlink()
    print(f"wrote {len(written)} schemas into {FOLDER.relative_to(ROOT)}")
    return 0


def pages() -> dict[str, str]:
    """Give every schema as text, by the name of its file."""
    every = schemas()
    return {name_of(each): json.dumps(every[each], indent=2, ensure_ascii=True) + "\n" for each in sorted(every)}


def schemas(*, closed: bool = False) -> dict[str, Schema]:
    """Give every schema, by format."""
    every = other_schemas() | schemas_of_records(closed=closed)
    for module in modules():
        for member in vars(module).values():
            if isinstance(member, type) and member.__module__ == module.__name__:
                every |= of(member, closed=closed)
    return every


def modules() -> Iterator[ModuleType]:
    """Import every module that may hold a record or a job file."""
    for package in PACKAGES:
        for found in walk_packages(import_module(package).__path__, f"{package}."):
            yield import_module(found.name)


def of(member: type, *, closed: bool) -> dict[str, Schema]:
    """Describe a job file or a record that has a format; nothing for any other class."""
    if issubclass(member, Table):
        document_format = input_format(member)
        return {} if document_format is None else {document_format: input_schema(member)}
    try:
        document_format = format_of(member) if is_dataclass(member) else None
    except KeyError:
        return {}
    return {} if document_format is None else {document_format: result_schema(member, extra(member), closed=closed)}


def extra(member: type) -> dict[str, Schema]:
    """Give what a command adds beside the record: the second way to U, where it was asked for."""
    if format_of(member) != "hingeline/weighing-result/1":
        return {}
    simulation = result_schema(Simulation)
    simulation.pop("$schema")
    return {"monte_carlo": {"anyOf": [simulation, NOTHING]}}


if __name__ == "__main__":
    sys.exit(main())
