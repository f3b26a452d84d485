"""Spoil a good input of a room: any number, word, date or list in it may become another one of its kind."""

from __future__ import annotations

import cmath
import dataclasses
import math
import random
from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any

import numpy as np

Path = tuple[str | int, ...]

NUMBERS = (0.0, -0.0, 1.0, -1.0, 1e-300, 5e-324, 1e300, -1e300, 1e-9, 1e9, math.inf, -math.inf, math.nan, 0.1 + 0.2)
COUNTS = (0, -1, 1, 2, 7, 10**6, -(10**6), 10**30)
WORDS = ("", " ", "x", "tail-heavy", "forward", "nan", "0", "\u0000", "\u202e", "\u0661", "=1+1", "<script>", "y" * 400)
DAYS = (date.min, date.max, date(1970, 1, 1), date(2000, 2, 29), date(2100, 1, 31))
DECIMALS = tuple(map(Decimal, ("0", "-1", "1", "1E+400", "1E-400", "NaN", "Infinity", "-Infinity", "0.1", "99999999")))


def spoiled(record: Any, draw: random.Random) -> Any:
    """Give the record with one to four of its values replaced."""
    places = places_of(record)
    for path in draw.sample(places, min(len(places), draw.choice((1, 1, 1, 2, 2, 3, 4)))):
        try:
            record = put(record, path, draw)
        except (IndexError, AttributeError):
            # An earlier spoil took that place away.
            continue
    return record


# By what a record is in memory: most records hold lists or arrays and have no hash. It is kept with its places, so
# that no other one comes to lie where it lay. A room has a few good inputs, and each is spoiled many thousand times.
_PLACES: dict[int, tuple[Any, list[Path]]] = {}


def places_of(record: Any) -> list[Path]:
    """Give the places of a good input; they are looked for once."""
    known = _PLACES.get(id(record))
    if known is None:
        known = _PLACES[id(record)] = (record, [path for path in leaves(record) if path])
    return known[1]


@cache
def fields_of(kind: type) -> tuple[tuple[str, bool], ...]:
    """Name the fields of a kind of record, and whether each is given when one is made; none for what is no record."""
    return tuple((each.name, each.init) for each in dataclasses.fields(kind)) if dataclasses.is_dataclass(kind) else ()


def leaves(value: Any, path: Path = ()) -> Iterator[Path]:
    """Go through the places of a record where something stands, lists themselves included."""
    yield path
    fields = fields_of(type(value))
    if fields:
        for name, given in fields:
            if given:
                yield from leaves(getattr(value, name), (*path, name))
    elif isinstance(value, tuple | list):
        for number, item in enumerate(value[:40]):
            yield from leaves(item, (*path, number))


def put(record: Any, path: Path, draw: random.Random) -> Any:
    """Give the record with another value at a place."""
    if not path:
        return other(record, draw)
    head, rest = path[0], path[1:]
    if isinstance(head, str):
        return dataclasses.replace(record, **{head: put(getattr(record, head), rest, draw)})
    items = list(record)
    items[head] = put(items[head], rest, draw)
    return type(record)(items)


def other(value: Any, draw: random.Random) -> Any:
    """Give another value of the same kind."""
    if isinstance(value, bool):
        return not value
    for kind, change in CHANGES.items():
        if isinstance(value, kind):
            return change(value, draw)
    return value


def _number(value: float, draw: random.Random) -> float:
    if draw.random() < 0.4:
        return draw.choice(NUMBERS)
    if draw.random() < 0.5:
        return float(value) * draw.choice((-1.0, 0.1, 10.0, 1000.0, 1e-3, 0.5, 2.0, 1.0 + 1e-12))
    return draw.choice((-1.0, 1.0)) * 10.0 ** draw.uniform(-12.0, 12.0)


def _array(value: Any, draw: random.Random) -> Any:
    changed = np.array(value)
    kind = draw.randrange(5)
    if kind == 0 or not changed.size or changed.dtype.kind != "f":
        return changed[: draw.randrange(changed.shape[0] + 1)] if changed.ndim else changed
    if kind == 1:
        changed.flat[draw.randrange(changed.size)] = draw.choice(NUMBERS)
    elif kind == 2:
        changed = changed * draw.choice(NUMBERS)
    elif kind == 3:
        changed = np.full_like(changed, draw.choice(NUMBERS))
    else:
        changed = changed[::-1].copy()
    return changed


def _list(value: Any, draw: random.Random) -> Any:
    items = list(value)
    kind = draw.randrange(4)
    if kind == 0 or not items:
        return type(value)()
    if kind == 1:
        return type(value)(items[: draw.randrange(len(items))])
    if kind == 2:
        return type(value)([*items, draw.choice(items)])
    draw.shuffle(items)
    return type(value)(items)


CHANGES: dict[type, Any] = {
    float: _number,
    int: lambda value, draw: draw.choice((*COUNTS, value + 1, value - 1)),
    str: lambda value, draw: draw.choice((*WORDS, value + "x", value[:-1], value.upper())),
    date: lambda value, draw: draw.choice(DAYS),
    Decimal: lambda value, draw: draw.choice((*DECIMALS, -value, value * 10)),
    np.ndarray: _array,
    tuple: _list,
    list: _list,
}


def numbers_that_are_none(value: Any, at: str = "") -> Iterator[str]:
    """Name each number in a result that is none, or has no end."""
    if isinstance(value, float | complex | Decimal):
        yield from [] if is_a_number(value) else [f"{at}: {value}"]
    elif isinstance(value, np.ndarray):
        yield from [] if value.dtype.kind not in "fc" or np.isfinite(value).all() else [f"{at}: array"]
    else:
        for name, item in parts_of(value):
            yield from numbers_that_are_none(item, f"{at}.{name}")


PLAIN = frozenset({str, int, bool, type(None), date})


def holds_only_numbers(value: Any) -> bool:
    """Say whether every number in a result is one, and has an end: the same as above, without the names, and sooner."""
    left = [value]
    while left:
        value = left.pop()
        kind = type(value)
        if kind in PLAIN:
            continue
        if kind is float:
            if not math.isfinite(value):
                return False
        elif kind is tuple or kind is list:
            left += value
        elif isinstance(value, float | complex | Decimal | np.ndarray):
            if next(numbers_that_are_none(value), None):
                return False
        else:
            left += [item for _, item in parts_of(value)]
    return True


def is_a_number(value: float | complex | Decimal) -> bool:
    return value.is_finite() if isinstance(value, Decimal) else cmath.isfinite(value)


def parts_of(value: Any) -> Iterator[tuple[Any, Any]]:
    """Give what a record, a mapping or a list holds."""
    fields = fields_of(type(value))
    if fields:
        yield from ((name, getattr(value, name)) for name, _ in fields)
    elif isinstance(value, Mapping):
        yield from value.items()
    elif isinstance(value, tuple | list):
        yield from enumerate(value)
