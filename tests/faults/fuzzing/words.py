"""Where a record holds one of a few words, and what stands there when another is written."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from typing import Any, Literal, get_args, get_origin, get_type_hints

from tests.faults.fuzzing.spoiling import Path, places_of

UNKNOWN = "neither of them"


def with_unknown_words(record: Any) -> Iterator[tuple[Path, Any]]:
    """Give the record once for each place that takes one of a few words, with a word there that is none of them."""
    for path in places_of(record):
        owner = at(record, path[:-1])
        if not (isinstance(path[-1], str) and dataclasses.is_dataclass(owner) and isinstance(at(record, path), str)):
            continue
        if takes_a_word(type(owner), path[-1]):
            yield path, with_value(record, path, UNKNOWN)


def takes_a_word(kind: type, name: str) -> bool:
    hint = get_type_hints(kind)[name]
    return any(get_origin(each) is Literal for each in (hint, *get_args(hint)))


def at(record: Any, path: Path) -> Any:
    for place in path:
        record = getattr(record, place) if isinstance(place, str) else record[place]
    return record


def with_value(record: Any, path: Path, value: Any) -> Any:
    if not path:
        return value
    head, rest = path[0], path[1:]
    if isinstance(head, str):
        return dataclasses.replace(record, **{head: with_value(getattr(record, head), rest, value)})
    items = list(record)
    items[head] = with_value(items[head], rest, value)
    return type(record)(items)
