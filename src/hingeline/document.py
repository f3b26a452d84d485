"""Record to plain dictionary and back.

A document is a dictionary of texts, numbers, lists and ``null`` that any
program can read. It carries ``format``, for instance
``hingeline/weighing-result/1``: a name and a whole number that grows when a
meaning changes. Every version ever written still loads.

What a field means is written at the field: a number annotated with a
:class:`~hingeline.fields.Unit` becomes ``{"value": …, "unit": …}``; a moment adds its sense in
words; a measured value adds its uncertainty; a number that was typed adds the
text as it was typed. NaN and infinity never become part of a document. An exact
decimal becomes the number with the same digits, a date its ISO form.
"""

from __future__ import annotations

import math
import types
from collections.abc import Callable, Hashable, Mapping
from dataclasses import MISSING, Field, fields, is_dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Annotated, Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

from hingeline.errors import InputRefused
from hingeline.fields import Unit
from hingeline.uncertainty import Measured
from hingeline.units import STANDARD_GRAVITY, Typed, read, sense_word

Record = TypeVar("Record")
Document = dict[str, Any]


MeasuredMoment = Annotated[Measured, Unit("N m", moment=True)]
MeasuredMassMoment = Annotated[Measured, Unit("kg m", moment=True)]
MeasuredLength = Annotated[Measured, Unit("m")]

_MOMENTS = {"N m", "kg m"}

# What a number with this SI symbol was read as, when it was typed.
_DIMENSIONS = {
    "m": "length",
    "kg": "mass",
    "N": "force",
    "N m": "moment",
    "rad": "angle",
    "m/s^2": "acceleration",
    "1": "ratio",
    "kg m": "mass_moment",
    "kg m^2": "inertia",
    "m^2": "area",
    "m^3": "volume",
    "kg/m^3": "density",
    "kg/m^2": "mass_per_area",
    "N/m": "spring_rate",
    "s": "time",
    "Hz": "frequency",
    "Pa": "pressure",
    "Pa m^0.5": "toughness",
    "N m/rad": "rotational_stiffness",
}

_FORMATS: dict[type, str] = {}
_UPGRADES: dict[str, Callable[[Mapping[str, Any]], Mapping[str, Any]]] = {}


def document_format(name: str) -> Callable[[type[Record]], type[Record]]:
    """Declare the format that a record is written in, as ``hingeline/name/version``."""

    def declare(record_type: type[Record]) -> type[Record]:
        _FORMATS[record_type] = name
        return record_type

    return declare


def upgrade(old_format: str, function: Callable[[Mapping[str, Any]], Mapping[str, Any]]) -> None:
    """Declare how a document of ``old_format`` is turned into the next version."""
    _UPGRADES[old_format] = function


def format_of(record_type: type) -> str:
    """Give the format that a record type is written in now."""
    return _FORMATS[record_type]


def to_document(record: object) -> Document:
    """Turn a record into a plain dictionary that names its format.

    Raises
    ------
    ValueError
        A number in the record is NaN or infinite: a fault of the program.
    """
    return {"format": _FORMATS[type(record)], **to_dictionary(record)}


def to_dictionary(record: Any) -> Document:
    """Turn any frozen record into a plain dictionary, field by field."""
    hints = _hints(type(record))
    return {key_of(field): _plain(getattr(record, field.name), hints[field.name], record) for field in fields(record)}


def key_of(field: Field[Any]) -> str:
    """Give the key that a field stands under, where no field can be called so: ``from_`` stands under ``from``.

    Any other key is written at the field, as ``field(metadata={"key": "0.5"})``.
    """
    return str(field.metadata.get("key", field.name.removesuffix("_")))


def from_document(document: Mapping[str, Any], record_type: type[Record]) -> Record:
    """Read a record back from its dictionary, whatever version it was written in.

    Raises
    ------
    InputRefused
        It is another kind of document, was made by a newer version, or is not as it was written.
    """
    if not isinstance(document, Mapping):
        remedy = "Give the right document."
        raise InputRefused.of("", type(document).__name__, "a document as it was written", remedy)
    brought_up = _brought_up(document, _FORMATS[record_type])
    try:
        return from_dictionary(brought_up, record_type)
    except InputRefused:
        raise
    except (AttributeError, KeyError, OverflowError, TypeError, ValueError) as fault:
        remedy = "The document is cut off or was edited: use the original."
        raise InputRefused.of("", fault, "a document as it was written", remedy) from fault


def from_dictionary(dictionary: Mapping[str, Any], record_type: type[Record]) -> Record:
    """Read any frozen record back; fields that an older version lacked take their defaults."""
    hints = _hints(record_type)
    given: dict[str, Any] = {}
    for field in fields(record_type):  # type: ignore[arg-type]
        if key_of(field) in dictionary:
            given[field.name] = _record(dictionary[key_of(field)], hints[field.name])
        elif field.default is MISSING and field.default_factory is MISSING:
            raise InputRefused.of(field.name, "", "this field", "The document is cut off or was edited.")
    return record_type(**given)


def _hints(record_type: type) -> dict[str, Any]:
    return _cached_hints(record_type)


@cache
def _cached_hints(record_type: Hashable) -> dict[str, Any]:
    return get_type_hints(record_type, include_extras=True)


def _unit(hint: Any) -> Unit | None:
    marks = get_args(hint)[1:] if get_origin(hint) is Annotated else ()
    return next((mark for mark in marks if isinstance(mark, Unit)), None)


