"""An arm file: how it becomes a :class:`~hingeline.arm.ArmTask`."""

from __future__ import annotations

from typing import Any

from pydantic import BaseModel

from hingeline.arm import (
    ArmTask,
    ArmWeight,
    Bar,
    Bolts,
    Crack,
    CyclicLoad,
    Detection,
    LoadFactors,
    Loss,
    Material,
    Oscillation,
    Root,
    StressLife,
    Tube,
    WallLimit,
    WallReading,
    loss_by_readings,
)
from hingeline.errors import InputRefused
from hingeline.units import STANDARD_GRAVITY
from hingeline_app.files.arm_tables import ArmFile, LossTable, StressLifeTable, TubeTable
from hingeline_app.files.job_models import apart, read_tables

_OF_MATERIAL = ("modulus", "density", "yield_strength", "ultimate_strength", "flow_stress")
_OF_TUBE = ("outside_diameter", "outside_diameter_uncertainty", "wall", "wall_uncertainty", "hole")
_OF_LOSS = ("where", "depth", "depth_uncertainty", "half_angle")
_OF_BAR = ("width", "width_uncertainty", "height", "height_uncertainty")


def read_arm(data: bytes) -> ArmTask:
    """Read an arm file.

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    file = read_tables(data, ArmFile)
    stated, solid = file.uncertainty, file.tube or file.bar
    if stated.coverage is not None and stated.k is not None:
        raise InputRefused.of("uncertainty.k", stated.k, "either coverage or k", "Leave one out.")
    if solid is None:
        raise InputRefused.of("tube", "missing", "the section of the arm", "Add [tube], or [bar] for a solid one.")
    given = apart(_said(solid))
    return ArmTask(
        material=Material(**_only(given, _OF_MATERIAL)),
        root=_root(given),
        weight=ArmWeight(**apart(_said(file.weight))),
        tube=None if file.tube is None else Tube(**_only(apart(_said(file.tube)), _OF_TUBE)),
        bar=None if file.bar is None else Bar(**_only(apart(_said(file.bar)), _OF_BAR)),
        **_rest(file),
        **_loss(file),
        coverage=0.95 if stated.coverage is None else stated.coverage,
        k=stated.k,
        local_gravity=STANDARD_GRAVITY if file.local_gravity is None else file.local_gravity,
    )


def _rest(file: ArmFile) -> dict[str, Any]:
    """Turn the tables that may be missing into records."""
    limit = file.limit
    return {
        "name": file.name or "",
        "wall_limit": None if limit is None else WallLimit(limit.wall, limit.source or ""),
        "loads": _made(LoadFactors, file.loads),
        "oscillation": _made(Oscillation, file.oscillation),
        "surface_frequencies": tuple(file.surface_frequencies),
        "crack": _made(Crack, file.crack),
        "detection": _made(Detection, file.detection),
        "stress_life": _stress_life(file.stress_life),
        "bolts": _made(Bolts, file.bolts),
    }


def _loss(file: ArmFile) -> dict[str, Any]:
    """Give what is gone: as a depth, or by the lowest of the readings beside the nominal wall."""
    loss, tube = file.loss, file.tube
    if loss is None:
        return {}
    _refuse_both(loss, tube)
    if not loss.reading or tube is None:
        return {"loss": Loss(**_only(apart(_said(loss)), _OF_LOSS))}
    readings = tuple(WallReading(**apart(_said(each))) for each in loss.reading)
    nominal = apart(_said(tube))["wall"]
    return {"readings": readings, "loss": loss_by_readings(nominal, loss.where, readings)}


def _refuse_both(loss: LossTable, tube: TubeTable | None) -> None:
    """Refuse a loss that is told in two ways, in none, or by readings where they mean nothing."""
    if bool(loss.reading) == (loss.depth is not None):
        given = "both" if loss.reading else "none of them"
        remedy = "Give the depth, or a [[loss.reading]] for each place of the gauge."
        raise InputRefused.of("loss", given, "either a depth or readings of the wall", remedy)
    if loss.reading and (tube is None or loss.where == "local"):
        remedy = "Give the depth itself of a local loss, or of a bar."
        raise InputRefused.of("loss.reading", loss.where, "a tube, lost all round outside or inside", remedy)


def _said(table: BaseModel) -> dict[str, Any]:
    """Give the fields that hold something; the rest take the defaults of the library's records."""
    return {name: value for name, value in table if value is not None}


def _made(record: type, table: BaseModel | None) -> Any:
    return None if table is None else record(**apart(_said(table)))


def _only(given: dict[str, Any], names: tuple[str, ...]) -> dict[str, Any]:
    return {name: given[name] for name in names if name in given}


def _root(given: dict[str, Any]) -> Root:
    names = {"length": "length", "length_uncertainty": "length_uncertainty", "root_stiffness": "stiffness"}
    names["hinge_to_root"] = "hinge_to_root"
    return Root(**{ours: given[theirs] for theirs, ours in names.items() if theirs in given})


def _stress_life(table: StressLifeTable | None) -> StressLife | None:
    if table is None:
        return None
    return StressLife(table.strength, table.exponent, tuple(CyclicLoad(**_said(load)) for load in table.load))
