"""How a quantity, an uncertainty or a name stands in a job file."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from typing import Annotated, Any, NamedTuple

from pydantic import BaseModel, ConfigDict, PlainValidator, WithJsonSchema
from pydantic_core import CoreSchema, core_schema

from hingeline.errors import InputRefused, Refusal
from hingeline.uncertainty import Measured
from hingeline.uncertainty.stated import Shape, Stated
from hingeline.units import STANDARD_GRAVITY, Typed, read
from hingeline_app.files.shown import guess, shown, step

LONGEST_NAME = 200
MOST_ITEMS = 1000

_SI = {
    "mass": "kg",
    "force": "N",
    "length": "m",
    "angle": "rad",
    "ratio": "1",
    "acceleration": "m/s^2",
    "angular_acceleration": "rad/s^2",
    "moment": "N m",
    "mass_moment": "kg m",
    "inertia": "kg m^2",
    "area": "m^2",
    "volume": "m^3",
    "density": "kg/m^3",
    "mass_per_area": "kg/m^2",
    "spring_rate": "N/m",
    "time": "s",
    "speed": "m/s",
    "frequency": "Hz",
    "mass_per_length": "kg/m",
    "inertia_per_length": "kg m",
    "stiffness_per_length": "N/m^2",
    "rotational_stiffness": "N m/rad",
    "bending_stiffness": "N m^2",
    "pressure": "Pa",
    "toughness": "Pa m^0.5",
}
# Categories of characters that cannot be seen, end a line, or steer a terminal.
UNSEEN = ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")
# After whatever spaces stand between: "2 % of it", "2 points".
_OF_A_PART = re.compile(
    r"(?P<number>\S+?) ?(?:(?:%|percent|per cent) (?:of it|of the value)|(?P<points>(?:percentage )?points?))"
)
_AMOUNTS = ("limit", "standard", "expanded", "resolution")


class Table(BaseModel):
    """A table of a job file: unknown fields are refused, nothing is converted silently."""

    model_config = ConfigDict(extra="forbid", strict=True, allow_inf_nan=False, frozen=True)


class Quantity:
    """Marks a field that holds a number with its unit, of one of these dimensions."""

    def __init__(self, *dimensions: str) -> None:
        self.dimensions = dimensions

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: Any) -> dict[str, Any]:
        return quantity_schema(*self.dimensions)

    def _read(self, text: Any, info: core_schema.ValidationInfo[Any]) -> Typed:
        gravity = (info.context or {}).get("local_gravity", STANDARD_GRAVITY)
        return read(text, self.dimensions, local_gravity=gravity)


def quantity_schema(*dimensions: str) -> dict[str, Any]:
    """Describe such a field in JSON Schema."""
    wanted = " or ".join(dimensions).replace("_", " ")
    return {"type": "string", "maxLength": 200, "description": f"a number with its unit: {wanted}"}


class StatedIn:
    """Marks a field that states an uncertainty, in one of these dimensions."""

    def __init__(self, *dimensions: str) -> None:
        self.dimensions = dimensions

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(lambda table: _stated(table, self.dimensions))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: Any) -> dict[str, Any]:
        return _stated_schema(self.dimensions)


class Given(NamedTuple):
    """A quantity as a file gives it: the value, and what is stated of its uncertainty."""

    value: Typed | float
    stated: Stated | None

    @property
    def measured(self) -> Measured:
        """The same as a measured value; without anything stated, its uncertainty is not known."""
        value, stated = self
        if stated is None:
            return Measured(value, None)
        expanded = stated.amount if stated.shape == "expanded" else None
        if expanded is not None and stated.relative:
            expanded *= abs(value)
        return Measured(value, stated.of(value), expanded, stated.coverage_factor, stated.degrees_of_freedom)


class MeasuredIn:
    """Marks a field that holds a quantity, as a text or as a table that also states its uncertainty.

    ``"254 g/m^2"``, or ``{value = "254 g/m^2", limit = "20 g/m^2"}``. A pure number, ``MeasuredIn()``, is
    bare: ``0.65``, or ``{value = 0.65, limit = 0.05}``; a percentage beside it is a part of the value.
    """

    def __init__(self, *dimensions: str) -> None:
        self.dimensions = dimensions

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.with_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: Any) -> dict[str, Any]:
        bare: dict[str, Any] = {"type": "number"}
        one = quantity_schema(*self.dimensions) if self.dimensions else bare
        table = _stated_schema((*self.dimensions, "ratio"))
        if not self.dimensions:
            table["properties"] |= {name: {"anyOf": [bare, quantity_schema("ratio")]} for name in _AMOUNTS}
        table["properties"]["value"] = one
        return {"anyOf": [one, {**table, "required": ["value"]}]}

    def _read(self, given: Any, info: core_schema.ValidationInfo[Any]) -> Given:
        gravity = (info.context or {}).get("local_gravity", STANDARD_GRAVITY)
        if not isinstance(given, Mapping):
            return Given(self._value(given, "", gravity), None)
        if "value" not in given:
            remedy = 'Write for example {value = "2.000 kg", limit = "5 g"}.'
            raise _refused(".value", "missing", "the value itself", remedy)
        value = self._value(given["value"], ".value", gravity)
        stated = {name: item for name, item in given.items() if name != "value"}
        if not self.dimensions:
            return Given(value, _stated_of_number(value, stated))
        return Given(value, _stated(stated, (*self.dimensions, "ratio"), gravity))

    def _value(self, value: Any, field: str, gravity: float) -> Typed | float:
        if self.dimensions:
            return read(value, self.dimensions, field=field, local_gravity=gravity)
        if not _is_number(value):
            raise _refused(field, value, "a bare number", "Write it without quotes and without a unit.")
        return float(value)


class Part(MeasuredIn):
    """Marks a pure number that is a part of a whole, and is often printed in per cent.

    Its uncertainty in per cent could be meant of it or of the whole: ``"2 % of it"`` and ``"2 points"`` say which,
    ``"2 %"`` alone is refused. In a file that was kept with a result it is a part of the value, as it was then.
    """

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: Any) -> dict[str, Any]:
        described: dict[str, Any] = super().__get_pydantic_json_schema__(schema, handler)
        text = {"type": "string", "maxLength": 200, "description": 'a number with "% of it" or "points" behind it'}
        for name in _AMOUNTS:
            described["anyOf"][1]["properties"][name] = {"anyOf": [{"type": "number"}, text]}
        return described

    def _read(self, given: Any, info: core_schema.ValidationInfo[Any]) -> Given:
        if isinstance(given, Mapping):
            kept = bool((info.context or {}).get("kept"))
            given = {name: self._said(name, item, kept) if name in _AMOUNTS else item for name, item in given.items()}
        return super()._read(given, info)

    @staticmethod
    def _said(name: str, amount: Any, kept: bool) -> Any:
        """Give a percentage of the value as such, points of the whole as a bare number."""
        if not isinstance(amount, str):
            return amount
        found = _OF_A_PART.fullmatch(" ".join(amount.split()))
        if found is None and not kept and _is_percentage(amount):
            remedy = (
                'Write "2 % of it" for a part of the value, "2 points" for 0.02 of the whole, or 0.02 without quotes.'
            )
            raise _refused(f".{name}", amount, "a percentage that says of what", remedy)
        if found is None:
            return amount
        percent = read(f"{found['number']} %", "ratio", field=f".{name}")
        return float(percent) if found["points"] else f"{found['number']} %"


def _is_percentage(text: str) -> bool:
    """Tell whether a text is read as a percentage, however it is written; what is not is refused where it is read."""
    try:
        read(text, "ratio")
    except InputRefused:
        return False
    return True


def _stated_of_number(value: float, table: Mapping[str, Any]) -> Stated:
    """Read the uncertainty of a pure number; it is kept as a part of the value."""
    (name, amount) = next(((name, table[name]) for name in _AMOUNTS if name in table), ("", ""))
    if not _is_number(amount):
        return _stated(table, ("ratio",))
    faults = _faults_of(table)
    if not value:
        faults.append(Refusal(f".{name}", str(amount), "a value that is not 0 beside it", "Check the value."))
    if faults:
        raise InputRefused(faults)
    return Stated(
        amount=float(amount) / abs(value),
        unit="1",
        shape=_shape(name, table.get("shape")),
        coverage_factor=_number(table.get("k")),
        degrees_of_freedom=_number(table.get("degrees_of_freedom")),
    )


def _stated_schema(dimensions: tuple[str, ...]) -> dict[str, Any]:
    amounts = {name: quantity_schema(*dimensions) for name in _AMOUNTS}
    others = {"shape": {"enum": ["rectangular", "triangular"]}, "k": {"type": "number"}}
    return {
        "type": "object",
        "properties": {**amounts, **others, "degrees_of_freedom": {"type": "number"}},
        "additionalProperties": False,
        "oneOf": [{"required": [name]} for name in _AMOUNTS],
    }


def _stated(table: Any, dimensions: tuple[str, ...], local_gravity: float = STANDARD_GRAVITY) -> Stated:
    if not isinstance(table, Mapping):
        raise _refused("", table, "a table", 'Write for example {limit = "2 mm"} or {standard = "0.2 mm"}.')
    refusals = list(_faults_of(table))
    if refusals:
        raise InputRefused(refusals)
    (name,) = (name for name in _AMOUNTS if name in table)
    amount = read(table[name], dimensions, field=f".{name}", local_gravity=local_gravity)
    return Stated(
        amount=amount,
        unit=_SI[amount.dimension],
        shape=_shape(name, table.get("shape")),
        coverage_factor=_number(table.get("k")),
        degrees_of_freedom=_number(table.get("degrees_of_freedom")),
    )


def _faults_of(table: Mapping[str, Any]) -> list[Refusal]:
    given = [name for name in _AMOUNTS if name in table]
    known = (*_AMOUNTS, "shape", "k", "degrees_of_freedom")
    faults = [
        Refusal(step(key), shown(table[key]), f"one of {', '.join(known)}", f"It is not known here.{guess(key, known)}")
        for key in table
        if key not in known
    ]
    if len(given) != 1 and not faults:
        stated = " and ".join(given) or "none of them"
        faults.append(Refusal("", stated, f"exactly one of {', '.join(_AMOUNTS)}", "State it one way only."))
    if "expanded" in table and table.get("k") is None:
        faults.append(
            Refusal(".k", "missing", "the coverage factor of the expanded one", "Copy it from the certificate.")
        )
    if "k" in table and "expanded" not in table:
        faults.append(Refusal(".k", shown(table["k"]), "k only beside expanded", "Leave k out, or write expanded."))
    if "shape" in table and ("limit" not in table or table["shape"] not in ("rectangular", "triangular")):
        remedy = "shape belongs to a limit, and is rectangular or triangular."
        faults.append(Refusal(".shape", shown(table["shape"]), "rectangular or triangular, with a limit", remedy))
    for key in ("k", "degrees_of_freedom"):
        if key in table and not _is_number(table[key]):
            faults.append(Refusal(f".{key}", shown(table[key]), "a bare number", "Write it without quotes."))
    return faults


def _shape(name: str, shape: str | None) -> Shape:
    if name == "limit":
        return "triangular" if shape == "triangular" else "limit"
    return name  # type: ignore[return-value]


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _number(value: Any) -> float | None:
    return None if value is None else float(value)


def _refused(field: str, value: Any, expected: str, remedy: str) -> InputRefused:
    return InputRefused.of(field, shown(value), expected, remedy)


def _plain_text(value: Any) -> str:
    if not isinstance(value, str):
        raise _refused("", value, "text, in quotes", "Put it in quotes.")
    text = unicodedata.normalize("NFC", value)
    if len(text) > LONGEST_NAME:
        raise _refused("", text, f"at most {LONGEST_NAME} characters", f"It has {len(text)}: shorten it.")
    unseen = [letter for letter in text if unicodedata.category(letter) in UNSEEN]
    if unseen:
        code = f"U+{ord(unseen[0]):04X}"
        raise _refused("", text, "characters that can be seen", f"Take out the character {code}.")
    return text


Name = Annotated[
    str,
    PlainValidator(_plain_text),
    WithJsonSchema({"type": "string", "maxLength": LONGEST_NAME}),
]