def _plain(value: Any, hint: Any, record: object) -> Any:
    if value is None:
        return None
    hint = _without_none(hint)
    unit = _unit(hint)
    if unit is not None:
        return _quantity(value, unit, record)
    if isinstance(value, tuple):
        return [_plain(item, get_args(hint)[0], record) for item in value]
    if is_dataclass(value):
        return to_dictionary(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Decimal):
        return _same_digits(value)
    return _finite(value) if isinstance(value, float) else value


def _same_digits(number: Decimal) -> float:
    """Give the float that is written with the digits of a decimal; one that has too many cannot be."""
    same = _finite(float(number))
    if Decimal(repr(same)) != number:
        raise ValueError(f"{number} has too many digits for a document")
    return same


def _quantity(value: Any, unit: Unit, record: object) -> Document:
    number = value.value if isinstance(value, Measured) else value
    quantity: Document = {"value": _finite(float(number)), "unit": unit.of(record)}
    if isinstance(value, Typed):
        quantity["typed"] = value.text
        if value.local_gravity is not None:
            quantity["local_gravity"] = value.local_gravity
    if isinstance(value, Measured):
        quantity |= {name: item for name, item in to_dictionary(value).items() if name != "value"}
    if unit.moment and quantity["unit"] in _MOMENTS:
        quantity["sense"] = sense_word(number)
    return quantity


def _finite(number: float) -> float:
    if not math.isfinite(number):
        raise ValueError(f"{number} cannot stand in a document")
    # -0.0 and 0.0 are one number; a document writes it one way.
    return number + 0.0 if number else 0.0


def _record(value: Any, hint: Any) -> Any:
    if value is None and type(None) in get_args(hint):
        return None
    hint = _without_none(hint)
    unit = _unit(hint)
    if unit is not None:
        return _number(value, hint, unit)
    if get_origin(hint) is tuple:
        return tuple(_record(item, get_args(hint)[0]) for item in _of_kind(value, list))
    if isinstance(hint, type) and is_dataclass(hint):
        return from_dictionary(_of_kind(value, Mapping), hint)
    if hint is date:
        return date.fromisoformat(_of_kind(value, str))
    if hint is Decimal:
        return Decimal(repr(_float(value)))
    return _float(value) if hint is float else _word(value, hint)


def _number(quantity: Any, hint: Any, unit: Unit) -> Any:
    written = _of_kind(quantity, Mapping)["unit"]
    if unit.symbol and written != unit.symbol:
        raise ValueError(f"{written} instead of {unit.symbol}")
    if get_args(hint)[0] is Measured:
        return from_dictionary(quantity, Measured)
    return _typed(quantity) if "typed" in quantity else _float(quantity["value"])


def _float(value: Any) -> float:
    return _finite(float(_of_kind(value, int | float)))


def _word(value: Any, hint: Any) -> Any:
    """Give a text, a whole number or a yes or no as it is, if it is one that may stand here."""
    if get_origin(hint) is Literal and value not in get_args(hint):
        raise ValueError(value)
    return _of_kind(value, hint) if isinstance(hint, type) else value


def _of_kind(value: Any, kind: Any) -> Any:
    if not isinstance(value, kind) or (isinstance(value, bool) and kind is not bool):
        raise TypeError(value)
    return value


def _typed(quantity: Mapping[str, Any]) -> float:
    """Read the typed text again; a document whose text and value differ was edited."""
    gravity = float(quantity.get("local_gravity", STANDARD_GRAVITY))
    text, dimension = str(quantity["typed"]), _DIMENSIONS[str(quantity["unit"])]
    try:
        typed = read(text, dimension, local_gravity=gravity)
    except InputRefused:
        typed = read(text, dimension, local_gravity=gravity, page=True)
    if typed != quantity["value"] and _was_by_local_gravity(typed, gravity, quantity):
        # The number of its day, without its text: that says another number today.
        return _float(quantity["value"])
    if typed != quantity["value"]:
        shown = f"{text} beside {quantity['value']} {quantity['unit']}"
        raise InputRefused.of("typed", shown, f"{float(typed)}", "The document was edited: use the original.")
    return typed


def _was_by_local_gravity(typed: Typed, gravity: float, quantity: Mapping[str, Any]) -> bool:
    """Whether a moment in a unit of force was converted by the local gravity, as version 1.0.0 did (decision 0216)."""
    if typed.local_gravity is not None or typed.dimension != "moment" or "local_gravity" not in quantity:
        return False
    return math.isclose(typed * gravity / STANDARD_GRAVITY, quantity["value"], rel_tol=1e-15)


def _without_none(hint: Any) -> Any:
    if get_origin(hint) in (Union, types.UnionType):
        kinds = [kind for kind in get_args(hint) if kind is not type(None)]
        return kinds[0] if len(kinds) == 1 else hint
    return hint


def _brought_up(document: Mapping[str, Any], wanted: str) -> Mapping[str, Any]:
    found = str(document.get("format", ""))
    if found == wanted:
        return document
    if found in _UPGRADES and _name(found) == _name(wanted):
        return _brought_up(_UPGRADES[found](document), wanted)
    newer = _name(found) == _name(wanted) and _version(found) > _version(wanted)
    remedy = "It was made by a newer version: update Hingeline." if newer else "Give the right document."
    raise InputRefused.of("format", found, wanted, remedy)


def _name(document_format: str) -> str:
    return document_format.rpartition("/")[0]


def _version(document_format: str) -> int:
    number = document_format.rpartition("/")[2]
    return int(number) if number.isascii() and number.isdigit() else 0
