"""A swing file: what may stand in it, and how it becomes a :class:`~hingeline.balance.swing.SwingTask`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from hingeline.balance.swing import SwingTask
from hingeline.errors import InputRefused
from hingeline.uncertainty.stated import Stated
from hingeline.units import STANDARD_GRAVITY, Typed
from hingeline_app.files.job_models import apart, read_tables
from hingeline_app.files.quantities import MOST_ITEMS, Given, MeasuredIn, Name, Quantity, StatedIn, Table
from hingeline_app.files.weighing_file import Acceleration, SheetTable, Side

FORMAT = "hingeline/swing/1"


class SwingUncertaintyTable(Table):
    """``[uncertainty]``."""

    timing: Annotated[Stated, StatedIn("time", "ratio")] | None = None
    coverage: float | None = None
    k: float | None = None


class SwingFile(Table):
    """A swing file as a whole."""

    format: Literal["hingeline/swing/1"]
    name: Name | None = None
    method: Literal["own weight", "added mass", "two wires", "spring"]
    local_gravity: Acceleration | None = None
    periods: Annotated[list[Annotated[Typed, Quantity("time")]], Field(max_length=MOST_ITEMS)]
    swings_per_period: int = 1
    amplitude: Annotated[Given, MeasuredIn("angle")] | None = None
    surface_mass: Annotated[Given, MeasuredIn("mass")] | None = None
    surface_mass_moment: Annotated[Given, MeasuredIn("mass_moment")] | None = None
    hangs: Literal["tail down", "nose down"] = "tail down"
    added_mass: Annotated[Given, MeasuredIn("mass")] | None = None
    added_arm: Annotated[Given, MeasuredIn("length")] | None = None
    added_side: Side = "aft"
    wire_spacing: Annotated[Given, MeasuredIn("length")] | None = None
    wire_length: Annotated[Given, MeasuredIn("length")] | None = None
    spring_rate: Annotated[Given, MeasuredIn("spring_rate")] | None = None
    spring_arm: Annotated[Given, MeasuredIn("length")] | None = None
    uncertainty: SwingUncertaintyTable = Field(default_factory=SwingUncertaintyTable)
    sheet: SheetTable = Field(default_factory=SheetTable)


def read_swing(data: bytes) -> SwingTask:
    """Read a swing file.

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    file = read_tables(data, SwingFile)
    stated = file.uncertainty
    if stated.coverage is not None and stated.k is not None:
        raise InputRefused.of("uncertainty.k", stated.k, "either coverage or k", "Leave one out.")
    given = apart(dict(file))
    for name in ("format", "uncertainty", "sheet"):
        given.pop(name)
    given["name"] = file.name or ""
    given["periods"] = tuple(file.periods)
    given["timing_uncertainty"] = stated.timing
    given["coverage"] = 0.95 if stated.coverage is None else stated.coverage
    given["local_gravity"] = STANDARD_GRAVITY if file.local_gravity is None else file.local_gravity
    return SwingTask(**given, k=stated.k)
