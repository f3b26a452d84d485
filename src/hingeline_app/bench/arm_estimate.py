"""The estimate of an arm from what the job says of it, by the room ``arm``; never more than an estimate."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

from hingeline.arm import ArmTask, examine
from hingeline.document import to_document
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


@dataclass(frozen=True)
class Estimate:
    """An arm and what was worked out of it."""

    task: ArmTask
    document: Mapping[str, Any]


def model_of(job: JobRecord) -> dict[str, str]:
    """Give what was typed of the arm."""
    return {each.name: str(value_at(job.details, f"arm.model.{each.name}") or "") for each in ASKED}


def lacking(job: JobRecord) -> list[str]:
    """Name what an estimate still needs; everything while nothing was typed."""
    typed = model_of(job)
    return [each.words for each in ASKED if not typed[each.name] and each.name not in OPTIONAL]


def estimate_of(job: JobRecord) -> Estimate | None:
    """Work the estimate out; None while something is lacking.

    Raises
    ------
    InputRefused
        What was typed cannot be read, or describes no arm.
    """
    if lacking(job):
        return None
    typed, tables = model_of(job), dict[str, dict[str, str]]()
    for each in ASKED:
        if typed[each.name]:
            tables.setdefault(each.table, {})[each.field] = typed[each.name]
    if "loss" in tables:
        tables["loss"]["where"] = "outside"
    return _examined(toml_text({"format": "hingeline/arm/1", "name": job.surface_name, **tables}))


@lru_cache(maxsize=64)
def _examined(text: str) -> Estimate:
    task = read_arm(text.encode())
    return Estimate(task, to_document(examine(task)))
