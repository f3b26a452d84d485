"""The tables of a flutter file: what may stand in each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated, Any, Literal

from pydantic import Field
from pydantic_core import CoreSchema, core_schema

from hingeline.errors import InputRefused
from hingeline.units import Typed
from hingeline_app.files.quantities import MOST_ITEMS, Given, MeasuredIn, Name, Quantity, Table

Length = Annotated[Given, MeasuredIn("length")]
Mass = Annotated[Given, MeasuredIn("mass")]
MassPerLength = Annotated[Given, MeasuredIn("mass_per_length")]
MassMoment = Annotated[Given, MeasuredIn("mass_moment")]
MomentPerLength = Annotated[Given, MeasuredIn("mass")]
Inertia = Annotated[Given, MeasuredIn("inertia")]
InertiaPerLength = Annotated[Given, MeasuredIn("inertia_per_length")]
StiffnessPerLength = Annotated[Given, MeasuredIn("stiffness_per_length")]
TurningPerLength = Annotated[Given, MeasuredIn("force")]
Turning = Annotated[Given, MeasuredIn("rotational_stiffness")]
SpringRate = Annotated[Given, MeasuredIn("spring_rate")]
BeamStiffness = Annotated[Given, MeasuredIn("bending_stiffness")]
Frequency = Annotated[Given, MeasuredIn("frequency")]
Density = Annotated[Given, MeasuredIn("density")]
Angle = Annotated[Typed, Quantity("angle")]
Speed = Annotated[Typed, Quantity("speed")]
Number = Annotated[Given, MeasuredIn()]
Shape = Annotated[list[float], Field(max_length=MOST_ITEMS)]
Items: Any = Field(default=[], max_length=MOST_ITEMS)


class OfChord(MeasuredIn):
    """Marks a place in per cent of the chord from the leading edge: ``"25 %"``, or ``25``; kept as 0.25.

    An uncertainty beside it is in per cent of the chord too.
    """

    def __init__(self) -> None:
        super().__init__("ratio")

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: Any) -> dict[str, Any]:
        described = super().__get_pydantic_json_schema__(schema, handler)
        return {"anyOf": [*described["anyOf"], {"type": "number"}]}

    def _read(self, given: Any, info: core_schema.ValidationInfo[Any]) -> Given:
        if isinstance(given, bool) or not isinstance(given, int | float):
            return _of_chord_too(super()._read(given, info))
        if 0 < abs(given) <= 1:
            remedy = f'Write "{given * 100:g} %", or "{given:g} %" if that is meant.'
            raise InputRefused.of("", given, "a percentage of the chord", remedy)
        return Given(float(given) / 100.0, None)


def _of_chord_too(given: Given) -> Given:
    """Read the amount stated beside a place as a part of the chord, not of the place."""
    value, stated = given
    if stated is None:
        return given
    if not value:
        raise InputRefused.of("", "0 %", "a place that is not 0 % where an uncertainty is stated", "Leave it out.")
    return Given(value, replace(stated, amount=stated.amount / abs(value)))


class Numbers:
    """Marks one bare number, or a list of them; kept as a tuple."""

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: Any) -> dict[str, Any]:
        number = {"type": "number"}
        return {"anyOf": [number, {"type": "array", "items": number, "maxItems": MOST_ITEMS}]}

    def _read(self, given: Any) -> tuple[float, ...]:
        items = given if isinstance(given, list) else [given]
        for index, item in enumerate(items):
            if isinstance(item, bool) or not isinstance(item, int | float):
                place = f"[{index}]" if isinstance(given, list) else ""
                remedy = "Write plain numbers, without quotes and without a unit."
                raise InputRefused.of(place, item, "a bare number", remedy)
        return tuple(float(item) for item in items)


class ByName:
    """Marks a table whose keys are dotted names of fields; written quoted, or as tables within tables."""

    def __init__(self, kind: type, words: str) -> None:
        self.kind, self.words = kind, words

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: Any) -> dict[str, Any]:
        return {"type": "object", "description": f"{self.words} by the dotted name of a field"}

    def _read(self, given: Any) -> dict[str, Any]:
        if not isinstance(given, Mapping):
            remedy = 'Write for example "section.surface_inertia" = 0.05.'
            raise InputRefused.of("", str(given)[:60], "a table of dotted names", remedy)
        return dict(self._flat("", given))

    def _flat(self, place: str, given: Mapping[str, Any]) -> list[tuple[str, Any]]:
        found: list[tuple[str, Any]] = []
        for key, value in given.items():
            name = f"{place}.{key}" if place else key
            if isinstance(value, Mapping):
                found += self._flat(name, value)
            else:
                found.append((name, self._one(name, value)))
        return found

    def _one(self, name: str, value: Any) -> Any:
        whole = self.kind is float and isinstance(value, int) and not isinstance(value, bool)
        if not whole and not isinstance(value, self.kind):
            remedy = "0.05 is 5 per cent of the value." if self.kind is float else "Put it in quotes."
            raise InputRefused.of(f".{name}", str(value)[:60], self.words, remedy)
        return self.kind(value)


class AirTable(Table):
    """``air``: exactly one of the two."""

    density: Density | None = None
    altitude: Length | None = None


class SectionTable(Table):
    """``[section]``: a strip of one metre of span."""

    freedoms: list[Literal["plunge", "pitch", "surface", "tab"]]
    semichord: Length
    elastic_axis: Number
    mass: MassPerLength
    hinge_line: Number | None = None
    plunging_mass: MassPerLength | None = None
    pitch_static_moment: MomentPerLength | None = None
    surface_static_moment: MomentPerLength | None = None
    pitch_inertia: InertiaPerLength | None = None
    surface_inertia: InertiaPerLength | None = None
    plunge_stiffness: StiffnessPerLength | None = None
    pitch_stiffness: TurningPerLength | None = None
    surface_stiffness: TurningPerLength | None = None
    tab_hinge_line: Number | None = None
    tab_static_moment: MomentPerLength | None = None
    tab_inertia: InertiaPerLength | None = None
    tab_stiffness: TurningPerLength | None = None
    tab_gear: Number | None = None
    tab_rigid_gear: Number | None = None


class TailplaneWeightTable(Table):
    """``[[tailplane.weight]]``."""

    mass: Mass
    arm: Length
    arm_frequency: Frequency | None = None
    arm_stiffness: SpringRate | None = None


class TailplaneTable(Table):
    """``[tailplane]``: a rigid all-moving surface."""

    span: Length
    chord: Length
    hinge_line: Annotated[Given, OfChord()]
    centre_of_gravity: Annotated[Given, OfChord()]
    mass: Mass
    inertia: Inertia
    support_mass: Mass
    support_frequency: Frequency
    circuit_stiffness: Turning | None = None
    circuit_frequency: Frequency | None = None
    part_of_span_in_jet: Number | None = None
    support_damping_ratio: Number | None = None
    circuit_damping_ratio: Number | None = None
    weight: Annotated[list[TailplaneWeightTable], Items]


class AileronWeightTable(Table):
    """``[[wing.aileron.weight]]``."""

    mass: Mass
    arm: Length
    spanwise: Length


class AileronTable(Table):
    """``[wing.aileron]``."""

    from_root: Annotated[Length, Field(alias="from")]
    to: Length
    hinge_line: Number
    mass: Mass
    static_moment: MassMoment
    inertia: Inertia
    product_of_inertia: Inertia | None = None
    stiffness: Turning | None = None
    locked: bool = False
    weight: Annotated[list[AileronWeightTable], Items]


class WingTable(Table):
    """``[wing]``: a uniform cantilever."""

    length: Length
    semichord: Length
    elastic_axis: Number
    mass: MassPerLength
    static_offset: Number
    inertia: InertiaPerLength
    bending_stiffness: BeamStiffness
    torsion_stiffness: BeamStiffness
    bending_modes: int = 4
    torsion_modes: int = 4
    aileron: AileronTable | None = None


class MeasuredModeTable(Table):
    """``[[modes.mode]]``."""

    generalised_mass: Mass
    frequency: Frequency


class ModeStripTable(Table):
    """``[[modes.strip]]``."""

    width: Length
    semichord: Length
    axis: Number
    hinge_line: Number
    plunge: Shape
    pitch: Shape
    surface: Number | None = None
    horn: bool = False
    surface_static_moment: MomentPerLength | None = None
    surface_inertia: InertiaPerLength | None = None


class ModeWeightTable(Table):
    """``[[modes.weight]]``."""

    mass: Mass
    arm: Length
    axis_to_weight: Length
    plunge: Shape
    pitch: Shape
    on_when_measured: bool = False


class ModesTable(Table):
    """``[modes]``: measured or computed modes with a control."""

    mode: Annotated[list[MeasuredModeTable], Items]
    strip: Annotated[list[ModeStripTable], Items]
    weight: Annotated[list[ModeWeightTable], Items]
    surface_stiffness: Turning | None = None


class FreePlayTable(Table):
    """``[free_play]``."""

    half_gap: Angle
    place: Annotated[Literal["circuit", "surface", "tab"], Field(alias="in")]
    starts: Shape | None = None


class FlutterFile(Table):
    """A flutter file as a whole."""

    format: Literal["hingeline/flutter/1"]
    name: Name | None = None
    air: AirTable
    wake: Literal["theodorsen", "two-lag", "quasi-steady", "steady"] = "theodorsen"
    structural_damping: Annotated[tuple[float, ...], Numbers()] = (0.0,)
    damping_ratios: Annotated[tuple[float, ...], Numbers()] = ()
    lift_slope_factor: Number | None = None
    lift_slope_source: Literal["assumed", "measured"] = "assumed"
    speeds: Annotated[list[Speed], Field(max_length=2)]
    section: SectionTable | None = None
    tailplane: TailplaneTable | None = None
    wing: WingTable | None = None
    modes: ModesTable | None = None
    scatter: Annotated[dict[str, Any], ByName(float, "a relative standard deviation")] = Field(default_factory=dict)
    sources: Annotated[dict[str, Any], ByName(str, "where a number comes from")] = Field(default_factory=dict)
    free_play: FreePlayTable | None = None
