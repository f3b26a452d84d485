"""The estimate of an arm from what the job says of it, by the room ``arm``; never more than an estimate."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

from hingeline.arm import ArmTask, examine
from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline_app.bench.arm.arm_points import point_of
from hingeline_app.bench.arm.arm_walls import file_readings
from hingeline_app.bench.typed import as_a_file_takes
from hingeline_app.files.arm_file import read_arm
from hingeline_app.files.toml_text import toml_text
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord


class Asked(NamedTuple):
    """What an estimate asks for: where the file has it, its words, an example."""

    name: str
    table: str
    field: str
    words: str
    example: str
    # A pure number, which an arm file has without quotes.
    is_bare: bool = False


ASKED = (
    Asked("outside_diameter", "tube", "outside_diameter", "Tube, outside diameter", "12.00 mm"),
    Asked("wall", "tube", "wall", "Wall, by the drawing", "1.50 mm"),
    Asked("length", "tube", "length", "Root to the weight's centre", "172 mm"),
    Asked("hinge_to_root", "tube", "hinge_to_root", "Hinge line to root", "8 mm"),
    Asked("modulus", "tube", "modulus", "Young's modulus", "205 GPa"),
    Asked("density", "tube", "density", "Density", "7850 kg/m^3"),
    Asked("yield", "tube", "yield", "Yield strength, from the drawing", "300 MPa"),
    Asked("ultimate", "tube", "ultimate", "Ultimate strength", "440 MPa"),
    Asked("mass", "weight", "mass", "Mass of the weight", "0.600 kg"),
    Asked("lost", "loss", "depth", "Wall lost outside, measured", "0.20 mm"),
)
OPTIONAL = ("lost",)
# An assumed crack: asked for together, or not at all.
OF_A_CRACK = (
    Asked("stress_range", "crack", "stress_range", "Stress range of one cycle", "60 MPa"),
    Asked("toughness", "crack", "toughness", "Fracture toughness", "75 MPa m^0.5"),
    Asked("geometry_factor", "crack", "geometry_factor", "Geometry factor (1.12 at an edge)", "1.12", True),
    Asked("growth_constant", "crack", "growth_constant", "Growth constant, m/cycle with MPa m^0.5", "6.9e-12", True),
    Asked("growth_exponent", "crack", "growth_exponent", "Growth exponent, one pair with it", "3.0", True),
    Asked("cycles_per_hour", "crack", "cycles_per_hour", "Cycles in an hour", "250", True),
    Asked("factor", "crack", "factor", "Factor on the life (3 for a single load path)", "3", True),
    Asked("approved_interval", "crack", "approved_interval", "Approved interval of the check", "100 h"),
    Asked("found_by", "detection", "method", "Found by", "penetrant"),
)


@dataclass(frozen=True)
class Estimate:
    """An arm and what was worked out of it."""

    task: ArmTask
    document: Mapping[str, Any]


def model_of(job: JobRecord) -> dict[str, str]:
    """Give what was typed of the arm and of an assumed crack."""
    every = (*ASKED, *OF_A_CRACK)
    return {each.name: str(value_at(job.details, f"arm.model.{each.name}") or "") for each in every}


def lacking(job: JobRecord) -> list[str]:
    """Name what an estimate still needs; everything while nothing was typed."""
    typed = model_of(job)
    return [each.words for each in ASKED if not typed[each.name] and each.name not in OPTIONAL]


def lacking_of_crack(job: JobRecord) -> list[str]:
    """Name what the growth of an assumed crack still needs; nothing while nothing of it was typed."""
    typed = model_of(job)
    left = [each.words for each in OF_A_CRACK if not typed[each.name]]
    return [] if len(left) == len(OF_A_CRACK) else left


def estimate_of(job: JobRecord) -> Estimate | None:
    """Work the estimate out; None while something is lacking.

    Raises
    ------
    InputRefused
        What was typed cannot be read, or describes no arm.
    """
    return None if lacking(job) else _examined(arm_text(job))


def arm_text(job: JobRecord) -> str:
    """Write the arm file of what was typed: the command reads the same, for the same numbers.

    Raises
    ------
    InputRefused
        A pure number is none.
    """
    typed, tables = model_of(job), dict[str, dict[str, Any]]()
    has_crack = bool(typed["stress_range"]) and not lacking_of_crack(job)
    for each in (*ASKED, *(OF_A_CRACK if has_crack else ())):
        if typed[each.name]:
            value = _bare(each, typed[each.name]) if each.is_bare else typed[each.name]
            tables.setdefault(each.table, {})[each.field] = value
    if has_crack:
        tables["crack"]["geometry"] = "constant"
    tables |= _walls(job, "loss" in tables)
    if "loss" in tables:
        tables["loss"]["where"] = "outside"
    return toml_text({"format": "hingeline/arm/1", "name": job.surface_name, **tables})


def _walls(job: JobRecord, is_typed: bool) -> dict[str, dict[str, Any]]:
    """Give the gauge's readings, where no loss was typed beside them, and the smallest wall of the approved data."""
    row = point_of(job, "wall") or {}
    tables = dict[str, dict[str, Any]]()
    if row.get("walls") and not is_typed:
        tables["loss"] = {"reading": file_readings(str(row["walls"]), str(row.get("uncertainty") or ""))}
    if row.get("limit"):
        limit = as_a_file_takes(str(row["limit"]), "length", field="limit")
        tables["limit"] = {"wall": limit, "source": str(row.get("source") or "")[:200]}
    return tables


def _bare(asked: Asked, text: str) -> float:
    try:
        value = float(text.replace(",", ".").replace("−", "-"))
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise InputRefused.of(asked.words, text, "a number without a unit", f"Write for example {asked.example}.")
    return value


@lru_cache(maxsize=64)
def _examined(text: str) -> Estimate:
    task = read_arm(text.encode())
    return Estimate(task, to_document(examine(task)))
